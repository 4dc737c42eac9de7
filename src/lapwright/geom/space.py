"""Points, planes and frames in space, as plain tuples: small, exact enough, quick."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lapwright.geom import SAME

Point = tuple[float, float, float]
Flat = tuple[float, float]

X: Point = (1.0, 0.0, 0.0)
Y: Point = (0.0, 1.0, 0.0)
Z: Point = (0.0, 0.0, 1.0)


def add(a: Point, b: Point, k: float = 1.0) -> Point:
    """a + k b."""
    return (a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2])


def sub(a: Point, b: Point) -> Point:
    """a - b."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scale(a: Point, k: float) -> Point:
    """k a."""
    return (k * a[0], k * a[1], k * a[2])


def dot(a: Point, b: Point) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Point, b: Point) -> Point:
    """Vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def norm(a: Point) -> float:
    """Length of a vector."""
    return math.sqrt(dot(a, a))


def unit(a: Point) -> Point:
    """Vector of length 1 the same way.

    Raises:
        ValueError: the vector has no length.
    """
    n = norm(a)
    if n < SAME * SAME:
        raise ValueError("a vector without length has no direction")
    return (a[0] / n, a[1] / n, a[2] / n)


def distance(a: Point, b: Point) -> float:
    """Straight distance."""
    return math.dist(a, b)


@dataclass(frozen=True, slots=True)
class Plane:
    """A plane through `point`, with unit `normal`."""

    point: Point
    normal: Point

    def offset(self, by: float) -> Plane:
        """The parallel plane `by` further along the normal. [in]"""
        return Plane(add(self.point, self.normal, by), self.normal)

    def height(self, p: Point) -> float:
        """Signed distance of p from the plane. [in]"""
        return dot(sub(p, self.point), self.normal)


def plane(point: Point, normal: Point) -> Plane:
    """A plane whose normal need not have length 1 yet."""
    return Plane(point, unit(normal))


def meet(a: Plane, b: Plane, c: Plane) -> Point:
    """The one point three planes share (Cramer's rule).

    Raises:
        ValueError: the planes do not meet in one point.
    """
    bc = cross(b.normal, c.normal)
    det = dot(a.normal, bc)
    if abs(det) < 1e-12:
        raise ValueError("three planes without a common point")
    ca, ab = cross(c.normal, a.normal), cross(a.normal, b.normal)
    da, db, dc = dot(a.point, a.normal), dot(b.point, b.normal), dot(c.point, c.normal)
    return (
        (da * bc[0] + db * ca[0] + dc * ab[0]) / det,
        (da * bc[1] + db * ca[1] + dc * ab[1]) / det,
        (da * bc[2] + db * ca[2] + dc * ab[2]) / det,
    )


@dataclass(frozen=True, slots=True)
class Frame:
    """A right-handed frame: ex, ey in the sheet, ez out of its painted side."""

    origin: Point
    ex: Point
    ey: Point

    @property
    def ez(self) -> Point:
        return cross(self.ex, self.ey)

    def flat(self, p: Point) -> Flat:
        """A point's two coordinates in the sheet."""
        d = sub(p, self.origin)
        return (dot(d, self.ex), dot(d, self.ey))

    def space(self, q: Flat, z: float = 0.0) -> Point:
        """The point of the sheet (or z above it) in space."""
        return add(add(add(self.origin, self.ex, q[0]), self.ey, q[1]), self.ez, z)
