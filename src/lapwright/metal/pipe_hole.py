"""Where a panel and the membrane go round a pipe: an ellipse cut with play, whole or shared by two strips."""

from __future__ import annotations

import math

from lapwright.detail.model import Pipe
from lapwright.geom.space import Flat, Point
from lapwright.layout.model import Strip
from lapwright.metal.model import Body
from lapwright.metal.sheet import Sheet
from lapwright.metal.sleeve import smooth
from lapwright.metal.work import Work

PLAY = 0.5
"""A panel below a plate is cut this far off the plate's hole: the plate covers it. House rule. [in]"""


def axes(pipe: Pipe) -> Flat:
    """Half the width and half the length of the hole in the panel. [in]"""
    return pipe.across / 2 + PLAY, pipe.along / 2 + PLAY


def hole_ring(pipe: Pipe, start: float = 0.0, end: float = 2 * math.pi) -> list[Flat]:
    """The panel's hole, or an arc of it; angle 0 to the right. [rad], [in]"""
    (x, y), (a, b) = pipe.centre, axes(pipe)
    return list(smooth(lambda t: (x + a * math.cos(t), y + b * math.sin(t)), start, end, [])[0])


def cut_out(work: Work, strip: Strip, end: float) -> tuple[list[Flat], list[Flat]]:
    """A strip's upper rim from right to left where the hole crosses its edge, and else the hole in its flat. [in]

    Args:
        end: y of the panel's upslope end. [in]
    """
    pipe = work.detail.pipe
    assert pipe is not None
    high = [(strip.right, end), (strip.left, end)]
    (x, y), (a, b) = pipe.centre, axes(pipe)
    if not strip.left < x + a or not x - a < strip.right:
        return high, []
    for edge, right in ((strip.right, True), (strip.left, False)):
        if abs(edge - x) < a - 1e-9:
            t = math.acos((edge - x) / a)
            low, top = (edge, y - b * math.sin(t)), (edge, y + b * math.sin(t))
            # Through the metal's side of the hole: by the left for a strip on the hole's left.
            if right:
                arc = hole_ring(pipe, 2 * math.pi - t, t)
                return [low, *arc[1:-1], top, *high], []
            arc = hole_ring(pipe, t, -t)
            return [*high, top, *arc[1:-1], low], []
    return high, hole_ring(pipe)[:-1]


def round_membrane(work: Work, material: str, thickness: float) -> Body:
    """Membrane under the plate: as wide as the strips round a wall, its hole as the plate's.

    Args:
        thickness: of the membrane. [in]

    Source: house rule.
    """
    m, o, pipe, roof = work.measures, work.opening, work.detail.pipe, work.site.roof
    assert pipe is not None
    sheet = Sheet(material, thickness, 0.0)
    wide = m.membrane_wide
    x0, x1 = max(0.0, o.left - wide), min(roof.eave, o.right + wide)
    y0, y1 = max(0.0, o.up - wide), min(roof.slope, o.back + wide)
    ring: list[Point] = [(x0, y0, 0.0), (x1, y0, 0.0), (x1, y1, 0.0), (x0, y1, 0.0)]
    sheet.root("deck", ring, painted=(0.0, 0.0, 1.0))
    (x, y), a, b = pipe.centre, pipe.across / 2, pipe.along / 2
    hole = smooth(lambda t: (x + a * math.cos(t), y + b * math.sin(t)), 0.0, 2 * math.pi, [])[0][:-1]
    sheet.cutouts.append(("deck", tuple((u, v, 0.0) for u, v in hole)))
    return sheet.body(u_axis=(1.0, 0.0, 0.0))
