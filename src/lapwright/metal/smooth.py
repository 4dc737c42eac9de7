"""Corners of a blank that a hand marks: those of smooth runs are places on a curve, not corners."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lapwright.geom.flat import heading
from lapwright.geom.space import Flat
from lapwright.metal.model import Blank

GENTLE = math.radians(12.0)
"""Two sides of a smooth run turn less than this. House rule. [rad]"""

LEAST_RUN = 3
"""So many gentle corners one after another make a smooth run. House rule."""


def marked_corners(blank: Blank) -> list[Flat]:
    """The outline's corners and the stations of its curves.

    Args:
        blank: a rectangle has four; a sleeve its ends and the stations along its foot.
    """
    if len(blank.outline) <= 2 * LEAST_RUN:
        return list(blank.outline)
    inside = smooth_corners(blank.outline)
    stations = [p for c in blank.curves if c.role == "fold" for p in c.stations]
    return [*(p for i, p in enumerate(blank.outline) if i not in inside), *stations]


def smooth_corners(ring: Sequence[Flat]) -> frozenset[int]:
    """Which corners of an outline lie inside smooth runs, by their place in it."""
    n = len(ring)
    runs = [heading(ring[i], ring[(i + 1) % n]) for i in range(n)]
    turns = [abs(_turn(runs[i - 1], runs[i])) for i in range(n)]
    gentle = [1e-9 < t < GENTLE for t in turns]
    out: set[int] = set()
    for i in range(n):
        if all(gentle[(i + k) % n] for k in range(LEAST_RUN)):
            out |= {(i + k) % n for k in range(LEAST_RUN)}
    return frozenset(out)


def _turn(a: Flat, b: Flat) -> float:
    return math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])
