"""The flat back pan: base, two legs beside the opening, a tongue up the back face, rib turn-ups.

 ____water-stop hem____
|                      |     turn-ups stand against the bay ribs' faces, opened a little
|        base          |
|      o________o      |     o stop holes at the tongue's near tangent line
|leg  /  tongue  \\  leg|     the cuts run 45 degrees out to the corner cut, then parallel
|____|            |____|     closed hems at the legs' ends; tabs turn round the corners
"""

from __future__ import annotations

import math

from lapwright.geom.space import Point, add, meet, scale
from lapwright.metal.corner import Relief, add_tab, relieve
from lapwright.metal.model import Body
from lapwright.metal.sheet import Sheet
from lapwright.metal.walls import across, level, upslope_at
from lapwright.metal.work import HANDS, Hand, Work

HEM_END = 0.25
"""Hems end this far inside a rib turn-up, so that both can be folded. House rule. [in]"""


def back_pan(work: Work) -> Body:
    """The pan folded, in roof coordinates.

    Source: shape, cuts, tabs and hems are house rules; corners by intersecting planes.
    """
    m, pan, t = work.measures, work.pan, work.thickness
    sheet = work.sheet()
    stand = 2 * t
    back = work.walls.back(stand)
    reliefs: dict[Hand, Relief] = {}
    foot: dict[Hand, Point] = {}
    head: dict[Hand, Point] = {}
    for hand in HANDS:
        foot[hand] = work.walls.corner(hand, back, 0.0, stand)
        head[hand] = work.walls.corner(hand, back, pan.upstand, stand)
        reliefs[hand] = relieve(
            foot[hand],
            work.into(hand),
            work.walls.up,
            work.setback(work.turn_back),
            sheet.setback(90, "down"),
        )
    _base(work, sheet, reliefs, foot)
    _turn_ups(work, sheet)
    left, right = reliefs["left"], reliefs["right"]
    sheet.attach(
        "base",
        "tongue",
        [left.p0, right.p0, right.p1, right.p2, head["right"], head["left"], left.p2, left.p1],
    )
    downslope = scale(work.walls.out_back, -1.0)
    for hand in HANDS:
        add_tab(
            sheet,
            "tongue",
            f"tab {hand}",
            reliefs[hand],
            foot[hand],
            head[hand],
            work.walls.up,
            downslope,
            m.corner_tab,
            slope=1.0,
        )
        near = foot[hand][1] + work.setback(work.turn_back)
        sheet.hole("base", (reliefs[hand].p0[0], near, 0.0), m.stop_hole)
    if returns_over(work):
        over = [add(head[h], (0.0, -m.return_over, 0.0)) for h in HANDS]
        sheet.attach("tongue", "return", [head["left"], head["right"], over[1], over[0]])
    _hems(work, sheet)
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def returns_over(work: Work) -> bool:
    """Does the tongue turn over the top? Only on a curb or skylight as high as the upstand."""
    o = work.opening
    return (
        o.kind in ("curb", "skylight")
        and o.face == "square"
        and abs(o.height - work.pan.upstand) < 1e-6
        and work.measures.return_over > 0
    )


def _base(work: Work, sheet: Sheet, reliefs: dict[Hand, Relief], foot: dict[Hand, Point]) -> None:
    m, pan, o = work.measures, work.pan, work.opening
    far = foot["left"][1] - work.far(work.turn_back)
    ring: list[tuple[float, float]] = [(pan.left, pan.downslope), (pan.left + HEM_END, pan.downslope)]
    for hand, inner in (("left", o.left - m.corner_cut), ("right", o.right + m.corner_cut)):
        start = reliefs["left" if hand == "left" else "right"].p0[0]
        cut = [
            (inner, pan.downslope),
            (inner, far - abs(start - inner)),
            (start, far),
            (start, foot["left"][1]),
        ]
        ring += cut if hand == "left" else cut[::-1]
    ring += [(pan.right - HEM_END, pan.downslope), (pan.right, pan.downslope), (pan.right, pan.upslope)]
    ring += [(pan.right - HEM_END, pan.upslope), (pan.left + HEM_END, pan.upslope), (pan.left, pan.upslope)]
    sheet.root("base", [(x, y, 0.0) for x, y in ring], painted=(0.0, 0.0, 1.0))


def _turn_ups(work: Work, sheet: Sheet) -> None:
    m, pan = work.measures, work.pan
    lean = math.tan(math.radians(m.opened))
    height = (m.rib_turn_up or 0.0) * math.cos(math.radians(m.opened))
    for hand, x in (("left", pan.left), ("right", pan.right)):
        out = -lean if hand == "left" else lean
        high = [
            meet(across(x + out * height), level(height), plane_y)
            for plane_y in (upslope_at(pan.downslope), upslope_at(pan.upslope))
        ]
        sheet.attach("base", f"turn-up {hand}", [(x, pan.downslope, 0.0), (x, pan.upslope, 0.0), high[1], high[0]])


def _hems(work: Work, sheet: Sheet) -> None:
    m, pan, o = work.measures, work.pan, work.opening
    up = [(pan.right - HEM_END, pan.upslope, 0.0), (pan.left + HEM_END, pan.upslope, 0.0)]
    sheet.hem("base", "water-stop hem", (up[0], up[1]), m.hem, "up", gap=2 * work.thickness)
    legs = {
        "left": (pan.left + HEM_END, o.left - m.corner_cut),
        "right": (o.right + m.corner_cut, pan.right - HEM_END),
    }
    for hand, (a, b) in legs.items():
        edge = ((a, pan.downslope, 0.0), (b, pan.downslope, 0.0))
        sheet.hem("base", f"leg hem {hand}", edge, m.hem, "down")
