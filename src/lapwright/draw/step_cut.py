"""Small sections beside a step's picture: what lies there thin, what goes on heavy, sheets drawn a little apart."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from lapwright.draw.callout import Label, write_at
from lapwright.draw.display import Text
from lapwright.draw.heading import fold
from lapwright.draw.layers import Layer, Wall, told_apart
from lapwright.draw.plan import Rect
from lapwright.draw.sheet import Sheet
from lapwright.draw.stage import runs_in
from lapwright.draw.step_marks import Lettered, draw_pull, write_pull
from lapwright.draw.step_model import CutView
from lapwright.draw.step_roof import Roofed
from lapwright.draw.step_words import BODY
from lapwright.geom.space import Flat
from lapwright.metal.slice import chains, cut_across, cut_up_slope
from lapwright.metal.work import Work

APART, OFF_WALL = 3.2, 2.6
"""How far one sheet is drawn off the next, off the deck and off the wall. [pt]"""
DECK = 0.75
"""Deck drawn under the roof's flat. [in]"""
LARGEST = 12.0
"""Points to the inch, at most."""
TITLE_ROW = 10.0
WALL_LINE = 9.0
"""From the wall to a line up it. [pt]"""
BEFORE_EDGE, NEXT_Z = 7.0, 16.0
"""From the apron's edge to the first height line, and on to the next. [pt]"""


@dataclass(frozen=True, slots=True)
class Small:
    """One section on the sheet. home: where (0, 0) of its plane lies [pt]; scale: points to the inch."""

    view: CutView
    work: Work
    wall: Wall | None
    scale: float
    home: Flat

    def at(self, p: Flat, layer: Layer | None = None) -> Flat:
        """A place of the plane [in] on the sheet, moved apart with its layer. [pt]"""
        x, y = self.home[0] + p[0] * self.scale, self.home[1] + p[1] * self.scale
        if layer is None:
            return (x, y)
        out = self.wall.out if self.wall is not None else (0.0, 0.0)
        up = self.wall.up if self.wall is not None else (0.0, 1.0)
        lift, gap = APART * layer.deck, OFF_WALL * layer.wall
        return (x + up[0] * lift + out[0] * gap, y + up[1] * lift + out[1] * gap)


def draw_cut(
    sheet: Sheet,
    roof: Roofed,
    view: CutView,
    opening: int,
    now: Sequence[str],
    before: Sequence[str],
    marks: Iterable[Lettered],
    room: Rect,
) -> None:
    """Draw one small section into a room of the sheet. [pt]"""
    cut = cut_up_slope(view.at) if view.axis == "up" else cut_across(view.at)
    work, layers = roof.cut(opening, cut, {*now, *before})
    wall = _wall(work, view)
    seen = [one for one in layers if any(True for t in one.traces for _ in runs_in(t.points, view.window))]
    layers = _close_up_ranks(told_apart(seen, roof.detail, wall))
    rows = fold(view.title, BODY, room[2] - room[0])
    # Layers drawn apart need room above the highest.
    spare = APART * max((one.deck for one in layers), default=0)
    beside = OFF_WALL * max((one.wall for one in layers), default=0)
    lean = wall.up[0] if wall is not None else 0.0
    inner = (room[0] + beside, room[1], room[2] - beside - lean * spare, room[3])
    small = _fit(view, work, wall, inner, TITLE_ROW * len(rows) + spare)
    for i, row in enumerate(rows):
        sheet.text(Text((room[0], room[3] - 5.0 - TITLE_ROW * i), row, "text", BODY))
    _solids(sheet, small)
    for layer in sorted(layers, key=lambda one: one.id in set(now)):
        is_now = layer.id in set(now)
        for line in chains(layer.traces):
            for run in runs_in(line, view.window):
                points = [small.at(p, layer) for p in run]
                sheet.run(points, "now" if is_now else "on")
                for a, b in pairwise(points):
                    sheet.crowd.busy(a, b, 1.0)
    for layer in layers:
        if layer.id in set(now):
            _name(sheet, small, layer)
    for line in view.lines:
        sheet.run([small.at(p) for run in runs_in(line, view.window) for p in run], "chalk")
    _heights(sheet, small, layers, marks)


def _close_up_ranks(layers: Sequence[Layer]) -> list[Layer]:
    """The same order without the gaps that parts not shown here leave."""
    decks, walls = sorted({one.deck for one in layers}), sorted({one.wall for one in layers})
    return [replace(one, deck=decks.index(one.deck) + 1, wall=walls.index(one.wall)) for one in layers]


def _wall(work: Work, view: CutView) -> Wall | None:
    o, lean = work.opening, work.walls.lean
    u0, _, u1, _ = view.window
    if view.axis == "across":
        left = abs(o.left - (u0 + u1) / 2) < abs(o.right - (u0 + u1) / 2)
        return Wall((o.left if left else o.right, 0.0), (0.0, 1.0), (-1.0 if left else 1.0, 0.0))
    up, out = (math.sin(lean), math.cos(lean)), (math.cos(lean), -math.sin(lean))
    if u0 < o.up < u1:
        return Wall((o.up, 0.0), up, (-out[0], -out[1]))
    return Wall((o.back, 0.0), up, out) if u0 < o.back < u1 else None


def _fit(view: CutView, work: Work, wall: Wall | None, room: Rect, title: float) -> Small:
    u0, v0, u1, v1 = view.window
    wide, high = room[2] - room[0] - 4.0, room[3] - room[1] - title - 8.0
    scale = min(LARGEST, wide / (u1 - u0), high / (v1 - v0))
    home = (
        room[0] + 2.0 + (wide - (u1 - u0) * scale) / 2 - u0 * scale,
        room[3] - title - 4.0 - v1 * scale,
    )
    return Small(view, work, wall, scale, home)


def _solids(sheet: Sheet, small: Small) -> None:
    """The deck, up to the wall, and the wall."""
    u0, _, u1, v1 = small.view.window
    wall = small.wall
    if wall is None:
        _block(sheet, small, [(u0, -DECK), (u1, -DECK), (u1, 0.0), (u0, 0.0)], "")
        return
    foot = wall.foot[0]
    inner = u1 if wall.out[0] < 0 else u0
    outer = u0 if wall.out[0] < 0 else u1
    _block(sheet, small, [(outer, -DECK), (foot, -DECK), (foot, 0.0), (outer, 0.0)], "")
    high = min(v1, small.work.opening.height)
    lean = wall.up[0] / wall.up[1]
    head, root = foot + lean * high, foot - lean * DECK
    inside = [(inner, high), (inner, -DECK), (root, -DECK), (head, high)]
    if (inner - head) * (inner - foot) <= 0:
        at = high * (inner - foot) / (head - foot)
        inside = [(inner, -DECK), (root, -DECK), (inner, at)]
    _block(sheet, small, inside, "dots")


def _block(sheet: Sheet, small: Small, ring: Sequence[Flat], fill: str) -> None:
    points = [small.at(p) for p in ring]
    sheet.ring(points, "fill", fill or "paper")  # type: ignore[arg-type]
    sheet.ring(points, "deck", price=1.0)


def _name(sheet: Sheet, small: Small, layer: Layer) -> None:
    runs = [r for line in chains(layer.traces) for r in runs_in(line, small.view.window)]
    if not runs:
        return
    longest = max(runs, key=lambda r: sum(math.dist(a, b) for a, b in pairwise(r)))
    a, b = max(pairwise(longest), key=lambda s: math.dist(*s))
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    write_at(sheet, small.at(middle, layer), Label("", layer.id))


def _heights(sheet: Sheet, small: Small, layers: Sequence[Layer], marks: Iterable[Lettered]) -> None:
    """Marks measured off the roof's flat, in lines before the wall; those up the face, along it."""
    wall = small.wall
    if wall is None:
        return
    flats = [one.deck for one in layers if one.part.kind == "panel"]
    rise = APART * max(flats, default=0)
    for one in (m for m in marks if m.mark.axis == "wall"):
        foot = small.at(wall.foot)
        off = (WALL_LINE * wall.out[0], WALL_LINE * wall.out[1])
        reach = one.mark.distance * small.scale
        a = (foot[0] + off[0], foot[1] + off[1])
        b = (a[0] + wall.up[0] * reach, a[1] + wall.up[1] * reach)
        sheet.line((b[0] - off[0], b[1] - off[1]), b, "dimension", 0.5)
        draw_pull(sheet, a, b, one.letter + one.text)
        write_pull(sheet, a, b, one)
    for k, one in enumerate(m for m in marks if m.mark.axis == "z"):
        way = math.copysign(1.0, wall.out[0])
        edge_x = small.at((wall.foot[0] + way * small.work.measures.apron_flange, 0.0))[0]
        x = edge_x + way * (BEFORE_EDGE + NEXT_Z * k)
        y0, y1 = (small.at((0.0, z))[1] + rise for z in (one.mark.from_at, one.mark.at))
        edge = small.at((wall.foot[0] + wall.up[0] / wall.up[1] * one.mark.at, one.mark.at))
        sheet.line((x, y1), (edge[0], y1), "dimension", 0.5)
        draw_pull(sheet, (x, y0), (x, y1), one.letter + one.text)
        write_pull(sheet, (x, y0), (x, y1), one)
