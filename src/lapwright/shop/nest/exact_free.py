"""The least by free cuts, proved by a constraint solver (the extra `exact`): one worker, one seed, counted work.

Every rectangle has a place x, y, may lie turned, and lies on one sheet; no two overlap. One sheet that is as cheap as
any is packed as low as it goes; else the price of the sheets that are begun is made least.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from lapwright.shop.nest.bounds import lowest_height
from lapwright.shop.nest.exact import NotExact
from lapwright.shop.nest.grid import Box, Kind, Spot
from lapwright.shop.nest.sheets import SAME_COST, Plan
from lapwright.shop.nest.strip import top_of

WORK = 60.0
"""The solver's own measure of work, near seconds. House rule. [-]"""
SEED = 1
LARGEST = 1 << 60
"""Areas beyond this are more than the solver counts. [steps2]"""
WHOLE = 1e-6
"""A bound this little over a whole number is that number. [-]"""
MONEY = 10_000
"""Prices are counted in ten-thousandths. [-]"""


def prove_free(plan: Plan, boxes: Sequence[Box], kinds: Sequence[Kind], seconds: float | None = None) -> Plan:
    """The best plan there is, or `plan` with the best bound that was found.

    Args:
        plan: What the heuristics found.
        boxes: The stock.
        kinds: A handful of rectangles.
        seconds: A clock; None for a fixed amount of work. [s]

    Raises:
        NotExact: the solver is not installed, or the sizes have no common step it can count in.
    """
    if not plan.sheets:
        return plan
    if len(boxes) > 1 or len(plan.sheets) > 1 or any(plan.left):
        plan = _as_cheap_as_it_goes(plan, boxes, kinds, seconds)
    cheapest = plan.cost(boxes) <= plan.least * (1 + SAME_COST) or len(boxes) == 1
    if cheapest and len(plan.sheets) == 1 and not any(plan.left):
        return _as_low_as_it_goes(plan, boxes, kinds, seconds)
    return plan


def _as_low_as_it_goes(plan: Plan, boxes: Sequence[Box], kinds: Sequence[Kind], seconds: float | None) -> Plan:
    b, spots = plan.sheets[0]
    top = top_of(spots)
    low = max(plan.low or 0, lowest_height(boxes[b].width, kinds))
    if low < top:
        found = _Model([(b, boxes[b].width, top)], kinds).solve_height(low, top, seconds)
        if found.spots is not None and top_of(found.spots[0][1]) < top:
            plan.sheets = [(b, found.spots[0][1])]
        low = max(low, found.bound)
    plan.low = min(low, top_of(plan.sheets[0][1]))
    return plan


def _as_cheap_as_it_goes(plan: Plan, boxes: Sequence[Box], kinds: Sequence[Kind], seconds: float | None) -> Plan:
    longest = sum(max(k.width, k.height) * k.count for k in kinds)
    pieces = sum(k.count for k in kinds)
    rows = [
        (i, box.width, min(box.height, longest)) for i, box in enumerate(boxes) for _ in range(min(box.limit, pieces))
    ]
    found = _Model(rows, kinds).solve_cost(boxes, seconds)
    if found.spots is not None:
        other = Plan(found.spots, [0] * len(kinds), None, plan.least)
        if other.score(boxes, kinds) < plan.score(boxes, kinds):
            plan = other
    if not any(plan.left):
        plan.least = min(max(plan.least, found.bound / MONEY), plan.cost(boxes))
    return plan


@dataclass(slots=True)
class _Found:
    """Sheets as (row of the stock, spots), none where none were found; what nothing beats."""

    spots: list[tuple[int, tuple[Spot, ...]]] | None
    bound: int


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a rectangle lies: near corner, width and height as it lies, far corner; the solver's own numbers."""

    x: Any
    y: Any
    w: Any
    h: Any
    far_x: Any
    far_y: Any


class _Model:
    """The rectangles and the sheets as the solver sees them. rows: row of the stock, width, height. [steps]"""

    def __init__(self, rows: Sequence[tuple[int, int, int]], kinds: Sequence[Kind]) -> None:
        try:
            from ortools.sat.python import cp_model
        except ImportError as missing:
            raise NotExact("nest.exact_missing") from missing
        if any(w * h * sum(k.count for k in kinds) > LARGEST for _, w, h in rows):
            raise NotExact("nest.exact_step")
        self.cp, self.rows = cp_model, rows
        self.model = cp_model.CpModel()
        self.items = [(n, kind) for n, kind in enumerate(kinds) for _ in range(kind.count)]
        self.places = [self._place(kind) for _, kind in self.items]
        self.on = [[self._lies_on(i, kind, row) for row in rows] for i, (_, kind) in enumerate(self.items)]
        for i in range(len(self.items)):
            self.model.add_exactly_one(self.on[i])
        for r, (_, width, height) in enumerate(rows):
            self._apart(r, width, height)
        self._alike()

    def _place(self, kind: Kind) -> _Place:
        wide, high = max(w for _, w, _ in self.rows), max(h for _, _, h in self.rows)
        x, y, far_x, far_y = (self.model.new_int_var(0, most, "") for most in (wide, high, wide, high))
        w: Any = kind.width
        h: Any = kind.height
        if len(kind.ways()) == 2:
            turned = self.model.new_bool_var("")
            w, h = w + (kind.height - kind.width) * turned, h - (kind.height - kind.width) * turned
        self.model.add(x + w == far_x)
        self.model.add(y + h == far_y)
        return _Place(x, y, w, h, far_x, far_y)

    def _lies_on(self, i: int, kind: Kind, row: tuple[int, int, int]) -> Any:
        on = self.model.new_bool_var("")
        _, width, height = row
        if all(a > width or b > height for a, b in kind.ways()):
            self.model.add(on == 0)
        self.model.add(self.places[i].far_x <= width).only_enforce_if(on)
        self.model.add(self.places[i].far_y <= height).only_enforce_if(on)
        return on

    def _apart(self, r: int, width: int, height: int) -> None:
        """No two overlap on this sheet; nor do their shadows add up to more than its sides."""
        across, along, wide, high = [], [], [], []
        for i, p in enumerate(self.places):
            on = self.on[i][r]
            across.append(self.model.new_optional_interval_var(p.x, p.w, p.far_x, on, ""))
            along.append(self.model.new_optional_interval_var(p.y, p.h, p.far_y, on, ""))
            wide.append(p.w)
            high.append(p.h)
        self.model.add_no_overlap_2d(across, along)
        self.model.add_cumulative(along, wide, width)
        self.model.add_cumulative(across, high, height)

    def _alike(self) -> None:
        """Of rectangles alike, and of sheets alike, one order is enough."""
        for i in range(1, len(self.items)):
            if self.items[i][0] == self.items[i - 1][0]:
                here, before = ([r * on for r, on in enumerate(self.on[k])] for k in (i, i - 1))
                if len(self.rows) > 1:
                    self.model.add(sum(before) <= sum(here))
                else:
                    self.model.add(self.places[i - 1].y <= self.places[i].y)
        self.used = [self.model.new_bool_var("") for _ in self.rows]
        for r in range(len(self.rows)):
            self.model.add_max_equality(self.used[r], [on[r] for on in self.on])
            if r and self.rows[r] == self.rows[r - 1]:
                self.model.add(self.used[r] <= self.used[r - 1])

    def solve_height(self, low: int, top: int, seconds: float | None) -> _Found:
        """The least height on one sheet, no lower than `low`, no higher than `top`. [steps]"""
        height = self.model.new_int_var(low, top, "")
        for p in self.places:
            self.model.add(p.far_y <= height)
        self.model.minimize(height)
        return self._solved(seconds)

    def solve_cost(self, boxes: Sequence[Box], seconds: float | None) -> _Found:
        """The least price of the sheets begun, in ten-thousandths; by length as far as they are used."""
        terms = []
        for r, (b, _, height) in enumerate(self.rows):
            box = boxes[b]
            if not box.by_length:
                terms.append(round(box.cost * MONEY) * self.used[r])
                continue
            top = self.model.new_int_var(0, height, "")
            for i, p in enumerate(self.places):
                self.model.add(p.far_y <= top).only_enforce_if(self.on[i][r])
            price = self.model.new_int_var(0, round(box.cost * MONEY) + 1, "")
            # price >= cost * top / height, in whole numbers
            self.model.add(price * box.height >= round(box.cost * MONEY) * top)
            terms.append(price)
        self.model.minimize(sum(terms))
        return self._solved(seconds)

    def _spot(self, i: int, value: Callable[[Any], int]) -> Spot:
        p = self.places[i]
        return self.items[i][0], value(p.x), value(p.y), value(p.w), value(p.h)

    def _solved(self, seconds: float | None) -> _Found:
        solver = self.cp.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = SEED
        if seconds is None:
            solver.parameters.max_deterministic_time = WORK
        else:
            solver.parameters.max_time_in_seconds = seconds
        status = solver.solve(self.model)
        if status not in (self.cp.OPTIMAL, self.cp.FEASIBLE):
            return _Found(None, 0)
        sheets: list[tuple[int, tuple[Spot, ...]]] = []
        for r, (b, _, _) in enumerate(self.rows):
            here = [i for i in range(len(self.items)) if solver.value(self.on[i][r])]
            if here:
                sheets.append((b, tuple(self._spot(i, solver.value) for i in here)))
        return _Found(sheets, math.ceil(solver.best_objective_bound - WHOLE))
