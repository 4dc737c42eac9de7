"""Quick cutting: best fit, and bars filled as full as they go. All lengths in steps."""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.shop.cut1d.job import Cuts, Job


def best_fit(job: Job, rod: int, order: Sequence[int] | None = None) -> Cuts | None:
    """The longest first, each into the fullest bar that takes it, from one row of the stock.

    Args:
        job: Pieces and stock.
        rod: The row of the stock.
        order: Sizes in another order than longest first, one entry per piece.

    Returns:
        The cuts; None where the stock runs out or a piece is too long for it.
    """
    whole, limit = job.rods[rod].length, job.rods[rod].limit
    rooms: list[int] = []
    bars: list[list[int]] = []
    for i in order if order is not None else job.pieces():
        size = job.sizes[i]
        if size > whole:
            return None
        at = min((b for b in range(len(bars)) if rooms[b] >= size), key=lambda b: (rooms[b], b), default=None)
        if at is None:
            if len(bars) == limit:
                return None
            bars.append([])
            rooms.append(whole)
            at = len(bars) - 1
        bars[at].append(i)
        rooms[at] -= size
    return Cuts([(rod, bar) for bar in bars])


def fullest(sizes: Sequence[int], counts: Sequence[int], whole: int, first: int | None = None) -> list[int]:
    """The pieces that fill a bar as full as it goes, long pieces before short ones where it is the same.

    Args:
        sizes: Longest first. [steps]
        counts: How many of each there are.
        whole: Length of the bar. [steps]
        first: A size that must be in it.

    Source: subset sums as the bits of one number.
    """
    left = list(counts)
    out: list[int] = []
    if first is not None:
        left[first] -= 1
        whole -= sizes[first]
        out.append(first)
    order = [i for i in range(len(sizes) - 1, -1, -1) for _ in range(min(left[i], whole // sizes[i]))]
    mask = (1 << (whole + 1)) - 1
    sums = [1]
    for i in order:
        sums.append((sums[-1] | sums[-1] << sizes[i]) & mask)
    at = sums[-1].bit_length() - 1
    for n in range(len(order) - 1, -1, -1):
        i = order[n]
        # a long piece stands late in the order, so it is taken where it can be
        if at >= sizes[i] and sums[n] >> (at - sizes[i]) & 1:
            out.append(i)
            at -= sizes[i]
    return sorted(out)


def by_rate(job: Job, keep_longest: bool) -> tuple[Cuts, list[int]]:
    """Bar by bar, each time the row of the stock whose filled length costs least.

    Args:
        job: Pieces and stock.
        keep_longest: Every bar must hold the longest piece that is left and fits it.

    Returns:
        The cuts, and per size how many are left when the stock has run out.
    """
    left = list(job.counts)
    limits = [r.limit for r in job.rods]
    bars: list[tuple[int, list[int]]] = []
    while any(left):
        options = []
        for r, rod in enumerate(job.rods):
            longest = next((i for i, n in enumerate(left) if n and job.sizes[i] <= rod.length), None)
            if not limits[r] or longest is None:
                continue
            pieces = fullest(job.sizes, left, rod.length, longest if keep_longest else None)
            filled = sum(job.sizes[i] for i in pieces)
            options.append((rod.cost / filled, -filled, r, pieces))
        if not options:
            break
        _, _, r, pieces = min(_ending(options, left, job) or options)
        bars.append((r, pieces))
        limits[r] -= 1
        for i in pieces:
            left[i] -= 1
    return Cuts(bars), left


_Option = tuple[float, int, int, list[int]]


def _ending(options: list[_Option], left: Sequence[int], job: Job) -> list[_Option]:
    """The cheapest bar that takes all that is left, when it costs no more than the best rate would."""
    last = [o for o in options if len(o[3]) == sum(left)]
    if not last:
        return []
    cheapest = min(last, key=lambda o: (job.rods[o[2]].cost, o))
    return [cheapest] if job.rods[cheapest[2]].cost <= job.rods[min(options)[2]].cost else []
