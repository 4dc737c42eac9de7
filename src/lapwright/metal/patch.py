"""Corner patches: a small square of metal, slit once, wrapped round a wall corner.

A fold round an outside corner always leaves a gap at its foot: base 270 degrees and two walls 90 each
make more than the 360 a sheet has. The patch is folded the other way about, so its two feet part.
"""

from __future__ import annotations

import math
from typing import Literal

from lapwright.geom.space import Point, add, dot, meet, scale, sub, unit
from lapwright.metal.bend import allowance
from lapwright.metal.cricket import wall_turn
from lapwright.metal.model import Body
from lapwright.metal.walls import level
from lapwright.metal.work import Hand, Work

SLIT_DEG = 3.0
"""Each foot leans this much off the slit, so that the slit opens. House rule."""

COVERS = 0.02
"""A back patch covers the hole under the tab by this much at least. House rule. [in]"""

Wall = Literal["back", "front"]


def patch(work: Work, hand: Hand, wall: Wall) -> Body:
    """The patch at one wall corner, folded, in roof coordinates.

    Source: size is a house rule; corners by intersecting planes.
    """
    sheet = work.sheet()
    size = side_of(work) if wall == "back" else work.measures.patch / 2
    off = 3 * work.thickness
    end = work.walls.back(off) if wall == "back" else work.walls.front(off)
    side = work.walls.side(hand, off)
    # Before a raised apron the corner stands on its flange, and nothing lies beside it to set a foot on.
    raised = wall == "front" and work.raised
    corner = meet(side, end, level(work.site.panel.rib_height if raised else 0.0))
    up = work.walls.up
    away: Point = (0.0, -1.0, 0.0) if wall == "back" else (0.0, 1.0, 0.0)
    ahead: Point = (0.0, -away[1], 0.0)
    into, out = work.into(hand), work.out(hand)
    turn = work.turn_back if wall == "back" else work.turn_front
    cricket = work.detail.cricket
    if wall == "back" and cricket is not None:
        # The end wall's foot follows the cricket's plane up, and lies on it.
        side_on = -1.0 if hand == "right" else 1.0
        climb = unit(sub(cricket.ridge_foot, cricket.corner))
        into, ahead = (side_on * climb[0], climb[1], climb[2]), unit(sub(cricket.ridge_head, cricket.ridge_foot))
        turn = wall_turn(work, cricket)
    # Angle too much at the corner when all four parts lie flat: half is taken off each foot.
    spare = math.acos(dot(into, up)) + math.acos(dot(away, up)) - math.pi
    back = sheet.setback(90, "down")
    start = max(_rise(work.setback(turn), back, dot(into, up)), _rise(work.setback(90.0), back, dot(away, up)))
    a, b = (
        _foot(corner, into, up, start, back, work.setback(turn)),
        _foot(corner, away, up, start, back, work.setback(90.0)),
    )
    top, kink = add(corner, up, size), add(corner, up, start)
    near, far = add(corner, into, size), add(corner, away, size)
    sheet.root(
        "end wall",
        [a[0], near, add(near, up, size), top, kink, a[2], a[1]],
        painted=work.walls.out_back if wall == "back" else scale(work.walls.out_back, -1.0),
    )
    sheet.attach("end wall", "side wall", [top, kink, b[2], b[1], b[0], far, add(far, up, size)])
    lean = math.tan(max(0.0, spare) / 2 + math.radians(SLIT_DEG))
    for name, parent, begin, along, foot in (
        ("end foot", "end wall", a[0], into, ahead),
        ("side foot", "side wall", b[0], away, out),
    ):
        tip = add(corner, along, size)
        inner = add(add(begin, foot, size), along, size * lean)
        if raised and name == "side foot":
            continue
        sheet.attach(parent, name, [begin, tip, add(tip, foot, size), inner])
    return sheet.body(u_axis=into)


def side_of(work: Work) -> float:
    """How far a back patch reaches each way: half its size, or what covers the open hole under the tab. [in]

    The tab's foot climbs 45 degrees in the flat and leans with the wall: at its tip it stands v cos(lean) +
    tab sin(lean) above the base. The patch stands along the wall, so from 8:12 up a 2 in one no longer covers
    that.
    """
    m, lean = work.measures, work.walls.lean
    relief, metal = work.setback(work.turn_back), allowance(90.0, work.radius, work.thickness)
    tip = relief + metal + m.corner_tab - work.radius
    hole = tip * math.cos(lean) + m.corner_tab * math.sin(lean)
    return max(m.patch / 2, math.ceil((hole + COVERS) / math.cos(lean) * 8) / 8)


def _rise(foot_back: float, side_back: float, cosine: float) -> float:
    """How far up the side line the side bend must start to clear the foot bend. [in]"""
    sine = math.sqrt(1.0 - cosine * cosine)
    return (foot_back + side_back * max(0.0, cosine)) / sine


def _foot(
    corner: Point, foot: Point, side: Point, start: float, side_back: float, foot_back: float
) -> tuple[Point, Point, Point]:
    """Relieve one face: on the foot line, at the foot bend's tangent, and at the side bend's tangent."""
    cosine = dot(foot, side)
    sine = math.sqrt(1.0 - cosine * cosine)
    square = scale(add(side, foot, -cosine), 1.0 / sine)
    inward = scale(add(foot, side, -cosine), 1.0 / sine)
    tangent = add(add(corner, side, start), inward, side_back)
    x = max(start * cosine + side_back * sine, side_back)
    on_foot = add(corner, foot, x)
    return on_foot, add(on_foot, square, foot_back), tangent
