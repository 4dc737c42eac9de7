"""A round pipe: its sleeve's shape, the plate it stands on, the parts, and what laps over what.

     rib        rib            The plate lies on the panel below and fills it from rib to rib; the panel above is
      | _______ |              cut and hooks on a cleat: water from upslope lands on the plate. A rib nearer to the
      ||  cleat||              rim than `pipe_clear` is cut: then the plate lies over both pans, in two halves that
      ||   O   ||   plate      meet at the pipe, and a hood covers the rib's end below it.
      ||_______||
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import replace

from lapwright.detail.measures import pan_of
from lapwright.detail.model import Lap, Notch, OpeningDetail, Pan, Part, Pipe
from lapwright.geom import SAME
from lapwright.geom.space import Flat
from lapwright.layout.model import Bay
from lapwright.site.model import Defaults, Opening, Site

CONE_DEG = 15.0
"""Half angle of a cone's sleeve: the steepest roof there is still cuts every element. House rule. [deg]"""

PAST_CLEAT = 0.5
"""The panel below runs on past the cleat line by this share of the plate's headlap there. House rule."""

COLLAR_ROOM = 1.5
"""Pipe that has to stand above its sleeve for a storm collar. House rule. [in]"""

LEAST_ABOVE = 2.0
"""Roof needed beyond the plate for the panels above to be held. House rule. [in]"""


def measured(m: Defaults) -> Defaults:
    """A pipe's measures: the panel below runs past the cleat line. [in]"""
    headlap = max(0.0, (m.extent or 0.0) - m.setback)
    return replace(m, overrun=max(m.overrun, m.setback + PAST_CLEAT * headlap))


def pipe_of(site: Site, o: Opening, bay: Bay, m: Defaults) -> Pipe:
    """The pipe and the sleeve that stands round it.

    The sleeve stands `upstand` square to the roof on its upslope side, where it is shortest.

    Args:
        o: the pipe by its rim. m: resolved measures. [in]

    Source: hole D by D / cos(theta), geometry; height and gaps are house rules.
    """
    lean = site.roof.theta if o.face == "plumb" else 0.0
    gap = m.flue_gap if o.hot else m.sleeve_gap
    hole = o.width + (2 * gap if o.hot else 0.0)
    across, along = hole_of(hole, lean)
    reach = o.width / 2 + gap
    half = math.radians(CONE_DEG) if m.sleeve == "cone" else 0.0
    # On its upslope side a sleeve's end is `upstand` off the roof: along the axis that is upstand / cos, and the
    # roof there lies reach tan higher than at the axis.
    height = m.upstand / math.cos(lean) + reach * math.tan(lean)
    rib = bay.interrupted[0] if bay.interrupted else None
    centre = (o.left + o.width / 2, o.up + o.length / 2)
    return Pipe(centre, o.width, lean, across, along, gap, height, half, o.hot, rib)


def hole_of(diameter: float, lean: float) -> tuple[float, float]:
    """A round pipe's hole in a sloping sheet: across, and along the slope. [in]

    Args:
        lean: Slope of the sheet to the pipe's square section. [rad]

    Source: geometry, D by D / cos(theta).

    >>> [round(x, 4) for x in hole_of(4.0, math.atan2(6, 12))]
    [4.0, 4.4721]
    """
    return diameter, diameter / math.cos(lean)


def with_pipe(site: Site, o: Opening, bay: Bay, m: Defaults, shared: bool) -> OpeningDetail:
    """Decide a pipe: a plate and a sleeve, a split plate where a rib stands in the way, or why neither can be.

    Args:
        o: the pipe by its rim. m: resolved measures.
    """
    m = measured(m)
    pipe = pipe_of(site, o, bay, m)
    whole = pan_of(o, bay, m)
    below = m.apron_flange + (m.hood_run if pipe.rib is not None else 0.0)
    pan = Pan(whole.left, whole.right, o.up - below, whole.upslope, m.upstand)
    why = _refused(site, o, bay, m, pipe, pan, shared)
    if why:
        return OpeningDetail(o, bay, "none", m, pan=pan, why=why, pipe=pipe)
    line = ((bay.left, o.back + m.setback), (bay.right, o.back + m.setback))
    notches = _notches(site, o, bay, m, line)
    if pipe.rib is None:
        return OpeningDetail(o, bay, "sleeve", m, line, pan, None, notches, "detail.why.pan", pipe=pipe)
    return OpeningDetail(o, bay, "split-plate", m, line, pan, None, notches, "detail.why.rib-in-way", pipe=pipe)


def _refused(site: Site, o: Opening, bay: Bay, m: Defaults, pipe: Pipe, pan: Pan, shared: bool) -> str:
    if shared:
        return "bay.shared"
    if o.method in ("flat-pan", "cricket"):
        return "pipe.method"
    if len(bay.interrupted) > 1:
        return "pipe.wide"
    if min(o.left - bay.left, bay.right - o.right) < m.pipe_clear - SAME:
        return "pipe.edge"
    if foot_reach(pipe) + m.foot_tab > min(pipe.centre[0] - pan.left, pan.right - pipe.centre[0]) + SAME:
        return "pipe.foot"
    if pipe.height + COLLAR_ROOM > o.height + SAME:
        return "pipe.short"
    if pan.upslope + LEAST_ABOVE > site.roof.slope + SAME:
        return "pipe.room-upslope"
    if pan.downslope < m.turn_up - SAME:
        return "pipe.room-downslope"
    return ""


def foot_reach(pipe: Pipe) -> float:
    """How far a sleeve's foot reaches from the axis across the slope. [in]"""
    head = pipe.diameter / 2 + pipe.gap
    return head + pipe.height * math.tan(pipe.half_angle)


def _notches(site: Site, o: Opening, bay: Bay, m: Defaults, line: tuple[Flat, ...]) -> tuple[Notch, ...]:
    """On the bay ribs as beside any opening; the cleat line runs level, so both ends alike."""
    past = m.lip + m.slack
    leading_right = site.panel.lay == "left-to-right"
    out = []
    for is_rib, (x, y), leading in (
        (bay.left_is_rib, line[0], not leading_right),
        (bay.right_is_rib, line[-1], leading_right),
    ):
        if is_rib:
            out.append(Notch(x, o.back + m.overrun, y - past, "outer-leg" if leading else "lap-lock"))
    return tuple(out)


def rib_end(d: OpeningDetail) -> float:
    """Where a rib that is cut for a pipe ends below its plate: under the hood, short of its end. y [in]"""
    if d.pan is None:
        raise ValueError("no plate was decided for this pipe")
    return d.pan.downslope + d.measures.hood_run - HOOD_OVER


HOOD_OVER = 0.5
"""A rib stops this far short of its hood's end. House rule. [in]"""


def pipe_parts(site: Site, k: int, d: OpeningDetail) -> list[Part]:
    """The pieces of one pipe, k its place in the job."""
    n, split = k + 1, d.method == "split-plate"
    out = [Part(f"{n}-membrane-round", "membrane", "round", k)]
    strips = ("plate-left", "plate-right") if split else ("plate",)
    out += [Part(f"{n}-hook-strip-{w}", "hook-strip", w, k) for w in strips]
    if split:
        out += [Part(f"{n}-base-plate-{w}", "base-plate", w, k) for w in ("downslope", "upslope")]
        out.append(Part(f"{n}-rib-hood", "rib-hood", "", k))
        if not site.panel.folded:
            out.append(Part(f"{n}-closure-rib", "closure", "rib", k))
    else:
        out.append(Part(f"{n}-base-plate", "base-plate", "whole", k))
    out += [Part(f"{n}-offset-cleat-1", "offset-cleat", "1", k)]
    return [*out, Part(f"{n}-sleeve", "sleeve", "", k), Part(f"{n}-storm-collar", "storm-collar", "", k)]


def pipe_laps(parts: list[Part], open_up: str, ridge: str) -> Iterator[Lap]:
    """What laps over what round one pipe. parts: its own pieces and panels."""

    def named(*kinds: str) -> list[str]:
        return [p.id for p in parts if p.kind in kinds]

    below = [p.id for p in parts if p.kind == "panel" and p.role != "upper"]
    upper = [p.id for p in parts if p.role == "upper"]
    plates, strips = named("base-plate"), named("hook-strip")
    for membrane in named("membrane"):
        yield Lap(membrane, open_up)
        yield from (Lap(x, membrane) for x in below)
    yield from (Lap(s, x) for s in strips for x in below)
    yield from (Lap(plate, x) for plate in plates for x in (*below, *strips))
    yield from (Lap(b, a) for a, b in itertools.pairwise(plates))
    yield from (Lap(x, plate) for x in named("rib-hood", "sleeve", "offset-cleat") for plate in plates)
    yield from (Lap(c, s) for c in named("storm-collar") for s in named("sleeve"))
    yield from (Lap(x, y) for x in upper for y in (*plates, *named("offset-cleat")))
    for plug in named("closure"):
        yield from (Lap(plug, x) for x in upper)
        yield Lap(ridge, plug)
