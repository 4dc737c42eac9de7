"""What already stands on a sheet, so that the next label finds room. Knows no roofing word."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from lapwright.geom.space import Flat

Ring = Sequence[Flat]
Bounds = tuple[float, float, float, float]


BAND = 1 / 24.0
"""Boxes are kept by the level bands that they touch, lines by cells, so that a label meets few of them. [1/pt]"""
CELL, PER_CELL = 48.0, 1 / 48.0
"""Side of a cell. [pt], [1/pt]"""
EDGE = 1e-6
"""So that rounding never loses a cell that a line only touches. [pt]"""
COLUMN = 1 << 12
"""Cells are numbered up one column after another, so many a column."""

NONE: tuple[()] = ()


class _Box(NamedTuple):
    """A shape no label may touch: its bounds; unless it fills them, its corners too, and its extent along axes.

    axes: normals of its sides (not of unit length), each with the least and greatest value there.
    """

    x0: float
    y0: float
    x1: float
    y1: float
    ring: Ring | None = None
    axes: tuple[tuple[float, float, float, float], ...] = ()


class _Line(NamedTuple):
    """A line that costs a label: its bounds, its normal (not of unit length), its level, and the two ends."""

    x0: float
    y0: float
    x1: float
    y1: float
    nx: float
    ny: float
    level: float
    price: float
    owner: str
    a: Flat
    b: Flat


NOWHERE = _Box(math.inf, math.inf, -math.inf, -math.inf)
FREE = _Line(*NOWHERE[:4], 0.0, 0.0, 0.0, 0.0, "", (0.0, 0.0), (0.0, 0.0))


class Crowd:
    """Boxes no label may touch and lines that a label had better not cross, inside a sheet. [pt]

    Thousands of places are asked about for every drawing, so the four questions about level boxes and straight
    leaders are written out without calls, and the box or line that refused one place is looked at first for the next.
    """

    def __init__(self, low: Flat, high: Flat) -> None:
        self.low, self.high = low, high
        self._boxes: dict[int, list[_Box]] = {}
        self._lines: dict[int, list[_Line]] = {}
        self._under = self._across = NOWHERE
        self._dear = FREE

    def block(self, ring: Ring) -> None:
        """No label may touch this convex shape."""
        bounds = _bounds(ring)
        box = _Box(*bounds) if _is_level(ring) else _Box(*bounds, ring, tuple(_axes(ring)))
        for band in range(int(bounds[1] * BAND), int(bounds[3] * BAND) + 1):
            self._boxes.setdefault(band, []).append(box)

    def busy(self, a: Flat, b: Flat, price: float, owner: str = "") -> None:
        """Crossing this line costs a label `price`; its owner's own label crosses it freely."""
        (ax, ay), (bx, by) = a, b
        nx, ny = by - ay, ax - bx
        x0, x1 = (ax, bx) if ax < bx else (bx, ax)
        y0, y1 = (ay, by) if ay < by else (by, ay)
        line = _Line(x0, y0, x1, y1, nx, ny, ax * nx + ay * ny, price, owner, a, b)
        lines = self._lines
        for cell in _passed(a, b):
            if cell in lines:
                lines[cell].append(line)
            else:
                lines[cell] = [line]

    def free(self, ring: Ring) -> bool:
        """Does a convex shape lie on the sheet and touch no box?"""
        bounds = _bounds(ring)
        if _is_level(ring):
            return self.free_level(*bounds)
        if not self._on_sheet(*bounds):
            return False
        return not any(touch(ring, _ring_of(box)) for box in self._boxes_near(*bounds))

    def free_level(self, x0: float, y0: float, x1: float, y1: float) -> bool:
        """Does a rectangle square to the sheet lie on it and touch no box?"""
        low, high = self.low, self.high
        if x0 < low[0] or y0 < low[1] or x1 > high[0] or y1 > high[1]:
            return False
        last = self._under
        if last[0] < x1 and x0 < last[2] and last[1] < y1 and y0 < last[3]:
            return False
        boxes = self._boxes
        for band in range(int(y0 * BAND), int(y1 * BAND) + 1):
            for box in boxes.get(band, NONE):
                left, lower, right, upper, _, axes = box
                if left < x1 and x0 < right and lower < y1 and y0 < upper:
                    if not axes:
                        self._under = box
                        return False
                    if not _clear(axes, (x0 + x1) / 2, (y0 + y1) / 2, (x1 - x0) / 2, (y1 - y0) / 2):
                        return False
        return True

    def price(self, ring: Ring, owner: str = "", limit: float = math.inf) -> float:
        """What the lines under a convex shape cost; stops counting beyond `limit`."""
        bounds = _bounds(ring)
        if _is_level(ring):
            return self.price_level(*bounds, owner, limit)
        total = 0.0
        for line in self._lines_near(*bounds):
            if not (owner and line.owner == owner) and touch(ring, (line.a, line.b)):
                total += line.price
                if total > limit:
                    break
        return total

    def price_level(
        self, x0: float, y0: float, x1: float, y1: float, owner: str = "", limit: float = math.inf
    ) -> float:
        """What the lines under a rectangle square to the sheet cost; stops counting beyond `limit`."""
        x, y, wide, high = (x0 + x1) / 2, (y0 + y1) / 2, (x1 - x0) / 2, (y1 - y0) / 2
        left, lower, right, upper, nx, ny, level, price, whose, _, _ = self._dear
        met = left <= x1 and x0 <= right and lower <= y1 and y0 <= upper and not (owner and whose == owner)
        if price > limit and met and abs(x * nx + y * ny - level) < wide * abs(nx) + high * abs(ny):
            return price
        total, lines = 0.0, self._lines
        counted: set[int] = set()
        for cell in _cells(x0, y0, x1, y1):
            for line in lines.get(cell, NONE):
                left, lower, right, upper, nx, ny, level, price, whose, _, _ = line
                if left > x1 or x0 > right or lower > y1 or y0 > upper or (owner and whose == owner):
                    continue
                if abs(x * nx + y * ny - level) < wide * abs(nx) + high * abs(ny) and id(line) not in counted:
                    if price > limit:
                        self._dear = line
                        return price
                    counted.add(id(line))
                    total += price
                    if total > limit:
                        return total
        return total

    def price_way(self, a: Flat, b: Flat, owner: str = "", limit: float = math.inf) -> float:
        """What the lines that a straight leader crosses cost; stops counting beyond `limit`."""
        (ax, ay), (bx, by) = a, b
        nx, ny = by - ay, ax - bx
        own = ax * nx + ay * ny
        x0, x1 = (ax, bx) if ax < bx else (bx, ax)
        y0, y1 = (ay, by) if ay < by else (by, ay)
        total, lines = 0.0, self._lines
        counted: set[int] = set()
        for cell in _cells(x0, y0, x1, y1):
            for line in lines.get(cell, NONE):
                left, lower, right, upper, mx, my, level, price, whose, p, q = line
                if left > x1 or x0 > right or lower > y1 or y0 > upper or (owner and whose == owner):
                    continue
                if (p[0] * nx + p[1] * ny - own) * (q[0] * nx + q[1] * ny - own) >= 0.0:
                    continue
                if (ax * mx + ay * my - level) * (bx * mx + by * my - level) < 0.0 and id(line) not in counted:
                    counted.add(id(line))
                    total += price
                    if total > limit:
                        return total
        return total

    def open_way(self, a: Flat, b: Flat) -> bool:
        """Does a straight leader touch no box?"""
        (ax, ay), (bx, by) = a, b
        nx, ny = by - ay, ax - bx
        level = ax * nx + ay * ny
        x0, x1 = (ax, bx) if ax <= bx else (bx, ax)
        y0, y1 = (ay, by) if ay <= by else (by, ay)
        boxes = self._boxes
        for some in ((self._across,), *(boxes.get(k, NONE) for k in range(int(y0 * BAND), int(y1 * BAND) + 1))):
            for box in some:
                left, lower, right, upper, ring, _ = box
                if not (left < x1 and x0 < right and lower < y1 and y0 < upper):
                    continue
                if ring is not None:
                    if touch((a, b), ring):
                        return False
                    continue
                x, y, wide, high = (left + right) / 2, (lower + upper) / 2, right - left, upper - lower
                if abs(x * nx + y * ny - level) * 2 < wide * abs(nx) + high * abs(ny):
                    self._across = box
                    return False
        return True

    def _on_sheet(self, x0: float, y0: float, x1: float, y1: float) -> bool:
        low, high = self.low, self.high
        return x0 >= low[0] and y0 >= low[1] and x1 <= high[0] and y1 <= high[1]

    def _boxes_near(self, x0: float, y0: float, x1: float, y1: float) -> Iterator[_Box]:
        """Boxes whose bounds overlap a rectangle; perhaps one of them twice."""
        boxes = self._boxes
        for band in range(int(y0 * BAND), int(y1 * BAND) + 1):
            for box in boxes.get(band, NONE):
                if box.x0 < x1 and x0 < box.x1 and box.y0 < y1 and y0 < box.y1:
                    yield box

    def _lines_near(self, x0: float, y0: float, x1: float, y1: float) -> Iterator[_Line]:
        """Lines whose bounds meet a rectangle, each once."""
        seen: set[int] = set()
        for cell in _cells(x0, y0, x1, y1):
            for line in self._lines.get(cell, NONE):
                if line.x0 > x1 or x0 > line.x1 or line.y0 > y1 or y0 > line.y1 or id(line) in seen:
                    continue
                seen.add(id(line))
                yield line


def _clear(
    axes: tuple[tuple[float, float, float, float], ...], x: float, y: float, wide: float, high: float
) -> bool:
    """Does a level rectangle round (x, y) whose bounds meet a turned shape's lie apart from it all the same?"""
    for nx, ny, low, up in axes:
        at, reach = x * nx + y * ny, wide * abs(nx) + high * abs(ny)
        if at + reach <= low or at - reach >= up:
            return True
    return False


def _cells(x0: float, y0: float, x1: float, y1: float) -> Iterable[int]:
    """The cells that a rectangle touches, column by column."""
    i0, j0, i1, j1 = int(x0 * PER_CELL), int(y0 * PER_CELL), int(x1 * PER_CELL), int(y1 * PER_CELL)
    first = i0 * COLUMN + j0
    if i0 == i1:
        return (first,) if j0 == j1 else range(first, first + j1 - j0 + 1)
    if j0 == j1:
        return range(first, i1 * COLUMN + j0 + 1, COLUMN)
    return [k for low in range(first, i1 * COLUMN + j0 + 1, COLUMN) for k in range(low, low + j1 - j0 + 1)]


def _passed(a: Flat, b: Flat) -> Iterable[int]:
    """The cells that a line passes, column by column."""
    if b[0] < a[0]:
        a, b = b, a
    (ax, ay), (bx, by) = a, b
    first, last = int(ax * PER_CELL), int(bx * PER_CELL)
    if first == last or ay == by:
        return _cells(ax, min(ay, by), bx, max(ay, by))
    rise = (by - ay) / (bx - ax)
    out: list[int] = []
    for i in range(first, last + 1):
        left, right = ax if i == first else i * CELL, bx if i == last else (i + 1) * CELL
        y, z = ay + rise * (left - ax), ay + rise * (right - ax)
        low, high = (y, z) if y < z else (z, y)
        out += range(i * COLUMN + int((low - EDGE) * PER_CELL), i * COLUMN + int((high + EDGE) * PER_CELL) + 1)
    return out


def _axes(ring: Ring) -> Iterator[tuple[float, float, float, float]]:
    """Normals of a shape's sides, and how far it reaches along each; opposite sides of a rectangle share one."""
    sides = 2 if len(ring) == 4 and _is_parallelogram(ring) else len(ring)
    for i in range(sides):
        (ax, ay), (bx, by) = ring[i - 1], ring[i]
        nx, ny = by - ay, ax - bx
        values = [x * nx + y * ny for x, y in ring]
        yield nx, ny, min(values), max(values)


def _is_parallelogram(ring: Ring) -> bool:
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = ring
    return abs(ax - bx + cx - dx) < EDGE and abs(ay - by + cy - dy) < EDGE


def _ring_of(box: _Box) -> Ring:
    if box.ring is not None:
        return box.ring
    return ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1))


def _is_level(ring: Ring) -> bool:
    """Is it a rectangle square to the sheet?"""
    if len(ring) != 4:
        return False
    a, b, c, d = ring
    flat = a[1] == b[1] and b[0] == c[0] and c[1] == d[1]
    return (flat and d[0] == a[0]) or (a[0] == b[0] and b[1] == c[1] and c[0] == d[0] and d[1] == a[1])


def touch(a: Ring, b: Ring) -> bool:
    """Do two convex shapes (a line counts as one) overlap?

    Source: separating axis theorem; for convex shapes in a plane the normals of the edges suffice.
    """
    for ring in (a, b):
        for i, p in enumerate(ring):
            q = ring[i - 1]
            nx, ny = p[1] - q[1], q[0] - p[0]
            if _apart(a, b, nx, ny):
                return False
            if len(ring) == 2 and _apart(a, b, ny, -nx):
                return False
    return True


def _apart(a: Ring, b: Ring, nx: float, ny: float) -> bool:
    pa = [x * nx + y * ny for x, y in a]
    pb = [x * nx + y * ny for x, y in b]
    return max(pa) <= min(pb) or max(pb) <= min(pa)


def _bounds(ring: Ring) -> Bounds:
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return (min(xs), min(ys), max(xs), max(ys))
