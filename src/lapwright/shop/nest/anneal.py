"""Annealing of a cutting tree: parts trade places, change how they are joined, or turn, ever more choosily.

Source: slicing floorplans by annealing, Wong and Liu, Design Automation Conference 1986, from memory; the weights
are house rules, measured in the bench.
"""

from __future__ import annotations

from math import log, sqrt

from lapwright.shop.budget import Budget
from lapwright.shop.dice import SIDES, Dice
from lapwright.shop.nest.tree import NONE, Tree

HOT, WARM, COLD = 0.05, 0.008, 0.001
"""Temperatures as shares of the least height: a start from anywhere, from a good tree, and the end. [-]"""

TOO_WIDE = 3.0
"""What a share of width too much costs, in shares of height. [-]"""

TOGETHER = 0.3
"""What waste in one place is worth: so much of the root of the summed squares, as shares of the area. [-]"""

LOOK = 7
"""What one trade costs a budget. [units]"""

ROUND = 200
"""Trades at one temperature."""

_Saved = list[tuple[int, int, int, float]]
_Undo = tuple[int, int, int, int, bool, bool]


class Annealer:
    """Anneals one tree on a strip of one width, and keeps the lowest tree that is no wider. [steps]"""

    def __init__(self, tree: Tree, width: int, turns: list[bool], seed: int) -> None:
        self.tree, self.width, self.turns = tree, width, turns
        self.turning = any(turns)
        self.dice = Dice(seed)
        self.least = sum(tree.w[i] * tree.h[i] for i in range(tree.count)) / width
        self.saved: _Saved = []
        self.dead = [0.0] * len(tree.w)
        for k in range(tree.count, len(tree.w)):
            self.dead[k] = self._dead(k)
        self.squares = sum(d * d for d in self.dead)
        self.best = tree.copy()
        self.high: float = tree.h[tree.root] if tree.w[tree.root] <= width else float("inf")

    def run(self, trades: int, start: float, budget: Budget, goal: int) -> None:
        """Cool from `start` to COLD over so many trades, or until the goal is reached. [-], [steps]"""
        if self.tree.count < 2:
            return
        rounds = max(trades // ROUND, 1)
        heat, cooling = start, (COLD / start) ** (1 / rounds)
        now = self._cost()
        for _ in range(rounds):
            now = self._round(now, heat)
            heat *= cooling
            if self.high <= goal or not budget.spend(LOOK * ROUND):
                return

    def _dead(self, k: int) -> float:
        """What a node wastes that its parts do not, as a share of all rectangles. [-]"""
        t = self.tree
        a, b = t.one[k], t.two[k]
        return (t.w[k] * t.h[k] - t.w[a] * t.h[a] - t.w[b] * t.h[b]) / (self.least * self.width)

    def _cost(self) -> float:
        t = self.tree
        share = t.h[t.root] / self.least
        over = t.w[t.root] - self.width
        if over > 0:
            share *= 1 + TOO_WIDE * over / self.width
        return share - TOGETHER * sqrt(max(self.squares, 0.0))

    def _round(self, now: float, heat: float) -> float:
        t, throw, saved = self.tree, self.dice.throw, self.saved
        for _ in range(ROUND):
            saved.clear()
            squares = self.squares
            undo = self._trade(throw() % 10)
            if undo is None:
                continue
            cost = self._cost()
            if cost > now and cost - now >= -heat * log((throw() + 1) / (SIDES + 1)):
                self._back(undo)
                self.squares = squares
                continue
            now = cost
            if t.w[t.root] <= self.width and t.h[t.root] < self.high:
                self.high = t.h[t.root]
                self.best = t.copy()
        return now

    def _trade(self, what: int) -> _Undo | None:
        t, below = self.tree, self.dice.below
        nodes = len(t.w)
        if what < 3:
            return self._swap(below(t.count), below(t.count))
        if what == 3:
            return self._swap(below(nodes), below(nodes))
        if what == 4:
            k = t.count + below(t.count - 1)
            t.across[k] = not t.across[k]
            self._up(k)
            return (1, k, 0, 0, False, False)
        if what == 9 and self.turning:
            return self._turn(below(t.count))
        return self._shift(below(t.count) if what < 8 else below(nodes), below(nodes))

    def _up(self, k: int) -> None:
        """Work out sizes from here to the root, as far as anything changes."""
        t = self.tree
        w, h, one, two, above, across = t.w, t.h, t.one, t.two, t.above, t.across
        dead, area, squares = self.dead, self.least * self.width, self.squares
        while k >= 0:
            a, b = one[k], two[k]
            if across[k]:
                wide = w[a] + w[b]
                tall = h[a] if h[a] > h[b] else h[b]
            else:
                tall = h[a] + h[b]
                wide = w[a] if w[a] > w[b] else w[b]
            lost, was = (wide * tall - w[a] * h[a] - w[b] * h[b]) / area, dead[k]
            same = wide == w[k] and tall == h[k]
            if not same or lost != was:
                self.saved.append((k, w[k], h[k], was))
                squares += lost * lost - was * was
                w[k], h[k], dead[k] = wide, tall, lost
            if same:
                break
            k = above[k]
        self.squares = squares

    def _holds(self, a: int, b: int) -> bool:
        """Is b the node a or under it?"""
        above = self.tree.above
        while b >= 0:
            if b == a:
                return True
            b = above[b]
        return False

    def _replace(self, parent: int, old: int, new: int) -> None:
        t = self.tree
        if parent == NONE:
            t.root = new
        elif t.one[parent] == old:
            t.one[parent] = new
        else:
            t.two[parent] = new
        t.above[new] = parent

    def _swap(self, a: int, b: int) -> _Undo | None:
        t = self.tree
        p, q = t.above[a], t.above[b]
        if a == b or p == q or p < 0 or q < 0:
            return None
        if (a >= t.count and self._holds(a, b)) or (b >= t.count and self._holds(b, a)):
            return None
        self._replace(p, a, b)
        self._replace(q, b, a)
        self._up(p)
        self._up(q)
        return (0, a, b, 0, False, False)

    def _turn(self, a: int) -> _Undo | None:
        t = self.tree
        if not self.turns[t.kind[a]] or t.w[a] == t.h[a]:
            return None
        self.saved.append((a, t.w[a], t.h[a], 0.0))
        t.w[a], t.h[a] = t.h[a], t.w[a]
        self._up(t.above[a])
        return (2, a, 0, 0, False, False)

    def _shift(self, a: int, t: int) -> _Undo | None:
        """Take part a out and join it to part t."""
        tree = self.tree
        p = tree.above[a]
        if p < 0:
            return None
        first = tree.one[p] == a
        beside = tree.two[p] if first else tree.one[p]
        if t in (p, beside) or self._holds(a, t):
            return None
        was, over = tree.across[p], tree.above[p]
        self._replace(over, p, beside)
        self._replace(tree.above[t], t, p)
        tree.one[p], tree.two[p], tree.above[t] = t, a, p
        tree.across[p] = bool(self.dice.throw() & 1)
        if over >= 0:
            self._up(over)
        self.saved.append((p, tree.w[p], tree.h[p], self.dead[p]))
        tree.w[p] = NONE
        self._up(p)
        return (3, a, t, beside, first, was)

    def _back(self, undo: _Undo) -> None:
        """As if nothing had been."""
        t = self.tree
        for k, w, h, lost in reversed(self.saved):
            t.w[k], t.h[k], self.dead[k] = w, h, lost
        what, a, b, beside, first, was = undo
        if what == 0:
            p, q = t.above[a], t.above[b]
            self._replace(p, a, b)
            self._replace(q, b, a)
        elif what == 1:
            t.across[a] = not t.across[a]
        elif what == 3:
            p = t.above[a]
            self._replace(t.above[p], p, b)
            self._replace(t.above[beside], beside, p)
            t.above[beside] = p
            t.one[p], t.two[p] = (a, beside) if first else (beside, a)
            t.across[p] = was
