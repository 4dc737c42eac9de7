"""See in a real browser: every view of every example, the roof by finger and by key, steps that are remembered."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from lapwright.store.shelf import Kept, Shelf
from lapwright.verbs.jobs import example, examples
from lapwright.verbs.plan import plan

CHROMIUM = Path("/usr/bin/chromium")
Tab = Callable[..., Page]
Job = Callable[[str], tuple[str, Callable[[], Kept]]]
VIEWS = ("roof", "blanks", "model", "findings", "water", "steps", "list")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Chromium that draws in space by itself."""
    if not CHROMIUM.exists():
        pytest.skip(f"no browser: {CHROMIUM} is not there (apt-get install chromium)")
    flags = [
        "--no-sandbox",
        "--disable-quic",
        "--use-gl=angle",
        "--use-angle=swiftshader",
        "--enable-unsafe-swiftshader",
    ]
    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=str(CHROMIUM), args=flags)
        yield chromium
        chromium.close()


@pytest.mark.parametrize("name", examples())
def test_every_view_opens_for_every_example_and_is_as_wide_as_a_small_telephone(
    tab: Tab, job: Job, name: str
) -> None:
    address, _ = job(example(name))
    page = tab(f"{address}/see", width=320, height=640)
    for view in VIEWS:
        answer = page.goto(f"{address}/see/{view}")
        assert answer is not None and answer.status == 200
        expect(page.locator(".see-views a[aria-current]")).to_have_attribute(
            "href", f"{address[address.index('/jobs') :]}/see/{view}"
        )
        assert page.evaluate("document.documentElement.scrollWidth") == 320
        assert page.locator(".stop-bar").count() == int(name.startswith("must-stop"))
        page.wait_for_load_state("networkidle")
        broken = (
            "[...document.images].filter((one) => one.loading !== 'lazy' && !one.naturalWidth).map((one) => one.src)"
        )
        assert page.evaluate(broken) == []


@pytest.mark.parametrize("name", examples())
def test_the_page_and_the_command_give_the_same_plan_json(tab: Tab, job: Job, name: str) -> None:
    address, _ = job(example(name))
    page = tab(f"{address}/see/findings")
    assert page.request.get(f"{address}/plan.json").body() == plan(example(name), "job.toml").files["plan.json"]


def test_a_touched_piece_tells_its_name_size_metal_blank_and_step(tab: Tab, job: Job) -> None:
    address, _ = job(example("kiln-shed"))
    page = tab(f"{address}/see/roof")
    page.locator("path[data-piece='1-back-pan']").click()
    told = page.locator(".told")
    expect(told).to_contain_text("1-back-pan")
    expect(told).to_contain_text("24 ga")
    expect(told.get_by_role("link", name="Its blank")).to_have_attribute(
        "href", f"{address[address.index('/jobs') :]}/see/blanks/1-back-pan"
    )
    expect(told.get_by_role("link", name="Step 10")).to_be_visible()
    assert page.locator(".plane .lit").count() == 1


def test_the_roof_is_enlarged_moved_and_read_by_keys_alone(tab: Tab, job: Job) -> None:
    address, _ = job(example("kiln-shed"))
    page = tab(f"{address}/see/roof")
    plane, svg = page.locator(".plane"), page.locator(".plane svg")
    box = lambda: [float(n) for n in (svg.get_attribute("viewBox") or "").split()]  # noqa: E731
    whole = box()
    plane.focus()
    page.keyboard.press("+")
    # a press makes it 1.3 times as large
    assert box()[2] == pytest.approx(whole[2] / 1.3)
    left = box()[0]
    page.keyboard.press("ArrowRight")
    assert box()[0] > left
    page.keyboard.press("0")
    assert box() == pytest.approx(whole)
    row = page.locator("[data-for='1-apron'] summary")
    row.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".told")).to_contain_text("1-apron")


def test_a_wheel_enlarges_the_place_under_it(tab: Tab, job: Job) -> None:
    address, _ = job(example("kiln-shed"))
    page = tab(f"{address}/see/roof")
    where = page.locator(".plane").bounding_box()
    assert where is not None
    spot = (where["x"] + where["width"] * 0.55, where["y"] + where["height"] * 0.6)
    under = (
        "([x, y]) => { const svg = document.querySelector('.plane svg'); "
        "const p = new DOMPoint(x, y).matrixTransform(svg.getScreenCTM().inverse()); return [p.x, p.y]; }"
    )
    before = page.evaluate(under, list(spot))
    page.mouse.move(*spot)
    page.mouse.wheel(0, -400)
    page.wait_for_function(
        "() => Number(document.querySelector('.plane svg').getAttribute('viewBox').split(' ')[2]) < 200"
    )
    assert page.evaluate(under, list(spot)) == pytest.approx(before, abs=0.5)


@pytest.mark.parametrize("scripts", [True, False])
def test_done_steps_are_remembered(tab: Tab, job: Job, shelf: Shelf, scripts: bool) -> None:
    address, now = job(example("kiln-shed"))
    page = tab(f"{address}/see/steps", java_script_enabled=scripts, width=360, height=700)
    count = page.locator(".tick").count()
    first = page.locator(".tick").nth(1)
    size = first.bounding_box()
    assert size is not None and size["height"] >= 48 and size["width"] >= 300
    first.press("Enter")
    expect(page.locator("#count")).to_have_text(f"1 of {count} done")
    assert len(shelf.ticked(now().id)) == 1
    page.goto(f"{address}/see/steps")
    expect(page.locator(".tick").nth(1)).to_have_attribute("aria-pressed", "true")
    page.locator(".tick").nth(1).press("Enter")
    expect(page.locator("#count")).to_have_text(f"0 of {count} done")
    assert shelf.ticked(now().id) == frozenset()


def test_a_step_that_could_not_be_kept_says_so_and_stays_undone(tab: Tab, job: Job) -> None:
    address, _ = job(example("kiln-shed"))
    page = tab(f"{address}/see/steps")
    page.route("**/steps/*", lambda route: route.abort())
    page.locator(".tick").first.click()
    expect(page.locator("#unsaved")).to_contain_text("Not saved yet")
    expect(page.locator(".tick").first).to_have_attribute("aria-pressed", "false")


def test_sliders_change_the_picture_of_the_model(tab: Tab, job: Job) -> None:
    address, _ = job(example("kiln-shed"))
    page = tab(f"{address}/see/model")
    stage = page.locator(".stage")
    expect(stage.locator("canvas")).to_be_visible()
    page.wait_for_load_state("networkidle")
    seen = [stage.screenshot()]
    for name, key in (("Taken apart", "End"), ("Built up to step", "Home")):
        page.get_by_label(name).press(key)
        seen.append(stage.screenshot())
    assert len(set(seen)) == 3


def test_without_webgl_a_sentence_stands_there(browser: Browser, job: Job) -> None:
    address, _ = job(example("kiln-shed"))
    # not `tab`: what the viewer could not do stands in the console on purpose
    context = browser.new_context()
    page = context.new_page()
    page.add_init_script("HTMLCanvasElement.prototype.getContext = () => null")
    page.goto(f"{address}/see/model")
    expect(page.locator("[data-failed]")).to_contain_text("cannot show the model")
    expect(page.get_by_label("Taken apart")).to_be_disabled()
    context.close()


def test_names_are_shown_as_they_are_typed(tab: Tab, job: Job) -> None:
    evil = "<img src=x onerror=alert(1)>'\"&"
    text = example("kiln-shed").replace('"flue stack"', json.dumps(evil)).replace('"Kiln shed"', json.dumps(evil))
    address, _ = job(text)
    page = tab(f"{address}/see/roof")
    for view in VIEWS:
        page.goto(f"{address}/see/{view}")
        assert page.locator("img[src=x]").count() == 0
        expect(page.locator("#job-name")).to_have_text(evil)
    page.goto(f"{address}/see/water")
    expect(page.locator(".wet h2")).to_have_text(evil)


def test_what_a_seam_is_for_is_answered(tab: Tab, job: Job) -> None:
    address, _ = job(example("kiln-shed"))
    page = tab(f"{address}/see/water")
    page.get_by_label("Leave out").select_option("bead")
    page.get_by_role("button", name="Show").click()
    expect(page.locator("#what-if")).to_contain_text("Without bead")
    expect(page.locator("#what-if [role=status] li").first).to_be_visible()


def test_a_finding_leads_to_the_field_that_mends_it(tab: Tab, job: Job) -> None:
    address, _ = job(example("must-stop-low-curb"))
    page = tab(f"{address}/see/findings")
    link = page.get_by_role("link", name="To the measure").first
    place = (link.get_attribute("href") or "").partition("#")[2]
    link.click()
    expect(page.locator(f"#{place}")).to_be_visible()


def test_a_job_still_to_be_measured_says_what_is_missing(tab: Tab, job: Job) -> None:
    address, _ = job('[job]\nname = "Bare"\n')
    page = tab(f"{address}/see/roof")
    expect(page.locator("h1")).to_have_text("This job cannot be shown yet")
    expect(page.locator(".problems li").first).to_contain_text("roof")


@pytest.mark.parametrize(
    "path",
    [
        "see/blanks/nothing",
        "see/drawings/step-0.svg",
        "see/drawings/step-99.svg",
        "see/drawings/bend-x.svg",
        "see/cut/x.dxf",
    ],
)
def test_what_is_not_there_is_not_found(tab: Tab, job: Job, path: str) -> None:
    address, _ = job(example("kiln-shed"))
    page = tab(f"{address}/see/findings")
    assert page.request.get(f"{address}/{path}").status == 404


def test_every_blank_has_its_card_its_folds_and_its_cutting_file(tab: Tab, job: Job) -> None:
    address, _ = job(example("kiln-shed"))
    page = tab(f"{address}/see/blanks")
    made = plan(example("kiln-shed"), "job.toml").files
    links = [link.get_attribute("href") or "" for link in page.locator(".pick").all()]
    assert len(links) == sum(name.startswith("cut/") and "sheet" not in name for name in made)
    for link in links:
        id = link.rpartition("/")[2]
        assert page.request.get(f"{address}/see/cut/{id}.dxf").body() == made[f"cut/{id}.dxf"]
    page.goto(f"{address}/see/blanks/1-apron")
    expect(page.locator("article svg")).to_be_visible()
    page.get_by_text("Watch it fold").click()
    page.wait_for_function("() => [...document.images].every((one) => one.naturalWidth > 0)")
