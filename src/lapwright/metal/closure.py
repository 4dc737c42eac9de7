"""Closures: rib-high Zs that carry a raised apron's flange, and plugs in the ribs' hollow ends above.

Z, seen from the side            plug, seen from below
  ____                             _________
      |   web, rib high           |  plate  |   its two sides turn back
      |____                       |_________|   into the hollow of the rib
"""

from __future__ import annotations

from lapwright.detail.parts import closure_runs
from lapwright.geom.space import Point, meet
from lapwright.metal.model import Body
from lapwright.metal.panel import edge_at, edge_line, panel_sheet
from lapwright.metal.walls import across, level, upslope_at
from lapwright.metal.work import Work

FOOT = 1.0
"""Base and head of a closure Z. House rule. [in]"""

BACK_FROM_EDGE = 1.0
"""A Z's web stands this far inside the apron's downslope edge. House rule. [in]"""

SIDE = 0.5
"""A plug's sides. House rule. [in]"""


def rib_closure(work: Work, index: int) -> Body:
    """The Z in one gap between the ribs' faces, or a rib's and the opening's side, under a raised apron.

    Source: house rule.
    """
    left, right = closure_runs(work.opening, work.measures, work.ribs_in_face)[index]
    sheet = work.sheet()
    y = work.opening.up - work.measures.apron_flange + FOOT + BACK_FROM_EDGE
    web, high = upslope_at(y), level(work.site.panel.rib_height - work.thickness)

    def row(a: float, z: float) -> tuple[Point, Point]:
        return (left, y + a, z), (right, y + a, z)

    top = high.point[2]
    low, crest = row(0.0, 0.0), (meet(web, high, across(left)), meet(web, high, across(right)))
    base, head = row(FOOT, 0.0), row(-FOOT, top)
    sheet.root("base", [low[0], low[1], base[1], base[0]], painted=(0.0, 0.0, 1.0))
    sheet.attach("base", "web", [low[0], low[1], crest[1], crest[0]])
    sheet.attach("web", "head", [crest[0], crest[1], head[1], head[0]])
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def rib_plug(work: Work, rib: float) -> Body:
    """The plug in the hollow end of the interrupted rib centred at x `rib` [in], above the opening.

    Source: house rule.
    """
    sheet = panel_sheet(work)
    half = (work.measures.rib_face or 0.0) - work.thickness
    y = edge_at(edge_line(work), rib) + work.measures.upper_hem
    top = work.site.panel.rib_height - work.thickness
    a, b = rib - half, rib + half
    sheet.root("plate", [(a, y, 0.0), (b, y, 0.0), (b, y, top), (a, y, top)], painted=(0.0, -1.0, 0.0))
    for name, x in (("left side", a), ("right side", b)):
        sheet.attach("plate", name, [(x, y, 0.0), (x, y, top), (x, y + SIDE, top), (x, y + SIDE, 0.0)])
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def backing_plate(work: Work, apex: bool) -> Body:
    """The plate under a hem corner of the upper panels; the wider one lies over a cricket's ridge head.

    Source: width is a house rule.
    """
    middle = work.opening.left + work.opening.width / 2
    turns = edge_line(work)[1:-1]
    # Merged runs slant by a hair more on one side, which moves the edge's own apex a hair off the ridge.
    head = min(turns, key=lambda p: abs(p[0] - middle))
    x, y = head if apex else next(p for p in turns if work.detail.cricket is None or p != head)
    half = (work.measures.apex_plate if apex else work.measures.plate) / 2
    sheet = work.sheet()
    ring: list[Point] = [
        (x - half, y - half, 0.0),
        (x + half, y - half, 0.0),
        (x + half, y + half, 0.0),
        (x - half, y + half, 0.0),
    ]
    sheet.root("plate", ring, painted=(0.0, 0.0, 1.0))
    return sheet.body(u_axis=(1.0, 0.0, 0.0))
