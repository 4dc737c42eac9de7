"""Small parts of a cutting tree made as good as they can be: every tree of two parts' rectangles is tried.

Two parts with few rectangles together are taken out; every way to share those rectangles between the two places,
and every shape of either share, is tried where they stood.
"""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.shop.budget import Budget
from lapwright.shop.dice import Dice
from lapwright.shop.nest.subsets import Shape, shapes_of
from lapwright.shop.nest.tree import NONE, Tree

HANDFUL = 6
"""Rectangles of two parts together, at most."""

COST = 30_000
"""What one try costs a budget. [units]"""


def polish(tree: Tree, width: int, ways: Sequence[Sequence[tuple[int, int]]], budget: Budget) -> Tree:
    """Lower a tree where two small parts can be cut better. The tree it is given is changed.

    Args:
        tree: No wider than `width`. [steps]
        width: Of the strip. [steps]
        ways: Per kind, how it may lie.
        budget: Work allowed.
    """
    dice = Dice(7)
    while tree.count > 2:
        _try(tree, width, ways, dice)
        if not budget.spend(COST):
            break
    return tree


def _try(tree: Tree, width: int, ways: Sequence[Sequence[tuple[int, int]]], dice: Dice) -> None:
    nodes = len(tree.w)
    a, b = dice.below(nodes), dice.below(nodes)
    mine, other = tree.leaves_under(a), tree.leaves_under(b)
    if len(mine) + len(other) > HANDFUL or len(mine) + len(other) < 3 or set(mine) & set(other):
        return
    leaves = mine + other
    high = tree.h[tree.root]
    turned = [[(tree.kind[i], w, h) for w, h in ways[tree.kind[i]]] for i in leaves]
    shapes = shapes_of(turned, width, high)
    whole = len(shapes) - 1
    best = (high, tree.w[tree.root])
    chosen: tuple[Shape, Shape] | None = None
    seen: dict[tuple[int, int, int, int], None] = {}
    for mask in range(1, whole):
        for one in shapes[mask]:
            for two in shapes[whole ^ mask]:
                key = (one.w, one.h, two.w, two.h)
                if key in seen:
                    continue
                seen[key] = None
                h, w = _with(tree, a, b, key)
                if w <= width and (h, w) < best:
                    best, chosen = (h, w), (one, two)
    if chosen is not None:
        _put(tree, a, mine, b, other, chosen)


def _with(tree: Tree, a: int, b: int, sizes: tuple[int, int, int, int]) -> tuple[int, int]:
    """Height and width of the whole tree, were these two parts of these sizes. [steps]"""
    over = {a: sizes[:2], b: sizes[2:]}
    for k in (a, b):
        # along one path to the root, and again along the other, which then meets what the first found
        while (k := tree.above[k]) != NONE:
            one, two = tree.one[k], tree.two[k]
            w1, h1 = over.get(one) or (tree.w[one], tree.h[one])
            w2, h2 = over.get(two) or (tree.w[two], tree.h[two])
            over[k] = (w1 + w2, max(h1, h2)) if tree.across[k] else (max(w1, w2), h1 + h2)
    w, h = over[tree.root]
    return h, w


def _put(tree: Tree, a: int, mine: list[int], b: int, other: list[int], shapes: tuple[Shape, Shape]) -> None:
    """Build two shapes where two parts stood, from the nodes that these parts were made of."""
    inner = _inner(tree, a) + _inner(tree, b)
    leaves = mine + other
    over = (tree.above[a], tree.above[b])
    sides = (over[0] != NONE and tree.one[over[0]] == a, over[1] != NONE and tree.one[over[1]] == b)
    for shape, parent, first in zip(shapes, over, sides, strict=True):
        node = _grow(tree, shape, leaves, inner)
        tree.above[node] = parent
        if parent == NONE:
            tree.root = node
        elif first:
            tree.one[parent] = node
        else:
            tree.two[parent] = node
    for parent in over:
        k = parent
        while k != NONE:
            tree.w[k], tree.h[k] = tree.size(k)
            k = tree.above[k]


def _inner(tree: Tree, k: int) -> list[int]:
    if k < tree.count:
        return []
    return [k, *_inner(tree, tree.one[k]), *_inner(tree, tree.two[k])]


def _grow(tree: Tree, shape: Shape, leaves: list[int], inner: list[int]) -> int:
    if shape.one is None or shape.two is None:
        k = leaves[shape.item]
        tree.w[k], tree.h[k] = shape.w, shape.h
        return k
    a, b = _grow(tree, shape.one, leaves, inner), _grow(tree, shape.two, leaves, inner)
    k = inner.pop()
    tree.one[k], tree.two[k], tree.across[k] = a, b, shape.across
    tree.above[a] = tree.above[b] = k
    tree.w[k], tree.h[k] = shape.w, shape.h
    return k
