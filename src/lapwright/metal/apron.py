"""The apron on the downslope face: upstand, tabs round the front corners, flange over the panels.

flat:    the flange lies on the panels and runs on past each corner.
raised:  snap ribs end under it in rib-high closures, so the flange lies on those and is closed at both
         ends, flush with the faces:
             |upstand|
    ____________     |
   |closed end  |flange at rib height
"""

from __future__ import annotations

import math

from lapwright.geom.space import Point, meet
from lapwright.metal.corner import Relief, add_tab, relieve
from lapwright.metal.model import Body
from lapwright.metal.sheet import Sheet
from lapwright.metal.walls import level
from lapwright.metal.work import HANDS, Hand, Work

END_CLEAR = 0.125
"""A raised flange's hem stops this far from its closed ends. House rule. [in]"""


def apron(work: Work) -> Body:
    """The apron folded, in roof coordinates.

    Source: upstand, flange, hem and tabs are house rules; corners by intersecting planes.
    """
    m, o = work.measures, work.opening
    sheet = work.sheet()
    walls, front = work.walls, work.walls.front()
    base = work.site.panel.rib_height if work.raised else 0.0
    top = min(m.upstand, o.height)
    foot = {h: walls.corner(h, front, base, 0.0) for h in HANDS}
    head = {h: walls.corner(h, front, top, 0.0) for h in HANDS}
    back = work.setback(work.turn_front)
    relief = {h: relieve(foot[h], work.into(h), walls.up, back, sheet.setback(90, "down")) for h in HANDS}
    if work.raised:
        _raised_flange(work, sheet, foot, relief)
    else:
        _flat_flange(work, sheet, foot, relief)
    left, right = relief["left"], relief["right"]
    sheet.attach(
        "flange",
        "upstand",
        [left.p0, right.p0, right.p1, right.p2, head["right"], head["left"], left.p2, left.p1],
    )
    upslope = walls.out_back
    for h in HANDS:
        # On a plumb wall the tab heads downhill into the roof: its foot is cut along the roof plane.
        slope = math.tan(walls.lean)
        add_tab(sheet, "upstand", f"tab {h}", relief[h], foot[h], head[h], walls.up, upslope, m.apron_tab, slope)
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def reach(work: Work, hand: Hand) -> float:
    """How far a flat flange runs past the corner: as asked, or what fits before the rib's face. [in]"""
    return min(work.measures.apron_past, work.room(hand))


def _flat_flange(work: Work, sheet: Sheet, foot: dict[Hand, Point], relief: dict[Hand, Relief]) -> None:
    m, o = work.measures, work.opening
    low = o.up - m.apron_flange
    y = foot["left"][1]
    far = y + work.far(work.turn_front)
    xl, xr = o.left - reach(work, "left"), o.right + reach(work, "right")
    pl, pr = relief["left"].p0[0], relief["right"].p0[0]
    ring = [(xl, low), (xr, low), (xr, far), (pr, far), (pr, y), (pl, y), (pl, far), (xl, far)]
    sheet.root("flange", [(a, b, 0.0) for a, b in ring], painted=(0.0, 0.0, 1.0))
    sheet.hem("flange", "hem", ((xl, low, 0.0), (xr, low, 0.0)), m.hem, "down")
    for h in HANDS:
        near = y - work.setback(work.turn_front)
        sheet.hole("flange", (relief[h].p0[0], near, 0.0), m.stop_hole)


def _raised_flange(work: Work, sheet: Sheet, foot: dict[Hand, Point], relief: dict[Hand, Relief]) -> None:
    m, o = work.measures, work.opening
    z = work.site.panel.rib_height
    low, y = o.up - m.apron_flange, foot["left"][1]
    a, b = o.left + END_CLEAR, o.right - END_CLEAR
    ring = [(o.left, low), (a, low), (b, low), (o.right, low), (o.right, y)]
    ring += [(relief["right"].p0[0], y), (relief["left"].p0[0], y), (o.left, y)]
    sheet.root("flange", [(p, q, z) for p, q in ring], painted=(0.0, 0.0, 1.0))
    sheet.hem("flange", "hem", ((a, low, z), (b, low, z)), m.hem, "down")
    front = work.walls.front()
    for h in HANDS:
        side = work.walls.side(h)
        upper = meet(side, level(0.0), front)
        ends = [foot[h], (foot[h][0], low, z), (foot[h][0], low, 0.0), upper]
        sheet.attach("flange", f"closed end {h}", ends)
        near = y - work.setback(work.turn_front)
        sheet.hole("flange", (relief[h].p0[0], near, z), m.stop_hole)
