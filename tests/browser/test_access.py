"""Every page for every reader: axe-core finds nothing serious, in every look, on a phone and a desk.

axe-core lies in vendor/ under its own licence (MPL 2.0), for these tests only.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from lapwright.store.shelf import Kept
from lapwright.verbs.jobs import example
from lapwright.verbs.plan import plan
from lapwright.web.desk import THEMES

AXE = (Path(__file__).parent / "vendor" / "axe-core-4.10.3.min.js").read_text(encoding="utf-8")
Tab = Callable[..., Page]
Job = Callable[[str], tuple[str, Callable[[], Kept]]]
SEEN = ("", "/blanks", "/model", "/findings", "/water", "/steps", "/list")
PLACES = ("", *(f"/see{view}" for view in SEEN), "/take", "/take/single", "/history", "/history/1", "/nothing")


def wrong(page: Page) -> list[str]:
    """What axe-core calls serious or critical."""
    page.evaluate(AXE)
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")["violations"]
    return [
        f"{v['id']}: {v['nodes'][0]['html'][:200]} ({len(v['nodes'])})"
        for v in found if v["impact"] in ("serious", "critical")
    ]  # fmt: skip


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("width", [320, 1280])
def test_no_page_is_seriously_in_anybody_s_way(tab: Tab, job: Job, address: str, theme: str, width: int) -> None:
    url, _ = job(example("kiln-shed"))
    broken, _ = job('[job]\nname = "Half"\n[roof]\npitch = "100:12"\n')
    page = tab(address, width=width, color_scheme="dark" if theme == "auto" else "light")
    page.context.add_cookies([{"name": "theme", "value": theme, "url": address}])
    found = {}
    for place in (address, *(url + place for place in PLACES), broken, f"{broken}/take"):
        page.goto(place)
        found[place] = wrong(page)
    assert {place.removeprefix(address): says for place, says in found.items() if says} == {}


@pytest.mark.parametrize("width", [320, 1280])
def test_the_packet_of_one_page_is_in_nobody_s_way(browser: Browser, tmp_path: Path, width: int) -> None:
    path = tmp_path / "packet.html"
    path.write_bytes(plan(example("must-stop"), "job").files["packet.html"])
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto(path.as_uri())
    assert wrong(page) == []
    page.close()


def test_a_page_that_is_in_the_way_is_found_out(tab: Tab, address: str) -> None:
    page = tab(address)
    page.evaluate("document.querySelectorAll('label').forEach(label => label.remove())")
    assert any("label" in one or "select-name" in one for one in wrong(page))
