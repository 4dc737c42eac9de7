"""Lay the ribs out over the eave, and find the bay of every opening."""

from __future__ import annotations

import itertools
import math

from lapwright.geom import SAME
from lapwright.layout.model import Bay, Layout, Strip
from lapwright.layout.start import choose_start, clear_of
from lapwright.site.model import Opening, Site


def lay_out(site: Site) -> Layout:
    """Ribs, strips and bays.

    Args:
        site: a job in range; panel.first_rib None lets the layout choose it.

    Returns:
        Rib centres strictly inside the eave, the strips between them, and one bay per opening.

    Source: ribs at first_rib + k coverage; bay from the nearest rib at or beyond `side_clear` of each
    side (house rule).
    """
    start = choose_start(site) if site.panel.first_rib is None else None
    first = site.panel.first_rib if start is None else start.first
    assert first is not None
    ribs = ribs_from(first, site.panel.coverage, site.roof.eave)
    return Layout(
        ribs,
        strips_between(ribs, site.roof.eave),
        tuple(bay_of(o.rim(site.roof.theta), ribs, site.roof.eave) for o in site.openings),
        first,
        start,
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
    clear = clear_of(opening)
    left = max((x for x in ribs if x <= opening.left - clear + SAME), default=0.0)
    right = min((x for x in ribs if x >= opening.right + clear - SAME), default=eave)
    inside = tuple(x for x in ribs if left + SAME < x < right - SAME)
    return Bay(opening.name, left, right, left > 0.0, right < eave, inside)
