"""The faces of an opening as planes: where every upstand meets its neighbours.

        back              Planes face outward. A plumb face leans by theta from square to the roof;
     +--------+           `up` runs up the wall: (0, sin theta, cos theta) when plumb, z when square.
left |        | right     Heights are square to the roof: level(h) is the plane z = h.
     +--------+
       front (downslope)
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lapwright.geom.space import Plane, Point, X, Z, meet, plane
from lapwright.site.model import Opening, Roof


@dataclass(frozen=True, slots=True)
class Walls:
    """Planes round one opening; `lean` is theta for plumb faces and 0 for square ones. [rad]"""

    opening: Opening
    lean: float

    @property
    def up(self) -> Point:
        """Up the wall, across the slope's contour: unit vector."""
        return (0.0, math.sin(self.lean), math.cos(self.lean))

    @property
    def out_back(self) -> Point:
        """Outward normal of the back face."""
        return (0.0, math.cos(self.lean), -math.sin(self.lean))

    def back(self, off: float = 0.0) -> Plane:
        """The upslope face, `off` outside it. [in]"""
        return plane((0.0, self.opening.back, 0.0), self.out_back).offset(off)

    def front(self, off: float = 0.0) -> Plane:
        """The downslope face, `off` outside it. [in]"""
        n = self.out_back
        return plane((0.0, self.opening.up, 0.0), (0.0, -n[1], -n[2])).offset(off)

    def side(self, hand: str, off: float = 0.0) -> Plane:
        """The left or right face, `off` outside it. [in]"""
        x = self.opening.left - off if hand == "left" else self.opening.right + off
        return plane((x, 0.0, 0.0), (-1.0 if hand == "left" else 1.0, 0.0, 0.0))

    def corner(self, hand: str, wall: Plane, height: float, side_off: float) -> Point:
        """Where a side face, a wall and the plane z = height meet."""
        return meet(self.side(hand, side_off), wall, level(height))


def level(height: float) -> Plane:
    """The plane `height` above the roof plane, square to it. [in]"""
    return Plane((0.0, 0.0, height), Z)


def across(x: float) -> Plane:
    """The plane at x, square to the eave line. [in]"""
    return Plane((x, 0.0, 0.0), X)


def upslope_at(y: float) -> Plane:
    """The plane at y, square to the roof and parallel to the eave. [in]"""
    return Plane((0.0, y, 0.0), (0.0, 1.0, 0.0))


def walls_of(roof: Roof, opening: Opening) -> Walls:
    """The planes of one opening on its roof."""
    return Walls(opening, roof.theta if opening.face == "plumb" else 0.0)
