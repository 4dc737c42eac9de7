"""Labels that look for their own place beside the thing they name. Knows no roofing word."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from lapwright.draw.crowd import Crowd
from lapwright.draw.display import Text, oriented, text_width
from lapwright.draw.sheet import Sheet
from lapwright.geom.space import Flat

SIZE = 8.0
BALL = 6.6
HALF = 6.9
"""Half the height of a label with its balloon. [pt]"""
STEPS = tuple(range(0, 360, 30))
WAYS = tuple((math.cos(math.radians(step)), math.sin(math.radians(step))) for step in STEPS)
REACHES = (16.0, 24.0, 36.0, 52.0, 76.0, 108.0, 150.0, 210.0)
LEADER_PRICE = 1.5


@dataclass(frozen=True, slots=True)
class Label:
    """What to write: a number for the balloon (or none) and a text (or none)."""

    number: str
    text: str

    @property
    def width(self) -> float:
        """Printed length with its balloon. [pt]"""
        ball = 2 * BALL + 2 if self.number else 0.0
        return ball + (text_width(self.text, SIZE) + 3 if self.text else 0.0)


@dataclass(slots=True)
class Place:
    """A place to write: centre, angle [deg], and the point a leader goes to, if one is needed. [pt]"""

    at: Flat
    angle: float
    target: Flat | None
    price: float


def write_along(sheet: Sheet, a: Flat, b: Flat, label: Label, owner: str) -> bool:
    """Label a line: on it where there is room, else beside it with a leader. [pt]

    Returns:
        False where no free place was found (nothing is written then).
    """
    return _write(sheet, label, owner, _along(a, b, label.width))


def write_beside(sheet: Sheet, a: Flat, b: Flat, label: Label) -> bool:
    """Label a line that must stay clear, with a leader to it. [pt] False where there is no room."""
    return _write(sheet, label, "", _around([_on(a, b, t) for t in (0.5, 0.3, 0.7)], label.width))


def write_at(sheet: Sheet, target: Flat, label: Label, radius: float = 0.0) -> bool:
    """Label a point, or the rim of a circle round it, with a leader. [pt] False where there is no room."""
    rim = [_polar(target, radius, step) for step in STEPS[::3]] if radius else [target]
    return _write(sheet, label, "", _around(rim, label.width))


def write_round(sheet: Sheet, low: Flat, high: Flat, label: Label) -> bool:
    """Label a frame: close outside it where there is room, else with a leader to its edge. [pt]"""
    return _write(sheet, label, "", _round(low, high, label.width))


def write_inside(sheet: Sheet, places: Iterator[Flat], label: Label) -> bool:
    """Write at the first of these places where nothing is touched or crossed. [pt]"""
    for at in places:
        ring = _ring(at, 0.0, label.width)
        if sheet.crowd.free(ring) and sheet.crowd.price(ring, "", 0.0) == 0.0:
            _put(sheet, Place(at, 0.0, None, 0.0), label)
            return True
    return False


def _write(sheet: Sheet, label: Label, owner: str, places: Iterator[Place]) -> bool:
    """Take the cheapest place; `places` come in order of their own price, so the search can stop early."""
    best, cost = None, math.inf
    crowd, width = sheet.crowd, label.width
    for place in places:
        if place.price >= cost:
            break
        price = _room(crowd, place, width, owner if place.target is None else "", cost - place.price)
        if price is None:
            continue
        total = place.price + price
        if total < cost and place.target is not None:
            start = _nearest(place, width)
            if not crowd.open_way(start, place.target):
                continue
            total += 0.5 * crowd.price_way(start, place.target, owner, cost)
        if total < cost:
            best, cost = place, total
    if best is not None:
        _put(sheet, best, label)
    return best is not None


def _room(crowd: Crowd, place: Place, width: float, owner: str, limit: float) -> float | None:
    """What a label here costs; None where it touches something or leaves the sheet. [pt]"""
    if place.angle == 0.0:
        x, y = place.at
        box = (x - width / 2, y - HALF, x + width / 2, y + HALF)
        return crowd.price_level(*box, owner, limit) if crowd.free_level(*box) else None
    ring = _ring(place.at, place.angle, width)
    return crowd.price(ring, owner, limit) if crowd.free(ring) else None


def _along(a: Flat, b: Flat, width: float) -> Iterator[Place]:
    length = math.dist(a, b)
    angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    angle = round(angle - 180 if angle > 90.01 else angle + 180 if angle <= -89.99 else angle, 6)
    if length > width + 8:
        spare = (length - width - 6) / length / 2
        for k in (0.0, -0.3, 0.3, -0.6, 0.6, -1.0, 1.0):
            yield Place(_on(a, b, 0.5 + k * spare), angle, None, abs(k) * 0.3)
    yield from _around([_on(a, b, t) for t in (0.5, 0.25, 0.75, 0.08, 0.92)], width)


def _round(low: Flat, high: Flat, width: float) -> Iterator[Place]:
    (x0, y0), (x1, y1) = low, high
    across = width / 2 + 1
    for y in (y1 - HALF, y0 + HALF, (y0 + y1) / 2):
        yield Place((x1 + across, y), 0.0, None, 0.0)
        yield Place((x0 - across, y), 0.0, None, 0.0)
    for x in ((x0 + x1) / 2, x0 + across, x1 - across):
        yield Place((x, y1 + HALF + 1), 0.0, None, 0.0)
        yield Place((x, y0 - HALF - 1), 0.0, None, 0.0)
    sides = [((x0 + x1) / 2, y1), ((x0 + x1) / 2, y0), (x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2)]
    yield from _around(sides, width)


def _around(targets: list[Flat], width: float) -> Iterator[Place]:
    for reach in REACHES:
        price, wide = LEADER_PRICE + reach / 40, reach + width / 2 - 4
        for target in targets:
            for c, s in WAYS:
                yield Place((target[0] + c * wide, target[1] + s * reach), 0.0, target, price)


def _polar(centre: Flat, radius: float, angle_deg: float) -> Flat:
    turn = math.radians(angle_deg)
    return (centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn))


def _on(a: Flat, b: Flat, t: float) -> Flat:
    return (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))


def _ring(at: Flat, angle: float, width: float) -> tuple[Flat, ...]:
    return oriented(at, angle, -width / 2, width / 2, HALF)


def _nearest(place: Place, width: float) -> Flat:
    """The point of a level label's box nearest to its target. [pt]"""
    assert place.target is not None
    (x, y), (tx, ty) = place.at, place.target
    return (min(max(tx, x - width / 2), x + width / 2), min(max(ty, y - HALF), y + HALF))


def _put(sheet: Sheet, place: Place, label: Label) -> None:
    if place.target is not None:
        start = _nearest(place, label.width)
        sheet.line(start, place.target, "leader", 2.0)
        sheet.circle(place.target, 1.2, "leader", "ink")
    ring = _ring(place.at, place.angle, label.width)
    sheet.ring(ring, "mask", "paper")
    sheet.crowd.block(ring)
    c, s = math.cos(math.radians(place.angle)), math.sin(math.radians(place.angle))
    start_x = -label.width / 2

    def at(x: float) -> Flat:
        return (place.at[0] + x * c, place.at[1] + x * s)

    if label.number:
        sheet.circle(at(start_x + BALL), BALL, "balloon", "paper")
        middle = Text(at(start_x + BALL), label.number, "text", SIZE, "middle", place.angle, bold=True)
        sheet.marks.append(middle)
        start_x += 2 * BALL + 2
    if label.text:
        sheet.marks.append(Text(at(start_x + 1.5), label.text, "text", SIZE, "start", place.angle))
