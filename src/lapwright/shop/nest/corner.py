"""Quick guillotine packing: each rectangle in a corner of the free room that suits it, the rest cut in two.

    +---------+-----+          +----+----------+
    |  above        |          | a  |          |
    +----+----------+    or    |    |  beside  |      by one of the rules of SPLITS
    | it |  beside  |          +----+          |
    +----+----------+          | it |          |

Source: Jylanki, A thousand ways to pack the bin (2010), from memory.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from lapwright.shop.nest.grid import Kind, Spot

Room = tuple[int, int, int, int]
"""A free rectangle: x, y, width, height. [steps]"""

Fit = Callable[[int, int, int, int], tuple[int, int]]

FITS: tuple[Fit, ...] = (
    lambda rw, rh, w, h: (rw * rh - w * h, min(rw - w, rh - h)),
    lambda rw, rh, w, h: (min(rw - w, rh - h), max(rw - w, rh - h)),
    lambda rw, rh, w, h: (max(rw - w, rh - h), min(rw - w, rh - h)),
)
"""Which room suits best: least area over, least short side over, least long side over. [steps]"""

Split = Callable[[int, int, int, int], bool]

SPLITS: tuple[Split, ...] = (
    lambda w, h, dw, dh: dw < dh,
    lambda w, h, dw, dh: dw >= dh,
    lambda w, h, dw, dh: w + dw < h + dh,
    lambda w, h, dw, dh: w + dw >= h + dh,
    lambda w, h, dw, dh: dw * h > dh * w,
    lambda w, h, dw, dh: dw * h <= dh * w,
)
"""Is the cut above the rectangle, across the whole room? By what is left beside (dw) and above (dh). [steps]"""

ORDERS: tuple[Callable[[int, int], tuple[int, int]], ...] = (
    lambda w, h: (w * h, h),
    lambda w, h: (w + h, h),
    lambda w, h: (abs(w - h), h),
    lambda w, h: (min(w, h), max(w, h)),
    lambda w, h: (max(w, h), min(w, h)),
    lambda w, h: (h, w),
    lambda w, h: (w, h),
)
"""What is placed first: the greatest of these. [steps]"""


@dataclass(frozen=True, slots=True)
class Rule:
    """One of the thousand ways. merge: neighbouring rooms become one, which may spoil the straight cuts."""

    fit: int
    split: int
    merge: bool = False


RULES = tuple(Rule(f, s, m) for m in (False, True) for f in range(len(FITS)) for s in range(len(SPLITS)))


def orders(kinds: Sequence[Kind]) -> Iterator[list[int]]:
    """The kinds, one entry per rectangle, in each order worth a try."""
    for key in ORDERS:
        first = sorted(range(len(kinds)), key=lambda i: (*key(kinds[i].width, kinds[i].height), -i), reverse=True)
        yield [i for i in first for _ in range(kinds[i].count)]


def place(width: int, cap: int, kinds: Sequence[Kind], order: Sequence[int], rule: Rule) -> tuple[Spot, ...]:
    """Place what finds room, in this order.

    Args:
        width: Of the stock. [steps]
        cap: Its height. [steps]
        kinds: What the order's numbers mean.
        order: A kind's number for every rectangle.
        rule: Which room, and which cut first.
    """
    rooms: list[Room] = [(0, 0, width, cap)]
    out: list[Spot] = []
    fit, above = FITS[rule.fit], SPLITS[rule.split]
    missed = -1
    for i in order:
        if i == missed:  # its twin found no room, and rooms only shrink
            continue
        best = None
        for w, h in kinds[i].ways():
            for n, (_, _, rw, rh) in enumerate(rooms):
                if w <= rw and h <= rh:
                    suits = (fit(rw, rh, w, h), n, w, h)
                    if best is None or suits < best:
                        best = suits
        if best is None:
            missed = i
            continue
        _, n, w, h = best
        x, y, rw, rh = rooms.pop(n)
        out.append((i, x, y, w, h))
        dw, dh = rw - w, rh - h
        wide = above(w, h, dw, dh)
        for room in ((x + w, y, dw, h if wide else rh), (x, y + h, rw if wide else w, dh)):
            if room[2] > 0 and room[3] > 0:
                rooms.append(_merged(rooms, room) if rule.merge else room)
    return tuple(out)


def _merged(rooms: list[Room], room: Room) -> Room:
    """A room with every neighbour that shares a whole side with it; those are taken off the list."""
    while True:
        x, y, w, h = room
        for n, (ox, oy, ow, oh) in enumerate(rooms):
            if oy == y and oh == h and (ox + ow == x or x + w == ox):
                room = (min(x, ox), y, w + ow, h)
            elif ox == x and ow == w and (oy + oh == y or y + h == oy):
                room = (x, min(y, oy), w, h + oh)
            else:
                continue
            del rooms[n]
            break
        else:
            return room
