"""Counterflashing: over every upstand, fixed to the wall only.

masonry   a leg in a reglet, a face over the upstand, hemmed
framed    a plate behind the water-resistive layer, over the upstand, hemmed
skylight  a leg under the frame, a face over the upstand, hemmed
curb      one cap over the whole curb, four skirts, hemmed
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lapwright.geom.space import Plane, Point, add, meet, scale, sub, unit
from lapwright.metal.model import Body
from lapwright.metal.sheet import Sheet
from lapwright.metal.side_wall import height
from lapwright.metal.walls import level
from lapwright.metal.work import HANDS, Work
from lapwright.tables import metals

Wall = Literal["back", "front", "left", "right"]

END_TAB = 1.0
"""Front and back pieces turn this far round the corners, over the side pieces. House rule. [in]"""

TAB_CLEAR = 0.125
"""A tab's ends keep this far from a neighbouring bend. House rule. [in]"""


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
    if o.kind == "framed-chimney":
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
    low = [meet(face, level(s.low), e) for e in ends]
    high = [meet(face, level(s.high), e) for e in ends]
    run = _unit(low[0], low[1])
    hemmed = [add(low[0], run, TAB_CLEAR), add(low[1], run, -TAB_CLEAR)]
    kink = [add(p, walls.up, TAB_CLEAR) for p in low]
    sheet.root(
        "face",
        [low[0], hemmed[0], hemmed[1], low[1], kink[1], high[1], high[0], kink[0]],
        painted=face.normal,
    )
    into = scale(face.normal, -1.0)
    if work.opening.kind != "framed-chimney":
        legs = [add(p, into, m.reglet) for p in high]
        sheet.attach("face", "leg", [high[0], high[1], legs[1], legs[0]])
    if wall in ("front", "back"):
        for hand, k in (("left", 0), ("right", 1)):
            ring = [kink[k], high[k], add(high[k], into, END_TAB), add(kink[k], into, END_TAB)]
            sheet.attach("face", f"tab {hand}", ring)
    _hem(sheet, "face", hemmed, m.hem)
    return sheet.body(u_axis=run)


def _cap(work: Work, sheet: Sheet) -> Body:
    m, s, walls = work.measures, span(work), work.walls
    off = 4 * work.thickness
    sides = {"left": walls.side("left", off), "right": walls.side("right", off)}
    ends: dict[str, Plane] = {"front": walls.front(off), "back": walls.back(off)}
    lid = level(s.high)
    corner = {(e, h): meet(ends[e], sides[h], lid) for e in ends for h in HANDS}
    foot = {(e, h): meet(ends[e], sides[h], level(s.low)) for e in ends for h in HANDS}
    order = [("front", "left"), ("front", "right"), ("back", "right"), ("back", "left")]
    sheet.root("lid", [corner[k] for k in order], painted=(0.0, 0.0, 1.0))  # type: ignore[index]
    for e in ends:
        a, b = corner[e, "left"], corner[e, "right"]
        c, d = foot[e, "left"], foot[e, "right"]
        below = [_toward(a, c, 2 * TAB_CLEAR), _toward(b, d, 2 * TAB_CLEAR)]
        above = [_toward(c, a, TAB_CLEAR), _toward(d, b, TAB_CLEAR)]
        hemmed = [_toward(c, d, TAB_CLEAR), _toward(d, c, TAB_CLEAR)]
        sheet.attach("lid", f"{e} skirt", [a, b, below[1], above[1], d, hemmed[1], hemmed[0], c, above[0], below[0]])
        into = scale(ends[e].normal, -1.0)
        for k, hand in enumerate(HANDS):
            ring = [below[k], above[k], add(above[k], into, m.corner_tab), add(below[k], into, m.corner_tab)]
            sheet.attach(f"{e} skirt", f"{e} tab {hand}", ring)
        _hem(sheet, f"{e} skirt", hemmed, m.hem)
    for h in HANDS:
        a, b = corner["front", h], corner["back", h]
        c, d = foot["front", h], foot["back", h]
        hemmed = [_toward(c, d, TAB_CLEAR), _toward(d, c, TAB_CLEAR)]
        sheet.attach("lid", f"{h} skirt", [a, b, d, hemmed[1], hemmed[0], c])
        _hem(sheet, f"{h} skirt", hemmed, m.hem)
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def _hem(sheet: Sheet, face: str, line: list[Point], depth: float) -> None:
    """A closed hem folded behind, its line given either way round."""
    corners = next(f for f in sheet.faces if f.name == face).corners
    a, b = line
    runs = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    forward = any(_near(p, a) and _near(q, b) for p, q in runs)
    sheet.hem(face, f"{face} hem", (a, b) if forward else (b, a), depth, "down")


def _near(p: Point, q: Point) -> bool:
    return all(abs(a - b) < 1e-9 for a, b in zip(p, q, strict=True))


def _unit(a: Point, b: Point) -> Point:
    return unit(sub(b, a))


def _toward(a: Point, b: Point, k: float) -> Point:
    return add(a, _unit(a, b), k)
