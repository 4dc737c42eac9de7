"""Rectangles on stock: the one door to nesting."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from lapwright.shop.budget import Budget
from lapwright.shop.nest.engine import Engine, FreeCuts, StraightCuts
from lapwright.shop.nest.exact import Prove
from lapwright.shop.nest.grid import Box, Kind, Spot, box_of, inches, kinds_of, nanometres, step_of
from lapwright.shop.nest.model import BoundOf, Nest, Part, Placed, Sheet, Stock
from lapwright.shop.nest.sheets import Plan, plan_sheets
from lapwright.shop.nest.strip import top_of

EFFORT = 3_000_000
"""Work of one nest: about three seconds of an ordinary machine, less where the bound is reached. [units]"""


def nest(
    parts: Sequence[Part],
    stocks: Sequence[Stock],
    guillotine: bool = False,
    effort: int = EFFORT,
    over: Callable[[], bool] | None = None,
    prove: Prove | None = None,
) -> Nest:
    """Place parts on stock for the least price, then for the least metal used.

    Args:
        parts: What to cut; sizes over 0. [in]
        stocks: What there is. Prices on every row or on none; without prices, sheets or their area are counted.
        guillotine: Only straight cuts from edge to edge, as a shear makes them.
        effort: Work allowed; the answer depends on it and on nothing else. [units]
        over: A clock may end the search early; the answer may then differ from run to run.
        prove: Takes the plan that was found and gives back the best there is (see exact.prover).

    Returns:
        The nest, with a bound that no other can beat and whether it is reached.
    """
    sizes = [x for p in parts for x in (p.width, p.height)]
    step = step_of(sizes)
    every = kinds_of(tuple(parts), step)
    pieces = sum(k.count for k in every)
    boxes = [_box(s, step, pieces, c) for s, c in zip(stocks, _costs(stocks), strict=True)]
    kinds = tuple(k for k in every if any(b.holds(k) and b.limit for b in boxes))
    engine: Engine = StraightCuts() if guillotine else FreeCuts()
    plan = plan_sheets(boxes, kinds, engine, Budget(effort, over))
    if prove is not None and kinds:
        plan = prove(plan, boxes, kinds)
    hands = _Hands(parts, step)
    for box, spots in plan.sheets:
        hands.sheet(stocks[box], spots, kinds)
    bound, what, proved, value = _judged(plan, stocks, boxes, step)
    unplaced = hands.unplaced()
    return Nest(tuple(hands.sheets), unplaced, bound, what, proved and not unplaced, value)


def _box(stock: Stock, step: int, pieces: int, cost: float) -> Box:
    box = box_of(stock, step, pieces, cost)
    # a length is paid for as it is, not as it is rounded down to whole steps
    return replace(box, cost=cost * inches(box.height, step) / stock.height) if stock.by_length else box


def _costs(stocks: Sequence[Stock]) -> list[float]:
    """What one of each costs: its price, or without prices its area; 1 where all sheets are alike."""
    if any(s.price is not None for s in stocks):
        return [s.price or 0.0 for s in stocks]
    return [1.0] if len(stocks) == 1 else [s.width * s.height for s in stocks]


def _judged(
    plan: Plan, stocks: Sequence[Stock], boxes: Sequence[Box], step: int
) -> tuple[float, BoundOf, bool, float]:
    """The bound, what it counts, whether it is reached, and what the answer comes to."""
    priced = any(s.price is not None for s in stocks)
    what: BoundOf = "price" if priced else "sheets" if len(stocks) == 1 else "area"
    cost = plan.cost(boxes)
    least = min(plan.least, cost)
    cheapest = cost <= least + 1e-9 * max(cost, 1.0)
    if plan.low is not None and len(plan.sheets) == 1 and (cheapest or len(boxes) == 1):
        top = top_of(plan.sheets[0][1])
        low = min(plan.low, top)
        return inches(low, step), "used_height", low == top, inches(top, step)
    return least, what, cheapest and not any(plan.left), cost


class _Hands:
    """Gives every spot back the id of a part of its size."""

    def __init__(self, parts: Sequence[Part], step: int) -> None:
        self.parts, self.step = parts, step
        self.sheets: list[Sheet] = []
        self.taken = [0] * len(parts)

    def sheet(self, stock: Stock, spots: Sequence[Spot], kinds: Sequence[Kind]) -> None:
        placed = []
        for kind, x, y, w, h in sorted(spots, key=lambda s: (s[2], s[1])):
            at = next(i for i, n in kinds[kind].parts if self.taken[i] < n)
            self.taken[at] += 1
            part = self.parts[at]
            turned = nanometres(part.width) // self.step != w
            x_, y_, w_, h_ = (inches(v, self.step) for v in (x, y, w, h))
            placed.append(Placed(part.id, x_, y_, w_, h_, turned))
        self.sheets.append(Sheet(stock, tuple(placed)))

    def unplaced(self) -> tuple[tuple[str, int], ...]:
        out = [(p.id, p.quantity - n) for p, n in zip(self.parts, self.taken, strict=True)]
        return tuple((i, n) for i, n in out if n)
