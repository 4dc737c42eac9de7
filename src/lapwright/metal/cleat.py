"""Offset cleats: a Z on the pan that the panels above hook on.

   lip (downslope)
________
        |  web          The cleat line is the bend between base and web.
        |________       Seen from the right, upslope to the right; the base
          base          lies on tape, screwed through it.
"""

from __future__ import annotations

import itertools
import math

from lapwright.geom.space import Flat, Plane, Point, meet, plane
from lapwright.metal.model import Body
from lapwright.metal.walls import across, level
from lapwright.metal.work import Work


def cleats(work: Work) -> list[Body]:
    """One cleat per straight run of the cleat line, left to right; mitred where they meet, stopped at the ribs.

    Source: base, web, lip and stop are house rules; ends by intersecting planes.
    """
    line = work.detail.cleat_line
    m, t, pan = work.measures, work.thickness, work.pan
    runs = [_heading(a, b) for a, b in itertools.pairwise(line)]
    ends = [across(pan.left + t + m.rib_stop)]
    for k in range(1, len(runs)):
        d, e = runs[k - 1], runs[k]
        # The mitre plane holds the bisector: square to the sum of both headings.
        ends.append(plane((line[k][0], line[k][1], 0.0), (d[0] + e[0], d[1] + e[1], 0.0)))
    ends.append(across(pan.right - t - m.rib_stop))
    return [_cleat(work, line[k], runs[k], ends[k], ends[k + 1]) for k in range(len(runs))]


def seat(work: Work) -> float:
    """Underside of a cleat's base above the pan's: the pan's metal and the tape. [in]"""
    return work.thickness + work.measures.tape


def lift(work: Work) -> float:
    """How far the panels above ride up over the cleat: web, tape and two sheets. [in]

    Source: offset + tape + 2 t, house rule.
    """
    return work.measures.web + work.measures.tape + 2 * work.thickness


def mitres(line: tuple[Flat, ...]) -> list[float]:
    """Mitre cut at each turn of the cleat line, off square: half the deflection. [rad]"""
    runs = [_heading(a, b) for a, b in itertools.pairwise(line)]
    turns = [math.atan2(e[1], e[0]) - math.atan2(d[1], d[0]) for d, e in itertools.pairwise(runs)]
    return [abs(a) / 2 for a in turns]


def _heading(a: Flat, b: Flat) -> Flat:
    d = math.dist(a, b)
    return ((b[0] - a[0]) / d, (b[1] - a[1]) / d)


def _cleat(work: Work, at: Flat, run: Flat, start: Plane, end: Plane) -> Body:
    m = work.measures
    sheet = work.sheet()
    up: Point = (-run[1], run[0], 0.0)
    web = plane((at[0], at[1], 0.0), up)
    low, high = level(seat(work)), level(seat(work) + m.web)

    def row(a: Plane, b: Plane) -> tuple[Point, Point]:
        return meet(a, b, start), meet(a, b, end)

    base = row(low, web.offset(m.cleat_base))
    fold, crest, lip = row(low, web), row(high, web), row(high, web.offset(-m.lip))
    sheet.root("base", [fold[0], fold[1], base[1], base[0]], painted=(0.0, 0.0, 1.0))
    sheet.attach("base", "web", [fold[0], fold[1], crest[1], crest[0]])
    sheet.attach("web", "lip", [crest[0], crest[1], lip[1], lip[0]])
    return sheet.body(u_axis=(run[0], run[1], 0.0))
