"""The lowest strip by free cuts: caps are halved down to the bound, with a wider beam at each round."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lapwright.shop.budget import Budget
from lapwright.shop.nest import corner
from lapwright.shop.nest.bounds import lowest_height
from lapwright.shop.nest.grid import Kind, Spot
from lapwright.shop.nest.skyline import GUIDES, Guide, pack
from lapwright.shop.nest.tree import tree_of

BEAMS = (1, 6, 24, 80, 240, 720)
"""States kept, round by round. House rule: each round costs about three times the one before."""

QUICK = 0.04
"""Share of the budget for a first answer. [-]"""

PROOF_BEAM = 20_000
PROOF_PIECES = 16
"""States a proof may hold at once, and beyond how many rectangles none is tried."""


@dataclass(slots=True)
class Strip:
    """What is known: the lowest packing so far (None: none yet), and what no packing can beat. [steps]"""

    spots: tuple[Spot, ...] | None
    high: int
    low: int

    @property
    def done(self) -> bool:
        """Is the bound reached?"""
        return self.spots is not None and self.high <= self.low

    def keep(self, spots: Sequence[Spot]) -> None:
        """Keep a packing that is lower."""
        top = top_of(spots)
        if top < self.high:
            self.spots, self.high = tuple(spots), top


def top_of(spots: Sequence[Spot]) -> int:
    """How far up the highest rectangle reaches. [steps]"""
    return max((y + h for _, _, y, _, h in spots), default=0)


def lowest_strip(width: int, cap: int, kinds: Sequence[Kind], budget: Budget, beams: Sequence[int] = BEAMS) -> Strip:
    """Everything on one piece of stock, as low as the budget finds it.

    Args:
        width: Of the stock. [steps]
        cap: No higher than this. [steps]
        kinds: What to place, all of it.
        budget: Work allowed.
        beams: States kept, round by round.
    """
    low = lowest_height(width, kinds)
    strip = Strip(None, cap + 1, low)
    if low > cap:
        return strip
    quick(strip, width, cap, kinds, budget.part(QUICK))
    for beam in beams:
        for guide in GUIDES:
            _halve(strip, width, kinds, beam, budget, guide)
            if strip.done or budget.left <= 0:
                return strip
        if beam == beams[min(2, len(beams) - 1)]:
            _prove(strip, width, kinds, budget.part(0.3))
            if strip.done:
                return strip
    return strip


def quick(strip: Strip, width: int, cap: int, kinds: Sequence[Kind], budget: Budget) -> None:
    """Try the quick rules of straight cuts, at least one of them. All sizes in steps."""
    count = sum(k.count for k in kinds)
    for order in corner.orders(kinds):
        for rule in corner.RULES:
            spots = corner.place(width, cap, kinds, order, rule)
            if len(spots) == count and top_of(spots) < strip.high and (not rule.merge or tree_of(spots)):
                strip.keep(spots)
            if not budget.spend(count * (count + 20) // 3) or strip.done:
                return


def _halve(strip: Strip, width: int, kinds: Sequence[Kind], beam: int, budget: Budget, guide: Guide) -> None:
    """Ask for lower and lower caps between the bound and the best so far."""
    low = strip.low
    while low < strip.high and budget.left > 0:
        cap = strip.high - 1 if strip.spots is None else (low + strip.high - 1) // 2
        found = pack(width, cap, kinds, beam, budget, guide)
        if found.whole:
            strip.keep(found.spots)
        else:
            low = cap + 1


def _prove(strip: Strip, width: int, kinds: Sequence[Kind], budget: Budget) -> None:
    """Try every corner under the best so far: either that is lower still, or it is the bound."""
    while strip.spots is not None and not strip.done and sum(k.count for k in kinds) <= PROOF_PIECES:
        found = pack(width, strip.high - 1, kinds, PROOF_BEAM, budget, full=True)
        if found.whole:
            strip.keep(found.spots)
        elif found.sure:
            strip.low = strip.high
        else:
            return
