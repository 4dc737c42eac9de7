"""The storm collar: a low cone tight round the pipe, over the sleeve's open end.

      | pipe |            unrolled: part of a ring, its seam lap at one end
     /|      |\\
    / |      | \\   skirt, past the sleeve and below its end
      |sleeve|
"""

from __future__ import annotations

import itertools
import math

from lapwright.metal.model import Blank, Body, Face
from lapwright.metal.sleeve import STATIONS, azimuths, round_of, set_down, smooth, spoke
from lapwright.metal.work import Work

HALF_ANGLE_DEG = 60.0
"""Half angle of a storm collar's cone. House rule. [deg]"""

LEAST_PAST = 0.5
"""A collar reaches this far past the sleeve, and hangs this far below its end. House rule. [in]"""


def slant(work: Work) -> float:
    """Width of the collar along its slope: as asked, or what reaches past the sleeve. [in]"""
    pipe, inner = work.detail.pipe, inner_radius(work)
    reach = round_of(work).head + work.thickness + LEAST_PAST - inner
    return max(work.measures.collar, reach / math.sin(math.radians(HALF_ANGLE_DEG))) if pipe else 0.0


def inner_radius(work: Work) -> float:
    """Of the collar's middle surface where it meets the pipe. [in]"""
    assert work.detail.pipe is not None
    return work.detail.pipe.diameter / 2 + work.thickness / 2


def storm_collar_blank(work: Work) -> Blank:
    """The collar unrolled: sector of 2 pi sin(half angle), and a seam lap.

    Source: development of a cone, geometry; half angle, reach and lap are house rules.
    """
    sine = math.sin(math.radians(HALF_ANGLE_DEG))
    near, far = inner_radius(work) / sine, inner_radius(work) / sine + slant(work)
    turn = 2 * math.pi * sine
    end = turn + work.measures.sleeve_lap / near
    stations = [turn * k / STATIONS for k in range(STATIONS + 1)]

    def at(reach: float, angle: float) -> tuple[float, float]:
        return (reach * math.cos(angle), reach * math.sin(angle))

    outer, rim = smooth(lambda a: at(far, a), 0.0, end, stations)
    inner, hole = smooth(lambda a: at(near, a), end, 0.0, stations)
    return set_down((*outer, *inner), (), [rim, hole])


def storm_collar_body(work: Work) -> Body:
    """The collar rolled up, in facets."""
    r, beta = round_of(work), math.radians(HALF_ANGLE_DEG)
    inner, wide = inner_radius(work), slant(work)
    low = r.height - LEAST_PAST
    rows = []
    for a in azimuths():
        head = spoke(work, inner, low + wide * math.cos(beta), a)
        rows.append((spoke(work, inner + wide * math.sin(beta), low, a), head))
    faces = tuple(
        Face(f"skirt {n}", (f0, h0, h1, f1))
        for n, ((f0, h0), (f1, h1)) in enumerate(itertools.pairwise(rows), 1)
    )
    return Body(faces, (), work.thickness, work.metal, (1.0, 0.0, 0.0), rolled=True)
