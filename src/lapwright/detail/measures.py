"""The measures an opening is built to: what the job says, else what the roof asks. House rules unless cited."""

from __future__ import annotations

import math
from dataclasses import replace

from lapwright.detail.model import Notch, Pan
from lapwright.geom.space import Flat
from lapwright.layout.model import Bay
from lapwright.site.model import Defaults, Opening, Site

SNAP_RIB_FACE, FOLDED_RIB_FACE = 0.3125, 0.25
"""Rib centre to face. House rule. [in]"""

RIB_TURN_UP_SHORT = 0.25
"""A pan's turn-up ends this far below the rib. House rule. [in]"""


def resolve(site: Site, opening: Opening) -> Defaults:
    """Fill in every measure that the job left to the roof.

    Pan extent: 12 from 6:12 up, 18 below, 24 below 3:12 or in snow country. House rule. [in]
    """
    m = opening.measures
    rise = site.roof.rise
    far = 24.0 if rise < 3.0 or site.weather.snow else 18.0 if rise < 6.0 else 12.0
    return replace(
        m,
        rib_face=m.rib_face if m.rib_face is not None else rib_face(site),
        extent=m.extent if m.extent is not None else far,
        rib_turn_up=m.rib_turn_up if m.rib_turn_up is not None else site.panel.rib_height - RIB_TURN_UP_SHORT,
        flashing_metal=m.flashing_metal or site.panel.metal,
    )


def rib_face(site: Site) -> float:
    """Rib centre to face of this job's seam. [in]"""
    return FOLDED_RIB_FACE if site.panel.folded else SNAP_RIB_FACE


def stands(site: Site, opening: Opening) -> float:
    """How far an opening's wall stands, square to the roof; its height is taken along the wall. [in]"""
    return opening.height * math.cos(site.roof.theta) if opening.face == "plumb" else opening.height


def pan_of(opening: Opening, bay: Bay, m: Defaults) -> Pan:
    """The flat pan's outside: between the bay ribs' faces less the gap; at a roof edge just the gap.

    40 1/4 clear between the faces gives a 40 pan. Source: house rule (domain practice).
    """
    face = m.rib_face or 0.0
    return Pan(
        left=bay.left + m.gap + (face if bay.left_is_rib else 0.0),
        right=bay.right - m.gap - (face if bay.right_is_rib else 0.0),
        downslope=opening.back - m.side_run,
        upslope=opening.back + (m.extent or 0.0),
        upstand=min(m.upstand, opening.height),
    )


def side_room(opening: Opening, bay: Bay, m: Defaults) -> tuple[float, float]:
    """From each side of the opening to the nearest standing rib's face or roof edge, less the gap. [in]

    Ribs interrupted in the side channel still stand beside the opening and count.
    """
    face = m.rib_face or 0.0
    ribs = [*bay.interrupted]
    lefts = [*(x for x in ribs if x <= opening.left), *([bay.left] if bay.left_is_rib else [])]
    rights = [*(x for x in ribs if x >= opening.right), *([bay.right] if bay.right_is_rib else [])]
    left = opening.left - max(lefts) - face if lefts else opening.left - bay.left
    right = min(rights) - opening.right - face if rights else bay.right - opening.right
    return left - m.gap, right - m.gap


def cleat_line(opening: Opening, bay: Bay, m: Defaults) -> tuple[Flat, ...]:
    """Where the cleats' base/web bends run: level across the opening, falling to the bay on both sides.

    No steeper than `steepest`, and at the bay no lower than `cleat_foot` below the back face.
    Source: house rule.
    """
    across = opening.back + m.setback
    steep = math.tan(math.radians(m.steepest))

    def foot(reach: float) -> float:
        return max(opening.back - m.cleat_foot, across - reach * steep)

    return (
        (bay.left, foot(opening.left - bay.left)),
        (opening.left, across),
        (opening.right, across),
        (bay.right, foot(bay.right - opening.right)),
    )


def end_angles(line: tuple[Flat, ...]) -> tuple[float, float]:
    """How far the cleat line's end runs slant from level, left and right. [rad]"""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = line[0], line[1], line[-2], line[-1]
    return math.atan2(y1 - y0, x1 - x0), math.atan2(y2 - y3, x3 - x2)


def bay_notches(site: Site, opening: Opening, bay: Bay, m: Defaults, line: tuple[Flat, ...]) -> tuple[Notch, ...]:
    """What comes off the side panels' legs at the bay ribs, so that the upper panels can lock there.

    From the side panel's end (back + overrun) down to the upper panel's finished edge on the rib's centre.
    `outer-leg` where the leading leg is the side panel's, else `lap-lock`; never the flat of a panel.
    """
    start = opening.back + m.overrun
    past = m.lip + m.slack
    angles = end_angles(line)
    leading_right = site.panel.lay == "left-to-right"
    out = []
    for is_rib, x, y, angle, leading in (
        (bay.left_is_rib, *line[0], angles[0], not leading_right),
        (bay.right_is_rib, *line[-1], angles[1], leading_right),
    ):
        if is_rib:
            out.append(Notch(x, start, y - past / math.cos(angle), "outer-leg" if leading else "lap-lock"))
    return tuple(out)
