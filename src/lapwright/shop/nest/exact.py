"""A nest that is proved, for a small job: straight cuts by trying every cutting tree, free cuts by a solver.

Each takes the plan that the heuristics found and gives it back, or a better one, with a bound that it reaches.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from lapwright.errors import LapwrightError
from lapwright.shop.nest.grid import Box, Kind
from lapwright.shop.nest.sheets import Plan

MOST = 12
"""Rectangles up to which every way can be tried. House rule, measured."""

Prove = Callable[[Plan, Sequence[Box], Sequence[Kind]], Plan]


class NotExact(LapwrightError):
    """No proof can be had: the solver is not installed, the job is too large, its sizes too fine."""


def prover(guillotine: bool, over_seconds: float | None = None) -> Prove:
    """The way to prove a nest.

    Args:
        guillotine: Straight cuts only.
        over_seconds: A clock for the solver; None for a fixed amount of its work. [s]

    Raises:
        NotExact: when asked to prove what it cannot.
    """

    def prove(plan: Plan, boxes: Sequence[Box], kinds: Sequence[Kind]) -> Plan:
        count = sum(k.count for k in kinds)
        if count > MOST:
            raise NotExact("nest.exact_pieces", given=count, most=MOST)
        if guillotine:
            from lapwright.shop.nest.exact_straight import prove_straight

            return prove_straight(plan, boxes, kinds)
        from lapwright.shop.nest.exact_free import prove_free

        return prove_free(plan, boxes, kinds, over_seconds)

    return prove
