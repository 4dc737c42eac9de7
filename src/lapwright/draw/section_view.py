"""A section on the sheet: deck, wall, every layer as a line, sealant, tape and screws. Names no piece."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from lapwright.draw.display import Pen, oriented
from lapwright.draw.layers import Layer
from lapwright.draw.naming import Namer
from lapwright.draw.pens import PENS
from lapwright.draw.sheet import Sheet
from lapwright.draw.stage import Stage, lines_of, solid_ring
from lapwright.geom.flat import along, heading
from lapwright.geom.space import Flat

METAL, DECK, WALL = (9.0, 0.7), (7.0, 1.2), (4.0, 1.2)
"""What a name, and a leader, pay for crossing metal, the deck and the wall."""
THIN, PLAIN = 0.9, 1.3
"""Weight of panel and of flashing lines, unless the sheet itself is thicker on paper. [pt]"""
BEAD, TAPE_HALF, TAPE_LONG, HEAD = 2.0, 1.3, 6.0, 3.2
BITE = 0.4
"""How far into the deck a screw is drawn. [in]"""

SECTION_PENS: tuple[Pen, ...] = (
    *PENS,
    Pen("formed", THIN),
    Pen("flashing", PLAIN),
    Pen("soft", 1.0, (3.5, 2.0)),
    Pen("wrap", 1.0, (7.0, 2.0)),
    Pen("lost", 0.6, (1.5, 2.0)),
    Pen("deck", 0.6),
    Pen("bead", 0.4),
    Pen("tape", 0.4),
    Pen("screw", 1.1),
    Pen("shank", 0.5, (1.6, 1.4)),
)

Symbol = Literal["bead", "tape", "screw"]


@dataclass(frozen=True, slots=True)
class Spot:
    """A bead, a run of tape or a screw.

    over: the layer it is under (a screw: the layer it holds); under: the layer it lies on, None for the deck
    or the wall. at: its place, as the upper layer lies. [in] below: the same on the lower layer. [in]
    on_wall: it stays at the wall, however far its layer is drawn off it.
    """

    what: Symbol
    over: Layer
    at: Flat
    under: Layer | None = None
    below: Flat | None = None
    on_wall: bool = False


def pen_of(layer: Layer) -> str:
    """Which pen draws a layer: membrane and wall wrap are soft, panels are formed, all else is flashing."""
    return {"membrane": "soft", "wrap": "wrap", "panel": "formed"}.get(layer.part.kind, "flashing")


def draw_ground(namer: Namer, stage: Stage, layers: Sequence[Layer]) -> None:
    """The deck and the wall, each with its cut faces full and broken ends left open."""
    view, sheet = stage.view, namer.sheet
    if view.deck:
        ring = [stage.at(p) for p in view.deck]
        sheet.ring(ring, "mask", "dots")
        for share in (0.0, 0.5, 1.0):
            a, b = _share(ring[0], ring[3], share), _share(ring[1], ring[2], share)
            namer.busy(a, b, *DECK)
            if share != 0.5:
                sheet.line(a, b, "deck")
    if view.solid:
        ring = list(solid_ring(stage, layers))
        sheet.ring(ring, "mask", "hatch")
        for share in (0.0, 0.35, 0.7, 1.0):
            a, b = (_share(p, q, share) for p, q in ((ring[0], ring[3]), (ring[1], ring[2])))
            namer.busy(a, b, *WALL)
        sheet.line(ring[0], ring[1], "wall")
        if view.headed:
            sheet.line(ring[1], ring[2], "wall")
        for a, b in list(zip(ring[1:], [*ring[2:], ring[0]], strict=True))[view.headed :]:
            _broken(sheet, a, b)


def _share(a: Flat, b: Flat, share: float) -> Flat:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _broken(sheet: Sheet, a: Flat, b: Flat) -> None:
    """An edge where a solid runs on: a thin line with one zigzag."""
    if math.dist(a, b) < 20.0:
        return
    run = heading(a, b)
    square = (-run[1], run[0])
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    tooth = [(-6.0, 0.0), (-2.0, 4.0), (2.0, -4.0), (6.0, 0.0)]
    points = [along(along(middle, run, x), square, y) for x, y in tooth]
    sheet.run([a, *points, b], "dimension")


def draw_layers(namer: Namer, stage: Stage, layers: Iterable[Layer]) -> None:
    """Every layer, the lowest first, as the middle line of its sheet; what a notch took off is dashed."""
    for layer in sorted(layers, key=lambda one: (one.deck, one.wall)):
        for pen, traces in (("lost", layer.lost), (pen_of(layer), layer.traces)):
            for run in lines_of(stage.view, traces):
                points = [stage.at(p, layer) for p in run]
                namer.sheet.run(points, pen)
                for a, b in itertools.pairwise(points):
                    namer.busy(a, b, *METAL)


def draw_spots(sheet: Sheet, stage: Stage, spots: Iterable[Spot]) -> None:
    """Beads, tape and screws between their layers."""
    for spot in spots:
        high = stage.at(spot.at, replace(spot.over, wall=0) if spot.on_wall else spot.over)
        if spot.what == "screw":
            _screw(sheet, stage, high, spot)
            continue
        low = stage.at(spot.below or spot.at, spot.under) if spot.below or spot.under else high
        at = ((high[0] + low[0]) / 2, (high[1] + low[1]) / 2)
        if spot.what == "bead":
            sheet.circle(at, BEAD, "bead", "ink")
        else:
            half = TAPE_LONG / 2
            sheet.ring(oriented(at, stage.level, -half, half, TAPE_HALF), "tape", "ink")
        _keep_clear(sheet, at, 3.0)


def _screw(sheet: Sheet, stage: Stage, head: Flat, spot: Spot) -> None:
    """A head on its layer and a dashed shank down into the deck."""
    level, floor = stage.turned((1.0, 0.0)), stage.view.window[1]
    into = (max(floor, -BITE) if stage.view.deck else floor) - spot.at[1]
    foot = (spot.at[0] + into * stage.view.up[0], spot.at[1] + into)
    tip = stage.at(foot, replace(spot.over, deck=0))
    down = heading(head, tip)
    head = along(head, down, -1.2)
    sheet.line(along(head, level, -HEAD), along(head, level, HEAD), "screw")
    sheet.line(head, tip, "shank", 0.8)
    _keep_clear(sheet, head, 3.2)


def _keep_clear(sheet: Sheet, at: Flat, half: float) -> None:
    sheet.block((at[0] - half, at[1] - half), (at[0] + half, at[1] + half))
