"""Hook strips: a taped strip under a flashing's hem; the hem folds over its kicked-up edge."""

from __future__ import annotations

import math

from lapwright.geom.space import Point, add, cross, scale
from lapwright.metal.apron import reach
from lapwright.metal.model import Body
from lapwright.metal.side_wall import flange
from lapwright.metal.work import Hand, Work

KICK_DEG = 15.0
"""The hooked edge stands this far off the panel. House rule."""

END_SHORT = 0.5
"""The strip stops this far inside the hem's ends. House rule. [in]"""


def hook_strip(work: Work, where: str) -> Body:
    """The strip under the apron's hem ("apron"), a side-wall flashing's ("left", "right") or a plate's ("plate")."""
    m, o = work.measures, work.opening
    if where.startswith("plate"):
        xl, xr = _under_plate(work, where)
        return _strip(work, (xl, work.pan.downslope, 0.0), (1.0, 0.0, 0.0), xr - xl)
    if where == "apron":
        raised = work.raised
        xl = o.left - (0.0 if raised else reach(work, "left")) + END_SHORT
        xr = o.right + (0.0 if raised else reach(work, "right")) - END_SHORT
        z = work.site.panel.rib_height if raised else 0.0
        y = o.up - m.apron_flange
        return _strip(work, (xl, y, z), (1.0, 0.0, 0.0), xr - xl)
    hand: Hand = "left" if where == "left" else "right"
    x = work.walls.side(hand, work.thickness).point[0] + work.out(hand)[0] * flange(work, hand)
    start, end = o.up - m.side_lap + END_SHORT, o.back + m.side_past - END_SHORT
    if hand == "left":
        return _strip(work, (x, end, 0.0), (0.0, -1.0, 0.0), end - start)
    return _strip(work, (x, start, 0.0), (0.0, 1.0, 0.0), end - start)


def _under_plate(work: Work, where: str) -> tuple[float, float]:
    """Along a pipe's plate, or to one side of the rib that is cut for it: x, x. [in]"""
    pan, pipe = work.pan, work.detail.pipe
    xl, xr = pan.left + END_SHORT, pan.right - END_SHORT
    if pipe is not None and pipe.rib is not None:
        half = (work.measures.rib_face or 0.0) + END_SHORT
        xl, xr = (xl, pipe.rib - half) if where == "plate-left" else (pipe.rib + half, xr)
    return xl, xr


def _strip(work: Work, at: Point, run: Point, length: float) -> Body:
    """A strip whose hooked edge runs from `at` along `run`, its base lying to the left of that run."""
    m = work.measures
    sheet = work.sheet()
    inward = cross((0.0, 0.0, 1.0), run)
    kick = math.radians(KICK_DEG)
    fold = add(at, inward, m.hem)
    edge = add(add(fold, inward, -m.hem * math.cos(kick)), (0.0, 0.0, 1.0), m.hem * math.sin(kick))
    far = add(fold, inward, m.hook_strip)
    sheet.root("base", [fold, add(fold, run, length), add(far, run, length), far], painted=(0.0, 0.0, 1.0))
    sheet.attach("base", "hook", [fold, add(fold, run, length), add(edge, run, length), edge])
    return sheet.body(u_axis=scale(run, 1.0))
