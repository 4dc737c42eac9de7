"""Corners where two bends meet, and the tabs that turn round them.

P2 |            A  the mould corner: foot and side mould lines cross here
   |            P0 on the foot, square below P1
   +--P1        P1 the corner of the flat that is left once both bends are cut back
   |  |         P2 on the side, where the foot bend's tangent line meets it
 A +--+-----    The foot bend runs from P0 on, the side bend from P2 up, so no metal is shared.
      P0
"""

from __future__ import annotations

from dataclasses import dataclass

from lapwright.geom.space import Point, add, cross, dot, norm
from lapwright.metal.bend import allowance, setback
from lapwright.metal.sheet import Sheet


@dataclass(frozen=True, slots=True)
class Relief:
    """The three points of a relieved corner, and how far P1 lies up the side line from A. [in]"""

    p0: Point
    p1: Point
    p2: Point
    rise: float


def relieve(corner: Point, foot: Point, side: Point, foot_back: float, side_back: float) -> Relief:
    """Relieve a corner between a foot bend and a side bend.

    Args:
        corner: where both mould lines cross.
        foot, side: unit vectors from the corner along each mould line.
        foot_back, side_back: setbacks of the two bends. [in]
    """
    sine = norm(cross(foot, side))
    a, b = side_back / sine, foot_back / sine
    p2 = add(corner, side, b)
    p0 = add(corner, foot, a + b * dot(foot, side))
    return Relief(p0, add(p2, foot, a), p2, b + a * dot(foot, side))


def add_tab(
    sheet: Sheet,
    parent: str,
    name: str,
    relief: Relief,
    corner: Point,
    top: Point,
    side: Point,
    out: Point,
    width: float,
    slope: float,
) -> None:
    """A tab round a corner: from the side bend outward by `width`, its foot climbing by `slope`.

    In the flat the foot is one straight line from P1, so that it and its neighbour part along one cut.

    Args:
        corner, top: ends of the side mould line; side: unit vector from one to the other.
        out: unit vector in the tab's plane, square to `side`, away from the corner.
        slope: rise of the foot per unit outward, in the flat. [in/in]
    """
    metal = allowance(90.0, sheet.radius, sheet.thickness)
    back = setback(90.0, sheet.radius, sheet.thickness, "down")

    def at(u: float, v: float) -> Point:
        return add(add(corner, side, v), out, u)

    first = relief.rise + slope * metal
    last = first + slope * (width - back)
    ring = [relief.p2, at(back, first), at(width, last), add(top, out, width), top]
    sheet.attach(parent, name, ring)
