"""Bin completion: can all pieces be cut from these bars? Every way to finish the bar of the longest piece is tried.

A bar is finished when nothing that is left would still fit it, and when all bars together do not waste more than
there is to spare; what has failed once is not tried again.

Source: Korf, A new algorithm for optimal bin packing, AAAI 2002, from memory; here with bars of several lengths.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lapwright.shop.budget import Budget
from lapwright.shop.cut1d.job import Cuts, Job

MOST_KNOWN = 300_000
"""Failed remainders that are remembered."""

MOST_WAYS = 4_000
"""Ways to finish one bar; with more of them the search goes on, but proves nothing."""

DEEPEST = 500
"""A bar with more pieces than this is not searched."""

_Way = tuple[int, int, list[int]]
"""What is over [steps], the row of the stock, the sizes' numbers."""


def complete(job: Job, bars: Sequence[int], budget: Budget) -> tuple[Cuts | None, bool]:
    """Cut everything from so many bars of each row of the stock.

    Args:
        job: Pieces and stock.
        bars: How many of each row.
        budget: Work allowed.

    Returns:
        The cuts or None; and whether None is a proof that it cannot be done.
    """
    spare = sum(n * r.length for n, r in zip(bars, job.rods, strict=True)) - job.total
    if spare < 0:
        return None, True
    if max(r.length for r in job.rods) // job.sizes[-1] > DEEPEST:
        return None, False
    search = _Search(job, list(bars), budget)
    found = search.run(spare)
    return (None, search.sure) if found is None else (Cuts(found), True)


class _Search:
    def __init__(self, job: Job, bars: list[int], budget: Budget) -> None:
        self.job, self.sizes, self.bars, self.budget = job, job.sizes, bars, budget
        self.left = list(job.counts)
        self.failed: set[tuple[int, ...]] = set()
        self.sure = True
        self.looks = self.most = 0

    def run(self, spare: int) -> list[tuple[int, list[int]]] | None:
        """Depth first, without recursion: a stack of the ways to finish one bar after another."""
        done: list[_Way] = []
        spares = [spare]
        ways = [self._ways(spare)]
        while ways:
            way = next(ways[-1], None)
            if not self.budget.spend(4):
                self.sure = False
                return None
            if way is None:
                ways.pop()
                spares.pop()
                if len(self.failed) < MOST_KNOWN:
                    self.failed.add((*self.left, *self.bars))
                if done:
                    self._put_back(done.pop())
                continue
            self._take(way)
            done.append(way)
            if not any(self.left):
                return [(r, bar) for _, r, bar in done]
            if (*self.left, *self.bars) in self.failed:
                self._put_back(done.pop())
                continue
            spares.append(spares[-1] - way[0])
            ways.append(self._ways(spares[-1]))
        return None

    def _take(self, way: _Way) -> None:
        self.bars[way[1]] -= 1
        for i in way[2]:
            self.left[i] -= 1

    def _put_back(self, way: _Way) -> None:
        self.bars[way[1]] += 1
        for i in way[2]:
            self.left[i] += 1

    def _ways(self, spare: int) -> Iterator[_Way]:
        """Every finished bar with the longest piece that is left, the least waste first."""
        first = next(i for i, n in enumerate(self.left) if n)
        found: list[_Way] = []
        self.looks, self.most = 0, self.budget.left
        for r, n in enumerate(self.bars):
            room = self.job.rods[r].length - self.sizes[first]
            if n and room >= 0:
                counts = self.left.copy()
                counts[first] -= 1
                smallest = max((i for i, n in enumerate(counts) if n), default=-1)
                self._finish(first, room, counts, [first], (r, spare, smallest), found)
        self.budget.spend(2 * self.looks)
        found.sort(key=lambda f: (f[0], len(f[2]), f[1], f[2]))
        return iter(found)

    def _finish(
        self, at: int, room: int, counts: list[int], bar: list[int], rest: tuple[int, int, int], found: list[_Way]
    ) -> None:
        """Take more pieces, longest first, none longer than the last; keep what wastes little enough."""
        r, spare, smallest = rest
        self.looks += 1
        if self.looks > self.most or len(found) >= MOST_WAYS:
            self.sure = False
            return
        while smallest >= 0 and not counts[smallest]:
            smallest -= 1
        if smallest < 0 or room < self.sizes[smallest]:
            if room <= spare:
                found.append((room, r, list(bar)))
            return
        for i in range(at, smallest + 1):
            if counts[i] and self.sizes[i] <= room:
                counts[i] -= 1
                bar.append(i)
                self._finish(i, room - self.sizes[i], counts, bar, (r, spare, smallest), found)
                bar.pop()
                counts[i] += 1
