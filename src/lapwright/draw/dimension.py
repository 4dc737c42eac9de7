"""A dimension between two points: extension lines, arrows, and its figure on the line or past its end.

Knows no roofing word.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from lapwright.draw.display import Text, oriented, text_width
from lapwright.draw.sheet import Sheet
from lapwright.geom.flat import along as ahead
from lapwright.geom.flat import crossing, minus
from lapwright.geom.space import Flat

SIZE = 8.0
ARROW, BARB = 5.0, 1.5
CLEAR = 2.0
"""Between a feature and its extension line. [pt]"""
PAST = 3.0
"""How far an extension line runs past the dimension line. [pt]"""
PAD = 2.5
OFF_LINE = (11.0, 22.0, 33.0, 44.0)
"""How far beside its line a figure may stand as a last resort, led to it. [pt]"""
STUB = 11.0
"""Length of the line outside when the arrows point inward. [pt]"""


@dataclass(frozen=True, slots=True)
class Span:
    """What is dimensioned on the sheet. [pt]

    a, b: the two features. run: unit vector of the measure. out: unit vector of the extension lines.
    through: a point of the dimension line.
    """

    a: Flat
    b: Flat
    run: Flat
    out: Flat
    through: Flat

    def foot(self, p: Flat) -> Flat:
        """Where a feature's extension line meets the dimension line. [pt]"""
        met = crossing(p, self.out, self.through, self.run)
        return met if met is not None else p


def draw_dimension(sheet: Sheet, span: Span, text: str) -> None:
    """Draw one dimension; its figure takes the first free place on the line or beyond its ends. [pt]"""
    a, b = span.foot(span.a), span.foot(span.b)
    if (b[0] - a[0]) * span.run[0] + (b[1] - a[1]) * span.run[1] < 0:
        a, b = b, a
        span = Span(span.b, span.a, span.run, span.out, span.through)
    for feature, foot in ((span.a, a), (span.b, b)):
        _extension(sheet, feature, foot)
    length = math.dist(a, b)
    inside = length >= 2 * ARROW + 2
    mark = _figure(sheet, span, a, b, text, inside)
    _line(sheet, a, b, span.run, mark, inside)
    sheet.ring(mark.box(), "mask", "paper")
    sheet.text(mark)


def _extension(sheet: Sheet, feature: Flat, foot: Flat) -> None:
    d = math.dist(feature, foot)
    if d > CLEAR:
        out = ((foot[0] - feature[0]) / d, (foot[1] - feature[1]) / d)
        sheet.line(ahead(feature, out, CLEAR), ahead(foot, out, PAST), "dimension", 2.0)


def _figure(sheet: Sheet, span: Span, a: Flat, b: Flat, text: str, inside: bool) -> Text:
    wide = text_width(text, SIZE) + 2 * PAD
    best, cost = None, math.inf
    for n, (at, run) in enumerate(_places(span, a, b, wide, inside)):
        ring = oriented(at, _upright(run), -wide / 2, wide / 2, SIZE * 0.6)
        price = 0.4 * n + sheet.crowd.price(ring) if sheet.crowd.free(ring) else 1000.0 + n
        if price < cost:
            best, cost = Text(at, text, "text", SIZE, "middle", _upright(run)), price
    assert best is not None
    return best


def _upright(run: Flat) -> float:
    """The angle of a direction, so that text along it reads from below or from the right. [deg]"""
    angle = math.degrees(math.atan2(run[1], run[0]))
    return round(angle - 180 if angle > 90.01 else angle + 180 if angle <= -89.99 else angle, 6)


def _places(span: Span, a: Flat, b: Flat, wide: float, inside: bool) -> Iterator[tuple[Flat, Flat]]:
    """Where a figure may stand and which way it runs: on the line, past its ends, then square beside it."""
    run, length = span.run, math.dist(a, b)
    spare = length - wide - 2 * ARROW
    if spare > 0:
        for k in (0.5, 0.35, 0.65, 0.2, 0.8):
            yield ahead(a, run, ARROW + wide / 2 + k * spare), run
    elif abs(run[1]) > abs(run[0]):
        for share in (0.5, 0.25, 0.75):
            for way in (1.0, -1.0):
                yield ahead(ahead(a, run, share * length), span.out, way * (wide / 2 + PAST)), span.out
    stub = PAST if inside else STUB
    for _ in range(3):
        yield ahead(b, run, stub + wide / 2), run
        yield ahead(a, run, -stub - wide / 2), run
        stub += 12.0
    square = (-run[1], run[0])
    for off in OFF_LINE:
        for share in (0.5, 0.0, 1.0, -1.0, 2.0):
            for way in (-1.0, 1.0):
                yield ahead(ahead(a, run, share * length), square, way * off), run


def _line(sheet: Sheet, a: Flat, b: Flat, run: Flat, mark: Text, inside: bool) -> None:
    """The dimension line with its arrows, led on to a figure that stands past an end."""
    ends = [0.0, math.dist(a, b)] if inside else [-STUB, math.dist(a, b) + STUB]
    here = minus(mark.at, a)
    off = here[1] * run[0] - here[0] * run[1]
    if abs(mark.angle - _upright(run)) < 1.0:
        if abs(off) < 1.0:
            at = here[0] * run[0] + here[1] * run[1]
            ends = [min(ends[0], at), max(ends[1], at)]
        else:
            sheet.line(mark.at, ahead(a, run, math.dist(a, b) / 2), "leader", 2.0)
    sheet.line(ahead(a, run, ends[0]), ahead(a, run, ends[1]), "dimension", 4.0)
    way = 1.0 if inside else -1.0
    _arrow(sheet, a, (way * run[0], way * run[1]))
    _arrow(sheet, b, (-way * run[0], -way * run[1]))


def _arrow(sheet: Sheet, tip: Flat, back: Flat) -> None:
    """A slim arrow head at `tip`, its tail toward `back`."""
    tail = ahead(tip, back, ARROW)
    square = (-back[1], back[0])
    sheet.ring((tip, ahead(tail, square, BARB), ahead(tail, square, -BARB)), "dimension", "ink")
