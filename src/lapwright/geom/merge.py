"""Straight lines that lie on each other made one.

a +-------+           a +-------------+ d
      +-------+ d  ->     one line, where it lay twice and where it only goes on
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from itertools import chain

from lapwright.geom.clip import Line
from lapwright.geom.space import Flat

ALIKE = 0.0005
"""Lines no farther apart lie on each other. [in]"""
SAME_WAY = 1e-5
"""Lines whose directions differ by no more run the same way. [rad]"""


def once(lines: Iterable[Line]) -> list[Line]:
    """Merge lines of one direction that overlap, or of which one goes on where another ends.

    Args:
        lines: In any order and either direction. [in]

    Returns:
        Lines that cover the same points, no two of which share a stretch; from the least y, then x, on. [in]

    >>> once([((0.0, 0.0), (4.0, 0.0)), ((6.0, 0.0), (3.0, 0.0)), ((0.0, 0.0), (0.0, 2.0))])
    [((0.0, 0.0), (0.0, 2.0)), ((0.0, 0.0), (6.0, 0.0))]
    """
    told = [_told(a, b) for a, b in lines if math.dist(a, b) > ALIKE]
    ways = _heaps(told, lambda t: t[0], SAME_WAY)
    heaps = chain.from_iterable(_heaps(way, lambda t: t[1], ALIKE) for way in ways)
    merged = chain.from_iterable(_joined(heap) for heap in heaps)
    return sorted(merged, key=lambda e: (e[0][1], e[0][0], e[1]))


_Told = tuple[float, float, float, float, Flat, Flat]
"""Direction [rad], distance of the line from 0, 0, where it begins and ends along itself, its ends. [in]"""


def _told(a: Flat, b: Flat) -> _Told:
    angle = math.atan2(b[1] - a[1], b[0] - a[0])
    if not -SAME_WAY < angle < math.pi - SAME_WAY:
        a, b = b, a
        angle = math.atan2(b[1] - a[1], b[0] - a[0])
    length = math.dist(a, b)
    x, y = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    start = a[0] * x + a[1] * y
    return angle, a[1] * x - a[0] * y, start, start + length, a, b


def _heaps(told: Iterable[_Told], value: Callable[[_Told], float], step: float) -> Iterator[list[_Told]]:
    """Those whose values follow each other closely."""
    heap: list[_Told] = []
    for one in sorted(told, key=value):
        if heap and value(one) - value(heap[-1]) > step:
            yield heap
            heap = []
        heap.append(one)
    if heap:
        yield heap


def _joined(heap: Iterable[_Told]) -> Iterator[Line]:
    """Lines of one straight line, from its beginning on."""
    first: Flat | None = None
    last, reach = (0.0, 0.0), 0.0
    for _, _, start, end, a, b in sorted(heap, key=lambda t: t[2:4]):
        if first is None or start > reach + ALIKE:
            if first is not None:
                yield first, last
            first, last, reach = a, b, end
        elif end > reach:
            last, reach = b, end
    if first is not None:
        yield first, last
