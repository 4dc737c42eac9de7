"""The best trees of a handful of rectangles, every one of them tried: shapes of every subset, joined both ways.

A shape is kept when no other of the same subset is at most as wide and at most as high.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lapwright.shop.nest.tree import Leaf

MOST = 8
"""Beyond so many rectangles there are too many subsets."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A tree in the making: its size, and its two parts or its leaf. [steps]"""

    w: int
    h: int
    leaf: Leaf | None
    item: int
    one: Shape | None = None
    two: Shape | None = None
    across: bool = False


Shapes = list[list[Shape]]
"""By subset (bit i is the i-th rectangle): its shapes, narrowest first."""


def shapes_of(ways: Sequence[Sequence[Leaf]], width: int, cap: int) -> Shapes:
    """Every shape of every subset that is no wider and no higher.

    Args:
        ways: For each rectangle, how it may lie.
        width: No wider than this. [steps]
        cap: No higher than this. [steps]
    """
    out: Shapes = [[] for _ in range(1 << len(ways))]
    for i, leaves in enumerate(ways):
        fits = [Shape(w, h, (k, w, h), i) for k, w, h in leaves if w <= width and h <= cap]
        out[1 << i] = _kept(fits)
    for mask in range(1, 1 << len(ways)):
        if mask & (mask - 1):
            out[mask] = _kept(_joined(out, mask, width, cap))
    return out


def _joined(out: Shapes, mask: int, width: int, cap: int) -> list[Shape]:
    first = mask & -mask
    rest = mask ^ first
    made: list[Shape] = []
    sizes: set[tuple[int, int]] = set()
    part = rest
    while True:
        # every way to part the subset once: the part that holds the first rectangle, and the other
        part = (part - 1) & rest
        for a in out[first | part]:
            for b in out[mask ^ first ^ part]:
                for w, h, across in (
                    (a.w + b.w, max(a.h, b.h), True),
                    (max(a.w, b.w), a.h + b.h, False),
                ):
                    if w <= width and h <= cap and (w, h) not in sizes:
                        sizes.add((w, h))
                        made.append(Shape(w, h, None, -1, a, b, across))
        if part == 0:
            return made


def _kept(shapes: list[Shape]) -> list[Shape]:
    out: list[Shape] = []
    for s in sorted(shapes, key=lambda s: (s.w, s.h)):
        if not out or s.h < out[-1].h:
            out.append(s)
    return out
