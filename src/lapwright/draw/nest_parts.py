"""Where the drawing of a long roll or a full sheet ends and the next goes on.

    +---+---+ 0     part 1     at a cut that goes right across, where one is near; else where a blank ends
    | 1 | 2 |
    +---+---+ 40    part 2     distances run on from the stock's own end
    |   3   |
    +-------+ 65
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from lapwright.geom import SAME
from lapwright.shop.nest.cuts import Cut, Offcut
from lapwright.shop.nest.job import JobSheet, Lying
from lapwright.shop.nest.model import Stock

TINY = 0.02
"""A strip of a blank thinner than this is not drawn where a run or a part ends. [in]"""
A_PART = 26
"""About so many blanks go on one drawing, where they do not all go on the first. House rule. [-]"""

MANY = 99
"""Stands for the number of a part while it is not known: no heading is longer. [-]"""


@dataclass(frozen=True)
class Part:
    """A stretch of a sheet that is drawn by itself, number n of `of`. low, high: from the sheet's own end. [in]"""

    sheet: JobSheet
    low: float
    high: float
    n: int = 1
    of: int = 1

    @property
    def stock(self) -> Stock:
        """Size of the sheet it is a part of. [in]"""
        return self.sheet.stock

    @cached_property
    def lying(self) -> tuple[Lying, ...]:
        """Every blank that shows on it, those too that go on beyond its ends."""
        spans = ((x, x.corners()) for x in self.sheet.lying)
        return tuple(x for x, (a, b) in spans if a[1] < self.high - TINY and b[1] > self.low + TINY)

    @cached_property
    def cuts(self) -> tuple[Cut, ...]:
        """Every straight cut that shows on it; one along an end belongs to the part before it."""
        plan = self.sheet.plan
        return tuple(c for c in plan.cuts if self._shows(c)) if plan is not None else ()

    @cached_property
    def across(self) -> tuple[float, ...]:
        """How far along lie the cuts that part everything beyond them from everything before. [in]"""
        spans = [x.corners() for x in self.lying]
        found = (c.at for c in self.cuts if c.way == "across" and self.low + SAME < c.at < self.high - SAME)
        return tuple(at for at in found if all(a[1] > at - TINY or b[1] < at + TINY for a, b in spans))

    def begins(self, lying: Lying) -> bool:
        """Does a blank that shows on it begin on it?"""
        return lying.corners()[0][1] >= self.low - TINY

    def offcuts(self) -> tuple[Offcut, ...]:
        """The offcuts that begin on it, the largest first; the last part has what lies beyond it too."""
        end = math.inf if self.high >= whole(self.sheet).high else self.high
        return tuple(o for o in self.sheet.offcuts() if self.low - SAME <= o.y < end - SAME)

    def _shows(self, cut: Cut) -> bool:
        if cut.way == "across":
            return self.low + SAME < cut.at <= self.high + SAME or cut.at <= SAME >= self.low
        return cut.start < self.high - SAME and cut.end > self.low + SAME


def whole(sheet: JobSheet) -> Part:
    """All that is drawn of a sheet: a sheet whole, a roll as far as it is used."""
    stock = sheet.stock
    used = stock.by_length or stock.height > 2 * sheet.used_height
    return Part(sheet, 0.0, sheet.used_height if used else stock.height)


def halves(part: Part) -> list[Part]:
    """Take a part that is too much for one drawing into two or more, with about as many blanks on each."""
    count = max(2, math.ceil(len(part.lying) / A_PART))
    last = max(min(x.corners()[1][1], part.high) for x in part.lying)
    ends = [part.low]
    for n in range(1, count):
        at = _end(part, n / count)
        if ends[-1] + SAME < at < last - SAME:
            ends.append(at)
    if len(ends) == 1:
        ends.append((part.low + part.high) / 2)
    ends.append(part.high)
    return [Part(part.sheet, a, b, MANY, MANY) for a, b in pairwise(ends)]


def numbered(parts: list[Part]) -> list[Part]:
    """Each with its number and how many there are."""
    return [replace(p, n=n, of=len(parts)) for n, p in enumerate(parts, 1)]


def _end(part: Part, share: float) -> float:
    """Where about this share of the blanks has ended: at a cut right across that comes near it. [in]"""
    far = sorted(x.corners()[1][1] for x in part.lying)
    wanted = far[min(int(share * len(far)), len(far) - 1)]
    if not part.across:
        return wanted

    def off(at: float) -> float:
        return abs(sum(y < at + TINY for y in far) / len(far) - share)

    near = min(part.across, key=lambda at: (off(at), at))
    return near if off(near) < A_PART / len(far) / 2 else wanted
