"""What the carpenter cuts for a cricket: ridge, valleys, jacks and sheathing, on the cricket's own planes.

Lengths are on the finished planes' lines; the carpenter takes off half the ridge's thickness, the deck and
the metal. Angles as set on a saw.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from lapwright.detail.model import Cricket
from lapwright.geom.space import distance

JACK_SPACING = 16.0
"""Jacks stand this far apart along the ridge, on centre. House rule. [in]"""


@dataclass(frozen=True, slots=True)
class Jack:
    """One pair of jacks. at: from the back face along the ridge, level; length: from ridge to valley. [in]"""

    at: float
    length: float


@dataclass(frozen=True, slots=True)
class Framing:
    """ridge, valley: true lengths. [in]

    ridge_plumb_deg, valley_plumb_deg, jack_plumb_deg: plumb cuts, off square. cheek_deg: a jack's side cut
    where it meets the valley, off square, in plan. sheathing: a half's sides: along the wall, ridge, valley. [in]
    clearance: kept between framing and masonry. [in]
    """

    ridge: float
    valley: float
    ridge_plumb_deg: float
    valley_plumb_deg: float
    jack_plumb_deg: float
    cheek_deg: float
    jacks: tuple[Jack, ...]
    sheathing: tuple[float, float, float]
    clearance: float | None


MASONRY_CLEARANCE = 2.0
"""Combustibles from a masonry chimney inside the building. Source: IRC R1003.18, 2006-2024, a copy seen. [in]"""


def framing_of(cricket: Cricket, kind: str) -> Framing:
    """Work the framing out from the planes.

    Args:
        cricket: true shape.
        kind: the opening's kind; masonry asks a clearance, a framed chimney's flue is not known here (None).

    Source: geometry of the half's triangle; a jack at s from the wall spans (1 - s/d) of the half width.
    """
    c = cricket
    half = math.dist((c.corner[0],), (c.ridge_foot[0],))
    fall = math.hypot(1.0, c.cross_slope)
    clearance = {"masonry-chimney": MASONRY_CLEARANCE, "framed-chimney": None}.get(kind, 0.0)
    start = (clearance or 0.0) + JACK_SPACING / 2
    count = max(0, math.ceil((c.ridge_plan - start) / JACK_SPACING))
    places = [start + k * JACK_SPACING for k in range(count)]
    return Framing(
        ridge=distance(c.ridge_foot, c.ridge_head),
        valley=c.valley,
        ridge_plumb_deg=abs(math.degrees(math.atan(c.ridge_slope))),
        valley_plumb_deg=c.valley_slope_deg,
        jack_plumb_deg=math.degrees(math.atan(c.cross_slope)),
        cheek_deg=math.degrees(math.atan2(half, c.ridge_plan)),
        jacks=tuple(Jack(s, half * (1 - s / c.ridge_plan) * fall) for s in places),
        sheathing=(c.wall_edge, distance(c.ridge_foot, c.ridge_head), c.valley),
        clearance=clearance,
    )
