"""The cover's picture: the finished detail in space, hidden lines left out."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lapwright.detail.model import OpeningDetail
from lapwright.draw.display import Display, Pen
from lapwright.draw.glb import Node
from lapwright.draw.pens import PENS
from lapwright.draw.sheet import Sheet
from lapwright.draw.view3d import draw_scene
from lapwright.geom.space import Point
from lapwright.packet.say import Voice
from lapwright.packet.scene import WALL_SHOWN
from lapwright.packet.worked import WorkedJob

WIDTH, TALL, LOW = 522.0, 392.0, 240.0
"""Of the picture on the cover: as wide as the page, as high as what stands under it lets it be. [pt]"""
PER_FINDING, PER_OPENING, STOPPED = 23.0, 13.5, 34.0
"""What a finding, an opening and the stamp's box take off that height. [pt]"""
SUMMED_UP = 5
"""Findings named on the cover; the others are counted there. As many openings are told of."""

BESIDE, BELOW, ABOVE = 3.0, 12.0, 20.0
"""Roof shown beside a bay, below and above an opening. [in]"""

NAMED = frozenset({"apron", "side-wall", "back-pan", "cricket", "counterflashing", "sleeve", "base-plate"})
"""Kinds of piece that are named on the picture, where they are seen."""

SOLID = Pen("solid", 0.55)


def draw_finished(job: WorkedJob, nodes: Sequence[Node], voice: Voice) -> Display:
    """Draw the finished roof round its openings, or the whole plane where there are none.

    Args:
        job: A worked-out job.
        nodes: Its scene (see scene.nodes_of).
        voice: Names the pieces.
    """
    theta = job.site.roof.theta
    sin, cos = math.sin(theta), math.cos(theta)

    def stand(p: Point) -> Point:
        return (p[0], p[1] * cos - p[2] * sin, p[1] * sin + p[2] * cos)

    sheet = Sheet(WIDTH, _height(job))
    names = {p.id: voice.name(p.name) for p in job.pieces if p.kind in NAMED}
    if nodes:
        draw_scene(sheet, nodes, stand, _window(job), names)
    title = voice.say("packet.label.finished")
    return sheet.finish((*PENS, SOLID), title)


def _height(job: WorkedJob) -> float:
    """Of the picture, so that the cover is full and no fuller. [pt]"""
    found, opened = len(job.findings), len(job.site.openings)
    rows = min(found, SUMMED_UP) + (found > SUMMED_UP)
    taken = PER_FINDING * rows + PER_OPENING * min(opened, SUMMED_UP) + (STOPPED if job.stopped else 0.0)
    return max(LOW, TALL - taken)


def _window(job: WorkedJob) -> list[Point]:
    """Points the picture must hold: corners of what is shown of the roof, and the heads of the openings."""
    roof = job.site.roof
    corners: list[Point] = []
    for d in job.detail.openings:
        corners += [*_round(d), *_head(job, d)]
    if not corners:
        corners = [(0.0, 0.0, 0.0), (roof.eave, 0.0, 0.0), (0.0, roof.slope, 0.0), (roof.eave, roof.slope, 0.0)]
    return corners


def _round(d: OpeningDetail) -> list[Point]:
    o, bay = d.opening, d.bay
    x0, x1 = bay.left - BESIDE, bay.right + BESIDE
    upper = o.back if d.pan is None else max(o.back, d.pan.upslope - ABOVE / 2)
    y0, y1 = o.up - BELOW, upper + ABOVE
    return [(x, y, 0.0) for x in (x0, x1) for y in (y0, y1)]


def _head(job: WorkedJob, d: OpeningDetail) -> list[Point]:
    """The upper corners of what stands in an opening, as far up as it is drawn."""
    o = d.opening
    up = min(o.height, WALL_SHOWN)
    lean = up * math.tan(job.site.roof.theta) if o.face == "plumb" else 0.0
    return [(x, y + lean, up) for x in (o.left, o.right) for y in (o.up, o.back)]
