"""Every sheet of whole jobs: nothing overlaps, nothing leaves the paper, every bend is labelled."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from lapwright.draw.card import draw_card
from lapwright.draw.display import Display
from lapwright.draw.roof import draw_opening, draw_roof
from lapwright.job import run
from lapwright.site.model import Opening, Panel, Roof, Site
from lapwright.words import Speaker


def job_of(rise: float, kind: str, face: str, lay: str, width: float, first: float, units: str):  # type: ignore[no-untyped-def]
    hole = Opening("flue <stack>", kind, 92, 69, width, 34, 40, face, "flat-pan")  # type: ignore[arg-type]
    panel = Panel(18, 1.75, first_rib=first, lay=lay)  # type: ignore[arg-type]
    return run(Site("Kiln shed", units, Roof(rise, 288, 198), panel, openings=(hole,)))  # type: ignore[arg-type]


def assert_legible(display: Display) -> None:
    boxes = [(t.text, Polygon(t.box())) for t in display.texts()]
    for i, (name, box) in enumerate(boxes):
        for other, there in boxes[:i]:
            assert box.intersection(there).area < 0.01, f"{name!r} lies on {other!r}: {display.title}"
    x0, y0, x1, y1 = display.extents()
    assert x0 >= 0 and y0 >= 0 and x1 <= display.width and y1 <= display.height, display.title


@pytest.mark.parametrize(
    ("rise", "kind", "face", "lay", "width", "first", "units"),
    [
        (7, "masonry-chimney", "plumb", "left-to-right", 26, 6, "in"),
        (7, "masonry-chimney", "plumb", "right-to-left", 26, 6, "mm"),
        (4, "curb", "square", "left-to-right", 30, 8, "in"),
        (12, "framed-chimney", "plumb", "left-to-right", 14, 11, "mm"),
        (3, "skylight", "square", "right-to-left", 22, 0, "in"),
    ],
)
def test_every_sheet_of_a_job_is_legible_and_complete(
    rise: float, kind: str, face: str, lay: str, width: float, first: float, units: str
) -> None:
    job = job_of(rise, kind, face, lay, width, first, units)
    speaker = Speaker(units)
    assert_legible(draw_roof(job.site, job.layout, job.detail.openings, job.panels, speaker))
    for detail in job.detail.openings:
        assert_legible(draw_opening(job.site, job.layout, detail, job.pieces, job.panels, speaker))
    items = [*job.pieces, *(p for p in job.panels if p.blank is not None)]
    assert len(items) > 10
    for item in items:
        cards = draw_card(item, speaker)
        for card in cards:
            assert_legible(card.display)
        numbers = {t.text for t in cards[0].display.texts() if t.bold and t.anchor == "middle"}
        assert numbers == {str(b.order) for b in item.bends}, item.id
