"""The hood over the end of a rib that a split plate cuts: a box open downslope, its flanges on the plate.

 seen from downslope      seen from the side, upslope to the right
    _______                 __________
   |       |               |          |  end, its flange on the plate
 __|       |__             |__________|__
 flange   flange
"""

from __future__ import annotations

from lapwright.detail.pipe import HOOD_OVER, rib_end
from lapwright.geom.space import Point
from lapwright.metal.model import Body
from lapwright.metal.work import Work

FLANGE = 1.0
"""A hood's flanges. House rule. [in]"""

OVER_RIB = 0.125
"""A hood clears the rib by this on both sides and above. House rule. [in]"""


def rib_hood(work: Work) -> Body:
    """The hood folded, as it stands on the plate.

    Source: house rule; corners by intersecting planes.
    """
    pipe = work.detail.pipe
    if pipe is None or pipe.rib is None:
        raise ValueError("no rib is cut for this opening")
    half = (work.measures.rib_face or 0.0) + OVER_RIB + work.thickness
    low, high = work.pan.downslope, rib_end(work.detail) + HOOD_OVER
    top = work.site.panel.rib_height + OVER_RIB
    a, b = pipe.rib - half, pipe.rib + half
    sheet = work.sheet()
    sheet.root("top", [(a, low, top), (b, low, top), (b, high, top), (a, high, top)], painted=(0.0, 0.0, 1.0))
    for hand, x, out in (("left", a, -FLANGE), ("right", b, FLANGE)):
        side: list[Point] = [(x, low, top), (x, high, top), (x, high, 0.0), (x, low, 0.0)]
        sheet.attach("top", f"{hand} side", side)
        feet: list[Point] = [(x, low, 0.0), (x, high, 0.0), (x + out, high, 0.0), (x + out, low, 0.0)]
        sheet.attach(f"{hand} side", f"{hand} flange", feet)
    sheet.attach("top", "end", [(a, high, top), (b, high, top), (b, high, 0.0), (a, high, 0.0)])
    foot: list[Point] = [(a, high, 0.0), (b, high, 0.0), (b, high + FLANGE, 0.0), (a, high + FLANGE, 0.0)]
    sheet.attach("end", "end flange", foot)
    return sheet.body(u_axis=(1.0, 0.0, 0.0))
