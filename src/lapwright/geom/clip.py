"""What of a line lies inside a polygon, and whether shapes overlap."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from lapwright.geom import SAME
from lapwright.geom.flat import Polygon, along, crossing, minus, turn
from lapwright.geom.space import Flat

Line = tuple[Flat, Flat]


def within(a: Flat, b: Flat, ring: Polygon) -> list[Line]:
    """The parts of a line that lie inside a simple polygon. [in]"""
    run = minus(b, a)
    length2 = run[0] ** 2 + run[1] ** 2
    if length2 < SAME**2:
        return []
    shares = [0.0, 1.0]
    for p, q in zip(ring, [*ring[1:], ring[0]], strict=True):
        sides = turn(run, minus(p, a)), turn(run, minus(q, a))
        at = crossing(a, run, p, minus(q, p)) if (sides[0] > 0) != (sides[1] > 0) else None
        if at is not None:
            shares.append(((at[0] - a[0]) * run[0] + (at[1] - a[1]) * run[1]) / length2)
    kept = sorted(s for s in shares if 0.0 <= s <= 1.0)
    parts = ((s, t) for s, t in pairwise(kept) if t - s > SAME)
    return [(along(a, run, s), along(a, run, t)) for s, t in parts if holds(ring, along(a, run, (s + t) / 2))]


def holds(ring: Polygon, at: Flat) -> bool:
    """Does a point lie inside a polygon (even-odd rule)?"""
    odd = False
    for p, q in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (p[1] > at[1]) != (q[1] > at[1]) and at[0] < p[0] + (at[1] - p[1]) * (q[0] - p[0]) / (q[1] - p[1]):
            odd = not odd
    return odd


def overlap(one: Sequence[Flat], other: Sequence[Flat]) -> bool:
    """Do two convex shapes, or a shape and a line, share more than an edge? (separating axes)"""
    for shape in (one, other):
        for i, p in enumerate(shape):
            side = minus(shape[(i + 1) % len(shape)], p)
            mine = [turn(side, minus(q, p)) for q in one]
            others = [turn(side, minus(q, p)) for q in other]
            if max(mine) <= min(others) + 1e-9 or max(others) <= min(mine) + 1e-9:
                return False
    return True
