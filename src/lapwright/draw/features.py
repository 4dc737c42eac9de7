"""What must be measured on a blank: corners, slits, holes and bends, each value once. Inches."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from lapwright.geom import SAME
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank

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


def clip(a: Flat, b: Flat, window: Window) -> tuple[Flat, Flat] | None:
    """The part of a line inside a window, or None.

    Source: Liang and Barsky, ACM TOG 3(1), 1984 (from memory).
    """
    t0, t1 = 0.0, 1.0
    du, dv = b[0] - a[0], b[1] - a[1]
    u0, v0, u1, v1 = window
    for p, q in ((-du, a[0] - u0), (du, u1 - a[0]), (-dv, a[1] - v0), (dv, v1 - a[1])):
        if abs(p) < 1e-12:
            if q < -SAME:
                return None
        elif p < 0:
            t0 = max(t0, q / p)
        else:
            t1 = min(t1, q / p)
    if t0 >= t1:
        return None
    return ((a[0] + t0 * du, a[1] + t0 * dv), (a[0] + t1 * du, a[1] + t1 * dv))


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
    points = [p for p in _measured(axis, blank, bends) if inside(p, window)]
    out: list[Value] = []
    for p in sorted(points, key=lambda p: (p[axis], p[1 - axis])):
        text = show(p[axis])
        if out and out[-1].text == text:
            out[-1] = Value(out[-1].value, (*out[-1].points, p), text)
        else:
            out.append(Value(p[axis], (p,), text))
    return out


def _measured(axis: int, blank: Blank, bends: Iterable[Bend]) -> list[Flat]:
    points = [*blank.outline, *(p for cut in blank.cuts for p in cut)]
    for ring in blank.holes:
        hole = read_hole(ring)
        points += [hole.centre] if hole.diameter is not None else hole.ring
    for bend in bends:
        level = abs(bend.start[axis] - bend.end[axis]) < SAME
        square = abs(bend.start[1 - axis] - bend.end[1 - axis]) < SAME
        points += [p for p in (bend.start, bend.end) if level or not (square and _ends_on_metal(p, blank))]
    return points


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
