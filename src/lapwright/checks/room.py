"""Openings for which nothing could be drawn: say why, with the room there is and the room it takes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping

from lapwright.checks.case import LEFT, RIGHT, Case
from lapwright.checks.pipes import refused as pipe_refused
from lapwright.detail.choose import LEAST_ABOVE, LEAST_LEG
from lapwright.detail.cricket import wall_slant
from lapwright.detail.measures import pan_of, side_room, stands
from lapwright.detail.model import OpeningDetail
from lapwright.findings import Finding
from lapwright.geom.space import distance
from lapwright.rules import breaks, finding, with_limit


def room(case: Case) -> Iterator[Finding]:
    """One STOP for every opening without metal."""
    for d in case.detail.openings:
        if d.method == "none":
            refusal = pipe_refused if d.why.startswith("pipe.") else SAYS.get(d.why, _plain)
            yield refusal(case, d)


def _plain(case: Case, d: OpeningDetail) -> Finding:
    return finding(d.why, d.opening.name)


def _shared(case: Case, d: OpeningDetail) -> Finding:
    others = [
        e.opening.name
        for e in case.detail.openings
        if e is not d and e.bay.left < d.bay.right and d.bay.left < e.bay.right
    ]
    return finding("bay.shared", d.opening.name, other=", ".join(others))


def _wall(case: Case, d: OpeningDetail) -> Finding:
    rise = d.cricket.wall_rise if d.cricket is not None else 0.0
    wall = with_limit("cricket.wall", stands(case.site, d.opening))
    return finding(wall, d.opening.name, rise + d.measures.upstand)


def _steep(case: Case, d: OpeningDetail) -> Finding:
    # Without a cricket its ridge runs straight up the wall.
    return finding("cricket.steep", d.opening.name, wall_slant(d.cricket) if d.cricket else 90.0)


def _small(case: Case, d: OpeningDetail) -> Finding:
    c = d.cricket
    return finding("cricket.small", d.opening.name, distance(c.ridge_foot, c.ridge_head) if c else None)


def _upslope(case: Case, d: OpeningDetail) -> Finding:
    reach = d.measures.extent or 0.0
    if d.cricket is not None:
        reach = d.cricket.ridge_on_roof + d.measures.valley_flange / math.cos(d.cricket.valley_angle)
    needed = with_limit("room.upslope", reach + LEAST_ABOVE)
    return finding(needed, d.opening.name, case.site.roof.slope - d.opening.back)


def _downslope(case: Case, d: OpeningDetail) -> Finding:
    needed = with_limit("room.downslope", d.measures.apron_flange + d.measures.turn_up)
    return finding(needed, d.opening.name, d.opening.up)


def _beside(case: Case, d: OpeningDetail) -> Finding:
    """The pan's leg where that is what lacks room, else the flange."""
    name, m, pan = d.opening.name, d.measures, pan_of(d.opening, d.bay, d.measures)
    leg, side = min((d.opening.left - pan.left, LEFT), (pan.right - d.opening.right, RIGHT))
    needed = with_limit("side.room", m.corner_cut + LEAST_LEG)
    if breaks(needed, leg):
        return finding(needed, name, leg, side=side)
    left, right = side_room(d.opening, d.bay, m)
    wide, side = min((left, LEFT), (right, RIGHT))
    return finding("side.flange-least", name, wide, side=side)


SAYS: Mapping[str, Callable[[Case, OpeningDetail], Finding]] = {
    "bay.shared": _shared,
    "room.upslope": _upslope,
    "cricket.wall": _wall,
    "cricket.steep": _steep,
    "cricket.small": _small,
    "room.downslope": _downslope,
    "side.flange-least": _beside,
}
