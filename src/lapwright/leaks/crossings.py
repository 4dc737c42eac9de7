"""Every place where an edge can be passed: which spaces it joins, how high it stands, what is sealed there."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from lapwright.geom.space import dot
from lapwright.leaks.layers import Sight
from lapwright.leaks.seals import NOTHING, WALL, Held
from lapwright.leaks.search import DECK, OUTSIDE, Crossing, Shape
from lapwright.leaks.spaces import Scene

BEDS = 0.375
"""Sealant and tape bridge no more than this. House rule. [in]"""

FACES_UP = 0.5
"""An edge faces up when it looks within 60 degrees of up the wall, or up the slope. House rule."""


def crossings_at(scene: Scene, s: Sight) -> Iterator[Crossing]:
    """At one place on an edge: off the sheet to what lies beyond it, and from there in under the sheet."""
    walls, sheet, (x, y, z) = scene.work.walls, s.edge.sheet, s.at
    steep = s.steep
    if s.over == WALL or scene.in_the_wall(s.at, steep) or scene.off_the_roof(s.at):
        return
    mine, under = scene.kinds[sheet], scene.kinds.get(s.under or WALL, WALL)
    above = OUTSIDE if s.over is None else scene.gap(s.over, sheet, s.at)
    below = DECK if s.under in (None, WALL) else scene.gap(sheet, s.under or "", s.at)
    rating, how = held_at(scene, s)
    side = steep and abs(s.edge.normal[0]) > 0.5
    along = None if not steep else y - z * math.tan(walls.lean) if side else x
    # Rain runs in a rib's width too; standing water gets there only over what is turned up before it.
    pooled = scene.pooled(s.at) and not scene.turned_up_before(s)
    rise = dot(walls.up, scene.plumb)
    top = dot(s.at, scene.plumb)
    # Water slips in over the sheet below, not over the edge: a raised flange's mouth is at the panel's level.
    crest = top if steep else top - s.gap * rise
    foot = crest
    if steep or mine == "counterflashing":
        # A counterflashing's lying leg is up the wall: it too is reached from the roof before it only.
        foot = min(crest, y * scene.plumb[1] if s.floor is None else top - s.floor * rise)
    faces_up = steep and dot(s.edge.inward, walls.up) < -FACES_UP
    if faces_up and above == OUTSIDE and under == WALL and mine != "counterflashing":
        # Nothing covers this upper edge: what runs down the wall runs straight in behind the sheet.
        foot = crest
    seam = f"{sheet}>{'hole' if s.edge.hole else s.under or 'deck'}"
    shape = _shape(s, side, faces_up)
    beyond = None if above == OUTSIDE else _beyond(scene, s)
    edge = Crossing(above, below, crest, foot, rating, seam, s.at, along, pooled, how, shape)
    if beyond is None or beyond == below:
        yield edge
        return
    yield Crossing(above, beyond, top, foot if steep else top, 0.0, f"{sheet}>edge", s.at, along, pooled, "", shape)
    if beyond != DECK:
        yield replace(edge, above=beyond)


def _shape(s: Sight, side: bool, faces_up: bool) -> Shape:
    """An upturn's edge, the end of a lap, or neither; beside the opening both may lean with the wall."""
    up_the_roof, off_the_roof = (-s.edge.inward[k] > FACES_UP for k in (1, 2))
    upturn = faces_up and (off_the_roof or not side)
    return "upturn" if upturn else "end" if up_the_roof else ""


def held_at(scene: Scene, s: Sight) -> Held:
    """What sealing holds at one place of an edge, and which: none where the sheets lie too far apart for it."""
    work, kinds, seals, sheet = scene.work, scene.kinds, scene.seals, s.edge.sheet
    mine, under = kinds[sheet], kinds.get(s.under or WALL, WALL)
    bedded = not s.edge.hole and beds(scene, s, mine)
    best = seals.held(mine, under, sheet) if bedded else NOTHING
    corner = scene.foot_at(s.at)
    if corner:
        # No bead or tape of a lap runs into the reliefs at a wall corner's foot; only its patch fills them.
        best = best if mine == "corner-patch" else NOTHING
        on = [n for n in kinds if n.endswith(f"corner-patch-{corner}")]
        best = max(best, *(seals.held("corner-patch", WALL, n) for n in on), NOTHING)
    middle = work.opening.left + work.opening.width / 2
    if mine == "cricket" and under == WALL and abs(s.at[0] - middle) < work.measures.ridge_lap:
        # The ridge seam, and the relief at both its ends, are folded, laid flat and sealed.
        best = max(best, seals.held("cricket", "cricket"))
    return best


def beds(scene: Scene, s: Sight, mine: str) -> bool:
    """Does the sheet lie near enough to the one below for a bead or a tape between them?"""
    if mine == "counterflashing" or s.steep:
        return True
    # An apron raised onto the ribs is bedded on their closures.
    closure = scene.site.panel.rib_height if mine == "apron" and scene.work.raised else 0.0
    return s.gap * math.cos(scene.work.walls.lean) <= closure + BEDS


def _beyond(scene: Scene, s: Sight) -> str | None:
    """The space just off an edge that another sheet covers; None where the cover ends with it."""
    if s.over_out is None or s.over_out == s.edge.sheet:
        return None
    if s.under_out in (None, WALL):
        return DECK
    if s.under_out == s.over_out or s.under_out == s.edge.sheet:
        return None
    return scene.gap(s.over_out, s.under_out or "", s.at)
