"""Which single change raises the weakest way most.

Nothing is folded again: each change is made on the crossings that were found, and they are searched again. What a
change does elsewhere (a longer pan is a heavier pan) is not seen; tests make the change in the job and compare.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from lapwright.detail.model import OpeningDetail
from lapwright.geom.space import Point, dot
from lapwright.leaks.seals import WALL, standard_seals
from lapwright.leaks.search import NEARLY, OUTSIDE, Crossing, Way, weakest
from lapwright.leaks.spaces import feet_of
from lapwright.leaks.telling import seam_kinds
from lapwright.metal.patch import side_of
from lapwright.metal.work import at_bench
from lapwright.site.model import Site
from lapwright.tables import metals, rows

Change = Literal["seal", "lap", "upturn", "patch", "longer-patch"]

STEPS: dict[Change, float] = {"lap": 2.0, "upturn": 1.0, "longer-patch": 1.0}
"""A lap is tried this much longer up the slope, an upturn this much higher square to the roof, a corner patch this
much longer on every side of its corner. House rule. [in]"""

PATCHES: tuple[Change, Change] = ("patch", "longer-patch")
"""A patch as it belongs on the corner, where none holds; and a longer one."""

AT_ITS_EDGE = 0.1
"""An edge this little outside a patch is bedded with it. House rule. [in]"""

SLIDES = ("upper", "counterflashing")
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

    @property
    def by(self) -> float:
        """How much longer or higher; a bead, or a patch where one belongs, has no measure. [in]"""
        return STEPS.get(self.change, 0.0)


@dataclass(frozen=True, slots=True)
class Bench:
    """What a change is measured by. lap: climb of an inch up the slope; upturn: of an inch square to the roof, up
    the wall. up: the walls; feet: of the corners; leg: of a patch from its corner [in]; holds: its rating, and on
    what it rests."""

    lap: float
    upturn: float
    up: Point
    feet: tuple[Point, ...]
    leg: float
    holds: tuple[float, str]


def bench_of(site: Site, d: OpeningDetail) -> Bench:
    """Measure one opening for changes."""
    work, theta = at_bench(site, d), site.roof.theta
    up = work.walls.up
    plumb = (0.0, math.sin(theta), math.cos(theta))
    holds = standard_seals(metals()[work.metal].join).held("corner-patch", WALL)
    feet = tuple(foot for _, foot in feet_of(work))
    return Bench(math.sin(theta), dot(up, plumb) / up[2], up, feet, side_of(work), holds)


def improvements(crossings: Sequence[Crossing], level: float | None, way: Way, bench: Bench) -> tuple[Better, ...]:
    """Try every change on every seam of a way, the best first; those that gain nothing are left out.

    Args:
        crossings, level: what the way was found in. [in]
    """
    found: list[Better] = []
    tried: set[tuple[Change, tuple[str, str]]] = set()
    for c in way.crossings:
        for change in _open_to(c, bench):
            if (change, seam_kinds(c)) in tried:
                continue
            tried.add((change, seam_kinds(c)))
            again = weakest([_changed(k, change, c, bench) for k in crossings], level)
            head = math.inf if again is None else again.head
            if head > way.head + NEARLY:
                found.append(Better(change, c, head, head - way.head))
    return tuple(sorted(found, key=lambda b: (-b.gain, b.change)))


def _open_to(c: Crossing, bench: Bench) -> Iterator[Change]:
    over, under = seam_kinds(c)
    if c.shape == "upturn":
        # Round a patch, or off an edge that is covered further, water goes on as before.
        if over != "corner-patch" and under != "edge":
            yield "upturn"
    elif c.rating < _bead() and over not in SLIDES and under not in ("deck", "edge"):
        yield "seal"
    if c.shape == "end" and c.above != OUTSIDE:
        yield "lap"
    for patch in PATCHES:
        if _under(c, patch, bench):
            yield patch
            break


def _changed(c: Crossing, change: Change, like: Crossing, bench: Bench) -> Crossing:
    """The crossing as it is once the change is made: on a seam of the same kinds, or under a longer patch."""
    if change in PATCHES:
        return replace(c, rating=bench.holds[0], how=bench.holds[1]) if _under(c, change, bench) else c
    if seam_kinds(c) != seam_kinds(like):
        return c
    if change == "seal":
        return replace(c, rating=max(c.rating, _bead()), how="bead")
    if change == "upturn" and c.shape == "upturn":
        return replace(c, crest=c.crest + STEPS["upturn"] * bench.upturn)
    if change == "lap" and c.shape == "end" and c.above != OUTSIDE:
        up = STEPS["lap"] * bench.lap
        return replace(c, crest=c.crest + up, foot=c.foot + up)
    return c


def _under(c: Crossing, patch: Change, bench: Bench) -> bool:
    """Would a patch cover this place, which shows beside a corner and holds less than a patch?"""
    over = seam_kinds(c)[0]
    if c.above != OUTSIDE or c.rating >= bench.holds[0] or over in ("corner-patch", *SLIDES):
        return False
    leg = bench.leg + STEPS.get(patch, 0.0) + AT_ITS_EDGE
    for foot in bench.feet:
        up = (c.at[2] - foot[2]) / bench.up[2]
        beside = (c.at[0] - foot[0], c.at[1] - foot[1] - up * bench.up[1])
        if 0 <= up <= leg and max(map(abs, beside)) <= leg:
            return True
    return False


def _bead() -> float:
    return float(rows("ratings")["bead"])
