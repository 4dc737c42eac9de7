"""The two ways to cut, behind one face: free cuts, and straight cuts from edge to edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Protocol

from lapwright.shop.budget import Budget
from lapwright.shop.dice import Dice
from lapwright.shop.nest import corner
from lapwright.shop.nest.cut_strip import lowest_cut_strip
from lapwright.shop.nest.grid import Kind, Spot
from lapwright.shop.nest.skyline import GUIDES, pack
from lapwright.shop.nest.strip import Strip, lowest_strip
from lapwright.shop.nest.tree import tree_of

WILD = 0.3
"""How far a throw of the dice moves what is placed first, up or down. House rule. [-]"""

TRIES = 14
"""Quick rules tried for one sheet of straight cuts."""


FEW = 20_000
"""Rectangles times sizes up to which a sheet is filled with care. [-]"""


class Engine(Protocol):
    """One way to cut. All sizes in steps."""

    def strip(self, width: int, cap: int, kinds: Sequence[Kind], budget: Budget) -> Strip:
        """Everything, as low as can be. [steps]"""

    def fill(
        self, width: int, cap: int, kinds: Sequence[Kind], budget: Budget, dice: Dice | None
    ) -> tuple[Spot, ...]:
        """As much as a sheet takes; with dice, another answer each time. [steps]"""


class FreeCuts:
    """Snips, or a cutting table."""

    def strip(self, width: int, cap: int, kinds: Sequence[Kind], budget: Budget) -> Strip:
        """Everything, as low as can be. [steps]"""
        return lowest_strip(width, cap, kinds, budget)

    def fill(
        self, width: int, cap: int, kinds: Sequence[Kind], budget: Budget, dice: Dice | None
    ) -> tuple[Spot, ...]:
        """As much as a sheet takes. [steps]"""
        bonus = None if dice is None else [1 + WILD * (2 * dice.share() - 1) for _ in kinds]
        guide = GUIDES[0 if dice is None else dice.below(len(GUIDES))]
        best: tuple[int, tuple[Spot, ...]] = (0, ())
        looks = sum(k.count for k in kinds) * len(kinds)
        for beam in (2, 12) if looks < FEW else (1,):
            # never cut off by the budget: a sheet that is begun is filled, in a time that its pieces bound
            found = pack(width, cap, kinds, beam, Budget(1 << 60), guide, fill=True, bonus=bonus)
            budget.spend(25 * beam * len(found.spots) + 200)
            best = max(best, (found.area, found.spots), key=lambda b: b[0])
            if found.whole or budget.left <= 0:
                break
        return best[1]


class StraightCuts:
    """A shear."""

    def strip(self, width: int, cap: int, kinds: Sequence[Kind], budget: Budget) -> Strip:
        """Everything, as low as can be. [steps]"""
        return lowest_cut_strip(width, cap, kinds, budget)

    def fill(
        self, width: int, cap: int, kinds: Sequence[Kind], budget: Budget, dice: Dice | None
    ) -> tuple[Spot, ...]:
        """As much as a sheet takes. [steps]"""
        count = sum(k.count for k in kinds)
        best: tuple[int, tuple[Spot, ...]] = (0, ())
        rules = [r for r in corner.RULES if not r.merge]
        for n, order in enumerate(_orders(kinds, dice)):
            for m in range(2):
                rule = rules[(2 * n + m) % len(rules) if dice is None else dice.below(len(rules))]
                spots = corner.place(width, cap, kinds, order, replace(rule, merge=bool(m)))
                area = sum(w * h for _, _, _, w, h in spots)
                if area > best[0] and (not m or tree_of(spots) is not None):
                    best = (area, spots)
            budget.spend(count * (len(best[1]) + 20) // 2)
            if len(best[1]) == count:
                break
        return best[1]


def _orders(kinds: Sequence[Kind], dice: Dice | None) -> list[list[int]]:
    if dice is None:
        return list(corner.orders(kinds))
    out = []
    for _ in range(TRIES // 2):
        key = corner.ORDERS[dice.below(len(corner.ORDERS))]
        worth = [key(k.width, k.height)[0] * (1 + WILD * (2 * dice.share() - 1)) for k in kinds]
        first = sorted(range(len(kinds)), key=lambda i: (-worth[i], i))
        out.append([i for i in first for _ in range(kinds[i].count)])
    return out
