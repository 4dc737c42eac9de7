"""The best bound on the price of bars: patterns are bought in part, and new ones are made while they pay.

A row for every size (as many as asked) and for every limited row of the stock (no more than there are).
Source: Gilmore and Gomory, Operations Research 9 (1961) and 11 (1963); the bound of an unfinished round: Farley,
Operations Research 38 (1990); from memory.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from importlib import import_module
from typing import Any

from lapwright.shop.budget import Budget
from lapwright.shop.cut1d.job import Job, Rod

MOST_STEPS = 200_000
"""A bar of more steps than this is too fine for the table of values."""

MOST_ROUNDS = 500
PAYS = 1e-7
"""A pattern must save this share of its price to be new. [-]"""


@dataclass(slots=True)
class Bought:
    """bound: no answer costs less (0: none found). patterns: (how many, row of the stock, sizes' numbers)."""

    bound: float = 0.0
    patterns: list[tuple[float, int, list[int]]] = field(default_factory=list)


def buy_in_part(job: Job, budget: Budget) -> Bought:
    """Buy patterns in part, for the least price.

    Args:
        job: Pieces and stock; at least one row of it costs something and is not limited.
        budget: Work allowed.
    """
    scarce = [r for r, rod in enumerate(job.rods) if rod.limit < sum(job.counts)]
    plenty = [r for r, rod in enumerate(job.rods) if rod.limit >= sum(job.counts) and rod.length >= job.sizes[0]]
    longest = max(r.length for r in job.rods)
    if longest > MOST_STEPS or not plenty or min(job.rods[r].cost for r in plenty) <= 0:
        return Bought()
    return _Master(job, scarce, plenty).run(budget)


class _Master:
    def __init__(self, job: Job, scarce: list[int], plenty: list[int]) -> None:
        self.np: Any = import_module("numpy")  # a tenth of a second, paid only here
        self.job, self.scarce = job, scarce
        m = len(job.sizes)
        n = m + len(scarce)
        self.need = self.np.array([*job.counts, *(job.rods[r].limit for r in scarce)], dtype=float)
        self.basis, self.costs = self.np.eye(n), self.np.zeros(n)
        self.columns: list[tuple[int, list[int]] | None] = [None] * n
        rates = {r: job.rods[r] for r in plenty}
        for i, size in enumerate(job.sizes):
            r = min(rates, key=lambda r: rates[r].cost / min(rates[r].length // size, job.counts[i]))
            count = min(rates[r].length // size, job.counts[i])
            self.basis[i, i], self.costs[i] = count, rates[r].cost
            self.columns[i] = (r, [i] * count)

    def run(self, budget: Budget) -> Bought:
        """Round after round a pattern comes in and another goes."""
        np, m, out = self.np, len(self.job.sizes), Bought()
        longest = max(r.length for r in self.job.rods)
        for _ in range(MOST_ROUNDS):
            try:
                amounts = np.linalg.solve(self.basis, self.need)
                duals = np.linalg.solve(self.basis.T, self.costs)
            except np.linalg.LinAlgError:
                return out
            worth = np.maximum(duals[:m], 0.0)
            values = self._values(worth)
            out.bound = max(out.bound, self._bound(worth, values))
            out.patterns = [(float(a), *c) for a, c in zip(amounts, self.columns, strict=True) if c and a > 1e-9]
            spent = len(self.job.sizes) * (longest // 100 + 50)
            if not budget.spend(spent) or not self._enter(values, duals, amounts):
                return out
        return out

    def _values(self, worth: Any) -> list[tuple[float, list[int]]]:
        """For each row of the stock, the pattern with the most worth."""
        np, job = self.np, self.job
        longest = max(r.length for r in job.rods)
        value = np.zeros(longest + 1)
        taken: list[tuple[int, Any]] = []
        for i, size in enumerate(job.sizes):
            for _ in range(min(job.counts[i], longest // size)):
                better = value[:-size] + worth[i]
                use = better > value[size:] + 1e-12
                if not use.any():
                    break
                value[size:] = np.where(use, better, value[size:])
                taken.append((i, use))
        return [(float(value[r.length]), _traced(job, taken, r)) for r in job.rods]

    def _bound(self, worth: Any, values: list[tuple[float, list[int]]]) -> float:
        """Worth that no pattern of plentiful bars exceeds, less what the scarce bars could save."""
        rods, m = self.job.rods, len(self.job.sizes)
        scale = max([1.0, *(values[r][0] / rods[r].cost for r in range(len(rods)) if r not in self.scarce)])
        saved = sum(rods[r].limit * max(0.0, values[r][0] / scale - rods[r].cost) for r in self.scarce)
        return float(worth @ self.need[:m]) / scale - saved

    def _enter(self, values: list[tuple[float, list[int]]], duals: Any, amounts: Any) -> bool:
        """Bring in the pattern that saves most. Returns: was there one?"""
        np, m, rods = self.np, len(self.job.sizes), self.job.rods
        fee = {r: float(duals[m + k]) for k, r in enumerate(self.scarce)}
        gains = [(values[r][0] + min(fee.get(r, 0.0), 0.0) - rod.cost, -r) for r, rod in enumerate(rods) if rod.limit]
        gain, r = max(gains)
        if gain <= PAYS * max(rods[-r].cost, 1.0):
            return False
        column = np.zeros(len(self.need))
        for i in values[-r][1]:
            column[i] += 1
        if -r in fee:
            column[m + self.scarce.index(-r)] = 1
        way = np.linalg.solve(self.basis, column)
        rows = np.where(way > 1e-9)[0]
        if not len(rows):
            return False
        leaving = int(rows[np.argmin(amounts[rows] / way[rows])])
        self.basis[:, leaving], self.costs[leaving] = column, rods[-r].cost
        self.columns[leaving] = (-r, values[-r][1])
        return True


def _traced(job: Job, taken: list[tuple[int, Any]], rod: Rod) -> list[int]:
    """The sizes' numbers that make up the best value of one length."""
    at, out = rod.length, []
    for i, use in reversed(taken):
        size = job.sizes[i]
        if at >= size and use[at - size]:
            out.append(i)
            at -= size
    return sorted(out)
