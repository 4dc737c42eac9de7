"""The order of work: a sort of what laps over what. Nothing here is typed in but how ties are broken.

Source: topological sort, A. B. Kahn, CACM 5(11), 1962 (from memory).
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from lapwright.detail.model import Detail, Part
from lapwright.detail.parts import OPEN_UP, RIDGE, WATER_TEST
from lapwright.layout.model import Layout
from lapwright.site.model import Site

RANK = {
    OPEN_UP: 0,
    "membrane": 0,
    "through": 1,
    "side": 1,
    "lower": 1,
    "closure": 2,
    "apron": 2,
    "hook-strip": 3,
    "side-wall": 4,
    "back-pan": 5,
    "cricket": 5,
    "corner-patch": 6,
    "base-plate": 5,
    "rib-hood": 6,
    "sleeve": 6,
    "storm-collar": 11,
    "offset-cleat": 7,
    "backing-plate": 8,
    "upper": 9,
    RIDGE: 10,
    "counterflashing": 11,
    WATER_TEST: 12,
}
"""Among parts that could all go on next, the one that a crew reaches for first. House rule."""


@dataclass(frozen=True, slots=True)
class Order:
    """Every part's id in working order. ring: parts that lap over each other in a circle, when there are any."""

    ids: tuple[str, ...]
    ring: tuple[str, ...] = ()


def order_of_work(site: Site, layout: Layout, detail: Detail) -> Order:
    """Put every part, the opening-up of an existing roof, the ridge and the water test in working order.

    A part goes on once everything it laps over is on. A ring of laps leaves the order incomplete: its
    members are named, and a STOP finding is made of them.
    """
    keys = {p.id: _key(site, layout, p) for p in detail.parts}
    keys |= {n: (RANK[n], 0, 0.0, n) for n in (OPEN_UP, RIDGE, WATER_TEST)}
    under: dict[str, set[str]] = {n: set() for n in keys}
    for lap in detail.laps:
        under[lap.over].add(lap.under)
    under[WATER_TEST] = set(keys) - {WATER_TEST}
    return sort(keys, under)


def sort(keys: Mapping[str, tuple[object, ...]], under: Mapping[str, Iterable[str]]) -> Order:
    """Kahn's sort; ties by key. Whatever cannot be placed holds, or waits on, a ring."""
    waiting = {n: len(set(u)) for n, u in under.items()}
    over: dict[str, list[str]] = {n: [] for n in keys}
    for n, below in under.items():
        for u in set(below):
            over[u].append(n)
    ready = [(keys[n], n) for n, k in waiting.items() if k == 0]
    heapq.heapify(ready)
    out: list[str] = []
    while ready:
        _, n = heapq.heappop(ready)
        out.append(n)
        for m in over[n]:
            waiting[m] -= 1
            if waiting[m] == 0:
                heapq.heappush(ready, (keys[m], m))
    if len(out) == len(keys):
        return Order(tuple(out))
    left = {n for n in keys if n not in set(out)}
    return Order(tuple(out), _ring(left, under))


def _ring(left: set[str], under: Mapping[str, Iterable[str]]) -> tuple[str, ...]:
    """Walk down the laps from any part left over until one comes round again."""
    path: list[str] = []
    n = min(left)
    while n not in path:
        path.append(n)
        n = min(u for u in under[n] if u in left)
    return tuple(path[path.index(n) :])


def _key(site: Site, layout: Layout, part: Part) -> tuple[object, ...]:
    x = 0.0
    if part.strip is not None:
        x = layout.strips[part.strip].left
        if site.panel.lay == "right-to-left":
            x = -x
    return (RANK[part.role or part.kind], part.opening if part.opening is not None else -1, x, part.id)
