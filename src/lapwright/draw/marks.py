"""Ribs, and what is marked round an opening: the same on the roof plan and on the opening's own sheet."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from lapwright.detail.cricket import rib_ends
from lapwright.detail.model import OpeningDetail, Pan
from lapwright.detail.pipe import rib_end
from lapwright.draw.callout import Label, write_inside, write_round
from lapwright.draw.plan import Plan, line, run
from lapwright.draw.sheet import Sheet
from lapwright.geom.space import Flat
from lapwright.layout.model import Layout
from lapwright.site.model import Opening, Site

ROUND = 48
"""Corners a pipe's rim is drawn with."""


def draw_ribs(sheet: Sheet, plan: Plan, site: Site, layout: Layout, details: Sequence[OpeningDetail]) -> None:
    """Rib centre lines; those of a bay heavy, interrupted ones only where they stand."""
    bay = {
        x for b in layout.bays for x, is_rib in ((b.left, b.left_is_rib), (b.right, b.right_is_rib)) if is_rib
    }
    for x in layout.ribs:
        for a, b in standing(x, site.roof.slope, details):
            line(sheet, plan, (x, a), (x, b), "bay-rib" if x in bay else "rib", 1.0)


def standing(x: float, slope: float, details: Iterable[OpeningDetail]) -> list[tuple[float, float]]:
    """Where along the slope the rib at `x` stands, from y to y. [in]"""
    gaps = sorted((_lower_end(d), _upper_end(x, d)) for d in details if x in d.bay.interrupted)
    out, y = [], 0.0
    for lo, hi in gaps:
        out.append((y, lo))
        y = hi
    return [(a, b) for a, b in [*out, (y, slope)] if b > a]


def _lower_end(detail: OpeningDetail) -> float:
    """Where an interrupted rib ends: at the downslope face, or under a pipe's hood. [in]"""
    if detail.pipe is not None and detail.planned:
        return rib_end(detail)
    return detail.opening.up


def _upper_end(x: float, detail: OpeningDetail) -> float:
    """Where an interrupted rib starts again: at the cleat line, or at the back face without one. [in]"""
    for (x0, y0), (x1, y1) in zip(detail.cleat_line, detail.cleat_line[1:], strict=False):
        if x0 <= x <= x1 and x1 > x0:
            return y0 + (x - x0) * (y1 - y0) / (x1 - x0)
    return detail.opening.back


def corners(opening: Opening) -> tuple[Flat, ...]:
    """The opening's corners on the roof, from the downslope left one round. [in]"""
    left, right, up, back = opening.left, opening.right, opening.up, opening.back
    return ((left, up), (right, up), (right, back), (left, back))


def rim(opening: Opening) -> tuple[Flat, ...]:
    """The opening's edge on the roof: its corners, or a pipe's ellipse. [in]"""
    if opening.kind != "pipe":
        return corners(opening)
    a, b = opening.width / 2, opening.length / 2
    turns = (2 * math.pi * k / ROUND for k in range(ROUND))
    return tuple((opening.left + a + a * math.cos(t), opening.up + b + b * math.sin(t)) for t in turns)


def draw_marks(sheet: Sheet, plan: Plan, detail: OpeningDetail) -> None:
    """An opening with what is marked round it: pan, cleat line, notches."""
    sheet.ring([plan.at(p) for p in rim(detail.opening)], "wall", "hatch", price=2.0)
    if detail.pan is not None:
        run(sheet, plan, outside(detail, detail.pan), "pan", closed=True)
    for fold in folds(detail):
        run(sheet, plan, fold, "pan")
    for notch in detail.notches:
        line(sheet, plan, (notch.rib, notch.from_y), (notch.rib, notch.to_y), "notch", 2.0)
    run(sheet, plan, detail.cleat_line, "cleat", price=2.0)


def outside(detail: OpeningDetail, pan: Pan) -> tuple[Flat, ...]:
    """The outline of the pan, or of a cricket's flanges, from the downslope left corner round. [in]"""
    left, right = rib_ends(detail)
    apex = () if detail.cricket is None else ((detail.cricket.ridge_head[0], pan.upslope),)
    return ((pan.left, pan.downslope), (pan.right, pan.downslope), (pan.right, right), *apex, (pan.left, left))


def folds(detail: OpeningDetail) -> tuple[tuple[Flat, Flat], ...]:
    """A cricket's valleys and its ridge as seen from above; nothing for a flat pan. [in]"""
    c = detail.cricket
    if c is None or detail.pan is None:
        return ()
    corner, foot, head = ((p[0], p[1]) for p in (c.corner, c.ridge_foot, c.ridge_head))
    return ((corner, head), ((2 * head[0] - corner[0], corner[1]), head), (foot, head))


def name_opening(sheet: Sheet, plan: Plan, opening: Opening) -> None:
    """Write an opening's name in it, or beside it."""
    ring = [plan.at(p) for p in corners(opening)]
    (x0, y0), (x1, y1) = ring[0], ring[2]
    label = Label("", opening.name)
    if label.width + 4 > x1 - x0 or y1 - y0 < 14:
        write_round(sheet, (x0, y0), (x1, y1), label)
        return
    write_inside(sheet, iter([((x0 + x1) / 2, (y0 + y1) / 2)]), label)
