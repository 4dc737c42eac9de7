"""Which bars to buy: every mix of stock lengths that is long enough and costs less than the answer at hand."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.shop.cut1d.job import Job

MOST = 3_000
"""Mixes beyond which no list is made."""

MOST_LOOKS = 60_000
"""Beginnings of mixes that are looked at before the list is given up."""

Mix = tuple[int, ...]


def cheaper_mixes(job: Job, least: float, below: float) -> list[tuple[float, Mix]] | None:
    """Mixes of bars with room for all pieces, from `least` up to less than `below`, the cheapest first.

    Args:
        job: Pieces and stock; the cost is in the stock's own prices.
        least: No answer costs less.
        below: What the answer at hand costs.

    Returns:
        (cost, how many of each row) in order of cost, then of length; None where there are too many.
    """
    out = []
    for mix in _mixes(job, below):
        cost = sum(n * r.cost for n, r in zip(mix, job.rods, strict=True))
        if not mix:
            return None
        if cost >= least - 1e-9 * max(below, 1.0):
            out.append((cost, mix))
        if len(out) > MOST:
            return None
    return sorted(out, key=lambda m: (round(m[0], 9), -_length(job, m[1]), m[1]))


def _length(job: Job, mix: Mix) -> int:
    return sum(n * r.length for n, r in zip(mix, job.rods, strict=True))


def _mixes(job: Job, below: float) -> Iterator[Mix]:
    rows, step = job.rods, 1e-9 * max(below, 1.0)
    pieces = sum(job.counts)
    stack: list[tuple[Mix, float, int, int]] = [((), 0.0, job.total, 0)]
    looks = 0
    while stack:
        looks += 1
        if looks > MOST_LOOKS:
            yield ()  # too many
            return
        mix, cost, missing, bars = stack.pop()
        at = len(mix)
        if at == len(rows):
            if missing <= 0:
                yield mix
            continue
        row = rows[at]
        most = min(row.limit, pieces - bars)
        if row.cost > 0:
            most = min(most, int((below - step - cost) / row.cost + 1e-9))
        for n in range(most, -1, -1):
            spent = cost + n * row.cost
            # what is still missing costs at least the best rate of the rows to come
            rate = min((r.cost / r.length for r in rows[at + 1 :]), default=0.0)
            short = max(missing - n * row.length, 0)
            if spent + rate * short < below - step:
                stack.append(((*mix, n), spent, missing - n * row.length, bars + n))
