"""The side-wall flashing: an L over the side panel, hemmed, its tab turned round the back corner.

left one seen from the side, its wall plumb:        ____________
the upstand is a parallelogram, and its foot ends  /            /|tab
at the back face; the base runs on under the pan  /____________/_|___
                                             lap |     base          |
"""

from __future__ import annotations

import math

from lapwright.geom.space import Point, meet
from lapwright.metal.corner import add_tab, relieve
from lapwright.metal.model import Body
from lapwright.metal.sheet import Sheet
from lapwright.metal.walls import level, upslope_at
from lapwright.metal.work import Hand, Work

TAIL_SHORT = 0.0625
"""The tail that covers a raised apron's closed end stops this far under its flange. House rule. [in]"""


def side_wall(work: Work, hand: Hand) -> Body:
    """One side-wall flashing folded, in roof coordinates.

    Source: flange, hem, tab and laps are house rules; corners by intersecting planes.
    """
    m, o, t = work.measures, work.opening, work.thickness
    walls = work.walls
    sheet = work.sheet()
    side, front, back = walls.side(hand, t), walls.front(), walls.back(t)
    foot = meet(side, level(0.0), back)
    head = meet(side, level(height(work)), back)
    relief = relieve(foot, (0.0, -1.0, 0.0), walls.up, sheet.setback(90, "up"), sheet.setback(90, "down"))
    start = o.up - m.side_lap
    x = foot[0]
    out = work.out(hand)[0]
    far = x - out * work.far(90.0)
    near_end = start if work.raised else meet(side, level(0.0), front)[1]
    end = o.back + m.side_past
    outer = x + out * flange(work, hand)
    ring: list[Point] = [(outer, start, 0.0), (x, start, 0.0), (x, near_end, 0.0), relief.p0]
    ring += [(far, relief.p0[1], 0.0), (far, end, 0.0), (outer, end, 0.0)]
    sheet.root("base", ring, painted=(0.0, 0.0, 1.0))
    high = meet(side, level(height(work)), front)
    upstand = [(x, near_end, 0.0), relief.p0, relief.p1, relief.p2, head, high]
    if work.raised:
        tail = work.site.panel.rib_height - TAIL_SHORT
        upstand += [meet(side, level(tail), front), meet(side, level(tail), upslope_at(start))]
    sheet.attach("base", "upstand", upstand)
    add_tab(
        sheet,
        "upstand",
        "tab",
        relief,
        foot,
        head,
        walls.up,
        work.into(hand),
        m.side_tab,
        math.tan(walls.lean),
    )
    sheet.hole("base", (x + out * work.setback(90.0), relief.p0[1], 0.0), m.stop_hole)
    _hem(work, sheet, hand, outer, start, end)
    return sheet.body(u_axis=(0.0, 1.0, 0.0))


def height(work: Work) -> float:
    """Upstand height, square to the roof; never above the wall itself. [in]"""
    return min(work.measures.upstand, work.opening.height)


def flange(work: Work, hand: Hand) -> float:
    """Base width from the bend to the hem's fold: as asked, or what fits before the rib's face. [in]"""
    return min(work.measures.side_flange, work.room(hand) - work.thickness)


def _hem(work: Work, sheet: Sheet, hand: Hand, outer: float, start: float, end: float) -> None:
    low, high = (outer, start, 0.0), (outer, end, 0.0)
    edge = (high, low) if hand == "left" else (low, high)
    sheet.hem("base", "hem", edge, work.measures.hem, "down")
