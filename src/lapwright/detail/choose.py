"""Decide what each opening gets: flat pan or cricket, or nothing where this version cannot draw it truly."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from lapwright.detail.cricket import NoCricket, cricket_cleat_line, cricket_of, flange_edge, wall_slant
from lapwright.detail.drain import water_of
from lapwright.detail.measures import bay_notches, cleat_line, pan_of, resolve, side_room, stands
from lapwright.detail.model import Detail, OpeningDetail, Pan
from lapwright.detail.parts import laps_of, parts_of
from lapwright.detail.pipe import with_pipe
from lapwright.geom import SAME
from lapwright.geom.space import Flat, distance
from lapwright.layout.model import Bay, Layout
from lapwright.rules import cricket_asked
from lapwright.site.model import Defaults, Opening, Site

LEAST_LEG = 1.0
"""A pan leg narrower than this beside the corner cut is no leg. House rule. [in]"""

LEAST_FLANGE = 1.25
"""Beside the opening, less than this takes no flange with a hem at all. House rule. [in]"""

LEAST_ABOVE = 2.0
"""Roof needed beyond the pan's upslope end for the panels above to be held. House rule. [in]"""

STEEPEST_WALL_EDGE = 75.0
"""A cricket's planes climb no steeper along the wall; past that no upstand turns its corner. House rule. [deg]"""

LEAST_RIDGE = 4.0
"""A shorter ridge has no room for its seam, which is laid flat for 2 at both ends. House rule. [in]"""


def choose(site: Site, layout: Layout) -> Detail:
    """Decide each opening's upslope side and list every part and lap.

    auto takes a cricket where the job's rule set asks for one or water would stand deeper behind a flat pan
    than its laps stand, else a flat pan; a flat pan too where only the depth asks for a cricket and none
    fits. A method the job forces is drawn even where the rule set forbids it: the finding then stops the job,
    and the drawing shows what was refused. Nothing is drawn (method "none") for kinds or places that this
    version cannot detail: `why` names the rule that says so.
    """
    shared = _sharing(layout)
    details = tuple(
        _one(site, o.rim(site.roof.theta), bay, shared=i in shared)
        for i, (o, bay) in enumerate(zip(site.openings, layout.bays, strict=True))
    )
    parts = parts_of(site, layout, details)
    return Detail(details, laps_of(site, layout, details, parts), parts)


def _one(site: Site, opening: Opening, bay: Bay, shared: bool) -> OpeningDetail:
    m = resolve(site, opening)
    if opening.kind == "pipe":
        return with_pipe(site, opening, bay, m, shared)
    why = _refused(site, opening, bay, m, shared)
    if why:
        return OpeningDetail(opening, bay, "none", m, why=why)
    asked = cricket_asked(**question(site, opening, m)) is not None
    water = water_of(site, opening, bay, m, cricket=False)
    deep = water.depth > water.limit + SAME
    if opening.method == "cricket" or (opening.method == "auto" and (asked or deep)):
        forced = opening.method == "cricket"
        why = "forced" if forced else "rule" if asked else "depth"
        made = _with_cricket(site, opening, bay, m, f"detail.why.{why}")
        if made.planned or why != "depth":
            return made
        # Only the depth asks for a cricket, and none fits: the flat pan is drawn, and the depth is a finding.
    why = "detail.why.forced" if opening.method == "flat-pan" else "detail.why.not-asked"
    line = cleat_line(opening, bay, m)
    return OpeningDetail(
        opening, bay, "flat-pan", m, line, pan_of(opening, bay, m), None,
        bay_notches(site, opening, bay, m, line), why, water,
    )  # fmt: skip


def _with_cricket(site: Site, opening: Opening, bay: Bay, m: Defaults, why: str) -> OpeningDetail:
    try:
        cricket = cricket_of(site.roof, opening, m)
    except NoCricket:
        return OpeningDetail(opening, bay, "none", m, why="cricket.steep")
    if cricket.wall_rise + m.upstand > stands(site, opening) + SAME:
        return OpeningDetail(opening, bay, "none", m, cricket=cricket, why="cricket.wall")
    if wall_slant(cricket) > STEEPEST_WALL_EDGE + SAME:
        return OpeningDetail(opening, bay, "none", m, cricket=cricket, why="cricket.steep")
    if distance(cricket.ridge_foot, cricket.ridge_head) < LEAST_RIDGE - SAME:
        return OpeningDetail(opening, bay, "none", m, cricket=cricket, why="cricket.small")
    line = cricket_cleat_line(opening, bay, m, cricket)
    pan = pan_of(opening, bay, m)
    edges = [flange_edge(opening, p, m, cricket, y) for p, y in _halves(opening, pan, line)]
    pan = replace(pan, upslope=max(y for e in edges for _, y in e))
    if pan.upslope + LEAST_ABOVE > site.roof.slope + SAME:
        return OpeningDetail(opening, bay, "none", m, cricket=cricket, why="room.upslope")
    notches = bay_notches(site, opening, bay, m, line)
    water = water_of(site, opening, bay, m, cricket=True)
    return OpeningDetail(opening, bay, "cricket", m, line, pan, cricket, notches, why, water)


def _halves(opening: Opening, pan: Pan, line: tuple[Flat, ...]) -> tuple[tuple[Pan, float], tuple[Pan, float]]:
    """The pan's edges as each half sees them from its own side, with the cleat line's end there."""
    middle = 2 * opening.left + opening.width
    return (pan, line[0][1]), (replace(pan, left=middle - pan.right), line[-1][1])


def question(site: Site, opening: Opening, m: Defaults) -> dict[str, Any]:
    """What a rule set is asked about one opening: the arguments of `rules.cricket_asked`.

    Args:
        m: resolved measures; upstand and extent say how far the flashing of a flat pan would go. [in]
    """
    theta, up = site.roof.theta, min(m.upstand, stands(site, opening))
    return {
        "rule_set": site.weather.rule_set,
        "kind": opening.kind,
        "width": opening.width,
        "pitch_deg": math.degrees(theta),
        "up_wall": up / math.cos(theta) if opening.face == "plumb" else up * math.cos(theta),
        "up_roof": (m.extent or 0.0) * math.sin(theta),
        "at_ridge": site.roof.upper_edge == "ridge" and opening.back >= site.roof.slope - SAME,
    }


def _refused(site: Site, o: Opening, bay: Bay, m: Defaults, shared: bool) -> str:
    """Why nothing can be drawn, as a rule's name; "" where it can."""
    if shared:
        return "bay.shared"
    pan = pan_of(o, bay, m)
    if o.back + m.setback + m.lip + LEAST_ABOVE > site.roof.slope + SAME or (
        o.method != "cricket" and pan.upslope + LEAST_ABOVE > site.roof.slope + SAME
    ):
        return "room.upslope"
    if o.up < m.apron_flange + m.turn_up - SAME:
        return "room.downslope"
    if min(o.left - pan.left, pan.right - o.right) < m.corner_cut + LEAST_LEG - SAME:
        return "side.flange-least"
    if min(side_room(o, bay, m)) < LEAST_FLANGE - SAME:
        return "side.flange-least"
    return ""


def _sharing(layout: Layout) -> frozenset[int]:
    """Openings whose bays overlap: one pan would have to serve both."""
    out: set[int] = set()
    bays = list(enumerate(layout.bays))
    for i, a in bays:
        for k, b in bays[i + 1 :]:
            if a.left < b.right and b.left < a.right:
                out |= {i, k}
    return frozenset(out)
