"""Corner patches: a small square of metal, slit once, wrapped round a wall corner.

A fold round an outside corner always leaves a gap at its foot: base 270 degrees and two walls 90 each
make more than the 360 a sheet has. The patch is folded the other way about, so its two feet part.
"""

from __future__ import annotations

import math
from typing import Literal

from lapwright.geom.space import Point, add, meet
from lapwright.metal.corner import relieve
from lapwright.metal.model import Body
from lapwright.metal.walls import level
from lapwright.metal.work import Hand, Work

SLIT = 0.0625
"""Each foot keeps this far from the corner, so that the slit opens. House rule. [in]"""

Wall = Literal["back", "front"]


def patch(work: Work, hand: Hand, wall: Wall) -> Body:
    """The patch at one wall corner, folded, in roof coordinates.

    Source: size is a house rule; corners by intersecting planes.
    """
    sheet = work.sheet()
    size = work.measures.patch / 2
    off = 3 * work.thickness
    end = work.walls.back(off) if wall == "back" else work.walls.front(off)
    side = work.walls.side(hand, off)
    corner = meet(side, end, level(0.0))
    up = work.walls.up
    away: Point = (0.0, -1.0, 0.0) if wall == "back" else (0.0, 1.0, 0.0)
    ahead: Point = (0.0, -away[1], 0.0)
    into, out = work.into(hand), work.out(hand)
    turn = work.turn_back if wall == "back" else work.turn_front
    # Angle left over at the corner when all four parts lie flat: half is taken off each foot.
    spare = math.radians(turn - 90.0)
    rise = max(work.setback(turn), work.setback(90.0))
    a = relieve(corner, into, up, rise, sheet.setback(90, "down"))
    b = relieve(corner, away, up, rise, sheet.setback(90, "down"))
    top = add(corner, up, size)
    sheet.root(
        "end wall",
        [a.p0, add(corner, into, size), add(add(corner, into, size), up, size), top, a.p2, a.p1],
        painted=ahead if work.walls.lean < 1.0 else up,
    )
    if math.dist(a.p2, b.p2) > 1e-9:
        b = type(b)(b.p0, b.p1, a.p2, b.rise)
    far_side = add(corner, away, size)
    sheet.attach("end wall", "side wall", [top, a.p2, b.p1, b.p0, far_side, add(far_side, up, size)])
    lean = math.tan(max(0.0, spare) / 2)
    for name, parent, start, along, foot in (
        ("end foot", "end wall", a.p0, into, ahead),
        ("side foot", "side wall", b.p0, away, out),
    ):
        tip = add(corner, along, size)
        inner = add(add(add(corner, along, SLIT), foot, size), along, size * lean)
        sheet.attach(parent, name, [start, tip, add(tip, foot, size), inner])
    return sheet.body(u_axis=into)
