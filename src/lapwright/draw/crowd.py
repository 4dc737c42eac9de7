"""What already stands on a sheet, so that the next label finds room. Knows no roofing word."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lapwright.geom.space import Flat

Ring = Sequence[Flat]
Bounds = tuple[float, float, float, float]


class Crowd:
    """Boxes no label may touch and lines that a label had better not cross, inside a sheet. [pt]"""

    def __init__(self, low: Flat, high: Flat) -> None:
        self.low, self.high = low, high
        self._boxes: list[tuple[Bounds, Ring, bool]] = []
        self._lines: list[tuple[Bounds, Ring, float, str]] = []

    def block(self, ring: Ring) -> None:
        """No label may touch this convex shape."""
        self._boxes.append((_bounds(ring), ring, _is_level(ring)))

    def busy(self, a: Flat, b: Flat, price: float, owner: str = "") -> None:
        """Crossing this line costs a label `price`; its owner's own label crosses it freely."""
        self._lines.append((_bounds((a, b)), (a, b), price, owner))

    def free(self, ring: Ring) -> bool:
        """Does a convex shape lie on the sheet and touch no box?"""
        x0, y0, x1, y1 = _bounds(ring)
        if x0 < self.low[0] or y0 < self.low[1] or x1 > self.high[0] or y1 > self.high[1]:
            return False
        return self._clear((x0, y0, x1, y1), ring)

    def price(self, ring: Ring, owner: str = "", limit: float = math.inf) -> float:
        """What the lines under a convex shape cost; stops counting beyond `limit`."""
        x0, y0, x1, y1 = _bounds(ring)
        meets = _cut_by if _is_level(ring) else touch
        total = 0.0
        for (u0, v0, u1, v1), line, price, whose in self._lines:
            if u0 > x1 or x0 > u1 or v0 > y1 or y0 > v1 or (owner and whose == owner):
                continue
            if meets(ring, line):
                total += price
                if total > limit:
                    break
        return total

    def open_way(self, a: Flat, b: Flat) -> bool:
        """Does a straight leader touch no box?"""
        return self._clear(_bounds((a, b)), (a, b))

    def _clear(self, here: Bounds, ring: Ring) -> bool:
        x0, y0, x1, y1 = here
        level = _is_level(ring)
        for (u0, v0, u1, v1), box, is_level in self._boxes:
            if u0 >= x1 or x0 >= u1 or v0 >= y1 or y0 >= v1:
                if not (len(ring) == 2 and u0 <= x1 and x0 <= u1 and v0 <= y1 and y0 <= v1):
                    continue
                if touch(ring, box):
                    return False
            elif (level and is_level) or touch(ring, box):
                return False
        return True


def _is_level(ring: Ring) -> bool:
    """Is it a rectangle square to the sheet?"""
    if len(ring) != 4:
        return False
    a, b, c, d = ring
    flat = a[1] == b[1] and b[0] == c[0] and c[1] == d[1]
    return (flat and d[0] == a[0]) or (a[0] == b[0] and b[1] == c[1] and c[0] == d[0] and d[1] == a[1])


def _cut_by(ring: Ring, line: Ring) -> bool:
    """Does a line, whose bounds overlap a level rectangle, really cross it?"""
    (ax, ay), (bx, by) = line
    nx, ny = by - ay, ax - bx
    level = ax * nx + ay * ny
    sides = [x * nx + y * ny - level for x, y in ring]
    return min(sides) < 0 < max(sides)


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
