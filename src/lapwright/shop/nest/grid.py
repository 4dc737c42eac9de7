"""Inches to whole steps and back, so that nothing is ever compared with a tolerance while packing.

A step is a whole number of nanometres that divides every part: 1/64 in and 0.1 mm are both whole nanometres.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from lapwright.shop.nest.model import Part, Stock

NM = 25_400_000
"""Nanometres to the inch. Source: international inch, 1959 agreement, from memory."""

SLACK = 10
"""A stock this much short still counts as long enough: far inside geom.SAME. [nm]"""


@dataclass(frozen=True, slots=True)
class Kind:
    """Equal rectangles, in steps. parts: (part's place in the list, how many), in order."""

    width: int
    height: int
    turn: bool
    count: int
    parts: tuple[tuple[int, int], ...] = ()

    @property
    def area(self) -> int:
        """Area of one. [steps2]"""
        return self.width * self.height

    def ways(self) -> tuple[tuple[int, int], ...]:
        """Width and height of each way it may lie. [steps]"""
        both = self.turn and self.width != self.height
        return ((self.width, self.height), (self.height, self.width)) if both else ((self.width, self.height),)


@dataclass(frozen=True, slots=True)
class Box:
    """One row of the stock, in steps. cost: of one whole sheet; limit: how many there are."""

    width: int
    height: int
    limit: int
    cost: float
    by_length: bool = False

    def holds(self, kind: Kind) -> bool:
        """Does one of these fit at all?"""
        return any(w <= self.width and h <= self.height for w, h in kind.ways())


Spot = tuple[int, int, int, int, int]
"""A placed rectangle: its kind's number, x, y, and width and height as it lies. [steps]"""


def nanometres(length: float) -> int:
    """A length as whole nanometres. [in]"""
    return round(length * NM)


def step_of(lengths: Iterable[float]) -> int:
    """The largest step that every length is a multiple of; 1 where there is none. [in] to [nm]"""
    return math.gcd(*(nanometres(x) for x in lengths)) or 1


def inches(steps: int, step: int) -> float:
    """Steps back to inches. [steps], [nm], [in]"""
    return steps * step / NM


def kinds_of(parts: tuple[Part, ...], step: int) -> tuple[Kind, ...]:
    """Parts of one size together, the largest first; a turned twin is the same where both may turn."""
    found: dict[tuple[int, int, bool], list[tuple[int, int]]] = {}
    for i, p in enumerate(parts):
        if not p.quantity:
            continue
        w, h = nanometres(p.width) // step, nanometres(p.height) // step
        size = (min(w, h), max(w, h), True) if p.turn else (w, h, False)
        found.setdefault(size, []).append((i, p.quantity))
    order = sorted(found, key=lambda s: (-s[0] * s[1], -s[1], s))
    return tuple(Kind(*s, sum(n for _, n in found[s]), tuple(found[s])) for s in order)


def box_of(stock: Stock, step: int, pieces: int, cost: float) -> Box:
    """A row of the stock in steps, shortened to what whole steps can use; never more sheets than pieces."""
    w, h = ((nanometres(x) + SLACK) // step for x in (stock.width, stock.height))
    limit = pieces if stock.quantity is None else min(stock.quantity, pieces)
    return Box(w, h, limit, cost, stock.by_length)
