"""The weakest way in: the path whose highest obstacle is lowest.

Spaces are what water can fill: the outside, the gap between two sheets, the deck. Crossings are places where
an edge of a sheet lets water round it from the space over it into the space under it. A crossing's obstacle is how
much head water needs there, and it depends on where water already stands in the space it comes from:

    it runs down to the edge's foot from anywhere higher, so a turned-up edge costs its own height;
    from below it has to climb, so a lap costs the rise from its mouth to the edge hidden in it.

Source: bottleneck path, Dijkstra's search with max in place of sum (from memory); own formulation.
"""

from __future__ import annotations

import heapq
import itertools
import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

OUTSIDE, DECK = "outside", "deck"
COLUMN = 0.75
"""Water on a wall climbs from a mouth that lies within this much of straight below. House rule. [in]"""


Shape = Literal["upturn", "end", ""]


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where water can get round an edge.

    above, below: the spaces it joins. crest, foot: elevations of the edge and of the floor below it. [in]
    rating: head that sealing there holds. [in]  along: place along a wall, None on the roof. [in]
    pooled: does standing water reach it? seam: "over>under" by their ids; at: x, y, z in the roof frame.
    how: what the rating is of (a row of the ratings table), nothing where nothing is sealed there.
    shape: "upturn" for an edge that looks up the wall, "end" for one that looks up the slope, nothing for others.
    """

    above: str
    below: str
    crest: float
    foot: float
    rating: float
    seam: str
    at: tuple[float, float, float]
    along: float | None = None
    pooled: bool = False
    how: str = ""
    shape: Shape = ""


@dataclass(frozen=True, slots=True)
class Way:
    """A way in: crossings in order, the head it takes, and the head each crossing takes on this way. [in]"""

    head: float
    crossings: tuple[Crossing, ...]
    heads: tuple[float, ...] = ()

    @property
    def decided(self) -> Crossing:
        """The first crossing that asks the whole head: where the way is decided."""
        return self.crossings[self.heads.index(max(self.heads))] if self.heads else self.crossings[-1]

    @property
    def holding(self) -> int:
        """How many crossings ask (nearly) the whole head: a way with two of them needs two things to fail."""
        return sum(h >= self.head - NEARLY for h in self.heads)


NEARLY = 0.05
"""Heads that differ by less are told as one. House rule. [in]"""


def weakest(crossings: Sequence[Crossing], level: float | None) -> Way | None:
    """The way from outside to the deck that the least head opens.

    Args:
        crossings: every place an edge can be passed.
        level: elevation of standing water for the pooled crossings; None looks at running water only. [in]

    Returns:
        The weakest way, or None where no way leads to the deck.
    """
    return next(ways(crossings, level), None)


def ways(crossings: Sequence[Crossing], level: float | None) -> Iterator[Way]:
    """Every crossing that lets water onto the deck, with the weakest way to it, the weakest first.

    Args:
        crossings, level: as for `weakest`. [in]
    """
    leaving: dict[str, list[int]] = {}
    for i, c in enumerate(crossings):
        leaving.setdefault(c.above, []).append(i)
    cost = [float("inf")] * len(crossings)
    came: list[int | None] = [None] * len(crossings)
    done = [False] * len(crossings)
    queue: list[tuple[float, int, int]] = []
    for i in leaving.get(OUTSIDE, ()):
        cost[i] = from_outside(crossings[i], level)
        if cost[i] < float("inf"):
            heapq.heappush(queue, (cost[i], 1, i))
    while queue:
        head, steps, i = heapq.heappop(queue)
        if done[i]:
            continue
        done[i] = True
        if crossings[i].below == DECK:
            yield _trace(crossings, came, i, level)
            continue
        for k in leaving.get(crossings[i].below, ()):
            # What is reached with no more head already cannot get better: no way gets lower as it goes on.
            if cost[k] <= head:
                continue
            asked = obstacle(crossings[i], crossings[k], level)
            found = asked if asked > head else head
            if found < cost[k] - 1e-12:
                cost[k], came[k] = found, i
                heapq.heappush(queue, (found, steps + 1, k))


def by_seam(crossings: Sequence[Crossing], level: float | None) -> dict[str, float]:
    """For every seam that lets water onto the deck, the least head that opens a way through it. [in]"""
    found: dict[str, float] = {}
    for way in ways(crossings, level):
        found.setdefault(way.crossings[-1].seam, way.head)
    return found


def low_places(crossings: Sequence[Crossing], level: float | None, under: float) -> dict[str, int]:
    """For every seam onto the deck, at how many places along it less than `under` opens a way. [in]"""
    return Counter(w.crossings[-1].seam for w in ways(crossings, level) if w.head < under)


def metal_alone(crossings: Sequence[Crossing]) -> tuple[Crossing, ...]:
    """The same places with every sealant, tape and solder dead: what shape and laps hold by themselves."""
    return tuple(replace(c, rating=0.0, how="") for c in crossings)


def weak_places(crossings: Sequence[Crossing], level: float | None, most: int = 4) -> tuple[Way, ...]:
    """The weakest ways that are decided at different places, none needing NEARLY more than the weakest.

    Args:
        crossings, level: as for `weakest`. [in]
        most: how many at most.
    """
    found: list[Way] = []
    for way in ways(crossings, level):
        if found and way.head > found[0].head + NEARLY:
            break
        if all(math.dist(way.decided.at, f.decided.at) > APART for f in found):
            found.append(way)
        if len(found) == most:
            break
    return tuple(found)


APART = 6.0
"""Ways decided nearer to one another than this are told as one. House rule. [in]"""


def from_outside(c: Crossing, level: float | None) -> float:
    """Running water wets the foot of every edge that shows; standing water those it reaches, with its head. [in]"""
    if level is None:
        return max(0.0, c.crest - c.foot) + c.rating
    if not c.pooled:
        return float("inf")
    return max(0.0, c.crest - level) + c.rating


def obstacle(mouth: Crossing, edge: Crossing, level: float | None) -> float:
    """Head needed at `edge` once water has come in at `mouth` of the same space. [in]"""
    entry, crest, stands = mouth.crest, edge.crest, edge.foot
    if entry < stands or (entry <= crest and _straight_below(mouth, edge)):
        stands = entry
    if level is not None and mouth.pooled and edge.pooled:
        stands = max(stands, min(level, crest))
    return edge.rating if stands >= crest else crest - stands + edge.rating


def _straight_below(mouth: Crossing, edge: Crossing) -> bool:
    return mouth.along is not None and edge.along is not None and abs(mouth.along - edge.along) <= COLUMN


def _trace(crossings: Sequence[Crossing], came: Sequence[int | None], last: int, level: float | None) -> Way:
    path: list[Crossing] = []
    i: int | None = last
    while i is not None:
        path.append(crossings[i])
        i = came[i]
    path.reverse()
    heads = (
        from_outside(path[0], level),
        *(obstacle(a, b, level) for a, b in itertools.pairwise(path)),
    )
    return Way(max(heads), tuple(path), heads)
