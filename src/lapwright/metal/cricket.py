"""A cricket in two halves, seamed along the ridge. The angles round the ridge's head sum to more than the
360 degrees a sheet has (4 phi + 180 for equal slopes), so one piece is impossible.

    left half in the flat:
            ____ lap over the middle           flange   on the roof, under the upper panels, hemmed
         ,-'   R|__                            plane    corner - foot - head
       ,-'flange/  |ridge leg                  upstand  up the back face, 8 above the plane everywhere
      |       V/plane/                         leg      beside the opening, as a flat pan's
      | leg  /______/___                       C, R, B  corner, ridge's head, ridge's foot
      |     C  upstand  |
      |__|  \\___________|
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from lapwright.detail.cricket import flange_edge
from lapwright.detail.model import Cricket, Pan
from lapwright.geom.space import Point, add, distance, meet, scale, sub, unit
from lapwright.metal.bend import setback
from lapwright.metal.corner import Relief, add_tab
from lapwright.metal.model import Body
from lapwright.metal.sheet import Sheet, Trim
from lapwright.metal.walls import across, level
from lapwright.metal.work import Hand, Work

HEM_END = 0.25
"""Hems end this far inside a rib turn-up. House rule. [in]"""

CLEAR = 0.1
"""Bends keep this much flat between them where they run together. House rule. [in]"""

FOLD_OVER = 0.375
"""The right half's ridge leg folds this far over the left one's. House rule. [in]"""

Corner = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Half:
    """One half's numbers, always as if it were the left one; `at` mirrors points for the right."""

    work: Work
    hand: Hand
    cricket: Cricket
    pan: Pan
    middle: float

    def at(self, p: Point) -> Point:
        """A point of the left half where this half has it."""
        return p if self.hand == "left" else (2 * self.middle - p[0], p[1], p[2])


def half_cricket(work: Work, hand: Hand) -> Body:
    """One half folded, in roof coordinates; its mould lines lie on the cricket's own planes.

    Source: shape, laps and hems are house rules; corners by intersecting planes.
    """
    cricket, pan, o = work.detail.cricket, work.pan, work.opening
    if cricket is None:
        raise ValueError("no cricket was decided for this opening")
    middle = o.left + o.width / 2
    if hand == "right":
        pan = Pan(2 * middle - pan.right, 2 * middle - pan.left, pan.downslope, pan.upslope, pan.upstand)
    half = Half(work, hand, cricket, pan, middle)
    sheet = work.sheet()
    turns = _turns(half)
    joints = _ends(half, turns)
    _flange(half, sheet, joints, turns)
    _plane(half, sheet, joints)
    _upstand(half, sheet, joints, turns)
    _ridge_leg(half, sheet, joints)
    _edges(half, sheet)
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def one_piece_angles(cricket: Cricket) -> float:
    """Sum of the angles round the ridge's head if the cricket were one sheet; over 360 no sheet can. [deg]"""
    valley, ridge = sub(cricket.corner, cricket.ridge_head), sub(cricket.ridge_foot, cricket.ridge_head)
    cosine = sum(a * b for a, b in zip(unit(valley), unit(ridge), strict=True))
    return 180.0 + 2 * math.degrees(cricket.valley_angle) + 2 * math.degrees(math.acos(cosine))


@dataclass(frozen=True, slots=True)
class Ends:
    """Where each bend of the plane starts and ends: valley, wall edge, ridge."""

    valley: tuple[Point, Point]
    wall: tuple[Point, Point]
    ridge: tuple[Point, Point]


def _turns(half: Half) -> dict[str, float]:
    """Setbacks of the valley bend, the wall bend and the ridge leg's bend. [in]"""
    c, w = half.cricket, half.work
    wall = wall_turn(w, c)
    leg = 90.0 - c.ridge_bend_deg / 2
    return {k: w.setback(a) for k, a in (("valley", c.valley_bend_deg), ("wall", wall), ("ridge", leg))}


def wall_turn(work: Work, cricket: Cricket) -> float:
    """How far the sheet turns up from a cricket's plane to the back face. [deg]"""
    n = unit(_plane_normal(cricket))
    return math.degrees(math.acos(sum(a * b for a, b in zip(n, work.walls.out_back, strict=True))))


def _plane_normal(c: Cricket) -> Point:
    a, b = sub(c.ridge_head, c.corner), sub(c.ridge_foot, c.corner)
    n = (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
    return n if n[2] > 0 else scale(n, -1.0)


def _ends(half: Half, turns: dict[str, float]) -> Ends:
    """Stop every bend short of the corners, far enough that the flats between them keep some metal."""
    c = half.cricket
    corner, foot, head = c.corner, c.ridge_foot, c.ridge_head
    sides = {"corner": (corner, foot, head), "foot": (foot, corner, head), "head": (head, corner, foot)}
    angle = {k: _angle(*v) for k, v in sides.items()}
    pairs = {"corner": ("valley", "wall"), "foot": ("wall", "ridge"), "head": ("valley", "ridge")}
    short = {k: (turns[a] + turns[b] + CLEAR) / math.sin(angle[k]) for k, (a, b) in pairs.items()}
    # The ridge leg's end stands square to the ridge: in the flat it keeps off the flange. At its foot it has room,
    # for no ridge climbs away from the wall and the angle there is 90 at most.
    lean = c.valley_angle + angle["head"] - math.pi / 2
    reach = half.work.measures.ridge_leg + FOLD_OVER
    leg_short = max(short["head"], reach * math.tan(max(0.0, lean)) + 2 * CLEAR)
    return Ends(
        (_toward(corner, head, short["corner"]), _toward(head, corner, short["head"])),
        (_toward(corner, foot, short["corner"]), _toward(foot, corner, short["foot"])),
        (_toward(foot, head, short["foot"]), _toward(head, foot, leg_short)),
    )


def _flange(half: Half, sheet: Sheet, ends: Ends, turns: dict[str, float]) -> None:
    m, o, pan, c = half.work.measures, half.work.opening, half.pan, half.cricket
    inner = o.left - m.corner_cut
    over = half.middle + m.ridge_lap / 2
    outer = _outer(half)
    slope = math.tan(c.valley_angle)
    apex = outer[-1]
    ring: list[Corner] = [(pan.left, pan.downslope), (pan.left + HEM_END, pan.downslope), (inner, pan.downslope)]
    # Past the ends of the valley bend the edge keeps back at its tangent line, out of the bend's way.
    back: Point = (
        -math.sin(c.valley_angle) * turns["valley"],
        math.cos(c.valley_angle) * turns["valley"],
        0.0,
    )
    low, high = ends.valley
    tip, end = add(c.corner, back), add(c.ridge_head, back)
    ring += [(inner, o.back - m.corner_cut)]
    ring += [(p[0], p[1]) for p in (tip, add(low, back), low, high, add(high, back), end)]
    ring += [(over, end[1]), (over, apex[1] - slope * (over - apex[0])), *reversed(outer[1:])]
    ring += [_inside_rib(outer), outer[0]]
    sheet.root("flange", [half.at((x, y, 0.0)) for x, y in ring], painted=(0.0, 0.0, 1.0))
    near = add(ends.valley[0], (0.0, 0.0, 0.0))
    sheet.hole("flange", half.at(near), m.stop_hole)


def _plane(half: Half, sheet: Sheet, ends: Ends) -> None:
    ring = [*ends.valley, ends.ridge[1], ends.ridge[0], ends.wall[1], ends.wall[0]]
    sheet.attach("flange", "plane", [half.at(p) for p in ring])


def _upstand(half: Half, sheet: Sheet, ends: Ends, turns: dict[str, float]) -> None:
    """Up the back face; its side carries the tab round the corner, its end laps the other half's."""
    work, c, m = half.work, half.cricket, half.work.measures
    stand = 2 * work.thickness
    back, up, height = work.walls.back(), work.walls.up, half.pan.upstand
    corner = meet(work.walls.side("left", stand), back, level(0.0))
    top = meet(work.walls.side("left", stand), back, level(height))
    edge = unit(sub(c.ridge_foot, c.corner))
    climb = edge[0]  # cosine of the wall edge's slant in the face
    side_back = setback(90.0, work.radius, work.thickness, "down")
    start = (turns["wall"] + CLEAR) / climb
    p2 = add(corner, up, start)
    p1 = add(p2, (side_back, 0.0, 0.0))
    high = level(c.wall_rise + height)
    over = half.middle + half_lap(work)
    crest = [meet(back, high, across(over)), meet(back, high, across(half.middle))]
    # Past the ridge the foot runs on as it climbs, clear of the other half's plane and of this one's ridge leg.
    beyond = add(c.ridge_foot, edge, (over - half.middle) / climb)
    # Short of both its ends the bend leaves no metal: the foot runs clear of it, square to its end.
    square: Point = _square_up(edge, up)
    clear = scale(square, turns["wall"])
    heel = add(ends.wall[0], square, turns["wall"] + CLEAR)
    ring = [*ends.wall, add(ends.wall[1], clear), add(beyond, clear), *crest, top, p2, p1, heel]
    sheet.attach("plane", "upstand", [half.at(p) for p in ring])
    relief = Relief(half.at(ends.wall[0]), half.at(p1), half.at(p2), start)
    downslope = scale(work.walls.out_back, -1.0)
    add_tab(
        sheet, "upstand", "tab", relief, half.at(corner), half.at(top), up, downslope, m.corner_tab, slope=1.0
    )  # fmt: skip


def half_lap(work: Work) -> float:
    """How far a half's upstand runs on past the ridge: as asked, less where a steep foot climbs out of it. [in]

    House rule: past the ridge the foot climbs no more than half the upstand.
    """
    c = work.detail.cricket
    if c is None:
        raise ValueError("no cricket was decided for this opening")
    edge = unit(sub(c.ridge_foot, c.corner))
    climb = sum(a * b for a, b in zip(edge, work.walls.up, strict=True)) / edge[0]
    return min(work.measures.ridge_lap / 2, work.pan.upstand / math.cos(work.walls.lean) / 2 / climb)


def _square_up(edge: Point, up: Point) -> Point:
    """Unit vector in the back face, square to the wall edge, upward."""
    along = sum(a * b for a, b in zip(edge, up, strict=True))
    return unit(add(up, edge, -along))


def _ridge_leg(half: Half, sheet: Sheet, ends: Ends) -> None:
    """Both halves turn up along the ridge; the right one folds over the left."""
    tall = half.work.measures.ridge_leg
    foot, head = ends.ridge
    run = unit(sub(head, foot))
    rise: Point = (0.0, -run[2] * tall, run[1] * tall)
    ring = [half.at(p) for p in (foot, head, add(head, rise), add(foot, rise))]
    sheet.attach("plane", "ridge leg", ring)
    if half.hand == "right":
        edge = sheet.edge("ridge leg", ring[2], ring[3])
        sheet.hem("ridge leg", "fold over", edge, FOLD_OVER, "down", gap=3 * half.work.thickness)


def _edges(half: Half, sheet: Sheet) -> None:
    """Rib turn-up, leg hem, and the water-stop hem along the flange's outer edge."""
    m, o, pan, work = half.work.measures, half.work.opening, half.pan, half.work
    outer = _outer(half)
    lean = math.radians(m.opened)
    tall = m.rib_turn_up or 0.0
    away: Point = (-math.sin(lean) * tall, 0.0, math.cos(lean) * tall)
    low, high = (pan.left, pan.downslope, 0.0), (pan.left, outer[0][1], 0.0)
    sheet.attach("flange", "turn-up", [half.at(p) for p in (low, high, add(high, away), add(low, away))])
    leg = [half.at((x, pan.downslope, 0.0)) for x in (pan.left + HEM_END, o.left - m.corner_cut)]
    sheet.hem("flange", "leg hem", sheet.edge("flange", *leg), m.hem, "down")
    run = [_inside_rib(outer), *outer[1:]]
    for k, (p, q) in enumerate(pairwise(run)):
        # Ends lean along the ribs, or share the turn between two runs.
        slants = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(run)]
        first = slants[k] if k == 0 else (slants[k] - slants[k - 1]) / 2
        last = slants[k] if k == len(slants) - 1 else (slants[k + 1] - slants[k]) / 2
        start, end = Trim(abs(first)), Trim(abs(last))
        a, b = (half.at((x, y, 0.0)) for x, y in (p, q))
        if math.dist(p, q) <= m.hem * (math.tan(start.lean) + math.tan(end.lean)) + CLEAR:
            continue
        edge = sheet.edge("flange", a, b)
        if edge[0] != a:
            start, end = end, start
        sheet.hem(
            "flange", f"water-stop hem {k + 1}", edge, m.hem, "up", gap=2 * work.thickness, start=start, end=end
        )


def _outer(half: Half) -> list[Corner]:
    """The flange's outer edge from the rib to the middle, as the left half has it."""
    line = half.work.detail.cleat_line
    foot = line[0][1] if half.hand == "left" else line[-1][1]
    edge = flange_edge(half.work.opening, half.pan, half.work.measures, half.cricket, foot)
    (x0, y0), (x1, y1), (x2, y2) = edge
    straight = abs((y1 - y0) * (x2 - x1) - (y2 - y1) * (x1 - x0)) < 1e-6
    return [edge[0], edge[2]] if straight else edge


def _inside_rib(outer: list[Corner]) -> Corner:
    """On the outer edge, clear of the rib turn-up."""
    (x0, y0), (x1, y1) = outer[0], outer[1]
    return (x0 + HEM_END, y0 + (y1 - y0) * HEM_END / (x1 - x0))


def _toward(a: Point, b: Point, k: float) -> Point:
    return add(a, unit(sub(b, a)), k)


def _angle(at: Point, a: Point, b: Point) -> float:
    p, q = unit(sub(a, at)), unit(sub(b, at))
    return math.acos(sum(x * y for x, y in zip(p, q, strict=True)))


def true_edges(cricket: Cricket) -> dict[str, float]:
    """The half's three edges in space. [in]"""
    c = cricket
    return {
        "valley": distance(c.corner, c.ridge_head),
        "wall": distance(c.corner, c.ridge_foot),
        "ridge": distance(c.ridge_foot, c.ridge_head),
    }
