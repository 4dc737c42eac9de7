"""Jobs and history in a real browser: no script needed, no sideways scroll, everything by keyboard."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from lapwright.store.shelf import Kept, Shelf

Tab = Callable[..., Page]
Job = Callable[[str], tuple[str, Callable[[], Kept]]]


PRESSED = "button, select, input:not([type=hidden]), .places a, a.button, .mark"


def wide(page: Page) -> int:
    width: int = page.evaluate("document.documentElement.scrollWidth")
    return width


@pytest.mark.parametrize("scripts", [True, False])
def test_a_job_file_is_brought_in_removed_and_restored(tab: Tab, address: str, tmp_path: Path, scripts: bool) -> None:
    file = tmp_path / "byre.toml"
    file.write_text(f'[job]\nname = "Byre {scripts}"\n', encoding="utf-8")
    page = tab(address, java_script_enabled=scripts)
    page.locator("#file").set_input_files(file)
    page.get_by_role("button", name="Bring in").click()
    page.wait_for_url(re.compile(r"/jobs/[0-9a-f]{16}$"))
    page.get_by_role("link", name="All jobs").click()
    page.get_by_role("button", name=f"Remove Byre {scripts}").click()
    expect(page.get_by_role("link", name=f"Byre {scripts}")).to_have_count(0)
    page.get_by_text("Removed jobs").click()
    page.get_by_role("button", name=f"Restore Byre {scripts}").click()
    expect(page.locator("#job-name")).to_have_text(f"Byre {scripts}")


@pytest.mark.parametrize("scripts", [True, False])
def test_history_is_gone_through_by_keyboard_alone(tab: Tab, job: Job, scripts: bool) -> None:
    address, now = job('[job]\nname = "Old barn"\n')
    page = tab(f"{address}/history", java_script_enabled=scripts)
    first = now()
    page.request.put(
        f"{address}/job.toml", data='[job]\nname = "New barn"\n',
        headers={"if-match": f'"{first.revision}"', "origin": address[: address.index("/jobs")]},
    )  # fmt: skip
    page.reload()
    expect(page.locator("#job-name")).to_have_text("New barn")
    look = page.get_by_role("link", name="Look at state 1")
    for _ in range(40):
        page.keyboard.press("Tab")
        if look.evaluate("one => one === document.activeElement"):
            break
    page.keyboard.press("Enter")
    expect(page.locator("pre")).to_contain_text("Old barn")
    page.get_by_role("button", name="Go back to this").press("Enter")
    expect(page.locator("#job-name")).to_have_text("Old barn")
    page.get_by_role("button", name="Undo").press("Enter")
    expect(page.locator("#job-name")).to_have_text("New barn")
    page.reload()
    page.get_by_role("button", name="Redo").press("Enter")
    expect(page.locator("#job-name")).to_have_text("Old barn")
    assert now().revision == 3


@pytest.mark.parametrize("scripts", [True, False])
def test_older_states_come_when_asked_for(tab: Tab, job: Job, shelf: Shelf, scripts: bool) -> None:
    address, now = job('[job]\nname = "Barn"\n')
    for n in range(2, 121):
        shelf.change(now().id, n - 1, f'[job]\nname = "Barn {n}"\n', f"change {n}")
    page = tab(f"{address}/history", java_script_enabled=scripts)
    expect(page.get_by_text("change 120", exact=True)).to_be_visible()
    expect(page.get_by_text("Started", exact=True)).to_have_count(0)
    page.get_by_role("link", name="Older states").click()
    expect(page.get_by_text("Started", exact=True)).to_be_visible()
    # with a script they stand below the others, without one on a page of their own
    expect(page.get_by_text("change 120", exact=True)).to_have_count(1 if scripts else 0)
    expect(page.get_by_role("link", name="Older states")).to_have_count(0)
    page.get_by_role("button", name="Go back to state 1", exact=True).click()
    expect(page.locator("#job-name")).to_have_text("Barn")


@pytest.mark.parametrize("width", [320, 768, 1280])
def test_nothing_scrolls_sideways_however_long_a_name_is(tab: Tab, job: Job, address: str, width: int) -> None:
    place, _ = job(f'[job]\nname = "{"Barn" * 20}"\n')
    for path in (address, f"{place}/history", f"{place}/history/1", f"{place}/nothing"):
        page = tab(path, width=width)
        assert wide(page) == width, path


def test_the_look_is_set_and_stays(tab: Tab, address: str) -> None:
    page = tab(address)
    light = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    page.get_by_label("Look").select_option("Dark")
    page.get_by_role("button", name="Set").click()
    page.reload()
    dark = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    # the paper's tokens, light and dark
    assert (light, dark) == ("rgb(251, 250, 246)", "rgb(21, 24, 23)")


def test_what_can_be_pressed_is_48_px_high(tab: Tab, job: Job, address: str) -> None:
    place, _ = job('[job]\nname = "Barn"\n')
    for path in (address, f"{place}/history"):
        page = tab(path, width=320)
        small = page.evaluate(
            "(pressed) => [...document.querySelectorAll(pressed)]"
            ".filter(one => one.getBoundingClientRect().height < 47.5).map(one => one.outerHTML)",
            PRESSED,
        )
        assert small == []
