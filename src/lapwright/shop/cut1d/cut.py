"""Pieces from bars: the one door to cutting in one dimension."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from lapwright.shop.budget import Budget
from lapwright.shop.cut1d.columns import Bought, buy_in_part
from lapwright.shop.cut1d.complete import complete
from lapwright.shop.cut1d.fill import best_fit, by_rate, fullest
from lapwright.shop.cut1d.job import Cuts, Job, job_of
from lapwright.shop.cut1d.mixes import cheaper_mixes
from lapwright.shop.cut1d.model import Bar, BoundOf, CutBar, Cutting, Length
from lapwright.shop.nest.bounds import lowest_cost
from lapwright.shop.nest.grid import Box, Kind, inches

EFFORT = 4_000_000
"""Work of one job: about four seconds at most, mostly far less. [units]"""

MOST_TIDIED = 60
"""Bars up to which leftovers are gathered, pair by pair."""


def cut(
    parts: Sequence[Length], bars: Sequence[Bar], effort: int = EFFORT, over: Callable[[], bool] | None = None
) -> Cutting:
    """Cut pieces from bars for the least price; of answers that cost the same, long leftovers before many.

    Args:
        parts: What to cut; lengths over 0. [in]
        bars: What there is. Prices on every row or on none; without prices, bars or their length are counted.
        effort: Work allowed; the answer depends on it and on nothing else. [units]
        over: A clock may end the search early.
    """
    costs = _costs(bars)
    job, lost = job_of(parts, bars, costs)
    what: BoundOf = "price" if any(b.price is not None for b in bars) else "bars" if len(bars) == 1 else "length"
    known = _solve(job, Budget(effort, over)) if job.sizes else _Known(Cuts([]), 0.0, [])
    cuts = _tidied(job, known.cuts)
    value = cuts.cost(job)
    low = min(known.low, value)
    proved = value <= low + 1e-9 * max(value, 1.0) and not any(known.left) and not lost
    shown, unplaced = _named(job, cuts, parts, bars, lost)
    return Cutting(shown, unplaced, value if proved else low, what, proved, value)


def _costs(bars: Sequence[Bar]) -> list[float]:
    if any(b.price is not None for b in bars):
        return [b.price or 0.0 for b in bars]
    return [1.0] if len(bars) == 1 else [b.length for b in bars]


@dataclass(slots=True)
class _Known:
    """The best cuts so far, what no cuts can beat, and per size what found no bar."""

    cuts: Cuts
    low: float
    left: list[int]


def _solve(job: Job, budget: Budget) -> _Known:
    low = _bound(job)
    cuts, left = _quick(job)
    known = _Known(cuts, low, left)
    if any(left):
        _all_of_it(job, known, budget)
        if any(known.left):
            return known
    for share in (0.05, 0.3, 1.0):
        if _same(known.cuts.cost(job), known.low):
            break
        _search(job, known, budget.part(share))
        if share == 0.05 and not _same(known.cuts.cost(job), known.low):
            bought = buy_in_part(job, budget.part(0.5))
            known.low = max(known.low, _whole_cost(job, bought.bound))
            _rounded(job, known, bought, budget)
    return known


def _rounded(job: Job, known: _Known, bought: Bought, budget: Budget) -> None:
    """Take the patterns that were bought as whole bars, more or fewer of them, and cut the rest anew."""
    for least in (1.0, 0.75, 0.5):
        left, limits = list(job.counts), [r.limit for r in job.rods]
        bars: list[tuple[int, list[int]]] = []
        for amount, r, pieces in sorted(bought.patterns, key=lambda p: (-p[0] % 1, p[1:])):
            for _ in range(int(amount + 1 - least + 1e-9)):
                if limits[r] and all(left[i] >= pieces.count(i) for i in pieces):
                    bars.append((r, pieces))
                    limits[r] -= 1
                    for i in pieces:
                        left[i] -= 1
        _with_rest(job, known, (bars, left, limits), budget.part(0.1))


def _with_rest(
    job: Job, known: _Known, begun: tuple[list[tuple[int, list[int]]], list[int], list[int]], budget: Budget
) -> None:
    bars, left, limits = begun
    at = [i for i, n in enumerate(left) if n]
    cuts = Cuts(list(bars))
    if at:
        rods = tuple(replace(r, limit=n) for r, n in zip(job.rods, limits, strict=True))
        rest = Job(tuple(job.sizes[i] for i in at), tuple(left[i] for i in at), rods, job.step)
        quick, missing = _quick(rest)
        if any(missing):
            return
        some = _Known(quick, max(_bound(rest), known.low - cuts.cost(job)), missing)
        _search(rest, some, budget)
        cuts.bars += [(r, [at[i] for i in pieces]) for r, pieces in some.cuts.bars]
    if cuts.score(job) < known.cuts.score(job):
        known.cuts = cuts


def _same(a: float, b: float) -> bool:
    return a <= b + 1e-9 * max(abs(a), 1.0)


def _bound(job: Job) -> float:
    """Room and dual feasible functions, as for sheets one step high."""
    boxes = [Box(r.length, 1, r.limit, r.cost) for r in job.rods if r.limit]
    kinds = [Kind(s, 1, False, n) for s, n in zip(job.sizes, job.counts, strict=True)]
    return _whole_cost(job, lowest_cost(boxes, kinds))


def _whole_cost(job: Job, bound: float) -> float:
    """The next cost that whole bars can come to at all, by the greatest common share of their prices."""
    if math.isinf(bound):
        return bound  # the stock is too little; what is cut of it costs less
    cents = [round(r.cost * 10_000) for r in job.rods]
    if any(abs(c - r.cost * 10_000) > 1e-6 for c, r in zip(cents, job.rods, strict=True)):
        return bound
    share = math.gcd(*cents)
    return math.ceil(bound * 10_000 / share - 1e-6) * share / 10_000 if share else bound


def _quick(job: Job) -> tuple[Cuts, list[int]]:
    """The best of the quick ways; where none places everything, the one that leaves least."""
    whole = [c for r in range(len(job.rods)) if (c := best_fit(job, r)) is not None]
    part = []
    for keep in (True, False):
        cuts, left = by_rate(job, keep)
        if any(left):
            part.append((sum(n * s for n, s in zip(left, job.sizes, strict=True)), cuts, left))
        else:
            whole.append(cuts)
    if whole:
        return min(whole, key=lambda c: c.score(job)), [0] * len(job.sizes)
    _, cuts, left = min(part, key=lambda p: p[0])
    return cuts, left


def _all_of_it(job: Job, known: _Known, budget: Budget) -> None:
    """The stock seems too little: try all of it."""
    found, _ = complete(job, [r.limit for r in job.rods], budget.part(0.4))
    if found is not None:
        known.cuts, known.left = found, [0] * len(job.sizes)


def _search(job: Job, known: _Known, budget: Budget) -> None:
    """Try every cheaper mix of bars, the cheapest first; mixes that are refuted raise the bound."""
    mixes = cheaper_mixes(job, known.low, known.cuts.cost(job))
    if mixes is None:
        return
    sure = True
    for n, (cost, mix) in enumerate(mixes):
        if sure:
            known.low = max(known.low, cost)
        part = budget.part(1 / (len(mixes) - n)) if len(mixes) > 1 else budget
        found, proof = complete(job, mix, part)
        if found is not None:
            known.cuts = found
            return
        sure = sure and proof
        if budget.left <= 0:
            return
    if sure:
        known.low = known.cuts.cost(job)


def _tidied(job: Job, cuts: Cuts) -> Cuts:
    """Gather what is over: of every two bars one is filled as full as it goes, while that makes longer leftovers."""
    bars = [(r, list(p)) for r, p in cuts.bars]
    better = len(bars) <= MOST_TIDIED
    while better:
        better = False
        for a, b in combinations(range(len(bars)), 2):
            for one, two in ((a, b), (b, a)):
                changed = _refilled(job, bars[one], bars[two])
                if changed is not None:
                    (bars[one], bars[two]), better = changed, True
    kept = [(r, sorted(p)) for r, p in bars if p]
    return Cuts(sorted(kept, key=lambda bar: (bar[1], bar[0])))


_CutBar = tuple[int, list[int]]


def _refilled(job: Job, one: _CutBar, two: _CutBar) -> tuple[_CutBar, _CutBar] | None:
    """Fill the first as full as it goes from both; None where the second cannot take the rest or nothing is won."""
    whole, other = job.rods[one[0]].length, job.rods[two[0]].length
    pieces = sorted(one[1] + two[1])
    total = sum(job.sizes[i] for i in pieces)
    was = [whole - sum(job.sizes[i] for i in one[1]), other - sum(job.sizes[i] for i in two[1])]
    names = sorted(set(pieces))
    counts = [pieces.count(i) for i in names]
    filled = [names[i] for i in fullest([job.sizes[i] for i in names], counts, whole)]
    size = sum(job.sizes[i] for i in filled)
    now = [whole - size, other - (total - size)]
    if now[1] < 0 or sum(x * x for x in now) <= sum(x * x for x in was):
        return None
    rest = list(pieces)
    for i in filled:
        rest.remove(i)
    return (one[0], filled), (two[0], rest)


def _named(
    job: Job, cuts: Cuts, parts: Sequence[Length], bars: Sequence[Bar], lost: Sequence[int]
) -> tuple[tuple[CutBar, ...], tuple[tuple[str, int], ...]]:
    """Sizes back to the ids they came from."""
    taken = [0] * len(parts)
    out = []
    for r, pieces in cuts.bars:
        ids = []
        for i in pieces:
            at = next(at for at, n in job.parts[i] if taken[at] < n)
            taken[at] += 1
            ids.append(parts[at].id)
        left = bars[r].length - inches(sum(job.sizes[i] for i in pieces), job.step)
        out.append(CutBar(bars[r], tuple(ids), max(left, 0.0)))
    missing = tuple((p.id, p.quantity - n) for p, n in zip(parts, taken, strict=True) if p.quantity > n)
    return tuple(out), missing
