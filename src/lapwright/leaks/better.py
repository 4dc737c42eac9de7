"""Which single change raises the weakest way most: each is tried on the same crossings and searched again."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from lapwright.leaks.search import NEARLY, OUTSIDE, Crossing, Way, weakest
from lapwright.leaks.telling import seam_kinds
from lapwright.tables import rows

Change = Literal["seal", "lap", "upturn"]

LONGER = 2.0
"""A lap is tried this much longer up the slope. House rule. [in]"""

HIGHER = 1.0
"""An upturn is tried this much higher. House rule. [in]"""

SLIDES = ("upper",)
"""Kinds whose edges move on the metal below: sealant would pin them or be torn. House rule."""


@dataclass(frozen=True, slots=True)
class Better:
    """A change and what it gives. at: a seam it is made on (its fellow on the other hand too).

    head: of the weakest way afterwards; gain: over the way before. [in]
    """

    change: Change
    at: Crossing
    head: float
    gain: float


def improvements(crossings: Sequence[Crossing], level: float | None, way: Way, theta: float) -> tuple[Better, ...]:
    """Try every change on every seam of a way, the best first; those that gain nothing are left out.

    Args:
        crossings, level: what the way was found in. [in]
        theta: the roof's slope. [rad]
    """
    found: list[Better] = []
    tried: set[tuple[Change, tuple[str, str]]] = set()
    for c in way.crossings:
        for change in _open_to(c):
            if (change, seam_kinds(c)) in tried:
                continue
            tried.add((change, seam_kinds(c)))
            again = weakest([_changed(k, change, c, theta) for k in crossings], level)
            head = math.inf if again is None else again.head
            if head > way.head + NEARLY:
                found.append(Better(change, c, head, head - way.head))
    return tuple(sorted(found, key=lambda b: (-b.gain, b.change)))


def _open_to(c: Crossing) -> Iterator[Change]:
    over, under = seam_kinds(c)
    if c.rating < _bead() and over not in SLIDES and under not in ("deck", "edge"):
        yield "seal"
    if c.along is not None:
        yield "upturn"
    elif c.above != OUTSIDE:
        yield "lap"


def _changed(c: Crossing, change: Change, like: Crossing, theta: float) -> Crossing:
    """The crossing as it is once the change is made, where it is on a seam of the same kinds."""
    if seam_kinds(c) != seam_kinds(like):
        return c
    if change == "seal":
        return replace(c, rating=max(c.rating, _bead()), how="bead")
    if change == "upturn" and c.along is not None:
        return replace(c, crest=c.crest + HIGHER * math.cos(theta))
    if change == "lap" and c.along is None and c.above != OUTSIDE:
        up = LONGER * math.sin(theta)
        return replace(c, crest=c.crest + up, foot=c.foot + up)
    return c


def _bead() -> float:
    return float(rows("ratings")["bead"])
