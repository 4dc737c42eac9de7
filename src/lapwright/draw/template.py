"""A template on paper at true size: one sheet, or tiles to be joined, each with what it is for above it.

    T3  2 of these              words
    1-apron, lower left ...
    + . . . . . . . . +         dotted: trim here; fine dots: no metal
    :   |1     ______ :         1, 2: lines that are laid to two edges of the blank
    : - + - - | - - - :2
    + . . . . . . . . +
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lapwright.draw.callout import Label, write_along, write_at, write_inside
from lapwright.draw.display import Display, Line, Pen, Polyline, Text
from lapwright.draw.features import Window, clip
from lapwright.draw.heading import fold
from lapwright.draw.sheet import Sheet
from lapwright.draw.template_alike import Fold, Shape, Template, within_window
from lapwright.draw.template_tiles import Tile, count_of, shared_by, tiles_of
from lapwright.geom.clip import holds
from lapwright.geom.space import Flat
from lapwright.words import Speaker

PENS: tuple[Pen, ...] = (
    Pen("cut", 1.0),
    Pen("hole", 0.8),
    Pen("bend-up", 0.8, (9, 4)),
    Pen("bend-down", 0.8, (3, 3)),
    Pen("set", 0.5, (14, 2.5, 2, 2.5)),
    Pen("trim", 0.6, (1, 2.5)),
    Pen("join", 0.6),
    Pen("leader", 0.4),
    Pen("balloon", 0.7),
    Pen("mask", 0.0),
    Pen("waste", 0.0),
    Pen("text", 0.3),
)
"""Full lines are cut, long dashes bent up, short dashes bent down."""

POINTS = 72.0
"""Points to the inch: true size."""
PAD = 4.0
"""Paper round a tile. [pt]"""
PAGE: Flat = (523.4, 660.0)
"""Room on a page. [pt]"""
WIDTHS = (168.0, 260.0, 350.0, PAGE[0])
"""Least width of a template with its words, wider where they would make it too high. [pt]"""
TITLE, BODY, LEAD = 11.0, 8.0, 1.36
"""Type of the words, and its leading. [pt]"""
LEGEND = ("cut", "bend-up", "bend-down", "hole", "set", "trim", "waste")
ROW, SAMPLE = 15.0, 40.0
"""Of the legend: height of a row, length of a line. [pt]"""
CUT_PRICE, BEND_PRICE, SET_PRICE = 5.0, 3.0, 2.0
"""What a label pays for crossing a line."""


def draw_template(name: str, template: Template, uses: Sequence[str], speaker: Speaker) -> tuple[Display, ...]:
    """Draw a template, one sheet a tile.

    Args:
        name: What it is called ("T3").
        template: What to print.
        uses: What it is for, a sentence a place.
        speaker: Language and unit of the job.
    """
    shape = lying(template.shape)
    tiles = tiles_of(shape.size)
    return tuple(_tile(name, template.count, shape, tile, tiles, uses, speaker) for tile in tiles)


def legend(width: float, speaker: Speaker) -> Display:
    """What each kind of line on a template means. [pt]"""
    names = [(pen, speaker.say(f"templates.legend.{pen.replace('-', '_')}")) for pen in LEGEND]
    columns = 3
    rows = math.ceil(len(names) / columns)
    sheet = Sheet(width, ROW * rows + 2)
    for i, (pen, said) in enumerate(names):
        x, y = i % columns * width / columns, sheet.height - ROW * (i // columns + 0.5) - 1
        if pen == "waste":
            box = ((x, y - 5), (x + SAMPLE, y - 5), (x + SAMPLE, y + 5), (x, y + 5))
            sheet.ring(box, pen, "dots")
        elif pen == "hole":
            _draw_round(sheet, (x + SAMPLE / 2, y), 3.0)
        else:
            sheet.line((x, y), (x + SAMPLE, y), pen)
        sheet.text(Text((x + SAMPLE + 6, y), said, "text", BODY))
    return sheet.finish(PENS, "")


def lying(shape: Shape) -> Shape:
    """A shape as it lies on the paper: turned a quarter where it then takes fewer sheets."""
    wide, high = shape.size
    return _turned(shape) if math.prod(count_of((high, wide))) < math.prod(count_of((wide, high))) else shape


def _turned(s: Shape) -> Shape:
    """A quarter to the right: what was on the left comes to lie above."""
    wide = s.size[0]

    def at(p: Flat) -> Flat:
        return (p[1], wide - p[0])

    folds = tuple(Fold((at(f.line[0]), at(f.line[1])), f.way, f.angle_deg, f.kind) for f in s.folds)
    return Shape(
        (s.size[1], s.size[0]),
        at(s.cross),
        (s.toward[1], -s.toward[0]),
        tuple(map(at, s.metal)),
        tuple(tuple(map(at, ring)) for ring in s.waste),
        tuple((at(a), at(b)) for a, b in s.cuts),
        tuple((at(p), wide_) for p, wide_ in s.rounds),
        folds,
        not s.turned,
    )


@dataclass(frozen=True, slots=True)
class _View:
    """A tile on its sheet: inches of the shape to points of the paper. room: where labels may stand. [pt]"""

    tile: Tile
    left: float
    low: float

    def at(self, p: Flat) -> Flat:
        return (self.left + (p[0] - self.tile.window[0]) * POINTS, self.low + (p[1] - self.tile.window[1]) * POINTS)

    def shown(self, a: Flat, b: Flat) -> tuple[Flat, Flat] | None:
        part = clip(a, b, self.tile.window)
        return None if part is None else (self.at(part[0]), self.at(part[1]))

    @property
    def frame(self) -> tuple[Flat, Flat]:
        u0, v0, u1, v1 = self.tile.window
        return self.at((u0, v0)), self.at((u1, v1))


def _tile(
    name: str, count: int, shape: Shape, tile: Tile, tiles: Sequence[Tile], uses: Sequence[str], speaker: Speaker
) -> Display:
    u0, v0, u1, v1 = tile.window
    wide, high = (u1 - u0) * POINTS, (v1 - v0) * POINTS
    for width in (max(wide + 2 * PAD, least) for least in WIDTHS):
        words = list(_words(name, count, tile, tiles, uses, width, speaker))
        height = high + 3 * PAD + sum(size * LEAD for size, _, _ in words)
        if height <= PAGE[1]:
            break
    sheet = Sheet(width, height)
    view = _View(tile, (width - wide) / 2, PAD)
    _write(sheet, words)
    _draw_metal(sheet, view, shape)
    _draw_joins(sheet, view, tiles, speaker)
    _draw_set_lines(sheet, view, shape)
    sheet.crowd.low, sheet.crowd.high = (1.0, 1.0), (width - 1.0, high + 2 * PAD)
    _label(sheet, view, shape, name, speaker)
    return sheet.finish(PENS, f"{name} {tile.name}".strip())


def _words(
    name: str, count: int, tile: Tile, tiles: Sequence[Tile], uses: Sequence[str], width: float, speaker: Speaker
) -> Iterator[tuple[float, bool, str]]:
    """Lines over a tile: size, bold, text. Only the first tile says what all are for."""
    title = speaker.say("templates.title", name=name, count=count)
    if tile.name:
        title = speaker.say("templates.title_tile", name=name, tile=tile.name, tiles=len(tiles), count=count)
    yield from ((TITLE, True, row) for row in fold(title, TITLE, width - 4))
    if tile is tiles[0]:
        for use in uses:
            yield from ((BODY, False, row) for row in fold(use, BODY, width - 4))


def _write(sheet: Sheet, words: Sequence[tuple[float, bool, str]]) -> None:
    y = sheet.height
    for size, bold, text in words:
        y -= size * LEAD
        sheet.text(Text((2.0, y + size * LEAD / 2), text, "text", size, "start", 0.0, bold))


def _draw_metal(sheet: Sheet, view: _View, shape: Shape) -> None:
    low, high = view.frame
    frame = (low, (high[0], low[1]), high, (low[0], high[1]))
    sheet.ring(frame, "waste", "dots")
    metal = within_window(shape.metal, view.tile.window) if view.tile.name else shape.metal
    if metal:
        sheet.marks.append(Polyline(tuple(map(view.at, metal)), "mask", closed=True, fill="paper"))
    for ring in shape.waste:
        sheet.marks.append(Polyline(tuple(map(view.at, ring)), "waste", closed=True, fill="dots"))
    sheet.ring(frame, "trim")
    for a, b in shape.cuts:
        if part := view.shown(a, b):
            sheet.line(*part, "cut", CUT_PRICE)
    for n, f in enumerate(shape.folds):
        if part := view.shown(*f.line):
            sheet.line(*part, f"bend-{f.way}", BEND_PRICE, f"{n}")
    for centre, diameter in shape.rounds:
        if _inside(centre, view.tile.window):
            _draw_round(sheet, view.at(centre), diameter * POINTS / 2)


def _draw_round(sheet: Sheet, at: Flat, radius: float) -> None:
    """A hole and its drill point."""
    sheet.circle(at, radius, "hole")
    reach = radius + 3.0
    for du, dv in ((reach, 0.0), (0.0, reach)):
        sheet.marks.append(Line((at[0] - du, at[1] - dv), (at[0] + du, at[1] + dv), "leader"))
    sheet.block((at[0] - radius, at[1] - radius), (at[0] + radius, at[1] + radius))


def _draw_set_lines(sheet: Sheet, view: _View, shape: Shape) -> None:
    """The two lines that place it, each with its number and a tip toward the edge that it is laid from."""
    (u, v), (wide, high) = shape.cross, shape.size
    upright, level = ((u, 0.0), (u, high)), ((0.0, v), (wide, v))
    numbers = ("2", "1") if shape.turned else ("1", "2")
    tips = ((float(shape.toward[0]), 0.0), (0.0, float(shape.toward[1])))
    for line, number, tip in zip((upright, level), numbers, tips, strict=True):
        part = view.shown(*line)
        if part is None:
            continue
        sheet.line(*part, "set", SET_PRICE, f"set {number}")
        for end, back in (part, part[::-1]):
            _draw_tip(sheet, end, back, tip)
        a, b = part
        write_along(sheet, _toward(a, b, 0.62), _toward(a, b, 0.98), Label(number, ""), f"set {number}")


def _draw_tip(sheet: Sheet, end: Flat, back: Flat, tip: Flat) -> None:
    x, y = _toward(end, back, 6.0 / max(math.dist(end, back), 6.0))
    along = (-tip[1] * 2.5, tip[0] * 2.5)
    ring = [(x + along[0], y + along[1]), (x - along[0], y - along[1]), (x + 6 * tip[0], y + 6 * tip[1])]
    sheet.ring(ring, "join", "ink")


def _toward(a: Flat, b: Flat, share: float) -> Flat:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _draw_joins(sheet: Sheet, view: _View, tiles: Sequence[Tile], speaker: Speaker) -> None:
    """Where a neighbour's paper ends, and crosses that come to lie on each other."""
    mine = view.tile
    for other in tiles:
        shared = shared_by(mine.window, other.window)
        if other is mine or shared is None:
            continue
        u0, v0, u1, v1 = shared
        upright = v1 - v0 > u1 - u0
        middle = ((u0 + u1) / 2, (v0 + v1) / 2)
        for share in (0.2, 0.8):
            p = (middle[0], v0 + share * (v1 - v0)) if upright else (u0 + share * (u1 - u0), middle[1])
            _draw_cross(sheet, view.at(p))
        write_at(sheet, view.at(middle), Label("", speaker.say("templates.join", tile=other.name)))


def _draw_cross(sheet: Sheet, at: Flat) -> None:
    (x, y), reach = at, 9.0
    sheet.circle(at, 5.0, "join")
    sheet.line((x - reach, y), (x + reach, y), "join")
    sheet.line((x, y - reach), (x, y + reach), "join")
    sheet.block((x - reach, y - reach), (x + reach, y + reach))


def _inside(p: Flat, w: Window) -> bool:
    return w[0] <= p[0] <= w[2] and w[1] <= p[1] <= w[3]


def _label(sheet: Sheet, view: _View, shape: Shape, name: str, speaker: Speaker) -> None:
    """Bends first, holes, then what the paper is, where there is room on the metal."""
    lines = [(f, n, part) for n, f in enumerate(shape.folds) if (part := view.shown(*f.line)) is not None]
    for f, n, (a, b) in sorted(lines, key=lambda row: -math.dist(*row[2])):
        said = speaker.say(f"draw.{f.kind.replace('-', '_')}_{f.way}", angle=f.angle_deg)
        write_along(sheet, a, b, Label("", said), f"{n}")
    for centre, diameter in shape.rounds:
        if _inside(centre, view.tile.window):
            size = speaker.say("draw.hole", size=speaker.length(diameter))
            write_at(sheet, view.at(centre), Label("", size), diameter * POINTS / 2)
    for key in ("templates.on_metal", "templates.on_little"):
        said = speaker.say(key, name=f"{name} {view.tile.name}".strip())
        if write_inside(sheet, _on_metal(view, shape), Label("", said)):
            break


def _on_metal(view: _View, shape: Shape) -> Iterator[Flat]:
    """Places on the metal, from the middle of the tile out. [pt]"""
    u0, v0, u1, v1 = view.tile.window
    grid = [(i / 6, j / 12) for i in range(1, 6) for j in range(1, 12)]
    for s, t in sorted(grid, key=lambda p: abs(p[0] - 0.5) + abs(p[1] - 0.5)):
        p = (u0 + s * (u1 - u0), v0 + t * (v1 - v0))
        if holds(shape.metal, p):
            yield view.at(p)
