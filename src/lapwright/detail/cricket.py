"""The cricket's planes, where they meet the roof and the back face, and its cleat line.

Seen from above, left half:           A half is the triangle corner - ridge foot - ridge head.
     head                             The valley runs corner - head in the roof plane,
     /|                               the ridge foot - head, the wall edge corner - foot.
    / | ridge
   /__|
corner foot (at the back face)
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from lapwright.detail.model import Cricket, OpeningDetail, Pan
from lapwright.geom import SAME
from lapwright.geom.space import Flat, Plane, Point, cross, distance, dot, meet, norm, plane, scale, sub, unit
from lapwright.layout.model import Bay
from lapwright.site.model import Defaults, Opening, Roof

SAME_RUN_DEG = 0.01
"""Two runs of the cleat line turned less than this are one run."""


class NoCricket(ValueError):
    """Planes that enclose nothing: no cricket can be worked out."""


def cricket_of(roof: Roof, opening: Opening, m: Defaults) -> Cricket:
    """Work the cricket out by intersecting its planes.

    Args:
        roof: rise above 0. [in/12in]
        opening: width W, level across the slope. [in]
        m: cross_slope and ridge_slope per 12; cross_slope None takes the roof's own rise.

    Raises:
        NoCricket: the ridge never meets the roof, or runs along a back face that leans as it falls.

    Source: geometry. For a level ridge and a plumb back face: H = W k/2, ridge H/m, valley
    sqrt((W/2)^2 + d^2 + H^2), bend along the valley acos(1/sqrt((1+m^2)(1+k^2))), ridge 2 atan k.
    """
    rise = roof.rise / 12.0
    k = (roof.rise if m.cross_slope is None else m.cross_slope) / 12.0
    along = m.ridge_slope / 12.0
    if along >= rise - 1e-9:
        raise NoCricket("the ridge climbs as steeply as the roof")
    theta = roof.theta
    if opening.face == "square" and math.cos(theta) + along * math.sin(theta) < SAME:
        raise NoCricket("the ridge runs along the back face")
    up: Point = (0.0, math.sin(theta), math.cos(theta))
    level: Point = (0.0, math.cos(theta), -math.sin(theta))
    ridge = unit((0.0, level[1] + along * up[1], level[2] + along * up[2]))
    climb = (1.0, k * up[1], k * up[2])
    corner: Point = (opening.left, opening.back, 0.0)
    half = plane(corner, cross(climb, ridge))
    if half.normal[2] < 0:
        half = Plane(half.point, scale(half.normal, -1.0))
    middle = plane((opening.left + opening.width / 2, 0.0, 0.0), (1.0, 0.0, 0.0))
    deck = plane((0.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    face = level if opening.face == "plumb" else (0.0, 1.0, 0.0)
    foot = meet(half, middle, plane(corner, face))
    head = meet(half, middle, deck)
    twin = (-half.normal[0], half.normal[1], half.normal[2])
    valley = sub(head, corner)
    return Cricket(
        cross_slope=k,
        ridge_slope=along,
        height=dot(sub(foot, corner), up),
        ridge_plan=dot(sub(head, foot), level),
        ridge_on_roof=head[1] - opening.back,
        valley=norm(valley),
        valley_slope_deg=math.degrees(math.asin(dot(unit(valley), up))),
        valley_bend_deg=_between(half.normal, (0.0, 0.0, 1.0)),
        ridge_bend_deg=_between(half.normal, twin),
        wall_edge=distance(corner, foot),
        plane_area=norm(cross(sub(foot, corner), sub(head, corner))) / 2,
        wall_rise=foot[2],
        valley_angle=math.atan2(valley[1], valley[0]),
        corner=corner,
        ridge_foot=foot,
        ridge_head=head,
    )


def _between(a: Point, b: Point) -> float:
    return math.degrees(math.acos(max(-1.0, min(1.0, dot(a, b)))))


def wall_slant(cricket: Cricket) -> float:
    """How steeply a plane's edge climbs along the back face, from its foot at the corner. [deg]"""
    return math.degrees(math.acos((cricket.ridge_foot[0] - cricket.corner[0]) / cricket.wall_edge))


def cricket_cleat_line(opening: Opening, bay: Bay, m: Defaults, cricket: Cricket) -> tuple[Flat, ...]:
    """Five points, collinear neighbours merged: at the bay, beside the corner, over the ridge's head, mirrored.

    Parallel to the valleys at `valley_setback`; at the bay no steeper than `steepest` and no lower than
    `cleat_foot` below the back face. Source: house rule.
    """
    rise = m.valley_setback / math.cos(cricket.valley_angle)
    slope = math.tan(cricket.valley_angle)
    steep = math.tan(math.radians(m.steepest))
    across = opening.back + rise
    middle = opening.left + opening.width / 2

    def foot(reach: float) -> float:
        return max(opening.back - m.cleat_foot, across - reach * min(slope, steep))

    points = [
        (bay.left, foot(opening.left - bay.left)),
        (opening.left, across),
        (middle, across + cricket.ridge_on_roof),
        (opening.right, across),
        (bay.right, foot(bay.right - opening.right)),
    ]
    return _merged(points)


def _merged(points: list[Flat]) -> tuple[Flat, ...]:
    out = points[:1]
    for p, q in pairwise(points[1:]):
        a = out[-1]
        turned = math.atan2(q[1] - p[1], q[0] - p[0]) - math.atan2(p[1] - a[1], p[0] - a[0])
        if abs(math.degrees(turned)) > SAME_RUN_DEG:
            out.append(p)
    return (*out, points[-1])


def flange_edge(opening: Opening, pan: Pan, m: Defaults, cricket: Cricket, cleat_foot: float) -> list[Flat]:
    """The outer edge of the left half's flange, from the rib up to the middle: x, y. [in]

    Parallel to the valley, `valley_flange` beyond it; beside the opening never nearer the cleat line
    than the flange is beyond it elsewhere.

    Args:
        cleat_foot: y of the cleat line at the bay. [in]
    """
    slope = math.tan(cricket.valley_angle)
    past = m.valley_flange / math.cos(cricket.valley_angle)
    spare = m.valley_flange - m.valley_setback
    at_corner = opening.back + past
    middle = opening.left + opening.width / 2
    at_rib = max(at_corner - slope * (opening.left - pan.left), cleat_foot + spare)
    return [(pan.left, at_rib), (opening.left, at_corner), (middle, at_corner + slope * (middle - opening.left))]


def rib_ends(d: OpeningDetail) -> tuple[float, float]:
    """Where the pan, or a cricket's flange, ends upslope at the bay's left and right: y, y. [in]"""
    if d.pan is None:
        raise ValueError("no pan was decided for this opening")
    if d.cricket is None:
        return d.pan.upslope, d.pan.upslope
    o, m, line = d.opening, d.measures, d.cleat_line
    mirrored = replace(d.pan, left=2 * o.left + o.width - d.pan.right)
    left, right = (flange_edge(o, p, m, d.cricket, y) for p, y in ((d.pan, line[0][1]), (mirrored, line[-1][1])))
    return left[0][1], right[0][1]
