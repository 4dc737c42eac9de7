"""Two blanks that are no rectangles, slid together until they touch: a pair is nested as one rectangle.

    +------+             +------+----+
    | a  /   and  | b |  | a  /    b |     the second may lie turned by half (a quarter too, where turning is allowed)
    +--/          ...    +--/--------+

Only for free cuts: what parts the two is no straight cut from edge to edge.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from lapwright.geom.space import Flat
from lapwright.metal.model import Blank

Ring = tuple[Flat, ...]

SAVES = 0.06
"""A pair must need this share less metal than its two rectangles. House rule. [-]"""

ROUGH = 0.92
"""A blank that fills more of its rectangle than this is left alone. House rule. [-]"""

WORTH = 16.0
"""So is a blank with less metal than this round it in its rectangle. House rule. [in2]"""


@dataclass(frozen=True, slots=True)
class Lie:
    """How a blank lies: quarter turns counter-clockwise, then moved so far. [in]"""

    quarter: int = 0
    x: float = 0.0
    y: float = 0.0

    def at(self, p: Flat, width: float, height: float) -> Flat:
        """Where a point of a blank of this size comes to lie. [in]"""
        u, v = p
        turned = ((u, v), (height - v, u), (width - u, height - v), (v, width - u))[self.quarter % 4]
        return (turned[0] + self.x, turned[1] + self.y)


@dataclass(frozen=True, slots=True)
class Pair:
    """Two blanks by number, how each lies in the rectangle round both, and that rectangle. [in]"""

    one: int
    two: int
    lies: tuple[Lie, Lie]
    width: float
    height: float
    saved: float


def pairs_of(blanks: Sequence[Blank], counts: Sequence[int], turn: bool) -> tuple[Pair, ...]:
    """Pair blanks off, the pair that saves most first; the same blanks give the same pairs.

    Args:
        blanks: Each with its outline and rectangle. [in]
        counts: How many there are of each.
        turn: May a blank lie a quarter turned?

    Returns:
        Pairs, one entry for each time a pair is cut.
    """
    alike: dict[Ring, list[int]] = {}
    for i, blank in enumerate(blanks):
        if _is_rough(blank):
            alike.setdefault(blank.outline, []).append(i)
    shapes = list(alike.values())
    left = list(counts)
    found: list[tuple[Pair, list[int], list[int]]] = []
    for n, ones in enumerate(shapes):
        for twos in shapes[n:]:
            best = max(_together(blanks, ones[0], twos[0], turn), key=lambda p: (p.saved, -p.height), default=None)
            if best is not None:
                found.append((best, ones, twos))
    return tuple(
        pair
        for best, ones, twos in sorted(found, key=lambda f: (-f[0].saved, f[0].one, f[0].two))
        for pair in _taken(best, ones, twos, left)
    )


def _is_rough(blank: Blank) -> bool:
    """Is there so much metal round it, in its rectangle, that pairing may save some worth the trouble?"""
    rectangle = blank.width * blank.height
    return blank.area < ROUGH * rectangle and rectangle - blank.area > WORTH


def _taken(best: Pair, ones: Sequence[int], twos: Sequence[int], left: list[int]) -> Iterator[Pair]:
    """The pair as often as there are two such blanks, each time with their own numbers."""
    while True:
        one = next((i for i in ones if left[i]), None)
        if one is None:
            return
        left[one] -= 1
        two = next((i for i in twos if left[i]), None)
        if two is None:
            left[one] += 1
            return
        left[two] -= 1
        yield replace(best, one=one, two=two)


def _together(blanks: Sequence[Blank], i: int, j: int, turn: bool) -> Iterator[Pair]:
    """Every way to slide the second against the first that saves enough."""
    a, b = blanks[i], blanks[j]
    alone = a.width * a.height + b.width * b.height
    for quarter in (0, 1, 2, 3) if turn else (0, 2):
        size = (b.height, b.width) if quarter % 2 else (b.width, b.height)
        ring = tuple(Lie(quarter).at(p, b.width, b.height) for p in b.outline)
        for axis in (0, 1):
            along = 1 - axis
            for shift in sorted({0.0, (a.width, a.height)[along] - size[along]}):
                moved = [0.0, 0.0]
                moved[along] = shift
                moved[axis] = _slide(a.outline, _shifted(ring, along, shift), axis)
                pair = _boxed(a, size, quarter, moved, (i, j), alone)
                if pair.saved >= SAVES * alone:
                    yield pair


def _boxed(
    a: Blank, size: tuple[float, float], quarter: int, moved: Sequence[float], who: tuple[int, int], alone: float
) -> Pair:
    """The rectangle round both, its corner at nought."""
    low = (min(0.0, moved[0]), min(0.0, moved[1]))
    width = max(a.width, moved[0] + size[0]) - low[0]
    height = max(a.height, moved[1] + size[1]) - low[1]
    lies = (Lie(0, -low[0], -low[1]), Lie(quarter, moved[0] - low[0], moved[1] - low[1]))
    return Pair(*who, lies, width, height, alone - width * height)


def _shifted(ring: Ring, axis: int, by: float) -> Ring:
    return tuple((p[0], p[1] + by) if axis else (p[0] + by, p[1]) for p in ring)


Edge = tuple[float, float, float, float]
"""An edge of a ring: from and to along the band [in], where it starts across [in], its slope [-]."""


def _slide(a: Ring, b: Ring, axis: int) -> float:
    """How far along an axis b must lie so that it just touches a where they face each other. [in]"""
    along = 1 - axis
    levels = sorted({p[along] for p in (*a, *b)})
    fars, nears = _edges(a, axis), _edges(b, axis)
    need = None
    for low, high in pairwise(levels):
        far, near = _reach(fars, low, high, max), _reach(nears, low, high, min)
        if far is not None and near is not None:
            here = max(far[0] - near[0], far[1] - near[1])
            need = here if need is None else max(need, here)
    if need is None:  # they do not face each other at all
        return max(p[axis] for p in a) - min(p[axis] for p in b)
    return need


def _edges(ring: Ring, axis: int) -> list[Edge]:
    """The edges that a band along an axis meets."""
    along = 1 - axis
    out = []
    for p, q in zip(ring, (*ring[1:], ring[0]), strict=True):
        if p[along] != q[along]:
            p, q = (p, q) if p[along] < q[along] else (q, p)
            out.append((p[along], q[along], p[axis], (q[axis] - p[axis]) / (q[along] - p[along])))
    return out


def _reach(
    edges: Sequence[Edge], low: float, high: float, pick: Callable[[Iterable[float]], float]
) -> tuple[float, float] | None:
    """The farthest (max) or nearest (min) edge at both ends of a band that holds no corner. [in]"""
    mine = [(at - slope * start, slope) for start, end, at, slope in edges if start <= low and end >= high]
    if not mine:
        return None
    return pick(at + slope * low for at, slope in mine), pick(at + slope * high for at, slope in mine)
