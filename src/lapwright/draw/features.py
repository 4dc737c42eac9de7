"""What must be measured on a blank: corners, slits, holes and bends, each value once. Inches."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby, pairwise
from operator import itemgetter

from lapwright.geom import SAME
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank
from lapwright.metal.smooth import marked_corners

Window = tuple[float, float, float, float]
"""Least u, least v, greatest u, greatest v of the part of a blank that is shown. [in]"""


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole: round ones have a diameter, others None. [in]"""

    centre: Flat
    diameter: float | None
    ring: tuple[Flat, ...]


@dataclass(frozen=True, slots=True)
class Value:
    """One value along u or v and the points of the metal that have it. [in]"""

    value: float
    points: tuple[Flat, ...]
    text: str


def read_hole(ring: Sequence[Flat]) -> Hole:
    """Tell a round hole (12 or more corners, all as far from the middle) from any other. [in]"""
    n = len(ring)
    centre = (sum(p[0] for p in ring) / n, sum(p[1] for p in ring) / n)
    reach = [math.dist(p, centre) for p in ring]
    is_round = n >= 12 and max(reach) - min(reach) < SAME
    return Hole(centre, 2 * max(reach) if is_round else None, tuple(ring))


def whole(blank: Blank) -> Window:
    """The window that shows all of a blank. [in]"""
    return (0.0, 0.0, blank.width, blank.height)


def inside(p: Flat, window: Window) -> bool:
    """Does a point lie in a window (its edge counts)?"""
    u0, v0, u1, v1 = window
    return u0 - SAME <= p[0] <= u1 + SAME and v0 - SAME <= p[1] <= v1 + SAME


def apart(a: Window, b: Window) -> bool:
    """Does nothing of one window lie in the other, nor on its edge?"""
    return a[2] < b[0] - SAME or a[0] > b[2] + SAME or a[3] < b[1] - SAME or a[1] > b[3] + SAME


def clip(a: Flat, b: Flat, window: Window) -> tuple[Flat, Flat] | None:
    """The part of a line inside a window, or None.

    Source: Liang and Barsky, ACM TOG 3(1), 1984 (from memory).
    """
    (au, av), (bu, bv) = a, b
    u0, v0, u1, v1 = window
    du, dv = bu - au, bv - av
    if u0 <= au <= u1 and u0 <= bu <= u1 and v0 <= av <= v1 and v0 <= bv <= v1:
        return ((au, av), (au + du, av + dv))
    least_u, most_u, least_v, most_v = u0 - SAME, u1 + SAME, v0 - SAME, v1 + SAME
    if (au < least_u and bu < least_u) or (au > most_u and bu > most_u):
        return None
    if (av < least_v and bv < least_v) or (av > most_v and bv > most_v):
        return None
    t0, t1 = 0.0, 1.0
    for p, q in ((-du, au - u0), (du, u1 - au), (-dv, av - v0), (dv, v1 - av)):
        if abs(p) < 1e-12:
            if q < -SAME:
                return None
        elif p < 0:
            t0 = max(t0, q / p)
        else:
            t1 = min(t1, q / p)
    if t0 >= t1:
        return None
    return ((au + t0 * du, av + t0 * dv), (au + t1 * du, av + t1 * dv))


MANY = 24
"""A hole of more corners than this is round, though no circle."""


def edges(blank: Blank) -> list[tuple[Flat, Flat]]:
    """The sides of the outline."""
    return list(zip(blank.outline, [*blank.outline[1:], blank.outline[0]], strict=True))


def values(
    axis: int, blank: Blank, bends: Iterable[Bend], window: Window, show: Callable[[float], str]
) -> list[Value]:
    """Every distinct value along u (axis 0) or v (axis 1), ascending; values that print alike are one.

    Args:
        axis: 0 for u, 1 for v.
        blank, bends: The metal.
        window: Only what lies in it counts. [in]
        show: How a length is printed.
    """
    rows = ((text, p) for text, p in _measured(axis, blank, tuple(bends), show) if inside(p, window))
    out: list[Value] = []
    for text, some in groupby(rows, key=itemgetter(0)):
        points = tuple(p for _, p in some)
        out.append(Value(points[0][axis], points, text))
    return out


@lru_cache(maxsize=16)
def _measured(
    axis: int, blank: Blank, bends: tuple[Bend, ...], show: Callable[[float], str]
) -> tuple[tuple[str, Flat], ...]:
    """Every point that is measured along an axis, as it prints there, ascending; for one window after another."""
    points = sorted(_points(axis, blank, bends), key=lambda p: (p[axis], p[1 - axis]))
    return tuple((show(p[axis]), p) for p in points)


def _points(axis: int, blank: Blank, bends: Iterable[Bend]) -> list[Flat]:
    points = [*marked_corners(blank), *(p for cut in blank.cuts for p in cut)]
    for ring in blank.holes:
        hole = read_hole(ring)
        points += [hole.centre] if hole.diameter is not None else far_points(hole.ring)
    for bend in bends:
        level = abs(bend.start[axis] - bend.end[axis]) < SAME
        square = abs(bend.start[1 - axis] - bend.end[1 - axis]) < SAME
        points += [p for p in (bend.start, bend.end) if level or not (square and _ends_on_metal(p, blank))]
    return points


def far_points(ring: Sequence[Flat]) -> list[Flat]:
    """The corners of a hole that are measured: all of a few, else the furthest each way of a round one."""
    if len(ring) <= MANY:
        return list(ring)
    return [pick(ring, key=itemgetter(k)) for k in (0, 1) for pick in (min, max)]


def _ends_on_metal(p: Flat, blank: Blank) -> bool:
    """Does a bend end on the outline, a slit or a hole, which are dimensioned themselves?"""
    lines = [*edges(blank), *blank.cuts]
    for ring in blank.holes:
        lines += zip(ring, [*ring[1:], ring[0]], strict=True)
    return any(_off(p, a, b) < 0.02 for a, b in lines)


def _off(p: Flat, a: Flat, b: Flat) -> float:
    d = math.dist(a, b)
    if d < SAME:
        return math.dist(p, a)
    t = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / (d * d)
    t = min(max(t, 0.0), 1.0)
    return math.dist(p, (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])))


def plain_runs(axis: int, blank: Blank, bends: Iterable[Bend]) -> list[tuple[float, float]]:
    """Runs along u or v that only lines along the axis pass; these may be broken out. [in]"""
    bends = list(bends)
    lines = [*edges(blank), *blank.cuts, *((b.start, b.end) for b in bends)]
    lines += [(p, q) for ring in blank.holes for p, q in zip(ring, [*ring[1:], ring[0]], strict=True)]
    slanted = [(a, b) for a, b in lines if abs(a[1 - axis] - b[1 - axis]) > SAME]
    stops = sorted({round(p[axis], 6) for line in lines for p in line})
    return [
        (lo, hi)
        for lo, hi in pairwise(stops)
        if hi - lo > SAME and not any(_spans(axis, line, lo, hi) for line in slanted)
    ]


def _spans(axis: int, line: tuple[Flat, Flat], lo: float, hi: float) -> bool:
    ends = sorted((line[0][axis], line[1][axis]))
    return ends[0] < hi - SAME and ends[1] > lo + SAME
