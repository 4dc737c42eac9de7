"""A sheet being drawn: marks in order, and the crowd that keeps its labels apart. Knows no roofing word."""

from __future__ import annotations

from collections.abc import Iterable

from lapwright.draw.crowd import Crowd
from lapwright.draw.display import Circle, Display, Fill, Line, Mark, Pen, Polyline, Text
from lapwright.geom.space import Flat

WIDTH, HEIGHT = 504.0, 612.0
"""7 x 8 1/2 inches: inside the margins of both Letter and A4. [pt]"""


class Sheet:
    """Collects marks; every text it is given is kept clear of later labels. [pt]"""

    def __init__(self, width: float = WIDTH, height: float = HEIGHT) -> None:
        self.width, self.height = width, height
        self.marks: list[Mark] = []
        self.crowd = Crowd((1.0, 1.0), (width - 1.0, height - 1.0))

    def line(self, a: Flat, b: Flat, layer: str, price: float = 0.0, owner: str = "") -> None:
        """A straight line; a label that crosses it pays `price`."""
        self.marks.append(Line(a, b, layer))
        if price:
            self.crowd.busy(a, b, price, owner)

    def ring(self, points: Iterable[Flat], layer: str, fill: Fill = "", price: float = 0.0) -> None:
        """A closed line."""
        ps = tuple(points)
        self.marks.append(Polyline(ps, layer, closed=True, fill=fill))
        if price:
            for i, p in enumerate(ps):
                self.crowd.busy(ps[i - 1], p, price)

    def run(self, points: Iterable[Flat], layer: str) -> None:
        """An open broken line."""
        self.marks.append(Polyline(tuple(points), layer))

    def circle(self, centre: Flat, radius: float, layer: str, fill: Fill = "") -> None:
        """A circle."""
        self.marks.append(Circle(centre, radius, layer, fill))

    def text(self, text: Text) -> None:
        """A line of text; nothing else will be written over it."""
        self.marks.append(text)
        self.crowd.block(text.box())

    def block(self, low: Flat, high: Flat) -> None:
        """Keep labels out of a rectangle."""
        self.crowd.block((low, (high[0], low[1]), high, (low[0], high[1])))

    def finish(self, pens: tuple[Pen, ...], title: str) -> Display:
        """The drawing."""
        return Display(self.width, self.height, tuple(self.marks), pens, title)
