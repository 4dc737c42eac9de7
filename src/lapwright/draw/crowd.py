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
        self._boxes: list[tuple[Bounds, Ring]] = []
        self._lines: list[tuple[Bounds, Ring, float, str]] = []

    def block(self, ring: Ring) -> None:
        """No label may touch this convex shape."""
        self._boxes.append((_bounds(ring), ring))

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
        here, total = _bounds(ring), 0.0
        for there, line, price, whose in self._lines:
            if not (owner and whose == owner) and _overlap(here, there) and touch(ring, line):
                total += price
                if total > limit:
                    break
        return total

    def open_way(self, a: Flat, b: Flat) -> bool:
        """Does a straight leader touch no box?"""
        return self._clear(_bounds((a, b)), (a, b))

    def _clear(self, here: Bounds, ring: Ring) -> bool:
        return not any(_overlap(here, there) and touch(ring, box) for there, box in self._boxes)


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


def _overlap(a: Bounds, b: Bounds) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]
