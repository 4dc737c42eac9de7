"""Make every piece and panel of the job: body, blank, bends, weight."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

from lapwright.detail.model import Detail, Notch, OpeningDetail, Part
from lapwright.detail.pipe import rib_end
from lapwright.geom.space import Flat
from lapwright.layout.model import Layout, Strip
from lapwright.metal import panel as panels
from lapwright.metal.apron import apron
from lapwright.metal.back_pan import back_pan
from lapwright.metal.base_plate import base_plate, with_arcs
from lapwright.metal.cleat import cleats
from lapwright.metal.closure import backing_plate, rib_closure, rib_plug
from lapwright.metal.counterflashing import counterflashing
from lapwright.metal.cricket import half_cricket
from lapwright.metal.develop import develop
from lapwright.metal.hook_strip import hook_strip
from lapwright.metal.membrane import MATERIAL, MEMBRANE_PSF, membrane
from lapwright.metal.model import Bend, Body, Piece, RoofPanel
from lapwright.metal.patch import patch
from lapwright.metal.rib_hood import rib_hood
from lapwright.metal.side_wall import side_wall
from lapwright.metal.sleeve import sleeve_blank, sleeve_body
from lapwright.metal.storm_collar import storm_collar_blank, storm_collar_body
from lapwright.metal.work import HANDS, Hand, Work, at_bench
from lapwright.site.model import Site
from lapwright.tables import metals

LEG_CLEAR = 0.125
"""An upper panel's legs are cut back this much past its hem. House rule. [in]"""

RIB_END_CLEAR = 1.0
"""A rib in a side channel ends this far below the pan's leg. House rule. [in]"""


def make(site: Site, layout: Layout, detail: Detail) -> tuple[tuple[Piece, ...], tuple[RoofPanel, ...]]:
    """Develop all the metal.

    Returns:
        Pieces of every opening in the order of detail.parts, and every panel, left to right.
    """
    benches = {k: at_bench(site, d) for k, d in enumerate(detail.openings) if d.planned}
    pieces = tuple(_piece(benches[p.opening], p) for p in detail.parts if p.kind != "panel" and p.opening is not None)
    laid = tuple(
        _panel(site, layout.strips[p.strip], benches.get(-1 if p.opening is None else p.opening), p)
        for p in detail.parts
        if p.strip is not None
    )
    return pieces, laid


def body_of(work: Work, part: Part) -> Body:
    """The folded body of one piece.

    Raises:
        KeyError: no such kind of piece (our bug).
    """
    where = part.where
    if part.kind == "offset-cleat":
        return cleats(work)[int(where) - 1]
    if part.kind == "cricket":
        return half_cricket(work, _hand(where))
    if part.kind == "side-wall":
        return side_wall(work, _hand(where))
    if part.kind == "corner-patch":
        end, hand = where.split("-")
        return patch(work, _hand(hand), "back" if end == "back" else "front")
    if part.kind == "counterflashing":
        return counterflashing(work, where)  # type: ignore[arg-type]
    if part.kind == "hook-strip":
        return hook_strip(work, where)
    if part.kind == "membrane":
        return membrane(work, where)  # type: ignore[arg-type]
    if part.kind == "closure":
        if where == "rib":
            return rib_plug(work, work.detail.bay.interrupted[0])
        return rib_closure(work, int(where.split("-")[1]) - 1)
    if part.kind == "backing-plate":
        return backing_plate(work, apex=where == "apex")
    if part.kind == "base-plate":
        return base_plate(work, where)
    return PLAIN[part.kind](work)


PLAIN = {
    "apron": apron,
    "back-pan": back_pan,
    "rib-hood": rib_hood,
    "sleeve": sleeve_body,
    "storm-collar": storm_collar_body,
}
"""Kinds of which an opening has one."""

ROLLED = {"sleeve": sleeve_blank, "storm-collar": storm_collar_blank}
"""Kinds whose blank is worked out by itself, not laid out from flats."""


def _hand(where: str) -> Hand:
    return "left" if where == "left" else "right"


def _piece(work: Work, part: Part) -> Piece:
    body = body_of(work, part)
    bends: tuple[Bend, ...] = ()
    if part.kind in ROLLED:
        blank = ROLLED[part.kind](work)
    else:
        flat = develop(body)
        blank, bends = flat.blank, flat.bends
    if part.kind == "base-plate":
        blank = with_arcs(work, part.where, body, blank)
    psf = MEMBRANE_PSF if body.metal == MATERIAL else metals()[body.metal].weight_psf
    side = part.where.split("-")[-1]
    named = part.where.split("-")[0] if part.kind == "closure" else part.where
    bare = part.kind in ("apron", "back-pan") or not part.where
    return Piece(
        id=part.id,
        kind=part.kind,
        name=f"pieces.{part.kind}" if bare else f"pieces.{part.kind}.{named}",
        opening=work.opening.name,
        quantity=len(part.copies),
        metal=body.metal,
        thickness=body.thickness,
        blank=blank,
        bends=bends,
        weight_lb=blank.area / 144.0 * psf,
        body=body,
        hand=_hand(side) if side in HANDS else "",
    )


def _panel(site: Site, strip: Strip, work: Work | None, part: Part) -> RoofPanel:
    if part.role is None:
        raise ValueError(f"panel {part.id} without a role")
    if work is None:
        return _through(site, strip, part)
    upper = part.role == "upper"
    body = panels.upper_panel(work, strip) if upper else panels.beside_panel(work, strip)
    flat = develop(body)
    outline = tuple((p[0], p[1]) for p in body.faces[0].corners)
    ys = [p[1] for p in outline]
    return RoofPanel(
        id=part.id,
        role=part.role,
        strip=strip.index,
        opening=work.opening.name,
        outline=outline,
        length=max(ys) - min(ys),
        width=strip.width,
        blank=flat.blank,
        bends=flat.bends,
        hems=tuple(j.child for j in body.joints),
        notches=_upper_notches(work, strip) if upper else _side_notches(work.detail, strip),
        body=body,
    )


def _through(site: Site, strip: Strip, part: Part) -> RoofPanel:
    """A panel from eave to upper edge; only one at a roof's edge is worked: ripped, its cut edge turned up."""
    slope = site.roof.slope
    outline = ((strip.left, 0.0), (strip.right, 0.0), (strip.right, slope), (strip.left, slope))
    bare = RoofPanel(part.id, "through", strip.index, None, outline, slope, strip.width)
    if strip.left_is_rib and strip.right_is_rib:
        return bare
    body = panels.edge_panel(site, strip)
    flat = develop(body)
    return replace(bare, blank=flat.blank, bends=flat.bends, hems=tuple(j.child for j in body.joints), body=body)


def _side_notches(d: OpeningDetail, strip: Strip) -> tuple[Notch, ...]:
    """Bay notches on this strip's ribs, and the legs of a rib that stands in the side channel."""
    ribs = [x for x, is_rib in ((strip.left, strip.left_is_rib), (strip.right, strip.right_is_rib)) if is_rib]
    out = [n for n in d.notches if any(abs(n.rib - x) < 1e-6 for x in ribs)]
    o, m = d.opening, d.measures
    if d.pipe is not None:
        cut = [x for x in ribs if any(abs(x - r) < 1e-6 for r in d.bay.interrupted)]
        return (*out, *(Notch(x, o.back + m.overrun, rib_end(d), "leg-off") for x in cut))
    for x in ribs:
        if any(abs(x - r) < 1e-6 for r in d.bay.interrupted) and not o.left < x < o.right:
            out.append(Notch(x, o.back + m.overrun, o.back - m.side_run - RIB_END_CLEAR, "leg-off"))
    return tuple(out)


def _upper_notches(work: Work, strip: Strip) -> tuple[Notch, ...]:
    """Legs cut back for the hem, and the nailing flange off over the pan, where no nail may go."""
    line = panels.edge_line(work)
    lead_right = work.site.panel.lay == "left-to-right"
    out = []
    for x, is_rib, leading in (
        (strip.left, strip.left_is_rib, not lead_right),
        (strip.right, strip.right_is_rib, lead_right),
    ):
        if not is_rib:
            continue
        y = panels.edge_at(line, x)
        # The hem slides up square to a slanted edge: along the rib it takes hem / cos(slant).
        slant = _slant_at(line, x)
        out.append(Notch(x, y + (work.measures.upper_hem + LEG_CLEAR) / math.cos(slant), y, "leg-back"))
        if leading and work.site.panel.fixing == "nailing-flange":
            out.append(Notch(x, work.pan.upslope, y, "flange-off"))
    return tuple(out)


def _slant_at(line: list[Flat], x: float) -> float:
    """Steepest slant of the finished edge on either side of x. [rad]"""
    near = [(a, b) for a, b in itertools.pairwise(line) if a[0] - 1e-9 <= x <= b[0] + 1e-9]
    return max(abs(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in near)
