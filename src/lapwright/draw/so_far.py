"""What is known of a roof while it is still being measured, and a small sheet to draw it on.

Each measure is drawn on a layer of its own, named after its field (`m-opening-0-width`), so that a page can
light the one that is being entered. Lengths in inches, None where nobody has measured yet.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from lapwright.draw.display import Display, Pen, Text, oriented, text_width
from lapwright.draw.sheet import Sheet
from lapwright.geom.flat import along, heading
from lapwright.geom.space import Flat
from lapwright.words import Speaker

WIDE, HIGH = 320.0, 184.0
"""A sheet for a telephone: low, so that its figures are large above a keypad. [pt]"""
SIZE = 16.0
"""Type size of a figure. [pt]"""
ARROW, BARB = 7.0, 2.4
NEAR = 5.0
"""Between a figure and the ends of its line. [pt]"""
LEAST = 0.6
"""A figure with no room past its line is made this much smaller before it leaves it."""
IN_FEET = 36.0
"""From here on inches are said in feet and inches. House rule. [in]"""
GUESS_SIDE, GUESS_RISE = 30.0, 6.0
"""A side of an opening, and a pitch, that nobody has measured yet. House rule. [in], [in/12in]"""

PENS = (
    Pen("edge", 1.4), Pen("eave", 2.6), Pen("wall", 4.0), Pen("unsure", 1.0, (4, 4)), Pen("rib", 0.5),
    Pen("bay-rib", 1.3), Pen("hole", 1.6), Pen("other", 1.0), Pen("pan", 0.9), Pen("cleat", 1.2, (9, 2.5, 2, 2.5)),
    Pen("extension", 0.5), Pen("name", 0.3),
    Pen("metal", 2.0),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening as far as it is measured. kind, face: "" when nobody has said. [in]"""

    name: str = ""
    kind: str = ""
    face: str = ""
    left: float | None = None
    up: float | None = None
    width: float | None = None
    length: float | None = None
    height: float | None = None
    diameter: float | None = None


@dataclass(frozen=True, slots=True)
class SoFar:
    """A roof as far as it is measured. rise: per 12 of level run. [in/12in] Lengths [in]."""

    rise: float | None = None
    eave: float | None = None
    slope: float | None = None
    left_edge: str = "rake"
    right_edge: str = "rake"
    upper_edge: str = "ridge"
    coverage: float | None = None
    rib_height: float | None = None
    first_rib: float | None = None
    seam: str = "snap"
    lay: str = "left-to-right"
    roof_above: float = 0.0
    holes: tuple[Hole, ...] = ()

    @property
    def theta(self) -> float:
        """Slope of the roof, at a guess where nobody has measured it. [rad]"""
        return math.atan2(self.rise or GUESS_RISE, 12.0)

    def up_the_roof(self, hole: Hole) -> float | None:
        """How long an opening is up the roof, a pipe by the ellipse of its rim. [in]"""
        if hole.kind != "pipe":
            return hole.length
        return None if hole.diameter is None else hole.diameter / math.cos(self.theta)


class Measures:
    """A sheet on which each measure lies on the layer of its field. [pt]"""

    def __init__(self, speaker: Speaker) -> None:
        self.sheet = Sheet(WIDE, HIGH)
        self.speaker = speaker
        self.pens: dict[str, Pen] = {pen.layer: pen for pen in PENS}

    def show(self, value: float | None) -> str:
        """A length as a tape shows it, or a question mark. [in]"""
        unknown = self.speaker.say("page_form.drawn.unknown")
        return unknown if value is None else self.speaker.length(value, feet=value >= IN_FEET)

    def lit(self, id: str) -> str:
        """The layer of one field."""
        layer = f"m-{id}"
        self.pens.setdefault(layer, Pen(layer, 1.0))
        return layer

    def layer(self, base: str, names: str) -> str:
        """A layer of its own, drawn with another's pen."""
        pen, own = self.pens[base], f"{base} {names}"
        self.pens[own] = Pen(own, pen.weight, pen.dash)
        return own

    def words(self, at: Flat, text: str, layer: str = "name", angle: float = 0.0, size: float = SIZE) -> None:
        """A line of text, its middle at a point. [pt], [deg]"""
        self.sheet.text(Text(at, text, layer, size, "middle", angle))

    def measure(self, a: Flat, b: Flat, value: float | None, id: str, level: bool = False) -> None:
        """A dimension from a to b: its figure in a gap of its line, past an end, or (level) to its right. [pt]"""
        layer, text = self.lit(id), self.show(value)
        length = math.dist(a, b)
        if length < 1e-6:
            return
        run = heading(a, b)
        for tip, back in ((a, 1.0), (b, -1.0)):
            self._arrow(tip, (back * run[0], back * run[1]), min(ARROW, length / 2), layer)
        if level:
            self.sheet.line(a, b, layer)
            beside = (max(a[0], b[0]) + ARROW, (a[1] + b[1]) / 2)
            self.sheet.text(Text(beside, text, layer, SIZE))
            return
        middle, size, gap = self._figure(a, b, run, text)
        if gap:
            half = text_width(text, size) / 2 + NEAR
            self.sheet.line(a, along(middle, run, -half), layer)
            self.sheet.line(along(middle, run, half), b, layer)
        else:
            self.sheet.line(a, b, layer)
        self.words(middle, text, layer, _upright(run), size)

    def _figure(self, a: Flat, b: Flat, run: Flat, text: str) -> tuple[Flat, float, bool]:
        """The middle of a figure, its size, and whether its line makes room for it. [pt]"""
        wide, length = text_width(text, SIZE), math.dist(a, b)
        room, middle = length - 2 * ARROW - 2 * NEAR, along(a, run, length / 2)
        if room >= wide:
            return middle, SIZE, True
        for tip, way in ((b, 1.0), (a, -1.0)):
            past = along(tip, run, way * (NEAR + wide / 2))
            box = oriented(past, _upright(run), -wide / 2, wide / 2, SIZE * 0.55)
            if all(0 <= x <= WIDE and 0 <= y <= HIGH for x, y in box):
                return past, SIZE, False
        if room >= wide * LEAST:
            return middle, SIZE * room / wide, True
        return along(middle, (-run[1], run[0]), -SIZE * 0.8), SIZE, False

    def _arrow(self, tip: Flat, back: Flat, long: float, layer: str) -> None:
        tail, square = along(tip, back, long), (-back[1], back[0])
        barb = BARB * long / ARROW
        self.sheet.ring((tip, along(tail, square, barb), along(tail, square, -barb)), layer, "ink")

    def extension(self, a: Flat, b: Flat) -> None:
        """A thin line from a feature to its dimension. [pt]"""
        self.sheet.line(a, b, "extension")

    def finish(self, title: str) -> Display:
        """The drawing."""
        return self.sheet.finish(tuple(self.pens.values()), title)


def _upright(run: Flat) -> float:
    """The angle of a direction, turned so that text along it is read from below or from the right. [deg]"""
    angle = math.degrees(math.atan2(run[1], run[0]))
    return round(angle - 180 if angle > 90.01 else angle + 180 if angle <= -89.99 else angle, 6)


Place = Callable[[float, float], Flat]
"""A point of the roof [in] on the sheet [pt]."""


def placed(window: tuple[float, float, float, float], room: tuple[float, float, float, float]) -> tuple[Place, float]:
    """Fit a window [in] into a room of the sheet [pt], in its middle; gives the way there and the scale [pt/in]."""
    x0, y0, x1, y1 = window
    scale = min((room[2] - room[0]) / (x1 - x0), (room[3] - room[1]) / (y1 - y0))
    left = (room[0] + room[2] - (x1 - x0) * scale) / 2
    low = (room[1] + room[3] - (y1 - y0) * scale) / 2
    return (lambda x, y: (left + (x - x0) * scale, low + (y - y0) * scale)), scale
