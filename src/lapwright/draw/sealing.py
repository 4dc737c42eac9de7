"""The map of sealant, tape and fixings round one opening: every run numbered, to scale, over the faint pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from lapwright.detail.model import OpeningDetail
from lapwright.draw.callout import Label, write_at
from lapwright.draw.display import Display, Pen, Text
from lapwright.draw.marks import corners, rim
from lapwright.draw.opening import SHOWN, seen
from lapwright.draw.pens import PENS
from lapwright.draw.plan import Plan, lay_plan, line, run
from lapwright.draw.sealed import Shown
from lapwright.draw.sheet import Sheet
from lapwright.geom.space import Flat
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.site.model import Site
from lapwright.words import Speaker

WIDTH, HEIGHT = 255.0, 400.0
"""Of one map; two stand side by side. [pt]"""
BESIDE, BEYOND = 5.0, 6.0
"""Roof shown beside the bay, and upslope and downslope of what is sealed. [in]"""
MAP_PENS = (
    Pen("bead", 2.4, (0.01, 3.4)),
    Pen("tape", 2.6, (3.0, 4.6)),
    Pen("screw", 0.6),
    Pen("wedge", 0.6),
    Pen("faint", 0.3),
)


def draw_sealing(
    site: Site,
    layout: Layout,
    detail: OpeningDetail,
    pieces: Sequence[Piece],
    panels: Sequence[RoofPanel],
    runs: Sequence[Shown],
    speaker: Speaker,
) -> tuple[Display, ...]:
    """Draw where every run lies, beads on one map, tape and fixings on another; a table says how much of each.

    Args:
        site, layout, detail: The roof and the opening as decided.
        pieces, panels: The opening's own, drawn faint.
        runs: What is shown, numbered from 1 in this order.
        speaker: Language of the job.
    """
    numbered = list(enumerate(runs, 1))
    maps = [[(n, r) for n, r in numbered if (r.look == "bead") == beads] for beads in (True, False)]
    window = _window(site, detail, runs)
    title = speaker.say("draw.sealing_title", name=detail.opening.name)
    return tuple(_map(window, layout, detail, pieces, panels, some, title, speaker) for some in maps if some)


def _map(
    window: tuple[float, float, float, float],
    layout: Layout,
    detail: OpeningDetail,
    pieces: Sequence[Piece],
    panels: Sequence[RoofPanel],
    runs: Sequence[tuple[int, Shown]],
    title: str,
    speaker: Speaker,
) -> Display:
    high = (WIDTH - 4) * (window[3] - window[1]) / (window[2] - window[0]) + 22
    sheet = Sheet(WIDTH, min(HEIGHT, high))
    _legend(sheet, [shown.look for _, shown in runs], speaker)
    plan = lay_plan(window, (0.0, 16.0, sheet.width, sheet.height), (2.0, 2.0, 2.0, 2.0))
    for x in layout.ribs:
        line(sheet, plan, (x, window[1]), (x, window[3]), "faint", 0.2)
    for panel in panels:
        run(sheet, plan, panel.outline, "faint", closed=True, price=0.2)
    for piece in pieces:
        if piece.kind in SHOWN and piece.body is not None:
            for face in piece.body.faces:
                ring = seen(face)
                if len(ring) > 1:
                    run(sheet, plan, ring, "faint", closed=len(ring) > 2, price=0.2)
    sheet.ring([plan.at(p) for p in rim(detail.opening)], "wall", "hatch", price=2.0)
    for _, shown in runs:
        _draw(sheet, plan, shown)
    for n, shown in runs:
        any(write_at(sheet, plan.at(p), Label(str(n), "")) for p in _targets(shown))
    return sheet.finish((*PENS, *MAP_PENS), title)


def _window(site: Site, detail: OpeningDetail, runs: Sequence[Shown]) -> tuple[float, float, float, float]:
    points = [p for shown in runs for path in shown.paths for p in path] + list(corners(detail.opening))
    bay = detail.bay
    x0, x1 = max(bay.left - BESIDE, 0.0), min(bay.right + BESIDE, site.roof.eave)
    y0, y1 = min(y for _, y in points) - BEYOND, max(y for _, y in points) + BEYOND
    return (x0, max(y0, 0.0), x1, min(y1, site.roof.slope))


def _draw(sheet: Sheet, plan: Plan, shown: Shown) -> None:
    for path in shown.paths:
        if shown.look in ("bead", "tape"):
            run(sheet, plan, path, shown.look, price=1.0)
            continue
        for p in path:
            x, y = plan.at(p)
            if shown.look == "screw":
                sheet.circle((x, y), 1.7, "screw", "ink")
            else:
                sheet.ring([(x - 2.8, y - 2.2), (x + 2.8, y - 2.2), (x, y + 2.8)], "wedge", "paper")
            sheet.crowd.busy((x - 1.7, y - 1.7), (x + 1.7, y + 1.7), 2.0)


def _targets(shown: Shown) -> Iterator[Flat]:
    """Points of a run that its number may point at, the best first."""
    for path in sorted(shown.paths, key=len, reverse=True):
        if shown.look in ("screw", "wedge"):
            middle = len(path) // 2
            yield from (*path[middle:], *path[:middle])
            continue
        # Not the very middle: runs that lie over each other would all be pointed at in one place.
        for t in (0.35, 0.8) if shown.look == "bead" else (0.65, 0.2):
            for a, b in pairwise(path):
                yield (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))


def _legend(sheet: Sheet, looks: Sequence[str], speaker: Speaker) -> None:
    x = 3.0
    for look in dict.fromkeys(looks):
        y = 7.0
        if look in ("bead", "tape"):
            sheet.line((x + 2, y), (x + 24, y), look)
        elif look == "screw":
            sheet.circle((x + 20, y), 1.7, "screw", "ink")
        else:
            sheet.ring([(x + 15.2, y - 2.2), (x + 20.8, y - 2.2), (x + 18, y + 2.8)], "wedge", "paper")
        text = Text((x + 31, y), speaker.say(f"draw.sealing_{look}"), "text", 8.0)
        sheet.text(text)
        x += 31 + text.width + 3
