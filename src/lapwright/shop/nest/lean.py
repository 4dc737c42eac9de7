"""A blank too wide for the stock either way, turned aslant until its narrowest way lies across.

    +---------+          a cricket half of 49 x 56 that is 46 across its narrow way
    |    . '  |          comes out of a 48 wide coil, in a rectangle that leans with it
    |. '    ' |
    +---------+
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from lapwright.checks.stock import hull
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank


@dataclass(frozen=True, slots=True)
class Lean:
    """Turned counter-clockwise by an angle [deg], then moved so far [in]."""

    angle_deg: float = 0.0
    x: float = 0.0
    y: float = 0.0

    def at(self, p: Flat) -> Flat:
        """Where a point of the piece's own blank comes to lie. [in]"""
        x, y = _turned(p, math.radians(self.angle_deg)) if self.angle_deg else p
        return (x + self.x, y + self.y)


UPRIGHT = Lean()


def leaned(blank: Blank, bends: tuple[Bend, ...]) -> tuple[Blank, tuple[Bend, ...], Lean]:
    """Turn a blank so that the rectangle round it is as narrow as it can be; its length runs along x. [in]

    Returns:
        Blank and bends as they lie then, the rectangle's corner at nought; and how they were turned.

    Source: a least strip has one side along an edge of the convex hull (Shamos 1978, from memory).
    """
    ring = hull(blank.outline)
    edges = zip(ring, [*ring[1:], ring[0]], strict=True)
    angles = [math.degrees(math.atan2(a[1] - b[1], b[0] - a[0])) % 360 for a, b in edges]
    angle = min(angles, key=lambda turn: (*(round(x, 6) for x in _spread(ring, turn)), turn))
    low = [min(_turned(p, math.radians(angle))[axis] for p in ring) for axis in (0, 1)]
    lean = Lean(angle, -low[0], -low[1])
    outline = tuple(lean.at(p) for p in blank.outline)
    width, height = (max(p[axis] for p in outline) for axis in (0, 1))
    cuts = tuple((lean.at(a), lean.at(b)) for a, b in blank.cuts)
    holes = tuple(tuple(lean.at(p) for p in hole) for hole in blank.holes)
    lines = tuple(replace(b, start=lean.at(b.start), end=lean.at(b.end)) for b in bends)
    return Blank(outline, cuts, holes, blank.area, width, height), lines, lean


def _turned(p: Flat, angle: float) -> Flat:
    c, s = math.cos(angle), math.sin(angle)
    return (p[0] * c - p[1] * s, p[0] * s + p[1] * c)


def _spread(ring: list[Flat], angle_deg: float) -> tuple[float, float]:
    """Height and width of the rectangle round a ring that is turned by an angle. [in], [deg]"""
    points = [_turned(p, math.radians(angle_deg)) for p in ring]
    high, wide = (max(p[axis] for p in points) - min(p[axis] for p in points) for axis in (1, 0))
    return high, wide
