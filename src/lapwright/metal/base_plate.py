"""The plate a pipe's sleeve stands on: from rib to rib, its hole a true ellipse; in two halves where a rib is cut.

 ___water-stop hem___        split: the upslope half laps over the other at the pipe's middle; each carries half
|                    |                the ellipse and a slot as wide, so that it slides on round a pipe that stands
|        ( )         |                      ____________
|                    |                     |     __     |  upslope half
|____hooked hem______|                     |____|  |____|
  turn-ups at both ribs                    |     \\/     |  downslope half, slot for the rib that is cut
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import replace

from lapwright.detail.model import Pipe
from lapwright.detail.pipe import rib_end
from lapwright.geom.space import Flat, Point, meet
from lapwright.metal.back_pan import HEM_END
from lapwright.metal.develop import develop
from lapwright.metal.model import Blank, Body, Curve
from lapwright.metal.sheet import Sheet
from lapwright.metal.sleeve import STATIONS, smooth
from lapwright.metal.walls import across, level, upslope_at
from lapwright.metal.work import Work

SLOT_CLEAR = 0.125
"""A slot for a rib keeps this off its faces. House rule. [in]"""

DECK: Point = (0.0, 0.0, 1.0)


def base_plate(work: Work, where: str) -> Body:
    """The plate, or its "downslope" or "upslope" half, as it lies.

    Source: edges, hems and laps are house rules; the hole by geometry.
    """
    m, pan, pipe = work.measures, work.pan, _pipe(work)
    sheet = work.sheet()
    low = pan.downslope if where != "upslope" else pipe.centre[1] - m.plate_lap / 2
    high = pan.upslope if where != "downslope" else pipe.centre[1] + m.plate_lap / 2
    lower = list(_downslope_edge(work, low)) if where != "upslope" else _across(pan.left, pan.right, low)
    upper = _across(pan.right, pan.left, high)
    if where == "upslope":
        lower = [lower[0], *_notch(pipe, low), lower[-1]]
    if where == "downslope":
        upper = [upper[0], *_notch(pipe, high), upper[-1]]
    sheet.root("base", [(x, y, 0.0) for x, y in (*lower, *upper)], painted=DECK)
    _turn_ups(work, sheet, low, high)
    if where != "upslope":
        runs = [(a, b) for a, b in itertools.pairwise(lower) if b[0] - a[0] > 2 * HEM_END]
        for k, (a, b) in enumerate(r for r in runs if r[0][1] == low and r[1][1] == low):
            name = f"hooked hem {k + 1}"
            sheet.hem("base", name, ((*a, 0.0), (*b, 0.0)), m.hem, "down", gap=2 * work.thickness)
    if where != "downslope":
        edge: tuple[Point, Point] = ((pan.right - HEM_END, high, 0.0), (pan.left + HEM_END, high, 0.0))
        sheet.hem("base", "water-stop hem", edge, m.hem, "up", gap=2 * work.thickness)
    if where == "whole":
        sheet.cutouts.append(("base", tuple((x, y, 0.0) for x, y in ellipse(pipe).points[:-1])))
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def _pipe(work: Work) -> Pipe:
    if work.detail.pipe is None:
        raise ValueError("no pipe was decided for this opening")
    return work.detail.pipe


def ellipse(pipe: Pipe, start: float = 0.0, end: float = 2 * math.pi) -> Curve:
    """The plate's hole on the roof, or an arc of it; angle 0 to the right, counter-clockwise.

    Args:
        start, end: angles of the arc in the circle that the ellipse is drawn out of. [rad]
    """
    stations = [2 * math.pi * k / STATIONS for k in range(STATIONS + 1)]
    return smooth(lambda a: on_rim(pipe, a), start, end, stations)[1]


def on_rim(pipe: Pipe, angle: float) -> Flat:
    """A place on the plate's hole. [rad], [in]"""
    return (
        pipe.centre[0] + pipe.across / 2 * math.cos(angle), pipe.centre[1] + pipe.along / 2 * math.sin(angle)
    )  # fmt: skip


def arcs_of(work: Work, where: str) -> tuple[Curve, ...]:
    """The smooth runs of the plate's rim round the pipe, on the roof. [in]"""
    pipe = _pipe(work)
    spans = {"whole": (0.0, 2 * math.pi), "upslope": (math.pi, 0.0), "downslope": (2 * math.pi, math.pi)}
    return (ellipse(pipe, *spans[where]),)


def with_arcs(work: Work, where: str, body: Body, blank: Blank) -> Blank:
    """The blank with its round runs told as curves.

    Args:
        blank: as developed from the body; a plate's base lies in it as on the roof, only moved.
    """
    corner, lying = _lying(body)
    du, dv = lying[0] - corner[0], lying[1] - corner[1]

    def home(p: Flat) -> Flat:
        return (p[0] + du, p[1] + dv)

    curves = tuple(
        Curve(c.role, tuple(map(home, c.points)), c.slopes, tuple(map(home, c.stations)))
        for c in arcs_of(work, where)
    )
    return replace(blank, curves=curves)


def _lying(body: Body) -> tuple[Flat, Flat]:
    """A place of the base on the roof, and the same in the blank."""
    flat = develop(body)
    region = flat.regions[0]
    p = body.faces[0].corners[0]
    return (p[0], p[1]), region.mould[0]


def _across(x0: float, x1: float, y: float) -> list[Flat]:
    """An edge from side to side, with the places where a hem between the turn-ups begins and ends."""
    inward = HEM_END if x1 > x0 else -HEM_END
    return [(x0, y), (x0 + inward, y), (x1 - inward, y), (x1, y)]


def _downslope_edge(work: Work, y: float) -> Iterator[Flat]:
    """Left to right; a slot where a rib that is cut still stands."""
    pan, pipe = work.pan, _pipe(work)
    first, *_, last = _across(pan.left, pan.right, y)
    yield from (first, (first[0] + HEM_END, y))
    if pipe.rib is not None:
        half = (work.measures.rib_face or 0.0) + SLOT_CLEAR
        end = rib_end(work.detail) + SLOT_CLEAR
        for x, v in ((-half, y), (-half, end), (half, end), (half, y)):
            yield (pipe.rib + x, v)
    yield from ((last[0] - HEM_END, y), last)


def _notch(pipe: Pipe, y: float) -> list[Flat]:
    """Half the ellipse and a slot as wide to a half plate's edge at y, in the order of its rim."""
    x, r, middle = pipe.centre[0], pipe.across / 2, pipe.centre[1]
    start, end = (math.pi, 0.0) if y < middle else (2 * math.pi, math.pi)
    first, last = ((x - r, y), (x + r, y)) if y < middle else ((x + r, y), (x - r, y))
    return [first, *ellipse(pipe, start, end).points, last]


def _turn_ups(work: Work, sheet: Sheet, low: float, high: float) -> None:
    m, pan = work.measures, work.pan
    lean = math.tan(math.radians(m.opened))
    height = (m.rib_turn_up or 0.0) * math.cos(math.radians(m.opened))
    for hand, x in (("left", pan.left), ("right", pan.right)):
        out = -lean if hand == "left" else lean
        ends = [meet(across(x + out * height), level(height), upslope_at(y)) for y in (low, high)]
        sheet.attach("base", f"turn-up {hand}", [(x, low, 0.0), (x, high, 0.0), ends[1], ends[0]])
