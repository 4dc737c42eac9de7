"""What no packing can beat, from dual feasible functions: a length x of a width W may be counted as f(x),
where no row of lengths that fits W counts more than W together.

    raised at e:   x > W - e counts W,  x < e counts nothing,  the rest counts x      (Martello and Vigo, L2)
    shared by e:   x < W / 2 counts its whole shares of e, twice; a longer one what it leaves of the width's
                   shares, twice; W / 2 counts half the width's                        (Carlier, Clautiaux, Moukrim)

Source: Martello and Vigo, Management Science 44 (1998); Carlier, Clautiaux and Moukrim, Computers and Operations
Research 34 (2007); from memory, each function proved again by a test that tries every row of a small width.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import chain, islice
from operator import mul

from lapwright.shop.nest.grid import Box, Kind

MOST_EDGES = 24
"""Values of e that are tried for each function."""

MOST_BUYS = 20_000
"""Ways to buy that are tried before sheets are counted in part."""

Count = Callable[[int], int]
"""A length to what it counts; the second number of a pair is what the whole width counts."""


def counts(whole: int, lengths: Sequence[int]) -> list[tuple[Count, int]]:
    """Every function that is tried for one width, with what the width itself counts.

    Args:
        whole: The width. [steps]
        lengths: What lies along it; the functions change only there. [steps]
    """
    out: list[tuple[Count, int]] = [(lambda x: x, whole)]
    half = whole // 2
    changes = {half, *lengths, *(whole - x for x in lengths), *(whole - x + 1 for x in lengths)}
    edges = sorted(e for e in changes if 0 < e <= half)
    stride = -(-len(edges) // MOST_EDGES) or 1
    for e in [*edges[::stride], *edges[-1:]]:
        out.append((_raised(whole, e), whole))
        out.append((_shared(whole, e), 2 * (whole // e)))
    return out


def _raised(whole: int, e: int) -> Count:
    return lambda x: whole if x > whole - e else x if x >= e else 0


def _shared(whole: int, e: int) -> Count:
    """Whole shares of e, counted twice so that half the width stays whole."""
    shares = whole // e

    def count(x: int) -> int:
        if 2 * x > whole:
            return 2 * (shares - (whole - x) // e)
        if 2 * x == whole:
            return shares
        return 2 * (x // e)

    return count


def lowest_height(width: int, kinds: Sequence[Kind]) -> int:
    """What height no strip can beat, whatever its cuts. [steps]

    Args:
        width: Of the strip. [steps]
        kinds: What lies on it; what may turn counts the way that asks less.
    """
    if not kinds:
        return 0
    ways = [[(w, h) for w, h in k.ways() if w <= width] for k in kinds]
    if not all(ways):
        return 1 << 79
    tallest = max(min(h for _, h in way) for way in ways)
    best = tallest
    lengths = sorted({w for way in ways for w, _ in way})
    for count, total in counts(width, lengths):
        area = sum(k.count * min(count(w) * h for w, h in way) for k, way in zip(kinds, ways, strict=True))
        best = max(best, -(-area // total))
    heights = [h for way in ways for _, h in way]
    step = math.gcd(*heights)
    return -(-best // step) * step


def lowest_cost(boxes: Sequence[Box], kinds: Sequence[Kind]) -> float:
    """What cost of stock no nest can beat: every rectangle needs room, and some stock that holds it.

    Args:
        boxes: The stock, each with its cost and how many there are; by the length, what a whole one costs.
        kinds: What must be placed.
    """
    boxes = [b for b in boxes if b.width and b.height and b.limit]
    if not kinds:
        return 0.0
    alone = max(min((_alone(b, k) for b in boxes if b.holds(k)), default=math.inf) for k in kinds)
    if len(boxes) == 1 and not boxes[0].by_length:
        return max(alone, boxes[0].cost * fewest_sheets(boxes[0], kinds))
    area = sum(k.area * k.count for k in kinds)
    return max(alone, _cheapest_area(boxes, area))


def _alone(box: Box, kind: Kind) -> float:
    if not box.by_length:
        return box.cost
    return box.cost * min(h for w, h in kind.ways() if w <= box.width) / box.height


def fewest_sheets(box: Box, kinds: Sequence[Kind]) -> int:
    """How many of one sheet no nest can do without."""
    ways = [[(w, h) for w, h in k.ways() if w <= box.width and h <= box.height] for k in kinds]
    across = counts(box.width, sorted({w for way in ways for w, _ in way}))
    along = counts(box.height, sorted({h for way in ways for _, h in way}))
    # every way of every kind in one row, and which of them belong to which kind
    flat = list(chain.from_iterable(ways))
    counted = [k.count for k, way in zip(kinds, ways, strict=True) for _ in way]
    wide = [([n * f(w) for n, (w, _) in zip(counted, flat, strict=True)], whole) for f, whole in across]
    high = [([g(h) for _, h in flat], full) for g, full in along]
    spans = [len(way) for way in ways]
    both = 2 in spans
    best = 1
    for xs, whole in wide:
        for ys, full in high:
            sizes = map(mul, xs, ys)
            area = sum(min(islice(sizes, n)) for n in spans) if both else sum(sizes)
            best = max(best, -(-area // (whole * full)))
    return best


def _cheapest_area(boxes: Sequence[Box], area: int) -> float:
    """The cheapest whole sheets that have this much area; where there are too many ways, sheets in part."""
    rows = sorted(boxes, key=lambda b: (b.cost / (b.width * b.height), -b.width * b.height))
    best = [math.inf]
    steps = [0]

    def buy(i: int, left: int, cost: float) -> None:
        steps[0] += 1
        if left <= 0:
            best[0] = min(best[0], cost)
            return
        if steps[0] > MOST_BUYS or cost + _in_part(rows[i:], left) >= best[0]:
            return
        box = rows[i]
        size = box.width * box.height
        if box.by_length:
            part = min(left, size * box.limit)
            buy(i + 1, left - part, cost + box.cost * part / size)
            return
        for count in range(min(box.limit, -(-left // size)), -1, -1):
            buy(i + 1, left - count * size, cost + count * box.cost)

    buy(0, area, 0.0)
    return _in_part(rows, area) if steps[0] > MOST_BUYS else best[0]


def _in_part(rows: Sequence[Box], area: int) -> float:
    """Area at the best rate first, the last sheet in part. Infinite where the stock has not so much."""
    cost, left = 0.0, area
    for box in rows:
        size = box.width * box.height
        taken = min(left, size * box.limit)
        cost += box.cost * taken / size
        left -= taken
        if left <= 0:
            return cost
    return math.inf
