"""Measure in a real browser: what is typed is understood, drawn, kept and never lost."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from browser.conftest import settled
from lapwright.site.read import read_job
from lapwright.store.shelf import Kept, Shelf
from lapwright.verbs.edit import copy_row, set_value
from lapwright.verbs.job_text import values_of
from page_server import Program

KILN = (Path(__file__).parents[2] / "examples" / "kiln-shed" / "job.toml").read_text(encoding="utf-8")
Tab = Callable[..., Page]
Job = Callable[[str], tuple[str, Callable[[], Kept]]]

# An invented roof, as it is typed with the tape in hand.
ROOF = {
    "job-name": "Drying shed", "roof-eave": "20' 6", "roof-slope": "184", "roof-pitch": "7:12",
    "panel-coverage": "16", "panel-first_rib": "7", "panel-rib_height": "1 3/4",
}  # fmt: skip
HOLE = {
    "opening-0-name": "stove chimney", "opening-0-left": "7' 8 1/2\"", "opening-0-up": "5' 2",
    "opening-0-width": "533 mm", "opening-0-length": "27", "opening-0-height": "48",
}  # fmt: skip


def start(tab: Tab, address: str, **how: object) -> Page:
    page = tab(address, **how)
    page.get_by_role("button", name="New job").click()
    page.wait_for_url(re.compile(r"/jobs/[0-9a-f]+$"))
    return page


def kept(shelf: Shelf, page: Page) -> Kept:
    settled(page)
    return shelf.get(page.evaluate("document.body.dataset.job"))


def test_from_a_blank_page_to_a_whole_job(tab: Tab, address: str, shelf: Shelf) -> None:
    page = start(tab, address)
    expect(page.locator("#next")).to_have_text("Next: Eave")
    for id, typed in ROOF.items():
        page.fill(f"#f-{id}", typed)
    page.get_by_role("button", name="Add an opening").click()
    page.wait_for_url(re.compile("#opening-0$"))
    expect(page.locator("#f-opening-0-name")).to_be_focused()
    page.select_option("#f-opening-0-kind", "masonry-chimney")
    for id, typed in HOLE.items():
        page.fill(f"#f-{id}", typed)
    page.locator("#w-roof-right_edge").get_by_label("Wall").check()
    expect(page.locator("#all-measured")).to_have_text("All measured.")
    # 20' 6 = 246; 5' 2 = 62; 533 mm = 20.984; 7' 8 1/2 = 92.5
    site = read_job(kept(shelf, page).text, "job.toml")
    opening = site.openings[0]
    assert (site.name, site.roof.eave, site.roof.rise, site.roof.right_edge) == ("Drying shed", 246, 7, "wall")
    assert (opening.left, opening.up, round(opening.width, 3), opening.height) == (92.5, 62, 20.984, 48)
    expect(page.locator("#stops")).to_be_visible()
    expect(page.locator("#stops")).to_have_attribute("href", re.compile("/see/findings$"))


def test_keyboard_alone_measures_a_whole_job(tab: Tab, address: str, shelf: Shelf) -> None:
    page = start(tab, address)
    page.focus("#f-job-name")
    walked = []

    def enter(typed: str = "") -> None:
        walked.append(page.evaluate("document.activeElement.closest('.field').id.slice(2)"))
        if typed:
            page.keyboard.press("Control+a")
            page.keyboard.type(typed)
        page.keyboard.press("Enter")

    for typed in ("Drying shed", "", "20' 6", "184", "7:12", "", "", "", "", "16", "7", "1 3/4"):
        enter(typed)
    assert walked == [
        "job-name", "job-units", "roof-eave", "roof-slope", "roof-pitch", "roof-left_edge", "roof-right_edge",
        "roof-upper_edge", "roof-work", "panel-coverage", "panel-first_rib", "panel-rib_height",
    ]  # fmt: skip
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "Add an opening":
            break
    page.keyboard.press("Enter")
    expect(page.locator("#f-opening-0-name")).to_be_focused()
    enter("stove chimney")
    page.keyboard.press("c")  # a select takes its answer by its first letter
    for typed in ("", "7' 8 1/2", "5' 2", "21", "27", "8"):
        enter(typed)
    expect(page.locator("#all-measured")).to_be_visible()
    opening = read_job(kept(shelf, page).text, "job.toml").openings[0]
    assert (opening.kind, opening.left, opening.length) == ("curb", 92.5, 27)
    page.keyboard.press("Shift+Enter")
    expect(page.locator("#f-opening-0-height")).to_be_focused()


def test_what_was_understood_stands_beside_what_was_typed(tab: Tab, job: Job) -> None:
    url, _ = job(KILN)
    page = tab(url)
    page.fill("#f-opening-0-width", "2' 1 1/2\"")
    # 25.5 in x 25.4 = 647.7 mm
    expect(page.locator("#s-opening-0-width .echo")).to_have_text('25-1/2" = 647.7 mm')
    page.fill("#f-opening-0-width", "648 mm")
    expect(page.locator("#s-opening-0-width .echo")).to_have_text('about 25-1/2" = 648 mm')


def test_an_error_stands_beside_its_field_keeps_the_text_and_moves_nothing(tab: Tab, job: Job) -> None:
    url, now = job(KILN)
    page = tab(url)
    below = page.locator("#w-opening-0-height")
    where = "e => e.getBoundingClientRect().top + scrollY"
    place = below.evaluate(where)
    page.fill("#f-opening-0-width", "1'")
    page.fill("#f-opening-0-width", "1")
    expect(page.locator("#s-opening-0-width .wrong")).to_contain_text('2" to 100\' 0" is allowed')
    expect(page.locator("#f-opening-0-width")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#wrong")).to_have_text("1 to mend")
    assert below.evaluate(where) == place
    page.fill("#f-opening-0-width", "23 1/2 and a bit")
    expect(page.locator("#s-opening-0-width .wrong")).to_contain_text("is not a length")
    assert below.evaluate(where) == place
    settled(page)
    assert values_of(now().text)["opening"][0]["width"] == "23 1/2 and a bit"
    page.reload()
    expect(page.locator("#f-opening-0-width")).to_have_value("23 1/2 and a bit")
    expect(page.locator("#s-opening-0-width .wrong")).to_contain_text("is not a length")


def test_the_measure_being_entered_is_lit_and_redrawn(tab: Tab, job: Job) -> None:
    url, _ = job(KILN)
    page = tab(url)
    page.focus("#f-roof-eave")
    lit = page.locator('.drawing[data-view="roof"] g.lit')
    expect(lit.locator("text")).to_have_text("22' 3\"")
    page.keyboard.press("End")
    page.keyboard.type(" 1/2")
    expect(lit.locator("text")).to_have_text("22' 3-1/2\"")
    page.focus("#f-roof-pitch")
    expect(page.locator('.drawing[data-view="side"] g.lit text')).to_have_text("8:12")
    # the roof stays beside it on a wide page, and the page names which drawing is shown
    expect(page.locator('.drawing[data-view="roof"]')).to_be_visible()
    expect(page.locator('.view[data-view="side"]')).to_have_attribute("aria-pressed", "true")


def test_a_touched_dimension_gives_its_field_the_focus(tab: Tab, job: Job) -> None:
    url, _ = job(set_value(copy_row(KILN, "opening", 0), ("opening", 1, "left"), "2' 0"))
    page = tab(url)
    page.locator('.drawing[data-view="roof"] g.m-roof-slope text').click()
    expect(page.locator("#f-roof-slope")).to_be_focused()
    page.locator('.drawing[data-view="roof"] g.go-opening-1 text').click()
    expect(page.locator("#f-opening-1-left")).to_be_focused()
    # and its own place is now the one that is dimensioned
    expect(page.locator('.drawing[data-view="roof"] g.m-opening-1-left text')).to_have_text('24"')


def test_two_tabs_over_one_job_lose_nothing(tab: Tab, job: Job) -> None:
    url, now = job(KILN)
    one, two = tab(url), tab(url)
    one.fill("#f-roof-eave", "22' 4")
    settled(one)
    two.fill("#f-opening-0-width", "24")
    two.fill("#f-panel-first_rib", "8")
    settled(two)
    expect(two.locator("#f-roof-eave")).to_have_value("22' 4")
    one.fill("#f-roof-slope", "17' 0")
    settled(one)
    values = values_of(now().text)
    assert (values["roof"]["eave"], values["roof"]["slope"], values["panel"]["first_rib"]) == ("22' 4", "17' 0", 8)
    assert values["opening"][0]["width"] == 24


@pytest.mark.parametrize(("pick", "ends"), [("Keep mine", "25"), ("Keep theirs", "24")])
def test_one_field_changed_in_two_tabs_is_asked_about(tab: Tab, job: Job, pick: str, ends: str) -> None:
    url, now = job(KILN)
    one, two = tab(url), tab(url)
    one.fill("#f-opening-0-width", "24")
    settled(one)
    two.fill("#f-opening-0-width", "25")
    expect(two.locator("#s-opening-0-width .wrong")).to_have_text("Changed in another window meanwhile.")
    assert values_of(now().text)["opening"][0]["width"] == 24
    expect(two.locator("#f-opening-0-width")).to_have_value("25")
    two.get_by_role("button", name=pick).click()
    settled(two)
    expect(two.locator("#f-opening-0-width")).to_have_value(ends)
    expect(two.locator("#s-opening-0-width .echo")).to_contain_text(f'{ends}" =')
    assert str(values_of(now().text)["opening"][0]["width"]) == ends


def test_an_opening_added_in_one_tab_comes_up_in_the_other_while_it_types(tab: Tab, job: Job) -> None:
    url, now = job(KILN)
    one, two = tab(url), tab(url)
    one.get_by_role("button", name="Copy flue stack").click()
    expect(one.locator("#f-opening-1-name")).to_be_visible()
    two.fill("#f-opening-0-width", "24")
    expect(two.locator("#f-opening-1-name")).to_have_value("flue stack 2")
    expect(two.locator("#f-opening-0-width")).to_be_focused()
    settled(two)
    assert values_of(now().text)["opening"][0]["width"] == 24


def test_undo_and_redo_reach_over_a_reload(tab: Tab, job: Job) -> None:
    url, now = job(KILN)
    page = tab(url)
    page.focus("#f-roof-eave")
    page.keyboard.press("Control+a")
    page.keyboard.type("30' 6")  # one figure, one step back
    settled(page)
    page.reload()
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#f-roof-eave")).to_have_value("22' 3")
    assert now().text == KILN
    page.locator("h2").first.click()
    page.keyboard.press("Control+Shift+Z")
    expect(page.locator("#f-roof-eave")).to_have_value("30' 6")
    page.keyboard.press("Control+Z")
    expect(page.locator("#f-roof-eave")).to_have_value("22' 3")
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()


def test_openings_come_are_copied_and_go(tab: Tab, job: Job) -> None:
    url, now = job(KILN)
    page = tab(url)
    page.get_by_role("button", name="Copy flue stack").click()
    expect(page.locator("#f-opening-1-name")).to_have_value("flue stack 2")
    page.fill("#f-opening-1-left", "2' 6")
    expect(page.locator("#all-measured")).to_be_visible()
    page.get_by_role("button", name="Remove flue stack", exact=True).click()
    expect(page.get_by_text("Removed.")).to_be_visible()
    expect(page.locator("#f-opening-0-name")).to_have_value("flue stack 2")
    page.get_by_role("button", name="Take it back").click()
    expect(page.locator("#f-opening-1-name")).to_have_value("flue stack 2")
    assert [row["name"] for row in values_of(now().text)["opening"]] == ["flue stack", "flue stack 2"]


def test_a_pipe_is_asked_for_its_diameter_and_no_width(tab: Tab, job: Job) -> None:
    url, _ = job('[job]\nname = "x"\n[[opening]]\nname = "vent"\n')
    page = tab(url)
    expect(page.locator("#w-opening-0-width")).to_be_visible()
    page.select_option("#f-opening-0-kind", "pipe")
    expect(page.locator("#w-opening-0-diameter")).to_be_visible()
    expect(page.locator("#w-opening-0-width")).to_be_hidden()
    page.fill("#f-opening-0-diameter", "6")
    expect(page.locator('.drawing[data-view="opening"] g.m-opening-0-diameter text')).to_have_text('6"')


def test_an_opening_s_own_measures_come_when_they_are_asked_for(tab: Tab, job: Job) -> None:
    url, now = job(KILN)
    page = tab(url)
    page.get_by_text("Measures of the flashing, here only").click()
    page.fill("#f-opening-0-upstand", "9")
    settled(page)
    assert values_of(now().text)["opening"][0]["upstand"] == 9


def test_on_a_telephone_a_figure_is_keyed_with_a_few_touches(tab: Tab, job: Job) -> None:
    url, _ = job(KILN)
    page = tab(url, width=320, height=568, has_touch=True, is_mobile=True)
    field = page.locator("#f-opening-0-width")
    assert page.locator("#pad").is_hidden()
    field.tap()
    expect(page.locator("#pad")).to_be_visible()
    expect(field).to_have_attribute("inputmode", "none")
    expect(field).to_be_in_viewport()
    field.fill("")
    key = lambda name: page.locator(f"#pad [data-key='{name}']").tap()  # noqa: E731
    page.locator('#pad [data-key="7"]').tap()
    page.locator('#pad [data-key="\'"]').tap()
    for name in ("4", "1/4", "1/8", "1/16"):
        key(name)
    # 1/4 + 1/8 + 1/16 = 7/16
    expect(field).to_have_value("7' 4 7/16")
    expect(page.locator("#s-opening-0-width .echo")).to_have_text("7' 4-7/16\" = 2246.3 mm")
    key("back")
    expect(field).to_have_value("7' 4 7/1")
    expect(page.locator("#s-opening-0-width .wrong")).not_to_be_empty()
    key("next")
    expect(page.locator("#f-opening-0-length")).to_be_focused()
    key("hide")
    expect(page.locator("#pad")).to_be_hidden()
    expect(page.locator("#f-opening-0-length")).to_have_attribute("inputmode", "text")
    page.get_by_role("button", name="Keypad").tap()
    expect(page.locator("#pad")).to_be_visible()
    expect(page.locator("#f-opening-0-length")).to_be_focused()


@pytest.mark.parametrize("width", [320, 768, 1280])
def test_nothing_runs_off_the_side_and_everything_can_be_hit(tab: Tab, job: Job, width: int) -> None:
    url, _ = job(copy_row(KILN, "opening", 0).replace("Kiln shed", "Kiln shed " + "x" * 60))
    page = tab(url, width=width, height=568)
    for fold in page.locator("details").all():
        fold.evaluate("d => { d.open = true }")
    page.fill("#f-opening-0-width", "y" * 60)
    settled(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = """() => [...document.querySelectorAll('main input:not([type=radio]), main select, .options, button')]
        .filter(e => e.offsetParent && !e.closest('.seen') && e.getBoundingClientRect().height < 48).map(e => e.id)"""
    assert page.evaluate(small) == []


def test_hostile_names_are_text(tab: Tab, job: Job) -> None:
    name = "\"><img src=x onerror=alert(1)><script>alert(1)</script>'${7*7}{{7*7}}"
    url, now = job(KILN)
    page = tab(url)
    page.fill("#f-opening-0-name", name)
    expect(page.locator("#t-opening-0")).to_have_text(name[:60])
    settled(page)
    page.reload()
    expect(page.locator("#f-opening-0-name")).to_have_value(name)
    assert page.locator("img, main script:not([type])").count() == 0
    assert values_of(now().text)["opening"][0]["name"] == name


def test_a_job_file_that_cannot_be_read_is_mended_on_the_page(tab: Tab, job: Job) -> None:
    url, now = job("[roof\neave = 3\n")
    page = tab(url)
    expect(page.locator("#problems")).to_contain_text("Line 1")
    page.fill("#text", KILN)
    page.get_by_role("button", name="Keep this text").click()
    expect(page.locator("#f-roof-eave")).to_have_value("22' 3")
    assert now().text == KILN


def test_what_no_field_holds_is_said_above_the_form(tab: Tab, job: Job) -> None:
    url, _ = job(KILN.replace("rain = 6", "rian = 6"))
    page = tab(url)
    expect(page.locator("#problems")).to_contain_text("site.rian: no such field; did you mean rain?")


def test_a_server_killed_in_the_middle_of_typing_loses_nothing(tab: Tab, tmp_path: Path) -> None:
    server = Program(tmp_path)
    address, port = server.address, server.address.rpartition(":")[2]
    page = start(tab, address)
    page.fill("#f-roof-eave", "20' 6")
    settled(page)
    page.focus("#f-roof-slope")
    page.keyboard.type("15")
    server.stop()
    page.keyboard.type("' 4")
    page.fill("#f-roof-pitch", "7:12")
    expect(page.locator("#saved")).to_have_text("Not saved yet")
    expect(page.locator("#f-roof-slope")).to_have_value("15' 4")
    again = Program(tmp_path, "--port", port)
    try:
        settled(page)
        expect(page.locator("#saved")).to_have_text(re.compile("^Saved"))
        page.reload()
        for id, typed in (("eave", "20' 6"), ("slope", "15' 4"), ("pitch", "7:12")):
            expect(page.locator(f"#f-roof-{id}")).to_have_value(typed)
    finally:
        again.stop()


def test_a_tab_closed_while_the_server_is_away_still_has_what_was_typed(tab: Tab, tmp_path: Path) -> None:
    server = Program(tmp_path)
    port = server.address.rpartition(":")[2]
    page = start(tab, server.address)
    url = page.url
    server.stop()
    page.fill("#f-roof-eave", "20' 6")
    expect(page.locator("#saved")).to_have_text("Not saved yet")
    other = page.context.new_page()
    page.close()
    again = Program(tmp_path, "--port", port)
    try:
        other.goto(url)
        expect(other.locator("#f-roof-eave")).to_have_value("20' 6")
        settled(other)
        other.reload()
        expect(other.locator("#f-roof-eave")).to_have_value("20' 6")
    finally:
        again.stop()
