"""An opening from the side and the panels from their ends, as far as they are measured."""

from __future__ import annotations

import math

from lapwright.draw.display import Display
from lapwright.draw.so_far import GUESS_SIDE, HIGH, WIDE, Hole, Measures, SoFar, placed
from lapwright.geom.flat import along
from lapwright.geom.space import Flat
from lapwright.layout.model import Layout
from lapwright.units import show_pitch
from lapwright.words import Speaker

GUESS_COVERAGE, GUESS_FIRST = 16.0, 8.0
"""A panel, and its first rib, that nobody has measured yet. House rule. [in]"""
SQUARE_KINDS = ("curb", "skylight")
"""Kinds whose faces stand square to the roof unless the job says otherwise."""
SHORT = 60.0
"""A wall drawn lower than this has its figure above it, and the room for that. [pt]"""
RIB_HIGH = 56.0
"""A rib is drawn this high, whatever it measures: at scale it would be a speck. [pt]"""


def draw_side(so_far: SoFar, at: int, speaker: Speaker) -> Display:
    """One opening from the side, upslope to the right: pitch, face and height.

    Args:
        so_far: What is known.
        at: Which opening (from 0); without any, the roof alone.
        speaker: Language and unit.
    """
    page = Measures(speaker)
    hole = so_far.holes[at] if at < len(so_far.holes) else Hole()
    run = (math.cos(so_far.theta), math.sin(so_far.theta))
    long, high = so_far.up_the_roof(hole) or GUESS_SIDE, hole.height or GUESS_SIDE
    ring = _wall(hole, run, long, high)
    foot, front, crown, back = ring
    low, upper = along(foot, run, -0.9 * long - 16.0), along(back, run, 0.4 * long + 8.0)
    xs, ys = ([p[i] for p in (low, upper, front, crown)] for i in (0, 1))
    window = (min(xs), min(ys), max(xs), max(ys))
    place, scale = placed(window, (12.0, 34.0, WIDE - 12.0, HIGH - 10.0))
    if high * scale < SHORT:
        place, scale = placed(window, (12.0, 34.0, WIDE - 12.0, HIGH - SHORT))
    page.sheet.line(place(*low), place(*upper), "eave")
    _pitch(page, place(*low), run, math.dist(low, foot) * scale, so_far.rise)
    if so_far.holes:
        page.sheet.ring([place(*p) for p in ring], page.layer("hole", page.lit(f"opening-{at}-face")), "paper")
        _height(page, [place(*p) for p in ring], run, hole, at)
    return page.finish(speaker.say("page_form.drawn.side_title"))


def _wall(hole: Hole, run: Flat, long: float, high: float) -> tuple[Flat, Flat, Flat, Flat]:
    """Foot, its head, the back face's head and foot; plumb, or square to the roof. [in]"""
    back = along((0.0, 0.0), run, long)
    if (hole.face or ("square" if hole.kind in SQUARE_KINDS else "plumb")) == "square":
        square = (-run[1], run[0])
        return (0.0, 0.0), along((0.0, 0.0), square, high), along(back, square, high), back
    return (0.0, 0.0), (0.0, back[1] + high), (back[0], back[1] + high), back


def _height(page: Measures, ring: list[Flat], run: Flat, hole: Hole, at: int) -> None:
    """Height downslope of the wall, where only air is; a plumb one from the level of the back face's foot. [pt]"""
    foot, front, crown, back = ring
    plumb = abs(crown[0] - back[0]) < 1e-6
    down = (-1.0, 0.0) if plumb else (-run[0], -run[1])
    start = (foot[0], back[1]) if plumb else foot
    page.extension(back if plumb else along(foot, down, 3.0), along(start, down, 20.0))
    page.extension(along(front, down, 3.0), along(front, down, 20.0))
    page.measure(along(start, down, 16.0), along(front, down, 16.0), hole.height, f"opening-{at}-height")


def _pitch(page: Measures, foot: Flat, run: Flat, most: float, rise: float | None) -> None:
    """A level line and the rise above it, under the roof's lower end; most: room up the roof. [pt], [in/12in]"""
    layer = page.lit("roof-pitch")
    level = min(64.0, most * run[0] * 0.9)
    corner = (foot[0] + level, foot[1])
    page.sheet.line(foot, corner, layer)
    page.sheet.line(corner, (corner[0], foot[1] + level * run[1] / run[0]), layer)
    text = show_pitch(rise) if rise is not None else page.show(None)
    page.words((foot[0] + max(level / 2, 26.0), foot[1] - 14.0), text, layer)


def draw_panels(so_far: SoFar, speaker: Speaker, layout: Layout | None = None) -> Display:
    """The first panels from their lower ends: first rib, coverage and rib height. Not to scale in height.

    Args:
        so_far: What is known.
        speaker: Language and unit.
        layout: Of a job that is whole; says where the first rib came to stand.
    """
    page = Measures(speaker)
    coverage = so_far.coverage or GUESS_COVERAGE
    first = layout.first_rib if layout else so_far.first_rib
    start = first if first else min(GUESS_FIRST, coverage / 2)
    scale = 230.0 / (start + coverage)
    low, edge = 90.0, 34.0
    ribs = (edge + start * scale, edge + (start + coverage) * scale)
    ground = [(edge, low)]
    for x in ribs:
        ground += [(x - 3.0, low), (x - 3.0, low + RIB_HIGH), (x + 3.0, low + RIB_HIGH), (x + 3.0, low)]
    page.sheet.run([*ground, (WIDE - 12.0, low)], "metal")
    page.sheet.line((edge, low - 8.0), (edge, low + 14.0), page.layer("wall", "left-edge"))
    for x, bottom in ((edge, 14.0), (ribs[0], 14.0), (ribs[1], 46.0)):
        page.extension((x, low - 10.0), (x, bottom))
    page.measure((edge, 20.0), (ribs[0], 20.0), first, "panel-first_rib")
    page.measure((ribs[0], 52.0), (ribs[1], 52.0), so_far.coverage, "panel-coverage")
    side = ribs[0] + 30.0
    page.extension((ribs[0] + 6.0, low + RIB_HIGH), (side + 4.0, low + RIB_HIGH))
    page.measure((side, low), (side, low + RIB_HIGH), so_far.rib_height, "panel-rib_height", level=True)
    return page.finish(speaker.say("page_form.drawn.panel_title"))
