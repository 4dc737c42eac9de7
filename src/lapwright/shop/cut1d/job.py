"""A cutting job in whole steps, and an answer to it. All lengths in steps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lapwright.shop.cut1d.model import Bar, Length
from lapwright.shop.nest.grid import SLACK, nanometres, step_of


@dataclass(frozen=True, slots=True)
class Rod:
    """One row of the stock, in steps, rounded down. cost: of one; limit: how many there are."""

    length: int
    limit: int
    cost: float


@dataclass(frozen=True, slots=True)
class Job:
    """sizes: longest first, each once; counts: how many of each; parts: (place in the list, how many) of each."""

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    rods: tuple[Rod, ...]
    step: int
    parts: tuple[tuple[tuple[int, int], ...], ...] = ()

    @property
    def total(self) -> int:
        """All pieces in a row. [steps]"""
        return sum(s * n for s, n in zip(self.sizes, self.counts, strict=True))

    def pieces(self) -> list[int]:
        """A size's number for every piece, longest first."""
        return [i for i, n in enumerate(self.counts) for _ in range(n)]


@dataclass(slots=True)
class Cuts:
    """Bars as (row of the stock, sizes' numbers)."""

    bars: list[tuple[int, list[int]]]

    def cost(self, job: Job) -> float:
        """What the bars cost."""
        return sum(job.rods[r].cost for r, _ in self.bars)

    def lefts(self, job: Job) -> list[int]:
        """What is over of each bar. [steps]"""
        return [job.rods[r].length - sum(job.sizes[i] for i in pieces) for r, pieces in self.bars]

    def score(self, job: Job) -> tuple[float, int, int]:
        """Lower is better: cost; then few long leftovers rather than many short ones (their squares)."""
        lefts = self.lefts(job)
        return round(self.cost(job), 9), -sum(x * x for x in lefts), sum(1 for x in lefts if x)


def job_of(parts: Sequence[Length], bars: Sequence[Bar], costs: Sequence[float]) -> tuple[Job, tuple[int, ...]]:
    """Turn lists into a job.

    Args:
        parts: Lengths over 0. [in]
        bars: The stock.
        costs: Of one bar of each row.

    Returns:
        The job, of what fits some bar; and the places in the list of what fits none.
    """
    step = step_of(p.length for p in parts)
    total = sum(p.quantity for p in parts)
    rods = tuple(
        Rod((nanometres(b.length) + SLACK) // step, total if b.quantity is None else min(b.quantity, total), c)
        for b, c in zip(bars, costs, strict=True)
    )
    longest = max((r.length for r in rods if r.limit), default=0)
    found: dict[int, list[tuple[int, int]]] = {}
    lost = []
    for at, p in enumerate(parts):
        size = nanometres(p.length) // step
        if size > longest:
            lost.append(at)
        elif p.quantity:
            found.setdefault(size, []).append((at, p.quantity))
    sizes = sorted(found, reverse=True)
    counts = tuple(sum(n for _, n in found[s]) for s in sizes)
    return Job(tuple(sizes), counts, rods, step, tuple(tuple(found[s]) for s in sizes)), tuple(lost)
