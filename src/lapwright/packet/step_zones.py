"""Where the water of the test is run, zone by zone from low to high, as areas of the roof."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.draw.features import Window
from lapwright.draw.step_model import AreaView
from lapwright.geom.space import Flat
from lapwright.metal.work import Work
from lapwright.packet.say import Voice

ZONES = ("apron", "sides", "front_corners", "back_corners", "pan", "cleats", "panels")
"""From low to high. House rule."""
CLEAT_BAND, PANELS_BAND = 3.0, 8.0
"""Depth of the zones along the cleat line and on the panels above it. [in]"""
PIPE_ZONES = ("plate_low", "plate_sides", "sleeve", "plate_high", "cleats", "panels")
"""The same round a pipe. House rule."""
BESIDE, BELOW = 6.0, 11.0
"""Roof shown beside the bay and below the apron. [in]"""


def level_ring(x0: float, y0: float, x1: float, y1: float) -> tuple[Flat, ...]:
    """A rectangle of the roof. [in]"""
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def zones_window(work: Work) -> Window:
    """The part of the roof that holds every zone of an opening. [in]"""
    high = max(y for _, y in work.detail.cleat_line) + CLEAT_BAND + PANELS_BAND + BESIDE / 2
    bay = work.detail.bay
    return (bay.left - BESIDE, work.opening.up - BELOW, bay.right + BESIDE, high)


def zones_of(work: Work, voice: Voice, first: bool) -> Iterator[AreaView]:
    """Where the water is run, low to high."""
    if work.detail.pipe is not None:
        yield from _round_pipe(work, voice, first)
        return
    o, m, d = work.opening, work.measures, work.detail
    line, bay = d.cleat_line, d.bay
    high = max(y for _, y in line) + CLEAT_BAND
    side, square = m.side_flange, 2.5
    behind = level_ring(o.left + square, o.back, o.right - square, o.back + 0.75 * (line[1][1] - o.back))
    if d.cricket is not None:
        behind = (
            (o.left + square, o.back),
            (o.right - square, o.back),
            (o.left + o.width / 2, d.cricket.ridge_head[1]),
        )
    rows: dict[str, list[tuple[Flat, ...]]] = {
        "apron": [level_ring(o.left, o.up - m.apron_flange, o.right, o.up)],
        "sides": [
            level_ring(o.left - side, o.up + square, o.left, o.back - square),
            level_ring(o.right, o.up + square, o.right + side, o.back - square),
        ],
        "front_corners": [
            level_ring(x - square, o.up - square, x + square, o.up + square) for x in (o.left, o.right)
        ],
        "back_corners": [
            level_ring(x - square, o.back - square, x + square, o.back + square) for x in (o.left, o.right)
        ],
        "pan": [behind],
        "cleats": [(*line, *((x, y + CLEAT_BAND) for x, y in reversed(line)))],
        "panels": [level_ring(bay.left, high, bay.right, high + PANELS_BAND)],
    }
    for n, zone in enumerate(ZONES, 1):
        for k, ring in enumerate(rows[zone]):
            yield AreaView(ring, "zone", voice.say(f"stepdraw.zone.{zone}") if first and k == 0 else "", str(n))


def _round_pipe(work: Work, voice: Voice, first: bool) -> Iterator[AreaView]:
    """A pipe's zones, low to high."""
    o, pan, bay = work.opening, work.pan, work.detail.bay
    y = work.detail.cleat_line[0][1]
    rows = {
        "plate_low": [level_ring(pan.left, pan.downslope, pan.right, o.up - 1.5)],
        "plate_sides": [
            level_ring(pan.left, o.up - 1.5, o.left - 1.5, o.back + 1.5),
            level_ring(o.right + 1.5, o.up - 1.5, pan.right, o.back + 1.5),
        ],
        "sleeve": [level_ring(o.left - 1.5, o.up - 1.5, o.right + 1.5, o.back + 1.5)],
        "plate_high": [level_ring(pan.left, o.back + 1.5, pan.right, y - 1.5)],
        "cleats": [level_ring(bay.left, y - 1.5, bay.right, y + CLEAT_BAND)],
        "panels": [level_ring(bay.left, y + CLEAT_BAND, bay.right, y + CLEAT_BAND + PANELS_BAND)],
    }
    for n, zone in enumerate(PIPE_ZONES, 1):
        for k, ring in enumerate(rows[zone]):
            yield AreaView(ring, "zone", voice.say(f"stepdraw.zone.{zone}") if first and k == 0 else "", str(n))
