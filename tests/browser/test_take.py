"""Taking away in a real browser: from a blank page to a PDF by keyboard, and the packet without a network."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import Browser, Page, expect

from browser.conftest import settled
from lapwright.store.shelf import Kept
from lapwright.verbs.jobs import example
from lapwright.verbs.plan import plan

Tab = Callable[..., Page]
Job = Callable[[str], tuple[str, Callable[[], Kept]]]

# An invented roof, as it is typed with the tape in hand.
TYPED = {
    "job-name": "Smokehouse", "roof-pitch": "8:12", "roof-eave": "21'", "roof-slope": "15' 6",
    "panel-coverage": "18", "panel-rib_height": "1 3/4",
    "opening-0-name": "stack", "opening-0-left": "8'", "opening-0-up": "5' 6", "opening-0-width": "24",
    "opening-0-length": "30", "opening-0-height": "50",
}  # fmt: skip
CHOSEN = {"panel-fixing": "nailing-flange", "panel-metal": "steel-24", "opening-0-kind": "masonry-chimney"}


def to(page: Page, css: str, most: int = 600) -> None:
    """Go on by Tab until there."""
    for _ in range(most):
        if page.evaluate("css => document.activeElement.matches(css)", css):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{css} is not come to by Tab")


@pytest.fixture(scope="module")
def packet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of one file, on the disk."""
    path = tmp_path_factory.mktemp("phone") / "packet.html"
    path.write_bytes(plan(example("kiln-shed"), "job").files["packet.html"])
    return path


def test_from_a_blank_page_to_a_pdf_by_keyboard_alone(tab: Tab, address: str, tmp_path: Path) -> None:
    page = tab(address)
    to(page, "form:has(input[value=blank]) button")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(r"/jobs/[0-9a-f]+$"))
    if page.locator("#f-opening-0-name").count() == 0:
        to(page, 'form[action*="/rows/opening"] button')
        page.keyboard.press("Enter")
        page.wait_for_selector("#f-opening-0-name")
        page.keyboard.press("Control+Home")
    wanted = {**TYPED, **CHOSEN}
    for _ in range(300):
        page.keyboard.press("Tab")
        id = page.evaluate("document.activeElement.id").removeprefix("f-")
        if id in CHOSEN and id in wanted:
            # a list is gone to by the first letters of what stands in it
            page.keyboard.type(page.locator(f"#f-{id} option[value={wanted.pop(id)}]").inner_text())
        elif id in wanted:
            page.keyboard.press("Control+A")
            page.keyboard.type(wanted.pop(id))
        if not wanted:
            break
    assert wanted == {}
    settled(page)
    to(page, '.places a[href$="/take"]', 300)
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile("/take$"))
    expect(page.locator("#single")).to_contain_text("The packet is made", timeout=20_000)
    page.locator("h1").click()
    to(page, 'main a[href*="packet.pdf"]')
    with page.expect_download() as coming:
        page.keyboard.press("Enter")
    assert coming.value.suggested_filename == "Smokehouse-packet-letter.pdf"
    coming.value.save_as(tmp_path / "packet.pdf")
    pdf = pypdfium2.PdfDocument(tmp_path / "packet.pdf")
    assert "Smokehouse" in pdf[0].get_textpage().get_text_bounded() and len(pdf) > 20
    pdf.close()


@pytest.mark.parametrize("scripts", [True, False])
def test_a_single_page_and_a_single_drawing_are_taken(tab: Tab, job: Job, scripts: bool) -> None:
    url, _ = job(example("kiln-shed"))
    page = tab(f"{url}/take", java_script_enabled=scripts)
    if not scripts:
        page.get_by_role("link", name="List single pages").click()
    page.get_by_text("Pages", exact=True).click(timeout=20_000)
    with page.expect_download() as coming:
        page.get_by_role("link", name="Page 1: Cover").click()
    assert coming.value.suggested_filename == "Kiln-shed-page-1-letter.pdf"
    page.locator("summary", has_text="Drawings").click()
    with page.expect_download() as coming:
        page.locator('a[href$="/drawings/roof.svg"]').click()
    assert coming.value.suggested_filename == "Kiln-shed-roof.svg"


@pytest.mark.parametrize("width", [320, 768, 1280])
def test_take_away_fits_every_width(tab: Tab, job: Job, width: int) -> None:
    for text in (example("kiln-shed"), example("must-stop"), f'[job]\nname = "{"x" * 60}"\n'):
        url, _ = job(text)
        page = tab(f"{url}/take", width=width, java_script_enabled=False)
        assert page.evaluate("document.documentElement.scrollWidth") == width


def test_the_packet_works_on_a_telephone_without_a_network(browser: Browser, packet: Path) -> None:
    context = browser.new_context(viewport={"width": 320, "height": 568}, offline=True, has_touch=True)
    asked: list[str] = []
    wrong: list[str] = []
    page = context.new_page()
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: wrong.append(message.text))
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(packet.as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") == 320
    count = page.locator("#count")
    expect(count).to_have_text(re.compile(r"^0 of \d+ steps done$"))
    page.locator('[data-tick="step-1"]').tap()
    page.locator('[data-tick="step-3"]').tap()
    expect(count).to_contain_text("2 of")
    page.reload()
    expect(count).to_contain_text("2 of")
    assert page.locator('[data-tick="step-3"]').is_checked()
    page.locator("#again").tap()
    page.reload()
    expect(count).to_contain_text("0 of")
    assert {url for url in asked if not url.startswith("data:")} == {packet.as_uri()}
    assert wrong == []
    context.close()


def test_a_drawing_of_the_packet_grows_when_asked_and_is_then_readable(browser: Browser, packet: Path) -> None:
    page = browser.new_page(viewport={"width": 320, "height": 568})
    page.goto(packet.as_uri())
    box = page.locator("#drawings-1 .larger").first
    box.click()
    # the smallest lettering on the sheet, as it is on the glass [px]
    least = page.locator("#drawings-1 svg").first.evaluate(
        "svg => Math.min(...[...svg.querySelectorAll('text')].map(t => parseFloat(t.getAttribute('font-size'))))"
        " * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width"
    )
    assert least >= 11
    assert page.evaluate("document.documentElement.scrollWidth") == 320
    page.close()


def test_ticks_of_a_browser_that_keeps_nothing_last_as_long_as_the_page(browser: Browser, packet: Path) -> None:
    page = browser.new_page()
    page.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new Error('no') } })")
    page.goto(packet.as_uri())
    expect(page.locator("#not-kept")).to_be_visible()
    page.locator('[data-tick="step-1"]').check()
    expect(page.locator("#count")).to_contain_text("1 of")
    page.close()


def test_the_packet_prints_on_paper_with_boxes_to_fill(browser: Browser, packet: Path) -> None:
    page = browser.new_page()
    page.goto(packet.as_uri())
    expect(page.locator("th.paper").first).to_be_hidden()
    page.emulate_media(media="print")
    expect(page.locator("th.paper").first).to_be_visible()
    expect(page.locator("nav")).to_be_hidden()
    pdf = pypdfium2.PdfDocument(page.pdf(format="A4"))
    said = "".join(one.get_textpage().get_text_bounded() for one in pdf)
    assert "Kiln shed" in said and "found" in said and "Larger" not in said
    page.close()


@pytest.mark.parametrize("place", ["", "/see/findings", "/take", "/history"])
def test_a_page_prints_black_on_white_under_its_job_s_name(tab: Tab, job: Job, place: str) -> None:
    url, _ = job(example("kiln-shed"))
    page = tab(f"{url}{place}", color_scheme="dark")
    page.emulate_media(media="print")
    expect(page.locator("#job-name")).to_be_visible()
    expect(page.locator(".places")).to_be_hidden()
    expect(page.locator("button:visible")).to_have_count(0)
    look = "[getComputedStyle(document.documentElement).backgroundColor, getComputedStyle(document.body).color]"
    assert page.evaluate(look) == ["rgb(255, 255, 255)", "rgb(0, 0, 0)"]
