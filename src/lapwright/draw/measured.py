"""The roof and an opening from above, as far as they are measured.

A measure nobody has taken yet has a question mark in its place, and what depends on it is drawn at a guess, dashed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from lapwright.detail.model import OpeningDetail
from lapwright.draw.display import Display, text_width
from lapwright.draw.marks import folds, outside
from lapwright.draw.so_far import GUESS_SIDE, HIGH, SIZE, WIDE, Hole, Measures, Place, SoFar, placed
from lapwright.geom.space import Flat
from lapwright.layout.lay_out import ribs_from
from lapwright.layout.model import Layout
from lapwright.words import Speaker

GUESS_EAVE, GUESS_SLOPE = 264.0, 192.0
"""How large a roof is drawn before it is measured. House rule. [in]"""
ROOM = 8.0
"""Roof shown round an opening nobody has detailed yet. [in]"""
SHORT_NAME = 14


def draw_plane(
    so_far: SoFar, at: int, speaker: Speaker, layout: Layout | None = None, details: Sequence[OpeningDetail] = ()
) -> Display:
    """The roof square to its plane: edges, ribs and openings, with the measures of the roof and of one opening.

    Args:
        so_far: What is known.
        at: Which opening's place is dimensioned (from 0); the others are only drawn.
        speaker: Language and unit.
        layout, details: Of a job that is whole: its ribs, pans and cleat lines.
    """
    page = Measures(speaker)
    eave, slope = _guessed(so_far)
    place, _ = placed((0.0, 0.0, eave, slope), (48.0, 46.0, WIDE - 8.0, HIGH - 24.0))
    _edges(page, so_far, place, eave, slope)
    for x in _ribs(so_far, layout, eave):
        page.sheet.line(place(x, 0.0), place(x, slope), "rib")
    _panel_marks(page, so_far, place, slope, layout)
    _details(page, place, details)
    for n, hole in enumerate(so_far.holes):
        _hole(page, place, hole, so_far, n, n == at)
    page.measure(_below(place(0.0, 0.0), 36.0), _below(place(eave, 0.0), 36.0), so_far.eave, "roof-eave")
    page.measure(_beside(place(0.0, 0.0), 37.0), _beside(place(0.0, slope), 37.0), so_far.slope, "roof-slope")
    for x in (0.0, eave):
        page.extension(_below(place(x, 0.0), 3.0), _below(place(x, 0.0), 40.0))
    for y in (0.0, slope):
        page.extension(_beside(place(0.0, y), 3.0), _beside(place(0.0, y), 41.0))
    if 0 <= at < len(so_far.holes):
        _where(page, place, so_far, at, eave, slope)
    return page.finish(speaker.say("page_form.drawn.roof_title"))


def _guessed(so_far: SoFar) -> tuple[float, float]:
    """The roof's size, as measured or wide enough for what stands on it. [in]"""
    across = [(h.left or 0.0) + (h.width or h.diameter or GUESS_SIDE) + 24.0 for h in so_far.holes]
    up = [(h.up or 0.0) + (h.length or h.diameter or GUESS_SIDE) + 24.0 for h in so_far.holes]
    eave = so_far.eave or min(max([GUESS_EAVE, *across]), 6000.0)
    return eave, so_far.slope or min(max([GUESS_SLOPE, *up]), 3000.0)


def _below(p: Flat, off: float) -> Flat:
    return (p[0], p[1] - off)


def _beside(p: Flat, off: float) -> Flat:
    return (p[0] - off, p[1])


def _edges(page: Measures, so_far: SoFar, place: Place, eave: float, slope: float) -> None:
    """The outline: heavy where it meets a wall, dashed where its place is a guess; each side is a field's own."""
    sides = {
        "roof-left_edge": ((0.0, 0.0), (0.0, slope), so_far.left_edge),
        "roof-right_edge": ((eave, 0.0), (eave, slope), so_far.right_edge),
        "roof-upper_edge": ((0.0, slope), (eave, slope), so_far.upper_edge),
    }
    for id, (a, b, what) in sides.items():
        sure = so_far.slope and (so_far.eave or id == "roof-left_edge")
        base = "wall" if what == "wall" else "edge" if sure else "unsure"
        _edge(page, place(*a), place(*b), base, id)
    _edge(page, place(0.0, 0.0), place(eave, 0.0), "eave" if so_far.eave else "unsure", "roof-eave")
    if so_far.roof_above:
        text = page.speaker.say("page_form.drawn.above", size=page.show(so_far.roof_above))
        x, y = place(eave / 2, slope)
        page.words((x, y + 12.0), text, page.lit("site-roof_above"), size=12.0)


def _edge(page: Measures, a: Flat, b: Flat, base: str, id: str) -> None:
    """A side of the roof on its field's layer, drawn with the pen of its kind."""
    page.sheet.line(a, b, page.layer(base, page.lit(id)))


def _ribs(so_far: SoFar, layout: Layout | None, eave: float) -> tuple[float, ...]:
    if layout is not None:
        return layout.ribs
    if not so_far.coverage or so_far.first_rib is None:
        return ()
    return ribs_from(so_far.first_rib, so_far.coverage, eave)


def _panel_marks(page: Measures, so_far: SoFar, place: Place, slope: float, layout: Layout | None) -> None:
    """The first rib from the left edge, and the panel beside it, as bars above the roof."""
    first = layout.first_rib if layout else so_far.first_rib
    if first is None:
        return
    high = place(0.0, slope)[1] + 6.0
    spans = {"panel-first_rib": (0.0, first), "panel-coverage": (first, first + (so_far.coverage or 0.0))}
    for id, (a, b) in spans.items():
        if b > a:
            layer = page.lit(id)
            page.sheet.line((place(a, 0.0)[0] + 1.0, high), (place(b, 0.0)[0] - 1.0, high), layer)
            for x in (a, b):
                page.sheet.line((place(x, 0.0)[0], high - 4.0), (place(x, 0.0)[0], high + 4.0), layer)


def _details(page: Measures, place: Place, details: Iterable[OpeningDetail]) -> None:
    """What the openings come to: the pan or the cricket, and its cleat line."""
    for detail in details:
        if detail.pan is not None:
            page.sheet.ring([place(*p) for p in outside(detail, detail.pan)], "pan")
        for a, b in folds(detail):
            page.sheet.line(place(*a), place(*b), "pan")
        if detail.cleat_line:
            page.sheet.run([place(*p) for p in detail.cleat_line], "cleat")


def _box(hole: Hole, so_far: SoFar) -> tuple[float, float, float, float]:
    """left, downslope, right, upslope of an opening; what nobody has measured is guessed. [in]"""
    wide = (hole.diameter if hole.kind == "pipe" else hole.width) or GUESS_SIDE
    long = so_far.up_the_roof(hole) or GUESS_SIDE
    eave, slope = _guessed(so_far)
    left = hole.left if hole.left is not None else eave / 2
    up = hole.up if hole.up is not None else slope / 3
    back = (wide / 2, long / 2) if hole.kind == "pipe" else (0.0, 0.0)
    return (left - back[0], up - back[1], left - back[0] + wide, up - back[1] + long)


def _hole(page: Measures, place: Place, hole: Hole, so_far: SoFar, n: int, here: bool) -> None:
    """An opening on the roof; its layer says which one it is, so that a tap on it finds its fields."""
    x0, y0, x1, y1 = _box(hole, so_far)
    base = "unsure" if None in (hole.left, hole.up) else "hole" if here else "other"
    layer = page.layer(base, f"go-opening-{n}")
    page.sheet.ring(_ring(hole, place, (x0, y0, x1, y1)), layer, "paper")
    if len(so_far.holes) > 1:
        (a, b), (c, d) = place(x0, y0), place(x1, y1)
        page.words(((a + c) / 2, (b + d) / 2), str(n + 1), layer, size=12.0)


def _ring(hole: Hole, place: Place, box: tuple[float, float, float, float]) -> list[Flat]:
    x0, y0, x1, y1 = box
    if hole.kind != "pipe":
        return [place(*p) for p in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
    turns = [2 * math.pi * k / 24 for k in range(24)]
    across, up = (x1 - x0) / 2, (y1 - y0) / 2
    return [place((x0 + x1) / 2 + across * math.cos(t), (y0 + y1) / 2 + up * math.sin(t)) for t in turns]


def _where(page: Measures, place: Place, so_far: SoFar, at: int, eave: float, slope: float) -> None:
    """Where one opening stands: from the left edge, and up from the eave."""
    hole = so_far.holes[at]
    x0, y0, x1, y1 = _box(hole, so_far)
    if hole.kind == "pipe":
        x0, y0 = (x0 + x1) / 2, (y0 + y1) / 2
    x, y = place(x0, y0)
    foot, side = place(0.0, 0.0)[1] - 15.0, place(0.0, 0.0)[0] - 15.0
    page.extension((x, y - 3.0), (x, foot - 4.0))
    page.extension((x - 3.0, y), (side - 4.0, y))
    page.measure((place(0.0, 0.0)[0], foot), (x, foot), hole.left, f"opening-{at}-left")
    page.measure((side, place(0.0, 0.0)[1]), (side, y), hole.up, f"opening-{at}-up")


def draw_close_up(
    so_far: SoFar, at: int, speaker: Speaker, layout: Layout | None = None, details: Sequence[OpeningDetail] = ()
) -> Display:
    """One opening from above: its width and length, or its diameter, among the ribs beside it."""
    page = Measures(speaker)
    hole = so_far.holes[at]
    box = _box(hole, so_far)
    own = [d for d in details if d.opening.name == hole.name]
    window = _round(box, own)
    place, _ = placed(window, (12.0, 34.0, WIDE - 116.0, HIGH - 10.0))
    for x in _ribs(so_far, layout, _guessed(so_far)[0]):
        if window[0] < x < window[2]:
            page.sheet.line(place(x, window[1]), place(x, window[3]), "rib")
    _details(page, place, own)
    page.sheet.ring(_ring(hole, place, box), "hole", "paper")
    (x0, y0), (x1, y1) = place(box[0], box[1]), place(box[2], box[3])
    low, right = place(window[0], window[1])[1] - 14.0, place(window[2], window[3])[0] + 16.0
    for x in (x0, x1):
        page.extension((x, y0 - 3.0), (x, low - 4.0))
    if hole.kind == "pipe":
        page.measure((x0, low), (x1, low), hole.diameter, f"opening-{at}-diameter")
    else:
        for y in (y0, y1):
            page.extension((x1 + 3.0, y), (right + 4.0, y))
        page.measure((x0, low), (x1, low), hole.width, f"opening-{at}-width")
        page.measure((right, y0), (right, y1), hole.length, f"opening-{at}-length", level=True)
    name = hole.name if len(hole.name) <= SHORT_NAME else hole.name[: SHORT_NAME - 1] + "\N{HORIZONTAL ELLIPSIS}"
    size = min(SIZE, (x1 - x0 - 8.0) / max(text_width(name, 1.0), 0.1))
    if size >= 8.0:
        page.words(((x0 + x1) / 2, (y0 + y1) / 2), name, page.lit(f"opening-{at}-name"), size=size)
    return page.finish(speaker.say("page_form.drawn.opening_title"))


def _round(box: tuple[float, float, float, float], own: Sequence[OpeningDetail]) -> tuple[float, float, float, float]:
    """What is shown round an opening: its bay and its pan where they are known. [in]"""
    x0, y0, x1, y1 = box
    window = (x0 - ROOM, y0 - ROOM, x1 + ROOM, y1 + ROOM)
    for d in own:
        if d.pan is not None:
            window = (
                min(window[0], d.bay.left - 2.0), min(window[1], d.pan.downslope - 2.0),
                max(window[2], d.bay.right + 2.0), max(window[3], d.pan.upslope + 2.0),
            )  # fmt: skip
    return window
