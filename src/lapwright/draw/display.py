"""A drawing as a list of marks on a sheet of paper. Knows no roofing word.

Everything is in points of the printed sheet (72 to the inch), x to the right, y up, so that what is
8 points high here is 8 points high in the hand. Back ends (svg) read this list and nothing else.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from lapwright.geom.space import Flat

Anchor = Literal["start", "middle", "end"]
Fill = Literal["", "paper", "ink", "hatch", "dots"]

SMALLEST_TEXT = 8.0
"""No letter is printed smaller than this. [pt]"""

ADVANCE = 0.602
"""Width of one letter over its size; the drawing type is fixed-width. Source: DejaVu Sans Mono, hmtx."""

TALL = 1.1
"""Height kept free for a line of text over its size."""


@dataclass(frozen=True, slots=True)
class Pen:
    """How the lines of one layer look. weight and dash lengths in points; no dash is a full line."""

    layer: str
    weight: float
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line from a to b. [pt]"""

    a: Flat
    b: Flat
    layer: str


@dataclass(frozen=True, slots=True)
class Polyline:
    """A run of straight lines, closed or not, perhaps filled. [pt]"""

    points: tuple[Flat, ...]
    layer: str
    closed: bool = False
    fill: Fill = ""


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle. [pt]"""

    centre: Flat
    radius: float
    layer: str
    fill: Fill = ""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; `at` is its anchor at half the height of a capital letter. [pt], [deg]"""

    at: Flat
    text: str
    layer: str = "text"
    size: float = 8.0
    anchor: Anchor = "start"
    angle: float = 0.0
    bold: bool = False

    @property
    def width(self) -> float:
        """Printed length. [pt]"""
        return text_width(self.text, self.size)

    def box(self) -> tuple[Flat, ...]:
        """The four corners of the paper it needs. [pt]"""
        start = {"start": 0.0, "middle": -self.width / 2, "end": -self.width}[self.anchor]
        return oriented(self.at, self.angle, start, start + self.width, self.size * TALL / 2)


Mark = Line | Polyline | Circle | Text


@dataclass(frozen=True, slots=True)
class Display:
    """A sheet: its size in points, the marks in drawing order, the pens of its layers, a spoken title."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    pens: tuple[Pen, ...]
    title: str = ""

    def texts(self) -> tuple[Text, ...]:
        """Every line of text on the sheet."""
        return tuple(m for m in self.marks if isinstance(m, Text))

    def on(self, layer: str) -> tuple[Mark, ...]:
        """Every mark of a layer."""
        return tuple(m for m in self.marks if m.layer == layer)

    def extents(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y over all marks. [pt]"""
        points = [p for m in self.marks for p in reach(m)]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return (min(xs), min(ys), max(xs), max(ys))


def reach(mark: Mark) -> tuple[Flat, ...]:
    """Points that bound a mark. [pt]"""
    if isinstance(mark, Line):
        return (mark.a, mark.b)
    if isinstance(mark, Polyline):
        return mark.points
    if isinstance(mark, Text):
        return mark.box()
    (x, y), r = mark.centre, mark.radius
    return ((x - r, y - r), (x + r, y + r))


def text_width(text: str, size: float) -> float:
    """Printed length of a line of text. [pt]"""
    return len(text) * ADVANCE * size


def oriented(at: Flat, angle: float, x0: float, x1: float, half: float) -> tuple[Flat, ...]:
    """A turned rectangle: from x0 to x1 along `angle` [deg] from `at`, `half` to either side. [pt]"""
    if angle == 0.0 or angle == 90.0:
        c, s = (1.0, 0.0) if angle == 0.0 else (0.0, 1.0)
    else:
        c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    corners = ((x0, -half), (x1, -half), (x1, half), (x0, half))
    return tuple((at[0] + x * c - y * s, at[1] + x * s + y * c) for x, y in corners)
