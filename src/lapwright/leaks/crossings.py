"""Every place where an edge can be passed: which spaces it joins, how high it stands, what is sealed there."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from lapwright.geom.space import dot
from lapwright.leaks.layers import Sight, lies
from lapwright.leaks.seals import NOTHING, WALL, Held, Seals
from lapwright.leaks.search import DECK, OUTSIDE, Crossing
from lapwright.leaks.spaces import foot_of, gap, inside_wall, off_the_roof
from lapwright.metal.work import Work
from lapwright.site.model import Site

POOL_BELOW = 1.0
"""Standing water behind the face still reaches this far down past the corners. House rule. [in]"""

POOL_ABOVE = 12.0
"""Edges are looked at for standing water at least this far up from the face. House rule. [in]"""

BEDS = 0.375
"""Sealant and tape bridge no more than this. House rule. [in]"""

FACES_UP = 0.5
"""An edge faces up when it looks within 60 degrees of up the wall. House rule."""


def crossings_at(
    site: Site, work: Work, s: Sight, kinds: Mapping[str, str], seals: Seals, level: float | None
) -> Iterator[Crossing]:
    """At one place on an edge: off the sheet to what lies beyond it, and from there in under the sheet."""
    theta, (x, y, z) = site.roof.theta, s.at
    steep = not lies(s.edge.normal, work.walls.up)
    if s.over == WALL or inside_wall(work, s.at, steep) or off_the_roof(site, s.at):
        return
    mine, under = kinds[s.edge.sheet], kinds.get(s.under or WALL, WALL)
    above = OUTSIDE if s.over is None else gap(work, kinds, s.over, s.edge.sheet, s.at)
    below = DECK if s.under in (None, WALL) else gap(work, kinds, s.edge.sheet, s.under or "", s.at)
    rating, how = held_at(work, s, kinds, seals)
    along = None
    if steep:
        side = abs(s.edge.normal[0]) > 0.5
        along = y - z * math.tan(work.walls.lean) if side else x
    pooled = level is not None and _pooled(work, theta, x, y)
    plumb = (0.0, math.sin(theta), math.cos(theta))
    rise = dot(work.walls.up, plumb)
    top = dot(s.at, plumb)
    # Water slips in over the sheet below, not over the edge: a raised flange's mouth is at the panel's level.
    crest = top if steep else top - s.gap * rise
    foot = crest
    if steep or mine == "counterflashing":
        # A counterflashing's lying leg is up the wall: it too is reached from the roof before it only.
        foot = min(crest, y * math.sin(theta) if s.floor is None else top - s.floor * rise)
    faces_up = steep and dot(s.edge.inward, work.walls.up) < -FACES_UP
    if faces_up and above == OUTSIDE and under == WALL and mine != "counterflashing":
        # Nothing covers this upper edge: what runs down the wall runs straight in behind the sheet.
        foot = crest
    seam = f"{s.edge.sheet}>{'hole' if s.edge.hole else s.under or 'deck'}"
    beyond = _beyond(work, kinds, s)
    edge = Crossing(above, below, crest, foot, rating, seam, s.at, along, pooled, how)
    if above == OUTSIDE or beyond is None or beyond == below:
        yield edge
        return
    off = Crossing(above, beyond, top, foot if steep else top, 0.0, f"{s.edge.sheet}>edge", s.at, along, pooled)
    yield off
    if beyond != DECK:
        yield replace(edge, above=beyond)


def _pooled(work: Work, theta: float, x: float, y: float) -> bool:
    """May standing water reach this place of the roof?"""
    o, bay, water = work.opening, work.detail.bay, work.detail.water
    reach = 0.0 if water is None else water.depth / math.tan(theta)
    return o.back - POOL_BELOW <= y <= o.back + max(reach, POOL_ABOVE) and bay.left <= x <= bay.right


def held_at(work: Work, s: Sight, kinds: Mapping[str, str], seals: Seals) -> Held:
    """What sealing holds at one place of an edge, and which: none where the sheets lie too far apart for it."""
    mine, under = kinds[s.edge.sheet], kinds.get(s.under or WALL, WALL)
    bedded = not s.edge.hole and _beds(work, s, mine)
    found = [seals.held(mine, under, s.edge.sheet) if bedded else NOTHING, NOTHING]
    corner = foot_of(work, s.at)
    if corner:
        # No bead or tape of a lap runs into the reliefs at a wall corner's foot; only its patch fills them.
        found = [found[0] if mine == "corner-patch" else NOTHING]
        on = [n for n in kinds if n.endswith(f"corner-patch-{corner}")]
        found += [seals.held("corner-patch", WALL, n) for n in on]
    middle = work.opening.left + work.opening.width / 2
    if mine == "cricket" and under == WALL and abs(s.at[0] - middle) < work.measures.ridge_lap:
        # The ridge seam, and the relief at both its ends, are folded, laid flat and sealed.
        found.append(seals.held("cricket", "cricket"))
    return max(found)


def _beds(work: Work, s: Sight, mine: str) -> bool:
    """Does the sheet lie near enough to the one below for a bead or a tape between them?"""
    if mine == "counterflashing" or not lies(s.edge.normal, work.walls.up):
        return True
    # An apron raised onto the ribs is bedded on their closures.
    closure = work.site.panel.rib_height if mine == "apron" and work.raised else 0.0
    return s.gap * math.cos(work.walls.lean) <= closure + BEDS


def _beyond(work: Work, kinds: Mapping[str, str], s: Sight) -> str | None:
    """The space just off an edge that another sheet covers; None where the cover ends with it."""
    if s.over_out is None or s.over_out == s.edge.sheet:
        return None
    if s.under_out in (None, WALL):
        return DECK
    if s.under_out == s.over_out or s.under_out == s.edge.sheet:
        return None
    return gap(work, kinds, s.over_out, s.under_out or "", s.at)
