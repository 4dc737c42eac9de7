"""Which sheets to take: one that holds everything where there is one, else sheet by sheet at the least rate.

Price first, then the metal used up to the highest cut of each sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from lapwright.shop.budget import Budget
from lapwright.shop.dice import Dice
from lapwright.shop.nest.bounds import lowest_cost
from lapwright.shop.nest.engine import Engine
from lapwright.shop.nest.grid import Box, Kind, Spot
from lapwright.shop.nest.strip import top_of

SAME_COST = 1e-9
"""Costs this close, as a share, are the same. [-]"""

ONE_SHEET = 0.75
"""Share of the budget for everything on one sheet. [-]"""

MOST_ROUNDS = 400

TIDY = 15
"""One part in so many of the work is kept for packing the chosen sheets low. House rule. [-]"""


@dataclass(slots=True)
class Plan:
    """Sheets as (box, spots); left: per kind, how many found no place. low: of one sheet, a bound on its height.

    least: what no nest costs less than.
    """

    sheets: list[tuple[int, tuple[Spot, ...]]] = field(default_factory=list)
    left: list[int] = field(default_factory=list)
    low: int | None = None
    least: float = 0.0

    def cost(self, boxes: Sequence[Box]) -> float:
        """What the sheets cost."""
        return sum(cost_of(boxes[b], spots) for b, spots in self.sheets)

    def score(self, boxes: Sequence[Box], kinds: Sequence[Kind]) -> tuple[int, float, int]:
        """Lower is better: area not placed, cost, area used."""
        missing = sum(n * k.area for n, k in zip(self.left, kinds, strict=True))
        used = sum(boxes[b].width * top_of(spots) for b, spots in self.sheets)
        return missing, round(self.cost(boxes), 9), used


def cost_of(box: Box, spots: Sequence[Spot]) -> float:
    """What one sheet costs, cut so."""
    return box.cost * top_of(spots) / box.height if box.by_length else box.cost


def plan_sheets(boxes: Sequence[Box], kinds: Sequence[Kind], engine: Engine, budget: Budget) -> Plan:
    """Choose the sheets and place the rectangles.

    Args:
        boxes: The stock.
        kinds: Each fits at least one box.
        engine: The way to cut.
        budget: Work allowed.
    """
    if not kinds:
        return Plan()
    least = lowest_cost(boxes, kinds)
    spare = budget.left // TIDY
    best = _on_one(boxes, kinds, engine, budget.part(ONE_SHEET))
    if best is not None and (best.cost(boxes) <= least * (1 + SAME_COST) or len(boxes) == 1):
        best.least = least
        return best
    for n in range(MOST_ROUNDS):
        tried = _round(boxes, kinds, engine, budget, Dice(n) if n else None)
        if best is None or tried.score(boxes, kinds) < best.score(boxes, kinds):
            best = tried
        done = not any(best.left) and best.cost(boxes) <= least * (1 + SAME_COST) and n >= 8
        if done or budget.left <= 0:
            break
    assert best is not None
    best.least = least
    return _tightened(best, boxes, kinds, engine, budget, spare)


def _on_one(boxes: Sequence[Box], kinds: Sequence[Kind], engine: Engine, budget: Budget) -> Plan | None:
    """Everything on a single sheet, the cheapest that holds it; None where none was found."""
    area = sum(k.area * k.count for k in kinds)
    best: Plan | None = None
    for i in sorted(range(len(boxes)), key=lambda i: (boxes[i].by_length, boxes[i].cost, i)):
        box = boxes[i]
        if area > box.width * box.height or not box.limit or not all(box.holds(k) for k in kinds):
            continue
        if best is not None and not box.by_length and box.cost > best.cost(boxes):
            continue
        strip = engine.strip(box.width, box.height, kinds, budget.part(0.9 if best is None else 0.5))
        if strip.spots is None:
            continue
        plan = Plan([(i, strip.spots)], [0] * len(kinds), strip.low)
        if best is None or plan.score(boxes, kinds) < best.score(boxes, kinds):
            best = plan
    return best


def _round(boxes: Sequence[Box], kinds: Sequence[Kind], engine: Engine, budget: Budget, dice: Dice | None) -> Plan:
    """Sheet by sheet: each time the one whose placed area costs least."""
    plan = Plan([], [k.count for k in kinds])
    limits = [b.limit for b in boxes]
    while any(plan.left):
        options = [
            (i, spots)
            for i in range(len(boxes))
            if limits[i] and (spots := _filled(boxes[i], kinds, plan.left, engine, budget, dice))
        ]
        if not options:
            break
        chosen = min(options, key=lambda o: (_rate(boxes[o[0]], o[1]), -_area(o[1]), o[0]))
        last = [o for o in options if len(o[1]) == sum(plan.left)]
        if last:
            cheapest = min(last, key=lambda o: (cost_of(boxes[o[0]], o[1]), _used(boxes[o[0]], o[1]), o[0]))
            if cost_of(boxes[cheapest[0]], cheapest[1]) <= cost_of(boxes[chosen[0]], chosen[1]) * (1 + SAME_COST):
                chosen = cheapest
        plan.sheets.append(chosen)
        limits[chosen[0]] -= 1
        for spot in chosen[1]:
            plan.left[spot[0]] -= 1
    return plan


def _area(spots: Sequence[Spot]) -> int:
    return sum(w * h for _, _, _, w, h in spots)


def _used(box: Box, spots: Sequence[Spot]) -> int:
    return box.width * top_of(spots)


def _rate(box: Box, spots: Sequence[Spot]) -> float:
    return cost_of(box, spots) / _area(spots)


def _filled(
    box: Box, kinds: Sequence[Kind], left: Sequence[int], engine: Engine, budget: Budget, dice: Dice | None
) -> tuple[Spot, ...]:
    """Fill one sheet with what is left and fits; numbers of kinds are those of the whole list."""
    mine = [i for i, n in enumerate(left) if n and box.holds(kinds[i])]
    if not mine:
        return ()
    some = [replace(kinds[i], count=left[i]) for i in mine]
    return tuple((mine[s[0]], *s[1:]) for s in engine.fill(box.width, box.height, some, budget, dice))


def _tightened(
    plan: Plan, boxes: Sequence[Box], kinds: Sequence[Kind], engine: Engine, budget: Budget, spare: int
) -> Plan:
    """Pack each sheet as low as it goes, so that the offcut is large and in one piece. spare: work kept for it."""
    share = max(budget.left, spare) // max(len(plan.sheets), 1)
    sheets = []
    for b, spots in plan.sheets:
        counts: dict[int, int] = {}
        for s in spots:
            counts[s[0]] = counts.get(s[0], 0) + 1
        mine = sorted(counts)
        some = [replace(kinds[i], count=counts[i]) for i in mine]
        top = top_of(spots)
        strip = engine.strip(boxes[b].width, top - 1, some, Budget(share, budget.over))
        if strip.spots is not None:
            spots = tuple((mine[s[0]], *s[1:]) for s in strip.spots)
        sheets.append((b, spots))
    return Plan(sheets, plan.left, None, plan.least)
