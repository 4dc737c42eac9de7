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
class Leaned:
    """A blank and its bends, turned by an angle; its rectangle stands at nought again. [deg]"""

    blank: Blank
    bends: tuple[Bend, ...]
    angle_deg: float


def leaned(blank: Blank, bends: tuple[Bend, ...]) -> Leaned:
    """Turn a blank so that the rectangle round it is as narrow as it can be; its length runs along x. [in]

    Source: a least strip has one side along an edge of the convex hull (Shamos 1978, from memory).
    """
    ring = hull(blank.outline)
    angles = [-math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)]
    best = min((_spread(ring, angle) for angle in angles), key=lambda s: (round(s[0], 6), round(s[1], 6), s[2]))
    angle = best[2]
    turned = [_turned(p, angle) for p in blank.outline]
    low = (min(p[0] for p in turned), min(p[1] for p in turned))

    def at(p: Flat) -> Flat:
        x, y = _turned(p, angle)
        return (x - low[0], y - low[1])

    outline = tuple(at(p) for p in blank.outline)
    width, height = (max(p[axis] for p in outline) for axis in (0, 1))
    cuts = tuple((at(a), at(b)) for a, b in blank.cuts)
    holes = tuple(tuple(at(p) for p in hole) for hole in blank.holes)
    lines = tuple(replace(b, start=at(b.start), end=at(b.end)) for b in bends)
    return Leaned(Blank(outline, cuts, holes, blank.area, width, height), lines, math.degrees(angle) % 360)


def _turned(p: Flat, angle: float) -> Flat:
    c, s = math.cos(angle), math.sin(angle)
    return (p[0] * c - p[1] * s, p[0] * s + p[1] * c)


def _spread(ring: list[Flat], angle: float) -> tuple[float, float, float]:
    """Height and width of the rectangle round a ring that is turned by an angle, and the angle. [in]"""
    points = [_turned(p, angle) for p in ring]
    high, wide = (max(p[axis] for p in points) - min(p[axis] for p in points) for axis in (1, 0))
    return high, wide, angle
