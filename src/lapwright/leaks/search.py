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
from collections.abc import Sequence
from dataclasses import dataclass

OUTSIDE, DECK = "outside", "deck"
COLUMN = 0.75
"""Water on a wall climbs from a mouth that lies within this much of straight below. House rule. [in]"""


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where water can get round an edge.

    above, below: the spaces it joins. crest, foot: elevations of the edge and of the floor below it. [in]
    rating: head that sealing there holds. [in]  along: place along a wall, None on the roof. [in]
    pooled: does standing water reach it? seam: what a reader is told; at: x, y, z in the roof frame.
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


@dataclass(frozen=True, slots=True)
class Way:
    """A way in: crossings in order, and the head it takes. [in]"""

    head: float
    crossings: tuple[Crossing, ...]


def weakest(crossings: Sequence[Crossing], level: float | None) -> Way | None:
    """The way from outside to the deck that the least head opens.

    Args:
        crossings: every place an edge can be passed.
        level: elevation of standing water for the pooled crossings; None looks at running water only. [in]

    Returns:
        The weakest way, or None where no way leads to the deck.
    """
    leaving: dict[str, list[int]] = {}
    for i, c in enumerate(crossings):
        leaving.setdefault(c.above, []).append(i)
    cost = [float("inf")] * len(crossings)
    came: list[int | None] = [None] * len(crossings)
    done = [False] * len(crossings)
    queue: list[tuple[float, int]] = []
    for i in leaving.get(OUTSIDE, ()):
        cost[i] = _from_outside(crossings[i], level)
        heapq.heappush(queue, (cost[i], i))
    while queue:
        head, i = heapq.heappop(queue)
        if done[i] or head > cost[i]:
            continue
        done[i] = True
        if crossings[i].below == DECK:
            return Way(head, _trace(crossings, came, i))
        for k in leaving.get(crossings[i].below, ()):
            if done[k]:
                continue
            found = max(head, _obstacle(crossings[i], crossings[k], level))
            if found < cost[k] - 1e-12:
                cost[k], came[k] = found, i
                heapq.heappush(queue, (found, k))
    return None


def _from_outside(c: Crossing, level: float | None) -> float:
    """Running water wets the foot of every edge that shows; standing water those it reaches, with its head."""
    if level is None:
        return max(0.0, c.crest - c.foot) + c.rating
    if not c.pooled:
        return float("inf")
    return max(0.0, c.crest - level) + c.rating


def _obstacle(mouth: Crossing, edge: Crossing, level: float | None) -> float:
    """Head needed at `edge` once water has come in at `mouth` of the same space."""
    stands = mouth.crest
    if stands >= edge.foot:
        stands = edge.foot
        straight_below = (
            mouth.along is not None and edge.along is not None and abs(mouth.along - edge.along) <= COLUMN
        )
        if straight_below and mouth.crest <= edge.crest:
            stands = mouth.crest
    if level is not None and mouth.pooled and edge.pooled:
        stands = max(stands, min(level, edge.crest))
    return max(0.0, edge.crest - stands) + edge.rating


def _trace(crossings: Sequence[Crossing], came: Sequence[int | None], last: int) -> tuple[Crossing, ...]:
    path: list[Crossing] = []
    i: int | None = last
    while i is not None:
        path.append(crossings[i])
        i = came[i]
    return tuple(reversed(path))
