"""Where water would get in round one opening: the weakest ways on the plan, numbered, with the head each needs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from lapwright.detail.model import Detail, OpeningDetail
from lapwright.draw.callout import Label, write_at
from lapwright.draw.display import Display, Pen
from lapwright.draw.features import Window
from lapwright.draw.heading import Words
from lapwright.draw.marks import corners
from lapwright.draw.opening import SHOWN, seen
from lapwright.draw.pens import PENS
from lapwright.draw.plan import Plan, lay_sheet, line, run
from lapwright.draw.sheet import Sheet
from lapwright.geom.space import Flat
from lapwright.layout.model import Layout
from lapwright.leaks.audit import Audit
from lapwright.leaks.search import Way
from lapwright.leaks.telling import place, safe, seam
from lapwright.metal.model import Piece, RoofPanel
from lapwright.site.model import Site
from lapwright.words import Speaker

BESIDE, BEYOND = 5.0, 6.0
"""Roof shown beside the bay, and beyond what is marked. [in]"""

MOST = 3
"""So many ways are marked for standing water, and so many for running water."""

RING, HEAD, SEAM = 5.0, 5.0, 1.6
"""Round the place that decides, length of an arrow's head, half the square on every seam crossed. [pt]"""

LEAK_PENS = (
    Pen("faint", 0.3),
    Pen("way-standing", 1.8),
    Pen("way-running", 1.8, (4.0, 2.5)),
    Pen("decides", 1.1),
)

Numbered = tuple[int, str, Way]


def draw_leaks(
    site: Site,
    layout: Layout,
    detail: Detail,
    pieces: Sequence[Piece],
    panels: Sequence[RoofPanel],
    audits: Sequence[Audit],
    opening: int,
    speaker: Speaker,
) -> Display:
    """Draw one opening with its weakest ways in, standing water full, running water dashed.

    Args:
        site, layout, detail: The roof and what was decided.
        pieces, panels: As folded and as they lie; this opening's are drawn faint.
        audits: Of every planned opening.
        opening: Index of the one that is drawn.
        speaker: Language and unit of the job.
    """
    d = detail.openings[opening]
    found = next(a for a in audits if a.opening == d.opening.name)
    ways: list[Numbered] = [(n, how, w) for n, (how, w) in enumerate(_few(found), 1)]
    title = speaker.say("leaks.draw.title", name=d.opening.name)
    layers = ("wall", "cleat", *dict.fromkeys(f"way-{how}" for _, how, _ in ways), "decides")
    notes = tuple(_row(n, how, w, d, speaker) for n, how, w in ways)
    words = Words(title, (speaker.say("leaks.draw.fact"),), layers, notes or (speaker.say("leaks.draw.none"),))
    sheet, plan = lay_sheet(words, _window(site, d, ways), (14.0, 14.0, 14.0, 14.0), speaker)
    _draw_metal(sheet, plan, layout, d, pieces, panels)
    for _, how, way in ways:
        _draw_way(sheet, plan, how, way)
    for n, _, way in ways:
        write_at(sheet, _on(plan, way), Label(str(n), speaker.length(safe(way.head))), RING)
    return sheet.finish((*PENS, *LEAK_PENS), title)


def _few(a: Audit) -> list[tuple[str, Way]]:
    """The ways to mark; a place that decides for both waters is marked once, by the smaller head."""
    out: list[tuple[str, Way]] = []
    for how, way in sorted(a.places(MOST), key=lambda row: row[1].head):
        if all(math.dist(way.decided.at, w.decided.at) > 1.0 for _, w in out):
            out.append((how, way))
    return out


def _row(n: int, how: str, way: Way, d: OpeningDetail, speaker: Speaker) -> str:
    c = way.decided
    told = {"seam": seam(c, speaker), "place": place(c, d.opening, speaker)}
    return speaker.say("leaks.draw.row", n=n, water=f"leaks.water.{how}", head=safe(way.head), **told)


def _window(site: Site, d: OpeningDetail, ways: Sequence[Numbered]) -> Window:
    points = [*corners(d.opening), *d.cleat_line, *((c.at[0], c.at[1]) for _, _, w in ways for c in w.crossings)]
    if d.pan is not None:
        points += [(d.pan.left, d.pan.downslope), (d.pan.right, d.pan.upslope)]
    x0, x1 = max(d.bay.left - BESIDE, 0.0), min(d.bay.right + BESIDE, site.roof.eave)
    y0, y1 = min(p[1] for p in points) - BEYOND, max(p[1] for p in points) + BEYOND
    return (x0, max(y0, 0.0), x1, min(y1, site.roof.slope))


def _draw_metal(
    sheet: Sheet,
    plan: Plan,
    layout: Layout,
    d: OpeningDetail,
    pieces: Sequence[Piece],
    panels: Sequence[RoofPanel],
) -> None:
    _, y0, _, y1 = plan.window
    for x in layout.ribs:
        line(sheet, plan, (x, y0), (x, y1), "faint", 0.2)
    for panel in panels:
        run(sheet, plan, panel.outline, "faint", closed=True, price=0.2)
    for piece in pieces:
        if piece.opening == d.opening.name and piece.kind in SHOWN and piece.body is not None:
            for face in piece.body.faces:
                ring = seen(face)
                if len(ring) > 1:
                    run(sheet, plan, ring, "faint", closed=len(ring) > 2, price=0.2)
    sheet.ring([plan.at(p) for p in corners(d.opening)], "wall", "hatch", price=2.0)
    run(sheet, plan, d.cleat_line, "cleat", price=1.0)


def _on(plan: Plan, way: Way) -> Flat:
    """Where a way is decided, on the sheet. [pt]"""
    return plan.at((way.decided.at[0], way.decided.at[1]))


def _draw_way(sheet: Sheet, plan: Plan, how: str, way: Way) -> None:
    """The run from seam to seam, a square on each, an arrow at the last, a ring where it is decided."""
    layer = f"way-{how}"
    points = [plan.at((c.at[0], c.at[1])) for c in way.crossings]
    for a, b in pairwise(points):
        sheet.line(a, b, layer, 3.0)
    for x, y in points:
        box = [(x - SEAM, y - SEAM), (x + SEAM, y - SEAM), (x + SEAM, y + SEAM), (x - SEAM, y + SEAM)]
        sheet.ring(box, "decides", "ink")
    far = [(a, b) for a, b in pairwise(points) if math.dist(a, b) > 2 * HEAD]
    if far:
        _arrow(sheet, *far[-1])
    sheet.circle(_on(plan, way), RING, "decides")


def _arrow(sheet: Sheet, a: Flat, b: Flat) -> None:
    """A head at b, seen coming from a. [pt]"""
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    foot = (b[0] - HEAD * ux, b[1] - HEAD * uy)
    half = HEAD / 2.5
    ring = [b, (foot[0] - half * uy, foot[1] + half * ux), (foot[0] + half * uy, foot[1] - half * ux)]
    sheet.ring(ring, "decides", "ink")
