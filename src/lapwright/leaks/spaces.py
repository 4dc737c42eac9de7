"""What a place is called: the gap between two sheets, inside the wall, off the roof, at a patched corner."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from lapwright.geom.space import Point
from lapwright.leaks.layers import Sight
from lapwright.leaks.search import Crossing
from lapwright.metal.cleat import seat
from lapwright.metal.panel import edge_at
from lapwright.metal.work import Work
from lapwright.site.model import Site

PANS = ("back-pan", "cricket")

FOOT = 0.5
"""A patch fills reliefs this near its corner. House rule. [in]"""

MARGIN = 1.0
"""Nearer the roof's edges than this, edges belong to eave, ridge and rake trims. [in]"""


def gap(work: Work, kinds: Mapping[str, str], over: str, under: str, at: Point) -> str:
    """The name of the gap between two sheets; the cleats part the one under the upper panels in two."""
    name = f"{over}|{under}"
    if over.endswith("-upper") and kinds[under] in PANS:
        return f"{name} {'past' if at[1] > _line_at(work, at[0]) else 'short of'} the cleat"
    return name


def dams(
    site: Site, work: Work, sights: Sequence[Sight], kinds: Mapping[str, str], hem: float, tape: float
) -> Iterator[Crossing]:
    """Over the cleats inside the hems hooked on them, and under them through their tape.

    Args:
        hem, tape: what a hooked hem and the tape hold. [in]
    """
    theta = site.roof.theta
    for s in sights:
        under = s.under
        if s.edge.hem is None or not s.edge.sheet.endswith("-upper") or under is None or kinds[under] not in PANS:
            continue
        x = s.at[0]
        y = _line_at(work, x)
        foot = y * math.sin(theta)
        near, far = (gap(work, kinds, s.edge.sheet, under, (x, y + d, 0.0)) for d in (-0.1, 0.1))
        over = foot + (seat(work) + work.measures.web) * math.cos(theta)
        place = (x, y, 0.0)
        held = hem if s.hooked is not None else 0.0
        yield Crossing(near, far, over, foot, held, f"{s.edge.sheet}>offset-cleat", place, how="hem" if held else "")
        yield Crossing(near, far, foot, foot, tape, f"offset-cleat>{under}", place, how="tape" if tape else "")


def _line_at(work: Work, x: float) -> float:
    """y of the cleat line at x. [in]"""
    line = work.detail.cleat_line
    return edge_at(list(line), min(max(x, line[0][0]), line[-1][0]))


def foot_of(work: Work, p: Point) -> str:
    """Which wall corner's foot a place is at: "back-left" ..., or nothing."""
    o = work.opening
    for hand, x in (("left", o.left), ("right", o.right)):
        for end, y in (("front", o.up), ("back", o.back)):
            base = work.site.panel.rib_height if end == "front" and work.raised else 0.0
            near = max(abs(p[0] - x), abs(p[1] - y - base * math.tan(work.walls.lean)), abs(p[2] - base))
            if near < FOOT:
                return f"{end}-{hand}"
    return ""


def inside_wall(work: Work, p: Point, steep: bool) -> bool:
    """Is a point in the wall itself, as a leg in its reglet is, or a lying sheet's edge at the foot of it?"""
    deep = -0.005 if steep else 0.0
    walls = (work.walls.back(), work.walls.front(), work.walls.side("left"), work.walls.side("right"))
    return all(w.height(p) < deep for w in walls)


def off_the_roof(site: Site, p: Point) -> bool:
    """At the eave, the upper edge or a rake, where trims and ridge take over?"""
    roof = site.roof
    return not (MARGIN < p[1] < roof.slope - MARGIN and MARGIN < p[0] < roof.eave - MARGIN)
