"""From inches on the metal to points on the sheet, along one direction; long plain runs may be broken out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

BROKEN = 44.0
"""A run is not shortened below this. [pt]"""


@dataclass(frozen=True, slots=True)
class Axis:
    """A rising broken line from lengths to places: knots (length [in], place [pt]), breaks (places [pt])."""

    knots: tuple[tuple[float, float], ...]
    breaks: tuple[float, ...] = ()

    def __call__(self, value: float) -> float:
        """The place of a length. [pt]"""
        knots = self.knots
        if len(knots) == 2:
            (v0, p0), (v1, p1) = knots
            return p0 + (value - v0) * (p1 - p0) / (v1 - v0)
        below = knots[0]
        for above in knots[1:-1]:
            if value <= above[0]:
                return _between(below, above, value)
            below = above
        return _between(below, knots[-1], value)


def _between(a: tuple[float, float], b: tuple[float, float], value: float) -> float:
    return a[1] + (value - a[0]) * (b[1] - a[1]) / (b[0] - a[0])


def plain(low: float, high: float, start: float, scale: float) -> Axis:
    """An axis without breaks: `low` at `start`, `scale` points to the inch."""
    return Axis(((low, start), (high, start + (high - low) * scale)))


def broken(
    low: float, high: float, gaps: Sequence[tuple[float, float]], scale: float, room: float
) -> Axis | None:
    """An axis of at most `room` points that shortens the longest gaps; None when that is not enough.

    Args:
        low, high: Ends of the metal. [in]
        gaps: Runs in which nothing changes, apart from each other. [in]
        scale: Points to the inch outside the breaks.
        room: Length at hand on the sheet. [pt]
    """
    excess = (high - low) * scale - room
    shown: dict[tuple[float, float], float] = {}
    for gap in sorted(gaps, key=lambda g: (g[0] - g[1], g[0])):
        if excess <= 0:
            break
        full = (gap[1] - gap[0]) * scale
        shown[gap] = max(BROKEN, full - excess)
        if shown[gap] >= full:
            del shown[gap]
            break
        excess -= full - shown[gap]
    return None if excess > 1e-9 else _lay(low, high, shown, scale)


def _lay(low: float, high: float, shown: dict[tuple[float, float], float], scale: float) -> Axis:
    knots, breaks, at, place = [(low, 0.0)], [], low, 0.0
    for (a, b), length in sorted(shown.items()):
        place += (a - at) * scale
        if a > at:
            knots.append((a, place))
        breaks.append(place + length / 2)
        at, place = b, place + length
        knots.append((b, place))
    if high > at:
        knots.append((high, place + (high - at) * scale))
    return Axis(tuple(knots), tuple(breaks))


def moved(axis: Axis, by: float) -> Axis:
    """The same axis, further along the sheet. [pt]"""
    return Axis(tuple((v, p + by) for v, p in axis.knots), tuple(b + by for b in axis.breaks))
