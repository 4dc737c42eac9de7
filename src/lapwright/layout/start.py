"""Where the first rib goes, exactly: every start of one coverage is judged, at the places where anything changes.

    start 0 ---|----|-------|--|---------|--- coverage
               a rib comes within 3 of a corner, an edge strip becomes a sliver, a rib enters a bay ...

Between two such places nothing that counts changes, so judging the places themselves and one start between each two
of them judges all. Fewest conflicts first, then slivers, then ribs cut, then metal wasted. The way the panels are
laid changes none of the four (both edge strips are ripped from panels either way), so the job's own is kept.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from lapwright.geom import SAME
from lapwright.site.model import Opening, Site

CORNER_CLEAR = 3.0
"""A rib centre nearer than this to an opening's corner or a pipe's rim is a conflict. House rule. [in]"""

RIDGE_CLEAR = 2.0
"""Ribs keep this far off the centre line of an opening that may take a cricket. House rule. [in]"""

CRICKET_WIDTH = 30.0
"""An opening wider than this is taken to get a cricket, unless the job says flat pan. House rule; the width at which
most rule sets ask for one. [in]"""

CREEP = 0.25
"""Panels creep as they are laid: a start keeps this far off a change of its cost, if it can. House rule. [in]"""

LEAST_STRIP = 1 / 3
"""An edge strip narrower than this share of the coverage is a sliver. House rule. [-]"""

MARKS = {"in": 1 / 16, "mm": 1 / 25.4}
"""A chosen start lies on a mark of the tape where one does as well. [in]"""


@dataclass(frozen=True, slots=True, order=True)
class Cost:
    """What a start costs, the gravest first.

    conflicts: ribs too near a corner, a pipe's rim or a cricket's centre line. slivers: edge strips too narrow.
    interrupted: ribs cut, all openings together. waste: panel metal bought and not laid, offcuts not reused. [in2]
    """

    conflicts: int
    slivers: int
    interrupted: int
    waste: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """Starts from `low` to `high` (the same for a single place) that all cost the same. [in]"""

    low: float
    high: float
    cost: Cost


@dataclass(frozen=True, slots=True)
class Start:
    """The start that was chosen, what it costs, and the best that costs something else. [in]"""

    first: float
    cost: Cost
    runner_up: tuple[float, Cost] | None


def choose_start(site: Site) -> Start:
    """The best first rib of a roof.

    Args:
        site: Its panel.first_rib is not looked at.

    Returns:
        The start: 0 <= first < coverage. Among equals one on a mark of the tape, with the edge strips most
        nearly alike.

    Source: house rules (CORNER_CLEAR, RIDGE_CLEAR, LEAST_STRIP); exact over all starts, see the module.
    """
    plane = _Plane(site)
    found = _joined(plane.stretches())
    best, *others = sorted({s.cost for s in found})
    second = [s for s in found if others and s.cost == others[0]]
    return Start(plane.nicest(s for s in found if s.cost == best), best, plane.named(second) if second else None)


def cost_of(site: Site, first: float) -> Cost:
    """What one start costs. first: 0 <= first < coverage. [in]"""
    return _Plane(site).cost(first)


def stretches(site: Site) -> tuple[Stretch, ...]:
    """The cost over every start from 0 to the coverage, as stretches that follow one another. [in]

    A single place stands among them only where it is better than both its sides.
    """
    found = _joined(_Plane(site).stretches())
    return tuple(s for s in found if s.high > s.low or _stands_out(s, found))


def _joined(stretches: Iterable[Stretch]) -> list[Stretch]:
    """Neighbours that cost the same as one."""
    found: list[Stretch] = []
    for s in stretches:
        if found and found[-1].cost == s.cost:
            found[-1] = Stretch(found[-1].low, s.high, s.cost)
        else:
            found.append(s)
    return found


def _stands_out(one: Stretch, among: list[Stretch]) -> bool:
    """Is a single place better than the stretches beside it? One that is merely worse is no place to start."""
    at = among.index(one)
    return all(one.cost < other.cost for other in among[max(0, at - 1) : at + 2] if other is not one)


class _Plane:
    """One roof's openings as intervals of the eave: ribs that stand in them are counted, not listed."""

    def __init__(self, site: Site) -> None:
        self.coverage, self.eave, self.slope = site.panel.coverage, site.roof.eave, site.roof.slope
        self.mark = MARKS[site.units]
        self.openings = tuple(o.rim(site.roof.theta) for o in site.openings)
        self.forbidden = [zone for o in self.openings for zone in _forbidden(o)]
        self.bays = [(o.left - clear_of(o), o.right + clear_of(o)) for o in self.openings]
        self.laid = self.eave * self.slope - sum(o.width * o.length for o in self.openings)

    def breaks(self) -> list[float]:
        """Every start at which something changes, 0 the first. [in]"""
        least = self.coverage * LEAST_STRIP
        edges: Iterable[float] = (0.0, self.eave, least, self.eave - least)
        sides = (x for o in self.openings for x in (o.left, o.right))
        zones = (x for zone in (*self.forbidden, *self.bays) for x in zone)
        return _apart(sorted({x % self.coverage for x in (*edges, *sides, *zones)}), self.coverage)

    def stretches(self) -> Iterator[Stretch]:
        """Each break by itself, then what lies between it and the next."""
        breaks = self.breaks()
        for low, high in zip(breaks, (*breaks[1:], self.coverage), strict=True):
            yield Stretch(low, low, self.cost(low))
            yield Stretch(low, high, self.cost((low + high) / 2))

    def nicest(self, equals: Iterable[Stretch]) -> float:
        """Of starts that cost the same: off the ends, on a mark of the tape, edge strips most alike, the least."""
        ranked = (
            (self._at_end(s, stretch), self.off_mark(s), self.uneven(s), s)
            for stretch in equals
            for s in self._within(stretch)
        )
        return min(ranked)[3]

    def named(self, equals: Iterable[Stretch]) -> tuple[float, Cost]:
        """The widest of these stretches by the mark nearest its middle."""
        widest = max(equals, key=lambda s: s.high - s.low)
        middle = (widest.low + widest.high) / 2
        on_mark = self.mark * round(middle / self.mark)
        return (on_mark if widest.low < on_mark < widest.high else middle), widest.cost

    def _within(self, stretch: Stretch) -> Iterator[float]:
        """Starts of a stretch worth naming: its middle, and marks by its ends and by the even starts. [in]"""
        yield (stretch.low + stretch.high) / 2
        spare = self.eave % self.coverage
        middle = (stretch.low + stretch.high) / 2
        for x in (stretch.low + CREEP, stretch.high - CREEP, middle, spare / 2, (spare + self.coverage) / 2):
            n = round(x / self.mark)
            marks = (self.mark * k for k in (n - 1, n, n + 1))
            yield from (s for s in (x, *marks) if stretch.low + SAME < s < stretch.high - SAME)

    def _at_end(self, first: float, stretch: Stretch) -> bool:
        return min(first - stretch.low, stretch.high - first) < min(CREEP, (stretch.high - stretch.low) / 4) - SAME

    def off_mark(self, first: float) -> bool:
        """Does the tape have no mark there?"""
        return abs(first - self.mark * round(first / self.mark)) > SAME

    def uneven(self, first: float) -> float:
        """Difference of the two edge strips. [in]"""
        left, right = self._edge_strips(first)
        return round(abs(left - right), 6)

    def _edge_strips(self, first: float) -> tuple[float, float]:
        """Widths of the first strip and the last; one strip alone is both. [in]"""
        ribs = self._ribs(first, 0.0, self.eave, inside=True)
        if not ribs:
            return self.eave, self.eave
        left = first if first > SAME else self.coverage
        return left, self.eave - left - (ribs - 1) * self.coverage

    def cost(self, first: float) -> Cost:
        """What this start costs."""
        conflicts = sum(self._ribs(first, a, b, inside=True) for a, b in self.forbidden)
        interrupted = sum(self._ribs(first, a, b, inside=True) for a, b in self.bays)
        return Cost(conflicts, self._slivers(first), interrupted, self._waste(first))

    def _ribs(self, first: float, a: float, b: float, inside: bool) -> int:
        """Ribs strictly between a and b (or on them too), counted among those strictly inside the eave."""
        edge = SAME if inside else -SAME
        low, high = max(a + edge, SAME), min(b - edge, self.eave - SAME)
        return max(0, math.floor((high - first) / self.coverage) - math.ceil((low - first) / self.coverage) + 1)

    def _slivers(self, first: float) -> int:
        least = self.coverage * LEAST_STRIP - SAME
        widths = self._edge_strips(first)
        return sum(w < least for w in (widths if widths[0] < self.eave else widths[:1]))

    def _waste(self, first: float) -> float:
        """Metal bought less metal laid. A strip wholly across an opening is bought without the opening's length."""
        strips = self._ribs(first, 0.0, self.eave, inside=True) + 1
        bought = strips * self.coverage * self.slope
        for o in self.openings:
            edges = (o.left <= SAME) + (o.right >= self.eave - SAME)
            lines = self._ribs(first, o.left, o.right, inside=False) + edges
            bought -= max(0, lines - 1) * self.coverage * o.length
        return round(bought - self.laid, 6)


def clear_of(opening: Opening) -> float:
    """What an opening's sides keep from a rib that runs past: `pipe_clear` for a pipe, else `side_clear`. [in]"""
    return opening.measures.pipe_clear if opening.kind == "pipe" else opening.measures.side_clear


def _forbidden(o: Opening) -> Iterator[tuple[float, float]]:
    """Where no rib centre should stand, as intervals that do not overlap. [in]"""
    if o.kind == "pipe":
        yield (o.left - clear_of(o), o.right + clear_of(o))
        return
    zones = [(x - CORNER_CLEAR, x + CORNER_CLEAR) for x in (o.left, o.right)]
    if o.method == "cricket" or (o.method == "auto" and o.width > CRICKET_WIDTH):
        middle = (o.left + o.right) / 2
        zones.insert(1, (middle - RIDGE_CLEAR, middle + RIDGE_CLEAR))
    low, high = zones[0]
    for a, b in zones[1:]:
        if a > high:
            yield (low, high)
            low = a
        high = max(high, b)
    yield (low, high)


def _apart(places: list[float], coverage: float) -> list[float]:
    """Sorted places without those that lie on one another; 0 stands for the coverage too."""
    kept = [0.0]
    for s in places:
        if s - kept[-1] > SAME and coverage - s > SAME:
            kept.append(s)
    return kept
