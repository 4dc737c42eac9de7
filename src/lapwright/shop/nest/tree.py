"""A packing that one straight cut after another takes apart, as a tree: guillotine by construction.

    leaf: one rectangle.   across: two parts side by side.   along: one part on the other.

        +----+--+          across
        | a  |c |          /    \\
        +----+  |       along    c
        | b  |  |       /   \\
        +----+--+      b     a
"""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.shop.nest.grid import Spot

Leaf = tuple[int, int, int]
"""A kind's number, and width and height as it lies. [steps]"""

NONE = -1


class Tree:
    """Nodes by number: leaves first, then inner nodes; `across` tells how an inner node joins. [steps]"""

    def __init__(self, leaves: Sequence[Leaf]) -> None:
        n = len(leaves)
        self.count = n
        self.kind = [k for k, _, _ in leaves]
        self.w = [w for _, w, _ in leaves] + [0] * (n - 1)
        self.h = [h for _, _, h in leaves] + [0] * (n - 1)
        self.one = [NONE] * (2 * n - 1)
        self.two = [NONE] * (2 * n - 1)
        self.above = [NONE] * (2 * n - 1)
        self.across = [False] * (2 * n - 1)
        self.root = 0
        self._made = n

    def join(self, a: int, b: int, across: bool) -> int:
        """Put two parts together: b right of a, or b on a. Returns: the new node."""
        k = self._made
        self._made += 1
        self.one[k], self.two[k], self.across[k] = a, b, across
        self.above[a] = self.above[b] = k
        self.root = k
        self.w[k], self.h[k] = self.size(k)
        return k

    def balanced(self, nodes: list[int], across: bool) -> int:
        """Put many parts together, in order, as low a tree as can be. Returns: the new node, or the only one."""
        while len(nodes) > 1:
            pairs = [nodes[i : i + 2] for i in range(0, len(nodes), 2)]
            nodes = [self.join(p[0], p[1], across) if len(p) == 2 else p[0] for p in pairs]
        return nodes[0]

    def size(self, k: int) -> tuple[int, int]:
        """What an inner node needs, from its parts. [steps]"""
        a, b = self.one[k], self.two[k]
        if self.across[k]:
            return self.w[a] + self.w[b], max(self.h[a], self.h[b])
        return max(self.w[a], self.w[b]), self.h[a] + self.h[b]

    def copy(self) -> Tree:
        """The same tree, apart."""
        out = Tree.__new__(Tree)
        out.count, out.root, out._made = self.count, self.root, self._made
        for name in ("kind", "w", "h", "one", "two", "above", "across"):
            setattr(out, name, list(getattr(self, name)))
        return out

    def leaves_under(self, k: int) -> list[int]:
        """The leaves of a node, left to right and lower first."""
        out, stack = [], [k]
        while stack:
            k = stack.pop()
            if k < self.count:
                out.append(k)
            else:
                stack += [self.two[k], self.one[k]]
        return out

    def spots(self) -> tuple[Spot, ...]:
        """Where every rectangle lies, in the order of the leaves."""
        out: list[Spot] = []
        stack = [(self.root, 0, 0)]
        while stack:
            k, x, y = stack.pop()
            if k < self.count:
                out.append((self.kind[k], x, y, self.w[k], self.h[k]))
                continue
            a, b = self.one[k], self.two[k]
            stack.append((b, x + self.w[a], y) if self.across[k] else (b, x, y + self.h[a]))
            stack.append((a, x, y))
        return tuple(out)


def tree_of(spots: Sequence[Spot]) -> Tree | None:
    """The tree of a packing; None where no straight cut takes it apart.

    Where several cuts are possible all of them are made, and joined in balance to keep the tree low.
    """
    tree = Tree([(s[0], s[3], s[4]) for s in spots])
    return tree if _build(tree, spots, list(range(len(spots)))) is not None else None


def _build(tree: Tree, spots: Sequence[Spot], mine: list[int]) -> int | None:
    if len(mine) == 1:
        return mine[0]
    for axis in (1, 0):
        groups = _parted(spots, mine, axis)
        if len(groups) < 2:
            continue
        nodes = []
        for group in groups:
            node = _build(tree, spots, group)
            if node is None:
                return None
            nodes.append(node)
        return tree.balanced(nodes, across=axis == 0)
    return None


def _parted(spots: Sequence[Spot], mine: list[int], axis: int) -> list[list[int]]:
    """Groups between which a straight cut goes through. axis: 0 for cuts up the stock, 1 for cuts across it."""
    groups: list[list[int]] = []
    reach = -1
    for i in sorted(mine, key=lambda i: (spots[i][1 + axis], i)):
        start, size = spots[i][1 + axis], spots[i][3 + axis]
        if start >= reach:
            groups.append([])
        groups[-1].append(i)
        reach = max(reach, start + size)
    return groups
