"""Decide what each opening gets: flat pan, or nothing where this version cannot draw it truly."""

from __future__ import annotations

from lapwright.detail.measures import bay_notches, cleat_line, pan_of, resolve, side_room
from lapwright.detail.model import Detail, Method, OpeningDetail
from lapwright.detail.parts import laps_of, parts_of
from lapwright.layout.model import Bay, Layout
from lapwright.site.model import Defaults, Opening, Site

PLANNED = ("masonry-chimney", "framed-chimney", "curb", "skylight")
"""Kinds of opening this version details."""

LEAST_LEG = 1.0
"""A pan leg narrower than this beside the corner cut is no leg. House rule. [in]"""

LEAST_FLANGE = 1.25
"""Beside the opening, less than this takes no flange with a hem at all. House rule. [in]"""

LEAST_ABOVE = 2.0
"""Roof needed beyond the pan's upslope end for the panels above to be held. House rule. [in]"""


def choose(site: Site, layout: Layout) -> Detail:
    """Decide each opening's upslope side and list every part and lap.

    A flat pan is drawn wherever its geometry exists, even where the rule set asks for a cricket: the
    finding then stops the job, and the drawing shows what was refused. Nothing is drawn (method "none")
    for kinds or places that this version cannot detail: `why` names the reason.
    """
    shared = _sharing(layout)
    details = tuple(
        _one(site, o, bay, shared=i in shared)
        for i, (o, bay) in enumerate(zip(site.openings, layout.bays, strict=True))
    )
    parts = parts_of(site, layout, details)
    return Detail(details, laps_of(site, layout, details, parts), parts)


def _one(site: Site, opening: Opening, bay: Bay, shared: bool) -> OpeningDetail:
    m = resolve(site, opening)
    why = _refused(site, opening, bay, m, shared)
    if why:
        return OpeningDetail(opening, bay, "none", m, why=why)
    line = cleat_line(opening, bay, m)
    method: Method = "flat-pan"
    return OpeningDetail(
        opening,
        bay,
        method,
        m,
        line,
        pan_of(opening, bay, m),
        bay_notches(site, opening, bay, m, line),
        "detail.flat-pan",
    )


def _refused(site: Site, o: Opening, bay: Bay, m: Defaults, shared: bool) -> str:
    """Why nothing can be drawn, as a rule's name; "" where it can."""
    if o.kind not in PLANNED or o.method == "cricket":
        return "opening.not-planned"
    if shared:
        return "bay.shared"
    pan = pan_of(o, bay, m)
    if pan.upslope + LEAST_ABOVE > site.roof.slope:
        return "room.upslope"
    if o.up < m.apron_flange + m.turn_up:
        return "room.downslope"
    if min(o.left - pan.left, pan.right - o.right) < m.corner_cut + LEAST_LEG:
        return "side.flange-least"
    if min(side_room(o, bay, m)) < LEAST_FLANGE:
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
