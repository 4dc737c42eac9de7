"""Round pipes: why one cannot be drawn, what stands too near or too low, and what a hot flue asks."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.checks.case import Case, held
from lapwright.detail.model import OpeningDetail, Pipe
from lapwright.detail.pipe import COLLAR_ROOM, LEAST_ABOVE, foot_reach
from lapwright.findings import Finding
from lapwright.layout.start import choose_start, cost_of
from lapwright.rules import finding, with_limit

REFUSALS = ("pipe.method", "pipe.wide")
"""Refusals that no number decides."""


def refused(case: Case, d: OpeningDetail) -> Finding:
    """Why no metal is drawn for a pipe, with what there is and what it takes. [in]"""
    o, m, pipe, pan = d.opening, d.measures, d.pipe, d.pan
    assert pipe is not None and pan is not None
    sides = (pipe.centre[0] - pan.left, pan.right - pipe.centre[0])
    rows = {
        "pipe.edge": (m.pipe_clear, min(o.left - d.bay.left, d.bay.right - o.right)),
        "pipe.foot": (foot_reach(pipe) + m.foot_tab, min(sides)),
        "pipe.short": (pipe.height + COLLAR_ROOM, o.height),
        "pipe.room-upslope": ((m.extent or 0.0) + LEAST_ABOVE, case.site.roof.slope - o.back),
        "pipe.room-downslope": (o.up - pan.downslope + m.turn_up, o.up),
    }
    if d.why in REFUSALS:
        return finding(d.why, o.name, diameter=pipe.diameter)
    needed, there = rows[d.why]
    return finding(with_limit(d.why, needed), o.name, there)


def pipes(case: Case) -> Iterator[Finding]:
    """Every pipe that is drawn: laps, height, slope, heat, and the rib that is cut for it."""
    for d in case.detail.openings:
        if d.pipe is not None and d.planned:
            yield from _one(case, d, d.pipe)


def _one(case: Case, d: OpeningDetail, pipe: Pipe) -> Iterator[Finding]:
    o, m = d.opening, d.measures
    assert d.pan is not None
    yield from held("pipe.flange", o.name, m.apron_flange)
    yield from held("pipe.height", o.name, m.upstand)
    yield from held("headlap", o.name, d.pan.upslope - d.cleat_line[0][1], part="findings.part.base-plate")
    if pipe.rib is not None:
        yield from held("headlap", o.name, m.plate_lap, part="findings.part.plate-halves")
        yield from _moved(case, d, pipe.rib)
    yield from held("pipe.low-slope", o.name, case.site.roof.rise)
    if pipe.hot:
        yield finding("pipe.hot", o.name, gap=pipe.gap)


def _moved(case: Case, d: OpeningDetail, rib: float) -> Iterator[Finding]:
    """Which first rib would clear every pipe, where one does."""
    site = case.site
    best = choose_start(site)
    spared = best.cost.interrupted < cost_of(site, case.layout.first_rib).interrupted
    if site.roof.work == "new" and site.panel.first_rib is not None and spared:
        yield finding("pipe.rib-cut", d.opening.name, rib=rib, first=best.first)
    else:
        yield finding("pipe.rib-stays", d.opening.name, rib=rib)
