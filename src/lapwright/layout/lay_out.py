"""Lay the ribs out over the eave, and find the bay of every opening."""

from __future__ import annotations

import itertools
import math

from lapwright.geom import SAME
from lapwright.layout.model import Bay, Layout, Strip
from lapwright.site.model import Opening, Site

START_STEP = 0.25
"""A chosen first rib lies on a quarter inch, which a tape reads at a glance. House rule. [in]"""

CORNER_CLEAR = 3.0
"""A rib centre nearer than this to an opening's corner is a conflict. House rule. [in]"""


def lay_out(site: Site) -> Layout:
    """Ribs, strips and bays.

    Args:
        site: a job in range; panel.first_rib None lets the layout choose it.

    Returns:
        Rib centres strictly inside the eave, the strips between them, and one bay per opening.

    Source: ribs at first_rib + k coverage; bay from the nearest rib at or beyond `side_clear` of each
    side (house rule).
    """
    first = site.panel.first_rib
    chosen = first is None
    if first is None:
        first = choose_start(site)
    ribs = ribs_from(first, site.panel.coverage, site.roof.eave)
    return Layout(
        ribs,
        strips_between(ribs, site.roof.eave),
        tuple(bay_of(o, ribs, site.roof.eave) for o in site.openings),
        first,
        chosen,
    )


def ribs_from(first: float, coverage: float, eave: float) -> tuple[float, ...]:
    """x of every rib centre strictly inside the eave. [in]"""
    count = math.ceil((eave - first) / coverage)
    ribs = (first + k * coverage for k in range(count + 1))
    return tuple(x for x in ribs if SAME < x < eave - SAME)


def strips_between(ribs: tuple[float, ...], eave: float) -> tuple[Strip, ...]:
    """The panels' places, left to right, edge strips included. [in]"""
    lines = (0.0, *ribs, eave)
    last = len(lines) - 2
    return tuple(
        Strip(i, a, b, left_is_rib=i > 0, right_is_rib=i < last)
        for i, (a, b) in enumerate(itertools.pairwise(lines))
    )


def bay_of(opening: Opening, ribs: tuple[float, ...], eave: float) -> Bay:
    """The bay of one opening: nearest ribs at or beyond its sides by `side_clear`, else the edge. [in]"""
    clear = opening.measures.side_clear
    left = max((x for x in ribs if x <= opening.left - clear + SAME), default=0.0)
    right = min((x for x in ribs if x >= opening.right + clear - SAME), default=eave)
    inside = tuple(x for x in ribs if left + SAME < x < right - SAME)
    return Bay(opening.name, left, right, left > 0.0, right < eave, inside)


def choose_start(site: Site) -> float:
    """Where to put the first rib: fewest conflicts, then no slivers, then fewest ribs cut, then even edges.

    Tries every quarter inch of one coverage; the exact chooser over many openings is another stage's work.
    """
    steps = max(1, math.ceil(site.panel.coverage / START_STEP - SAME))
    starts = (k * START_STEP for k in range(steps))
    return min(starts, key=lambda s: (_cost(site, s), s))


def _cost(site: Site, first: float) -> tuple[int, int, int, float]:
    eave, coverage = site.roof.eave, site.panel.coverage
    ribs = ribs_from(first, coverage, eave)
    conflicts = interrupted = 0
    for o in site.openings:
        bay = bay_of(o, ribs, eave)
        interrupted += len(bay.interrupted)
        for x in (*ribs,):
            near_corner = min(abs(x - o.left), abs(x - o.right)) < CORNER_CLEAR - SAME
            outside = x <= o.left or x >= o.right
            in_channel = outside and max(o.left - x, x - o.right) < o.measures.side_clear - SAME
            conflicts += near_corner or in_channel
    edges = (ribs[0], eave - ribs[-1]) if ribs else (eave,)
    slivers = sum(SAME < e < coverage / 3 - SAME for e in edges)
    return conflicts, slivers, interrupted, abs(edges[0] - edges[-1])
