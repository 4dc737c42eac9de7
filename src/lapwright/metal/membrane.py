"""Self-adhered membrane round the opening: four strips, each with one edge turned up its wall.

 ______________________
|       upslope        |      laid downslope first, then the sides, then upslope, so that every
|__ ________________ __|      lap sheds; the upslope strip goes under the underlayment above
|  |                |  |
|__|                |__|
|      downslope       |
|______________________|
"""

from __future__ import annotations

from typing import Literal

from lapwright.geom.space import Point, add, meet
from lapwright.metal.counterflashing import Wall
from lapwright.metal.model import Body
from lapwright.metal.pipe_hole import round_membrane
from lapwright.metal.sheet import Sheet
from lapwright.metal.walls import level
from lapwright.metal.work import Hand, Work

THICKNESS = 0.04
"""Self-adhered membrane, 40 mil. From memory. [in]"""

LAP = 4.0
"""Side strips lap the downslope strip, and lie under the upslope strip, by this much. House rule. [in]"""

MATERIAL = "membrane"

MEMBRANE_PSF = 0.3
"""Weight. From memory. [lb/ft2]"""


def membrane(work: Work, wall: Wall | Literal["round"]) -> Body:
    """One strip, as it lies: flat on the deck, one edge up the wall as far as the wall is long.

    Source: width and height turned up are house rules.
    """
    if wall == "round":
        return round_membrane(work, MATERIAL, THICKNESS)
    m, o, walls = work.measures, work.opening, work.walls
    sheet = Sheet(MATERIAL, THICKNESS, 0.0)
    wide, up = m.membrane_wide, min(m.membrane_up, o.height)
    x0, x1 = max(0.0, o.left - wide), min(work.site.roof.eave, o.right + wide)
    deck = level(0.0)
    if wall in ("front", "back"):
        face = walls.front() if wall == "front" else walls.back()
        feet = [meet(face, deck, walls.side(h)) for h in ("left", "right")]
        heads = [meet(face, level(up), walls.side(h)) for h in ("left", "right")]
        y = feet[0][1]
        far = max(0.0, y - wide) if wall == "front" else min(work.site.roof.slope, y + wide)
        ring: list[Point] = [(x0, y, 0.0), feet[0], feet[1], (x1, y, 0.0), (x1, far, 0.0), (x0, far, 0.0)]
        sheet.root("deck", ring, painted=(0.0, 0.0, 1.0))
        sheet.attach("deck", "turned up", [feet[0], feet[1], heads[1], heads[0]])
        return sheet.body(u_axis=(1.0, 0.0, 0.0))
    hand: Hand = "left" if wall == "left" else "right"
    side = walls.side(hand)
    feet = [meet(side, deck, w) for w in (walls.front(), walls.back())]
    # Ended square, not along a leaning corner: it is soft, and the deck strip runs on beside it.
    heads = [add(p, (0.0, 0.0, up)) for p in feet]
    x, outer = feet[0][0], x0 if hand == "left" else x1
    low, high = o.up - LAP, o.back + LAP
    ring = [(outer, low, 0.0), (x, low, 0.0), feet[0], feet[1], (x, high, 0.0), (outer, high, 0.0)]
    sheet.root("deck", ring, painted=(0.0, 0.0, 1.0))
    sheet.attach("deck", "turned up", [feet[0], feet[1], heads[1], heads[0]])
    return sheet.body(u_axis=(0.0, 1.0, 0.0))
