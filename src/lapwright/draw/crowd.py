"""What already stands on a sheet, so that the next label finds room. Knows no roofing word."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lapwright.geom.space import Flat

Ring = Sequence[Flat]
Bounds = tuple[float, float, float, float]


CELL = 48.0
"""Boxes and lines are kept by the squares of this size that they touch, so that a label meets few of them. [pt]"""
EDGE = 1e-6
"""So that rounding never loses a square that a line only touches. [pt]"""

Square = tuple[int, int]
NONE: tuple[()] = ()


@dataclass(slots=True)
class _Box:
    """A shape no label may touch: its bounds; unless it fills them, its corners too, and its extent along axes.

    axes: normals of its sides (not of unit length), each with the least and greatest value there.
    """

    x0: float
    y0: float
    x1: float
    y1: float
    ring: Ring | None
    axes: tuple[tuple[float, float, float, float], ...] = ()

    def clear_of(self, x: float, y: float, wide: float, high: float) -> bool:
        """Does a level rectangle round (x, y) whose bounds meet the shape's lie apart from it all the same?"""
        for nx, ny, low, up in self.axes:
            at, reach = x * nx + y * ny, wide * abs(nx) + high * abs(ny)
            if at + reach <= low or at - reach >= up:
                return True
        return False


@dataclass(slots=True)
class _Line:
    """A line that costs a label: its bounds, its normal (not of unit length), its level, and the two ends."""

    x0: float
    y0: float
    x1: float
    y1: float
    nx: float
    ny: float
    level: float
    a: Flat
    b: Flat
    price: float
    owner: str


class Crowd:
    """Boxes no label may touch and lines that a label had better not cross, inside a sheet. [pt]"""

    def __init__(self, low: Flat, high: Flat) -> None:
        self.low, self.high = low, high
        self._boxes: dict[Square, list[_Box]] = {}
        self._lines: dict[Square, list[_Line]] = {}

    def block(self, ring: Ring) -> None:
        """No label may touch this convex shape."""
        bounds = _bounds(ring)
        box = _Box(*bounds, None) if _is_level(ring) else _Box(*bounds, ring, tuple(_axes(ring)))
        for square in _squares(*bounds):
            self._boxes.setdefault(square, []).append(box)

    def busy(self, a: Flat, b: Flat, price: float, owner: str = "") -> None:
        """Crossing this line costs a label `price`; its owner's own label crosses it freely."""
        nx, ny = b[1] - a[1], a[0] - b[0]
        line = _Line(*_bounds((a, b)), nx, ny, a[0] * nx + a[1] * ny, a, b, price, owner)
        for square in _passed(a, b):
            self._lines.setdefault(square, []).append(line)

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
        if not self._on_sheet(x0, y0, x1, y1):
            return False
        x, y, wide, high = (x0 + x1) / 2, (y0 + y1) / 2, (x1 - x0) / 2, (y1 - y0) / 2
        return all(box.clear_of(x, y, wide, high) for box in self._boxes_near(x0, y0, x1, y1))

    def price(self, ring: Ring, owner: str = "", limit: float = math.inf) -> float:
        """What the lines under a convex shape cost; stops counting beyond `limit`."""
        bounds = _bounds(ring)
        if _is_level(ring):
            return self.price_level(*bounds, owner, limit)
        if len(ring) == 2:
            return self._price_way(ring[0], ring[1], owner, limit)
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
        total = 0.0
        for line in self._lines_near(x0, y0, x1, y1):
            nx, ny = line.nx, line.ny
            if abs(x * nx + y * ny - line.level) < wide * abs(nx) + high * abs(ny) and not (
                owner and line.owner == owner
            ):
                total += line.price
                if total > limit:
                    break
        return total

    def _price_way(self, a: Flat, b: Flat, owner: str, limit: float) -> float:
        """What the lines that a straight leader crosses cost; stops counting beyond `limit`."""
        nx, ny = b[1] - a[1], a[0] - b[0]
        level = a[0] * nx + a[1] * ny
        total = 0.0
        for line in self._lines_near(*_bounds((a, b))):
            p, q = line.a, line.b
            if (p[0] * nx + p[1] * ny - level) * (q[0] * nx + q[1] * ny - level) >= 0.0:
                continue
            mx, my = line.nx, line.ny
            crossed = (a[0] * mx + a[1] * my - line.level) * (b[0] * mx + b[1] * my - line.level) < 0.0
            if crossed and not (owner and line.owner == owner):
                total += line.price
                if total > limit:
                    break
        return total

    def open_way(self, a: Flat, b: Flat) -> bool:
        """Does a straight leader touch no box?"""
        nx, ny = b[1] - a[1], a[0] - b[0]
        level = a[0] * nx + a[1] * ny
        x0, x1 = (a[0], b[0]) if a[0] <= b[0] else (b[0], a[0])
        y0, y1 = (a[1], b[1]) if a[1] <= b[1] else (b[1], a[1])
        for box in self._boxes_near(x0, y0, x1, y1):
            if box.ring is not None:
                if touch((a, b), box.ring):
                    return False
                continue
            x, y, wide, high = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2, box.x1 - box.x0, box.y1 - box.y0
            if abs(x * nx + y * ny - level) * 2 < wide * abs(nx) + high * abs(ny):
                return False
        return True

    def _on_sheet(self, x0: float, y0: float, x1: float, y1: float) -> bool:
        low, high = self.low, self.high
        return x0 >= low[0] and y0 >= low[1] and x1 <= high[0] and y1 <= high[1]

    def _boxes_near(self, x0: float, y0: float, x1: float, y1: float) -> Iterator[_Box]:
        """Boxes whose bounds overlap a rectangle; perhaps one of them twice."""
        boxes = self._boxes
        for square in _squares(x0, y0, x1, y1):
            for box in boxes.get(square, NONE):
                if box.x0 < x1 and x0 < box.x1 and box.y0 < y1 and y0 < box.y1:
                    yield box

    def _lines_near(self, x0: float, y0: float, x1: float, y1: float) -> Iterator[_Line]:
        """Lines whose bounds meet a rectangle, each once."""
        lines = self._lines
        squares = _squares(x0, y0, x1, y1)
        seen: set[int] | None = None if len(squares) == 1 else set()
        for square in squares:
            for line in lines.get(square, NONE):
                if line.x0 > x1 or x0 > line.x1 or line.y0 > y1 or y0 > line.y1:
                    continue
                if seen is not None:
                    if id(line) in seen:
                        continue
                    seen.add(id(line))
                yield line


def _squares(x0: float, y0: float, x1: float, y1: float) -> list[Square]:
    """The squares that a rectangle touches."""
    i0, j0, i1, j1 = int(x0 // CELL), int(y0 // CELL), int(x1 // CELL), int(y1 // CELL)
    if i0 == i1 and j0 == j1:
        return [(i0, j0)]
    return [(i, j) for i in range(i0, i1 + 1) for j in range(j0, j1 + 1)]


def _passed(a: Flat, b: Flat) -> Iterator[Square]:
    """The squares that a line passes, column by column."""
    if b[0] < a[0]:
        a, b = b, a
    first, last = int(a[0] // CELL), int(b[0] // CELL)
    if first == last or a[1] == b[1]:
        yield from _squares(*_bounds((a, b)))
        return
    rise = (b[1] - a[1]) / (b[0] - a[0])
    for i in range(first, last + 1):
        left, right = max(i * CELL, a[0]), min((i + 1) * CELL, b[0])
        y, z = a[1] + rise * (left - a[0]), a[1] + rise * (right - a[0])
        for j in range(int((min(y, z) - EDGE) // CELL), int((max(y, z) + EDGE) // CELL) + 1):
            yield (i, j)


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
