"""The least by straight cuts, proved: every cutting tree of every subset, then every way to share out the sheets.

    shapes of each subset  ->  its least cost on each row of the stock  ->  sheets one by one, subset by subset
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lapwright.shop.nest.cut_strip import laid, leaves_of
from lapwright.shop.nest.grid import Box, Kind
from lapwright.shop.nest.sheets import SAME_COST, Plan
from lapwright.shop.nest.subsets import Shape, Shapes, shapes_of

Cost = tuple[float, int]
"""What sheets cost, then the metal used on them. [money], [steps2]"""


@dataclass(frozen=True, slots=True)
class _Cut:
    """One sheet: a row of the stock, the subset that lies on it, the shape it takes."""

    box: int
    mask: int
    shape: Shape


_Known = tuple[Cost, tuple[_Cut, ...]]
"""The least that a subset is known to cost, and the sheets it then lies on."""


def prove_straight(plan: Plan, boxes: Sequence[Box], kinds: Sequence[Kind]) -> Plan:
    """The best plan there is; `plan` itself where it is as good.

    Args:
        plan: What the heuristics found.
        boxes: The stock.
        kinds: A handful of rectangles, 12 at most.
    """
    leaves = leaves_of(kinds)
    if not leaves:
        return plan
    shapes = shapes_of(leaves, max(b.width for b in boxes), max(b.height for b in boxes))
    sheets, placed = _best(shapes, boxes, [w * h for (_, w, h), *_ in leaves])
    spots = [(cut.box, laid(cut.shape)) for cut in sheets]
    left = [k.count for k in kinds]
    for _, some in spots:
        for spot in some:
            left[spot[0]] -= 1
    best = Plan(spots, left)
    if plan.score(boxes, kinds) <= best.score(boxes, kinds):
        best = plan
    best.least = best.cost(boxes)
    best.low = _lowest(shapes, boxes, best) if placed == len(shapes) - 1 else None
    return best


def _lowest(shapes: Shapes, boxes: Sequence[Box], plan: Plan) -> int | None:
    """The least height of everything on the one sheet that is taken; None where more than one is. [steps]"""
    if len(plan.sheets) != 1:
        return None
    width = boxes[plan.sheets[0][0]].width
    return min(s.h for s in shapes[-1] if s.w <= width)


def _best(shapes: Shapes, boxes: Sequence[Box], areas: Sequence[int]) -> tuple[list[_Cut], int]:
    """Sheets that hold as much area as can be, for the least; and the subset they hold."""
    known: list[_Known | None] = [None] * len(shapes)
    known[0] = ((0.0, 0), ())
    for b, box in enumerate(boxes):
        cuts = [_cheapest(mine, b, mask, box) for mask, mine in enumerate(shapes)]
        for _ in range(box.limit):
            if not _one_more(known, cuts):
                break
    held = [sum(a for i, a in enumerate(areas) if mask >> i & 1) for mask in range(len(shapes))]
    found = [(-held[mask], known_as, mask) for mask, known_as in enumerate(known) if known_as is not None]
    _, (_, cuts_made), best = min(found, key=lambda f: (f[0], f[1][0], f[2]))
    return list(cuts_made), best


def _cheapest(shapes: Sequence[Shape], b: int, mask: int, box: Box) -> tuple[Cost, _Cut] | None:
    """A subset on one sheet of a row: as low as it goes, which is the cheapest where it is paid by length."""
    fits = [s for s in shapes if s.w <= box.width and s.h <= box.height]
    if not fits:
        return None
    shape = min(fits, key=lambda s: (s.h, s.w))
    cost = box.cost * shape.h / box.height if box.by_length else box.cost
    return (round(cost, 9), box.width * shape.h), _Cut(b, mask, shape)


def _one_more(known: list[_Known | None], cuts: Sequence[tuple[Cost, _Cut] | None]) -> bool:
    """Allow one sheet more of a row. Returns: is any subset cheaper, or held at last?"""
    was = list(known)
    better = False
    for mask in range(1, len(known)):
        part = mask
        while part:
            cut, rest = cuts[part], was[mask ^ part]
            if cut is not None and rest is not None:
                cost = (rest[0][0] + cut[0][0], rest[0][1] + cut[0][1])
                here = known[mask]
                if here is None or _less(cost, here[0]):
                    known[mask] = (cost, (*rest[1], cut[1]))
                    better = True
            part = (part - 1) & mask
    return better


def _less(a: Cost, b: Cost) -> bool:
    slack = SAME_COST * max(abs(b[0]), 1.0)
    return a[0] < b[0] - slack or (a[0] <= b[0] + slack and a[1] < b[1])
