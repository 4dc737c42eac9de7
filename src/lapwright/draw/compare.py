"""Two ways of doing one opening, side by side at one scale: metal as seen from above, cleat line, upper panels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lapwright.detail.model import OpeningDetail
from lapwright.draw.display import Display, Text
from lapwright.draw.features import Window
from lapwright.draw.heading import BODY, LEAD, fold, write_heading, write_legend
from lapwright.draw.marks import corners, draw_marks, draw_ribs
from lapwright.draw.opening import SHOWN, seen
from lapwright.draw.pens import PENS
from lapwright.draw.plan import lay_plan, run
from lapwright.draw.sheet import Sheet
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.site.model import Site
from lapwright.words import Speaker

WIDTH, HEIGHT = 756.0, 522.0
"""10 1/2 x 7 1/4 inches: a page on its side. [pt]"""

BETWEEN = 14.0
"""Room between the two plans, and round them. [pt]"""

AROUND = 8.0
"""Roof shown round the metal. [in]"""

LEGEND = ("wall", "bay-rib", "apron", "side-wall", "pan", "cleat", "upper-panel", "notch")


@dataclass(frozen=True, slots=True)
class Way:
    """One way of doing the opening. heading, rows: written over its plan.

    pieces, panels: the opening's own, with bodies.
    """

    heading: str
    rows: tuple[str, ...]
    detail: OpeningDetail
    pieces: Sequence[Piece]
    panels: Sequence[RoofPanel]


def draw_ways(site: Site, layout: Layout, ways: Sequence[Way], title: str, speaker: Speaker) -> Display:
    """Draw the ways side by side; one that could not be drawn keeps its words and an empty plan.

    Args:
        site, layout: The roof, the same for all.
        ways: From left to right.
        title: Over all of them.
        speaker: Language and unit of the job.
    """
    sheet = Sheet(WIDTH, HEIGHT)
    upper = write_heading(sheet, title, [speaker.say("compare.scale")])
    layers = [layer for layer in LEGEND if layer != "notch" or any(w.detail.notches for w in ways)]
    lower = write_legend(sheet, layers, speaker)
    window = _window(site, ways)
    wide = (sheet.width - BETWEEN * (len(ways) + 1)) / len(ways)
    start = _start(ways, upper, wide)
    for k, way in enumerate(ways):
        left = BETWEEN + k * (wide + BETWEEN)
        _words(sheet, way, left, upper, wide)
        plan = lay_plan(window, (left, lower + BETWEEN, left + wide, start), (0.0, 0.0, 0.0, 0.0))
        for panel in way.panels:
            if panel.role == "upper":
                run(sheet, plan, panel.outline, "upper-panel", closed=True)
        draw_ribs(sheet, plan, site, layout, [way.detail])
        for piece in way.pieces:
            if piece.kind in SHOWN and piece.body is not None:
                for face in piece.body.faces:
                    ring = seen(face)
                    if len(ring) > 1:
                        run(sheet, plan, ring, SHOWN[piece.kind], closed=len(ring) > 2)
        draw_marks(sheet, plan, way.detail)
    return sheet.finish(PENS, title)


def _words(sheet: Sheet, way: Way, left: float, upper: float, wide: float) -> None:
    """Heading and rows over a plan. [pt]"""
    y = upper - BODY
    for text, bold in ((way.heading, True), *((r, False) for r in way.rows)):
        for part in fold(text, BODY, wide):
            sheet.text(Text((left, y), part, "text", BODY, "start", 0.0, bold))
            y -= BODY * LEAD


def _start(ways: Sequence[Way], upper: float, wide: float) -> float:
    """Where all the plans start, so that they stand level. [pt]"""
    rows = max(sum(len(fold(t, BODY, wide)) for t in (w.heading, *w.rows)) for w in ways)
    return upper - BODY - rows * BODY * LEAD


def _window(site: Site, ways: Sequence[Way]) -> Window:
    """What of the roof all the ways take, and a little round it. [in]"""
    points = [p for w in ways for p in (*corners(w.detail.opening), *w.detail.cleat_line)]
    points += [(x, w.detail.opening.up) for w in ways for x in (w.detail.bay.left, w.detail.bay.right)]
    for w in ways:
        if w.detail.pan is not None:
            points += [(w.detail.pan.left, w.detail.pan.downslope), (w.detail.pan.right, w.detail.pan.upslope)]
    x0, x1 = min(p[0] for p in points) - AROUND, max(p[0] for p in points) + AROUND
    y0, y1 = min(p[1] for p in points) - AROUND, max(p[1] for p in points) + AROUND
    return (max(x0, 0.0), max(y0, 0.0), min(x1, site.roof.eave), min(y1, site.roof.slope))
