"""Counterflashing: over every upstand, fixed to the wall only.

masonry   a leg in a reglet, a face over the upstand, hemmed
framed    a plate behind the water-resistive layer, over the upstand, hemmed
skylight  a leg under the frame, a face over the upstand, hemmed
curb      one cap over the whole curb, four skirts, hemmed
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from lapwright.geom.space import Plane, Point, add, dot, meet, scale, sub, unit
from lapwright.metal.model import Body
from lapwright.metal.sheet import Sheet, Trim
from lapwright.metal.side_wall import height
from lapwright.metal.walls import across, level
from lapwright.metal.work import HANDS, Work
from lapwright.tables import metals

Wall = Literal["back", "front", "left", "right"]

END_TAB = 1.0
"""Front and back pieces turn this far round the corners, over the side pieces. House rule. [in]"""

TAB_CLEAR = 0.125
"""A tab's ends keep this far from a neighbouring bend. House rule. [in]"""

TAB_RADII = 1.5
"""A cap's side skirts keep so many bend radii off the corner, clear of the tabs that turn round it. House rule."""


@dataclass(frozen=True, slots=True)
class Span:
    """How far a piece reaches, square to the roof: from `low` (hem) to `high` (its upper bend or edge). [in]"""

    low: float
    high: float


def counter_metal(work: Work) -> str:
    """Its metal: as asked; stainless in a reglet (common practice, no source); else the flashing metal."""
    asked = work.measures.counter_metal
    if asked:
        return asked
    return "stainless-24" if work.opening.kind == "masonry-chimney" else work.metal


def span(work: Work) -> Span:
    """Where its hem and its upper edge come, by kind of wall."""
    m, o = work.measures, work.opening
    top = height(work)
    low = max(top - m.cover, m.hem)
    if o.kind == "masonry-chimney":
        return Span(low, top + m.reglet_above)
    if o.framed:
        return Span(low, top + m.reglet_above + m.behind_wrap)
    return Span(low, o.height)


def counterflashing(work: Work, wall: Wall | Literal["cap"]) -> Body:
    """One piece of counterflashing folded, in roof coordinates ("cap": the whole cap of a square curb)."""
    row = metals()[counter_metal(work)]
    sheet = Sheet(row.key, row.coated, work.measures.bend_radius * row.coated)
    if wall == "cap":
        return _cap(work, sheet)
    return _on_wall(work, sheet, wall)


def _on_wall(work: Work, sheet: Sheet, wall: Wall) -> Body:
    m, s = work.measures, span(work)
    off = 4 * work.thickness
    walls = work.walls
    if wall in ("left", "right"):
        face = walls.side("left" if wall == "left" else "right", off)
        ends = (walls.front(off), walls.back(off))
    else:
        face = walls.back(off) if wall == "back" else walls.front(off)
        ends = (walls.side("left", off + sheet.thickness), walls.side("right", off + sheet.thickness))
    rise = wall_rise(work) if wall == "back" else 0.0
    # Over a cricket the upper edge stays level, in one mortar joint; under a frame or lid it is level anyway.
    top = s.high if work.opening.kind in ("curb", "skylight") else s.high + rise
    low = [meet(face, level(s.low), e) for e in ends]
    high = [meet(face, level(top), e) for e in ends]
    foot = _foot_line(work, face, low, s.low + rise)
    # Over a steep cricket the foot meets the end at a sharp angle: tab and hem both keep further off the corner.
    kink = [add(p, walls.up, _clear(foot, walls.up)) for p in low]
    sheet.root("face", [low[0], *foot, low[1], kink[1], high[1], high[0], kink[0]], painted=face.normal)
    into = scale(face.normal, -1.0)
    if not work.opening.framed:
        legs = [add(p, into, m.reglet) for p in high]
        sheet.attach("face", "leg", [high[0], high[1], legs[1], legs[0]])
    if wall in ("front", "back"):
        for hand, k in (("left", 0), ("right", 1)):
            ring = [kink[k], high[k], add(high[k], into, END_TAB), add(kink[k], into, END_TAB)]
            sheet.attach("face", f"tab {hand}", ring)
    _hems(sheet, "face", foot, m.hem)
    return sheet.body(u_axis=sub(high[1], high[0]))


def wall_rise(work: Work) -> float:
    """How far a cricket's ridge lifts the upstand at the middle of the back face; 0 over a flat pan. [in]"""
    return work.detail.cricket.wall_rise if work.detail.cricket is not None else 0.0


def _foot_line(work: Work, face: Plane, low: list[Point], peak: float) -> list[Point]:
    """Where a face's hem runs, clear of the tabs: level, or up and down along a cricket's two planes."""
    if peak <= low[0][2] + 1e-6:
        return [_toward(low[0], low[1], TAB_CLEAR), _toward(low[1], low[0], TAB_CLEAR)]
    top = meet(face, level(peak), across(work.opening.left + work.opening.width / 2))
    off = _clear([low[0], top], work.walls.up)
    return [_toward(low[0], top, off), top, _toward(low[1], top, off)]


def _clear(foot: list[Point], up: Point) -> float:
    """How far tab and hem keep off the corner between them. [in]"""
    cosine = min(0.99, max(0.0, dot(_unit(foot[0], foot[1]), up)))
    return TAB_CLEAR * (1.0 + cosine) / math.sqrt(1.0 - cosine * cosine)


def _hems(sheet: Sheet, face: str, line: list[Point], depth: float) -> None:
    """Closed hems folded behind, slit on the bisector where the line turns."""
    runs = list(pairwise(line))
    cosine = sum(a * b for a, b in zip(_unit(*runs[0]), _unit(*runs[-1]), strict=True))
    turned = math.acos(max(-1.0, min(1.0, cosine))) / 2
    for k, (p, q) in enumerate(runs):
        edge = sheet.edge(face, p, q)
        ends = (Trim(turned if k else 0.0), Trim(turned if k < len(runs) - 1 else 0.0))
        start, end = ends if edge[0] == p else ends[::-1]
        name = f"{face} hem {k + 1}" if len(runs) > 1 else f"{face} hem"
        sheet.hem(face, name, edge, depth, "down", start=start, end=end)


def _cap(work: Work, sheet: Sheet) -> Body:
    """A lid and four skirts; front and back tabs lie outside the side skirts, which keep clear of the tabs' bends."""
    s, walls = span(work), work.walls
    off = 4 * work.thickness
    clear = TAB_RADII * sheet.radius
    sides = {h: walls.side(h, off) for h in HANDS}
    laps = [walls.side(h, off + sheet.thickness) for h in HANDS]
    ends: dict[str, Plane] = {"front": walls.front(off), "back": walls.back(off)}
    lid, below, hemline = (level(z) for z in (s.high, s.high - 2 * TAB_CLEAR, s.low))
    corner = {(e, h): meet(ends[e], sides[h], lid) for e in ends for h in HANDS}
    order = [("front", "left"), ("front", "right"), ("back", "right"), ("back", "left")]
    sheet.root("lid", [corner[k] for k in order], painted=(0.0, 0.0, 1.0))  # type: ignore[index]
    for e, end in ends.items():
        _end_skirt(work, sheet, e, end, [corner[e, h] for h in HANDS], laps)
    for h in HANDS:
        a, b, c, d = (meet(ends[e].offset(-clear), sides[h], z) for z in (below, hemline) for e in ends)
        sheet.attach("lid", f"{h} skirt", [corner["front", h], corner["back", h], b, d, c, a])
        _hems(sheet, f"{h} skirt", [c, d], work.measures.hem)
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def _end_skirt(work: Work, sheet: Sheet, name: str, end: Plane, lid: list[Point], laps: list[Plane]) -> None:
    """A cap's skirt before or behind the curb: a sheet wider than the lid on both sides, so its tabs lap outside."""
    s = span(work)
    wide = [meet(end, lap, level(s.high)) for lap in laps]
    foot = [meet(end, lap, level(s.low)) for lap in laps]
    below = [_toward(a, b, 2 * TAB_CLEAR) for a, b in zip(wide, foot, strict=True)]
    above = [_toward(b, a, TAB_CLEAR) for a, b in zip(wide, foot, strict=True)]
    line = _foot_line(work, end, foot, s.low + (wall_rise(work) if name == "back" else 0.0))
    ring = [lid[0], lid[1], below[1], above[1], foot[1], *line[::-1], foot[0], above[0], below[0]]
    sheet.attach("lid", f"{name} skirt", ring)
    into = scale(end.normal, -1.0)
    for k, hand in enumerate(HANDS):
        tab = [below[k], above[k], add(above[k], into, END_TAB), add(below[k], into, END_TAB)]
        sheet.attach(f"{name} skirt", f"{name} tab {hand}", tab)
    _hems(sheet, f"{name} skirt", line, work.measures.hem)


def _unit(a: Point, b: Point) -> Point:
    return unit(sub(b, a))


def _toward(a: Point, b: Point, k: float) -> Point:
    return add(a, _unit(a, b), k)
