"""Where a piece lies among the others: layers lift it, and it slides up its wall with them.

A body is worked out as if it lay on the bare roof plane. In place, sheets lie on sheets: each kind has a
layer, and the piece is moved along the wall's own slope, so that its upstand stays in its plane.
"""

from __future__ import annotations

import math

from lapwright.detail.model import Part
from lapwright.geom import SAME
from lapwright.geom.space import Point, add, scale
from lapwright.metal.cleat import lift
from lapwright.metal.membrane import THICKNESS
from lapwright.metal.side_wall import height
from lapwright.metal.work import Work

UNDER = {"round": 1, "front": 3, "left": 2, "right": 2, "back": 1}
"""Membrane strips below the deck's zero, in their own thickness: each laps the one before."""

LAYERS = {
    "closure": 1,
    "backing-plate": 9,
    "hook-strip": 1,
    "apron": 2,
    "side-wall": 4,
    "back-pan": 6,
    "cricket": 6,
    "offset-cleat": 6,
    "corner-patch": 7,
    "counterflashing": 0,
    "base-plate": 6,
    "rib-hood": 7,
    "sleeve": 7,
    "storm-collar": 7,
}
"""Sheets that lie under each kind of piece (a closed hem under a flange counts as one). House rule."""


def _over_the_top(work: Work) -> bool:
    """Do the upstands reach the top of a curb, so that a leg under the frame has to lie over them?"""
    o = work.opening
    return o.kind in ("curb", "skylight") and height(work) > o.height - SAME


def shift(work: Work, part: Part) -> Point:
    """How far a part is moved from its worked-out place to lie among the others. [in]

    Upper panels are lifted square to the roof by the cleat they ride on; side and lower panels lie on the deck.
    """
    if part.kind == "panel":
        raised = LAYERS["offset-cleat"] * work.thickness + lift(work)
        return (0.0, 0.0, raised if part.role == "upper" else 0.0)
    if part.kind == "membrane":
        return scale(work.walls.up, -UNDER[part.where] * THICKNESS / math.cos(work.walls.lean))
    if part.where == "cap" or (part.kind == "counterflashing" and _over_the_top(work)):
        return (0.0, 0.0, LAYERS["corner-patch"] * work.thickness)
    if part.kind == "closure" and part.where == "rib":
        return (0.0, 0.0, LAYERS["offset-cleat"] * work.thickness + lift(work))
    raised = (LAYERS[part.kind] - (part.where == "downslope")) * work.thickness
    along = scale(work.walls.up, raised / math.cos(work.walls.lean))
    if part.kind == "cricket":
        # Worked out on the cricket's own planes: it stands 2 t off the face like any tongue.
        return add(along, work.walls.out_back, 2 * work.thickness)
    return along
