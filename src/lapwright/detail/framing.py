"""What the carpenter cuts for a cricket: ridge, valleys, jacks and sheathing, on the cricket's own planes.

          ridge head                  Seen from above. Lengths are on the finished planes' lines; the carpenter takes
             /|\\                      off half the ridge's thickness, the deck and the metal. A jack runs level with
   valley   /_|_\\   jacks            the eave, from the ridge down to its valley. Plan angle DD lies between valley
           /__|__\\                   and ridge: tan DD = half width / level run of the valley.
     corner  ridge foot
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lapwright.detail.model import Cricket
from lapwright.geom.space import Point, distance, dot, sub, unit

JACK_SPACING = 16.0
"""Jacks stand this far apart along the ridge, on centre. House rule. [in]"""

LUMBER = 1.5
"""Thickness of a ridge or a jack; the first pair stands by the wall. House rule. [in]"""

SHORTEST_JACK = 3.0
"""A shorter jack is a block of wood: the deck spans there by itself. House rule. [in]"""

MASONRY_CLEARANCE = 2.0
"""Combustibles from a masonry chimney inside the building. Source: IRC R1003.18, 2006-2024, a copy seen. [in]"""

CLEAR_OF = {"masonry-chimney": MASONRY_CLEARANCE, "framed-chimney": None}
"""What each kind of opening asks; nothing where it is not named, not known where it is None. [in]"""


@dataclass(frozen=True, slots=True)
class Jack:
    """One pair of jacks. at: from the back face at the deck, level; length: from ridge to valley. [in]"""

    at: float
    length: float


@dataclass(frozen=True, slots=True)
class Framing:
    """ridge, valley: true lengths, the ridge from its clearance on. [in]

    ridge_plumb_deg, valley_plumb_deg, jack_plumb_deg: plumb cuts, off square; a level cut is 90 less that.
    ridge_end_deg: between the ridge and the deck it runs out on. cheek_deg: the saw's tilt in a plumb cut
    where a jack meets a valley rafter, or a valley the ridge. jack_side_deg, valley_side_deg: the same cut on
    the upper edge, between it and the edge's line. foot_tilt_deg: the saw's tilt in a level cut where a jack
    stands on the deck. backing_deg: bevel of the valley's edge, or of the sheathing's, on the cricket's side.
    sheathing: a half's sides: along the wall, ridge, valley; sheathing_deg: its angles at corner, foot, head. [in]
    clearance: kept between framing and wall, None where it is not known. [in]
    """

    ridge: float
    valley: float
    ridge_plumb_deg: float
    ridge_end_deg: float
    valley_plumb_deg: float
    valley_side_deg: float
    jack_plumb_deg: float
    jack_side_deg: float
    cheek_deg: float
    foot_tilt_deg: float
    backing_deg: float
    jacks: tuple[Jack, ...]
    sheathing: tuple[float, float, float]
    sheathing_deg: tuple[float, float, float]
    clearance: float | None


def clearance_of(kind: str, asked: float | None = None) -> float | None:
    """Room the framing keeps from the wall: as the job asks, else by kind; None where nobody has said. [in]"""
    return asked if asked is not None else CLEAR_OF.get(kind, 0.0)


def framing_of(cricket: Cricket, kind: str, asked: float | None = None) -> Framing:
    """Work the framing out from the planes.

    Args:
        cricket: true shape.
        kind: the opening's kind; masonry asks a clearance, a framed chimney's flue is not known here.
        asked: clearance the job gives. [in]

    Source: geometry of the half's triangle. SS = slope of the cricket's planes, DD = valley to ridge in plan,
    R1 = slope of the valley: tan R1 = tan SS sin DD; jack's side cut atan(cos SS / tan DD); backing
    atan(sin R1 / tan DD).
    """
    c = cricket
    clear = clearance_of(kind, asked)
    half = c.ridge_foot[0] - c.corner[0]
    pitch = _roof_slope(c)
    run = c.ridge_on_roof * math.cos(pitch)
    dd, ss, r1 = math.atan2(half, run), math.atan(c.cross_slope), math.radians(c.valley_slope_deg)
    along = math.atan(c.ridge_slope)
    return Framing(
        ridge=max(0.0, distance(c.ridge_foot, c.ridge_head) - (clear or 0.0) / math.cos(along)),
        valley=c.valley,
        ridge_plumb_deg=math.degrees(abs(along)),
        ridge_end_deg=math.degrees(pitch - along),
        valley_plumb_deg=c.valley_slope_deg,
        valley_side_deg=math.degrees(math.atan(math.cos(r1) * math.tan(dd))),
        jack_plumb_deg=math.degrees(ss),
        jack_side_deg=math.degrees(math.atan(math.cos(ss) / math.tan(dd))),
        cheek_deg=math.degrees(dd),
        foot_tilt_deg=math.degrees(pitch),
        backing_deg=math.degrees(math.atan(math.sin(r1) / math.tan(dd))),
        jacks=_jacks(half, run, math.hypot(1.0, c.cross_slope), clear or 0.0),
        sheathing=(c.wall_edge, distance(c.ridge_foot, c.ridge_head), c.valley),
        sheathing_deg=_angles(c.corner, c.ridge_foot, c.ridge_head),
        clearance=clear,
    )


def _roof_slope(c: Cricket) -> float:
    """The valley and the roof under it climb the same height. [rad]"""
    return math.asin(c.valley * math.sin(math.radians(c.valley_slope_deg)) / c.ridge_on_roof)


def _jacks(half: float, run: float, fall: float, clear: float) -> tuple[Jack, ...]:
    """The first pair stands by the wall, the next `JACK_SPACING` on; at s a jack spans (1 - s/run) of the half."""
    out = []
    at = clear + LUMBER / 2
    while half * (1 - at / run) * fall >= SHORTEST_JACK:
        out.append(Jack(at, half * (1 - at / run) * fall))
        at += JACK_SPACING
    return tuple(out)


def _angles(a: Point, b: Point, c: Point) -> tuple[float, float, float]:
    def at(p: Point, q: Point, r: Point) -> float:
        return math.degrees(math.acos(dot(unit(sub(q, p)), unit(sub(r, p)))))

    return at(a, b, c), at(b, c, a), at(c, a, b)
