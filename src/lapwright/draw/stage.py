"""Where a section lies on the sheet: scale, slope, and how far its layers are drawn apart."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from operator import itemgetter

from lapwright.draw.features import Window, clip
from lapwright.draw.layers import Layer, Wall
from lapwright.draw.plan import Rect
from lapwright.geom.space import Flat
from lapwright.metal.slice import Cut, Trace, chains

DECK_STEP, WALL_STEP = 9.0, 4.5
"""How far one layer is drawn off the next, off the deck and off the wall. [pt]"""
NEAR_STEP = 21.0
"""The same, off the deck, in a close-up. [pt]"""
LARGEST = 144.0
"""Points to the inch at 2 : 1: no section is larger."""


@dataclass(frozen=True, slots=True)
class View:
    """What a section shows.

    cut: the plane. window: of the plane. [in] turn: slope at which it is drawn. [rad]
    up: which way layers are drawn off the deck: along the wall, 1 square to the roof.
    wall: the face of the opening, if the plane cuts it. deck, solid: outlines of the deck and of the wall. [in]
    headed: is the wall's head shown, not broken off?
    """

    cut: Cut
    window: Window
    turn: float = 0.0
    up: Flat = (0.0, 1.0)
    wall: Wall | None = None
    deck: tuple[Flat, ...] = ()
    solid: tuple[Flat, ...] = ()
    headed: bool = False


@dataclass(frozen=True, slots=True)
class Stage:
    """A view on the sheet. scale: points to the inch. home: where (0, 0) lies; step: from layer to layer. [pt]"""

    view: View
    scale: float
    home: Flat = (0.0, 0.0)
    step: float = DECK_STEP

    def turned(self, v: Flat) -> Flat:
        """A direction of the plane as it runs on the sheet."""
        c, s = math.cos(self.view.turn), math.sin(self.view.turn)
        return (v[0] * c - v[1] * s, v[0] * s + v[1] * c)

    def at(self, p: Flat, layer: Layer | None = None, off: float = 0.0) -> Flat:
        """A place in the plane [in], drawn apart with its layer, and `off` further from the deck. [pt]"""
        x, y = self.turned((p[0] * self.scale, p[1] * self.scale))
        dx, dy = self.apart(layer, off)
        return (self.home[0] + x + dx, self.home[1] + y + dy)

    def mould(self, layer: Layer, p: Flat) -> Flat:
        """A place on a layer's mould lines, as it was before the layer was moved, on the sheet. [pt]"""
        return self.at((p[0] + layer.moved[0], p[1] + layer.moved[1]), layer)

    def apart(self, layer: Layer | None, off: float = 0.0) -> Flat:
        """How far a layer is drawn from its place. [pt]"""
        lift = off + (self.step * layer.deck if layer else 0.0)
        gap = WALL_STEP * layer.wall if layer else 0.0
        up, wall = self.view.up, self.view.wall
        out = wall.out if wall is not None else (0.0, 0.0)
        return self.turned((up[0] * lift + out[0] * gap, up[1] * lift + out[1] * gap))

    @property
    def level(self) -> float:
        """Slope of the deck on the sheet. [deg]"""
        return math.degrees(self.view.turn)


def runs_in(points: Sequence[Flat], window: Window) -> Iterator[tuple[Flat, ...]]:
    """The unbroken runs of a line inside a window. [in]"""
    here: list[Flat] = []
    for a, b in itertools.pairwise(points):
        part = clip(a, b, window)
        if part is None:
            if len(here) > 1:
                yield tuple(here)
            here = []
            continue
        if here and math.dist(here[-1], part[0]) > 1e-9:
            yield tuple(here)
            here = []
        here = here or [part[0]]
        here.append(part[1])
    if len(here) > 1:
        yield tuple(here)


def lines_of(view: View, traces: Iterable[Trace]) -> tuple[tuple[Flat, ...], ...]:
    """What is drawn of a layer's traces: unbroken lines in the window. [in]"""
    return tuple(run for line in chains(traces) for run in runs_in(line, view.window))


def fit_stage(view: View, layers: Iterable[Layer], room: Rect, step: float = DECK_STEP) -> Stage:
    """The largest scale at which a view, drawn apart, fits a room, in its middle.

    Args:
        view, layers: What is drawn.
        room: Where on the sheet. [pt]
        step: From layer to layer, off the deck. [pt]

    Smaller than full size it is 1 : n with n in whole halves.
    """
    layers = list(layers)
    wide, high = room[2] - room[0], room[3] - room[1]
    outermost = _outermost(Stage(view, 1.0, step=step), layers)
    low, top = 1.0, LARGEST
    for _ in range(40):
        middle = (low + top) / 2
        xs = [middle * x + dx for x, _, dx, _ in outermost]
        ys = [middle * y + dy for _, y, _, dy in outermost]
        fits = max(xs) - min(xs) <= wide and max(ys) - min(ys) <= high
        low, top = (middle, top) if fits else (low, middle)
    scale = 144.0 / math.ceil(144.0 / low - 1e-6) if low < 72.0 else low
    stage = Stage(view, scale, step=step)
    x0, y0, x1, y1 = extent(stage, layers)
    home = ((room[0] + room[2] - x0 - x1) / 2, (room[1] + room[3] - y0 - y1) / 2)
    return replace(stage, home=home)


def extent(stage: Stage, layers: Sequence[Layer]) -> Rect:
    """Least and greatest x and y of what is drawn. [pt]"""
    points = [stage.at(p, one, off) for some, one, off in _groups(stage, layers) for p in some]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))


_Group = tuple[Sequence[Flat], Layer | None, float]
"""Points that are drawn apart together [in], with their layer, and how far off the deck. [pt]"""


def _groups(stage: Stage, layers: Sequence[Layer]) -> Iterator[_Group]:
    """Everything that is drawn: the deck, the wall, every layer."""
    solid = stage.view.solid
    yield stage.view.deck, None, 0.0
    yield [p for k, p in enumerate(solid) if k not in (1, 2)], None, 0.0
    yield solid[1:3], None, _raised(stage, layers)
    for one in layers:
        yield [p for run in lines_of(stage.view, one.traces) for p in run], one, 0.0


def _outermost(stage: Stage, layers: Sequence[Layer]) -> list[tuple[float, float, float, float]]:
    """Points that bound a view at any scale: where each lies at one point to the inch, and how far apart. [pt]

    Of a group that is drawn apart together only the four outermost points count, whatever the scale.
    """
    out = []
    for some, one, off in _groups(stage, layers):
        turned, apart = [stage.turned(p) for p in some], stage.apart(one, off)
        for pick in (min, max) if turned else ():
            for axis in (0, 1):
                out.append((*pick(turned, key=itemgetter(axis)), *apart))
    return out


def solid_ring(stage: Stage, layers: Sequence[Layer]) -> tuple[Flat, ...]:
    """The wall's outline, broken off above the layers that are fixed to it. [pt]"""
    raised = _raised(stage, layers)
    return tuple(stage.at(p, None, raised if k in (1, 2) else 0.0) for k, p in enumerate(stage.view.solid))


def _raised(stage: Stage, layers: Sequence[Layer]) -> float:
    """How much higher a wall that is broken off must stand, for the layers fixed to it. [pt]"""
    return 0.0 if stage.view.headed else stage.step * max((one.deck for one in layers), default=0)
