"""The lowest strip by straight cuts from edge to edge: quick rules first, then annealed cutting trees."""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.shop.budget import Budget
from lapwright.shop.nest import subsets
from lapwright.shop.nest.anneal import HOT, LOOK, WARM, Annealer
from lapwright.shop.nest.bounds import lowest_height
from lapwright.shop.nest.grid import Kind, Spot
from lapwright.shop.nest.polish import polish
from lapwright.shop.nest.strip import Strip, quick, top_of
from lapwright.shop.nest.subsets import Shape
from lapwright.shop.nest.tree import Leaf, Tree, tree_of

QUICK = 0.2
"""Share of the budget that the quick rules may take. [-]"""

RUNS = ((HOT, 0.42), (HOT, 0.75), (WARM, 0.6))
"""Annealing runs: where they start, and the share of what is left that each may take. House rule, measured. [-]"""


def lowest_cut_strip(width: int, cap: int, kinds: Sequence[Kind], budget: Budget) -> Strip:
    """Everything on one piece of stock by guillotine cuts, as low as the budget finds it.

    Args:
        width: Of the stock. [steps]
        cap: No higher than this. [steps]
        kinds: What to place, all of it.
        budget: Work allowed.
    """
    low = lowest_height(width, kinds)
    strip = Strip(None, cap + 1, low)
    if low > cap:
        return strip
    if sum(k.count for k in kinds) <= subsets.MOST:
        _exact(strip, width, kinds)
        return strip
    quick(strip, width, cap, kinds, budget.part(QUICK))
    trees = _annealed(strip, width, kinds, budget)
    if not strip.done and trees is not None:
        strip.keep(polish(trees, width, [k.ways() for k in kinds], budget).spots())
    return strip


def leaves_of(kinds: Sequence[Kind]) -> list[list[Leaf]]:
    """For every rectangle, how it may lie."""
    return [[(i, w, h) for w, h in k.ways()] for i, k in enumerate(kinds) for _ in range(k.count)]


def _exact(strip: Strip, width: int, kinds: Sequence[Kind]) -> None:
    """Every tree of a handful: the lowest is the answer, and the bound."""
    shapes = subsets.shapes_of(leaves_of(kinds), width, strip.high - 1)[-1]
    if shapes:
        spots = laid(shapes[-1])
        strip.spots, strip.high = spots, top_of(spots)
    strip.low = strip.high


def laid(shape: Shape) -> tuple[Spot, ...]:
    """Where every rectangle of a shape lies. [steps]"""
    out: list[Spot] = []
    stack = [(shape, 0, 0)]
    while stack:
        s, x, y = stack.pop()
        if s.leaf is not None:
            out.append((s.leaf[0], x, y, s.w, s.h))
        elif s.one is not None and s.two is not None:
            stack += [(s.two, x + s.one.w, y) if s.across else (s.two, x, y + s.one.h), (s.one, x, y)]
    return tuple(out)


def _annealed(strip: Strip, width: int, kinds: Sequence[Kind], budget: Budget) -> Tree | None:
    """Run after run; the last goes on from the best. Returns: the best tree."""
    best = tree_of(strip.spots) if strip.spots is not None else None
    turns = [k.turn for k in kinds]
    for seed, (start, share) in enumerate(RUNS, 1):
        if strip.done or budget.left <= 0:
            break
        tree = best.copy() if start == WARM and best is not None else _shelves(kinds, width)
        part = budget.part(share)
        annealer = Annealer(tree, width, turns, seed)
        annealer.run(part.left // LOOK, start, part, strip.low)
        if annealer.high < strip.high:
            best = annealer.best
            strip.keep(best.spots())
    return best


def _shelves(kinds: Sequence[Kind], width: int) -> Tree:
    """A start: the tallest first, in rows as wide as the stock."""
    ways = [[way for way in mine if way[1] <= width] for mine in leaves_of(kinds)]
    leaves = [max(mine, key=lambda way: (way[2], -way[1])) for mine in ways]
    tree = Tree(leaves)
    rows: list[list[int]] = [[]]
    wide = 0
    for i in sorted(range(tree.count), key=lambda i: (-tree.h[i], -tree.w[i], i)):
        if rows[-1] and wide + tree.w[i] > width:
            rows.append([])
            wide = 0
        rows[-1].append(i)
        wide += tree.w[i]
    tree.balanced([tree.balanced(row, True) for row in rows], False)
    return tree
