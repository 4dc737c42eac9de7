"""The metal that meets at a back corner, and what stays open under the pan's tab."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from lapwright.draw.layers import Placed
from lapwright.geom.space import Flat, dot
from lapwright.metal.model import Body, Face
from lapwright.metal.work import Hand, Work

HAND: Hand = "right"
"""The corner that is drawn."""


@dataclass(frozen=True, slots=True)
class Corner:
    """The metal that meets at a back corner, in place."""

    work: Work
    pan: Placed
    side: Placed
    patch: Placed

    def body(self, placed: Placed) -> Body:
        """The body a piece was made from."""
        assert placed.body is not None
        return placed.body


def tab_of(corner: Corner) -> Face:
    """The pan's tab at this corner."""
    return next(f for f in corner.body(corner.pan).faces if f.name in (f"tab {HAND}", "tab"))


def tongue_of(corner: Corner) -> Face:
    """What stands up the back face."""
    return next(f for f in corner.body(corner.pan).faces if f.name in ("tongue", "upstand"))


def corner_of(work: Work, placed: Iterable[Placed]) -> Corner | None:
    """The metal of the right back corner; None where a piece of it is not made."""
    found: dict[str, Placed] = {}
    for one in placed:
        kind = "back-pan" if one.part.kind == "cricket" else one.part.kind
        if kind in ("back-pan", "side-wall", "corner-patch") and one.part.where in ("back", HAND, f"back-{HAND}"):
            found[kind] = one
    if len(found) < 3:
        return None
    return Corner(work, found["back-pan"], found["side-wall"], found["corner-patch"])


def tab_foot(corner: Corner) -> tuple[Flat, Flat]:
    """Foot of the pan's tab as (y, height over the pan): where it leaves the wall's corner, and at its tip. [in]"""
    ring = tab_of(corner).corners
    out = corner.work.walls.out_back
    edge = max(dot(p, out) for p in ring)
    width = edge - min(dot(p, out) for p in ring)
    near = [p for p in ring if edge - dot(p, out) < 0.5 * width]
    far = [p for p in ring if edge - dot(p, out) >= 0.5 * width]
    a, b = (min(ps, key=lambda p: p[2]) for ps in (near, far))
    return (a[1], a[2]), (b[1], b[2])


def tab_width(corner: Corner) -> float:
    """How far the tab turns round the corner, along the wall. [in]"""
    ring = tab_of(corner).corners
    reach = [dot(p, corner.work.walls.out_back) for p in ring]
    return max(reach) - min(reach)


def opening_under(corner: Corner) -> tuple[Flat, ...]:
    """What stays open under the tab, seen from the side: corner, foot, tip, and down the wall's slope. (y, z) [in]"""
    tongue = tongue_of(corner).corners
    corner_y = min(tongue, key=lambda p: (p[2], abs(p[0] - corner.work.opening.right)))[1]
    near, tip = tab_foot(corner)
    lean = math.tan(corner.work.walls.lean)
    return ((corner_y, 0.0), near, tip, (tip[0] - tip[1] * lean, 0.0))


def patch_reach(corner: Corner) -> float:
    """How far the patch goes past the tab's tip, up the wall; negative where it stops short. [in]"""
    wall = next(f for f in corner.body(corner.patch).faces if f.name == "side wall")
    top = max(p[2] for p in wall.corners) + corner.patch.moved[2]
    tip = tab_foot(corner)[1][1] + corner.pan.moved[2]
    return (top - tip) / math.cos(corner.work.walls.lean)
