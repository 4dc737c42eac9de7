"""Lines and polygons in one plane."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lapwright.geom import SAME
from lapwright.geom.space import Flat

Polygon = Sequence[Flat]


def turn(a: Flat, b: Flat) -> float:
    """z of the vector product: positive when b lies to the left of a."""
    return a[0] * b[1] - a[1] * b[0]


def minus(a: Flat, b: Flat) -> Flat:
    """a - b."""
    return (a[0] - b[0], a[1] - b[1])


def along(a: Flat, direction: Flat, k: float) -> Flat:
    """a + k direction."""
    return (a[0] + k * direction[0], a[1] + k * direction[1])


def heading(a: Flat, b: Flat) -> Flat:
    """Unit vector from a to b."""
    d = math.dist(a, b)
    return ((b[0] - a[0]) / d, (b[1] - a[1]) / d)


def signed_area(ring: Polygon) -> float:
    """Shoelace area, positive when the ring runs counter-clockwise."""
    total = 0.0
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        total += x0 * y1 - x1 * y0
    return total / 2


def crossing(p: Flat, d: Flat, q: Flat, e: Flat) -> Flat | None:
    """Where the line p + s d meets the line q + t e; None when parallel."""
    det = turn(d, e)
    if abs(det) < 1e-9:
        return None
    s = turn(minus(q, p), e) / det
    return along(p, d, s)


def same(a: Flat, b: Flat, tolerance: float = SAME) -> bool:
    """Are two points the same point?"""
    return abs(a[0] - b[0]) <= tolerance and abs(a[1] - b[1]) <= tolerance


def tidy(ring: Polygon, tolerance: float = SAME) -> list[Flat]:
    """Drop repeated points and points on a straight run; keeps the order."""
    points = [p for i, p in enumerate(ring) if not same(p, ring[i - 1], tolerance)]
    out: list[Flat] = []
    if not points:
        return out
    ux, uy = minus(points[0], points[-1])
    for b, c in zip(points, [*points[1:], points[0]], strict=True):
        wx, wy = c[0] - b[0], c[1] - b[1]
        ahead = ux * wx + uy * wy > 0
        if not (ahead and abs(ux * wy - uy * wx) <= tolerance * (math.hypot(ux, uy) + math.hypot(wx, wy))):
            out.append(b)
        ux, uy = wx, wy
    return out


def extent(ring: Polygon) -> tuple[float, float, float, float]:
    """Least u, least v, greatest u, greatest v."""
    us, vs = [p[0] for p in ring], [p[1] for p in ring]
    return (min(us), min(vs), max(us), max(vs))


def cut_by(ring: Polygon, point: Flat, inward: Flat) -> list[Flat]:
    """Keep the part of a polygon on the `inward` side of the line through `point` (Sutherland-Hodgman).

    Source: I. Sutherland, G. Hodgman, Reentrant polygon clipping, CACM 17(1), 1974 (from memory).
    Good for a convex ring, or a ring that the line cuts in one piece.
    """
    (px, py), (nx, ny) = point, inward
    heights = [(x - px) * nx + (y - py) * ny for x, y in ring]
    if min(heights) >= -SAME:
        return tidy(ring) if len(ring) > 2 else []
    out: list[Flat] = []
    for a, b, ha, hb in zip(ring, [*ring[1:], ring[0]], heights, [*heights[1:], heights[0]], strict=True):
        if ha >= -SAME:
            out.append(a)
        if (ha > SAME and hb < -SAME) or (ha < -SAME and hb > SAME):
            k = ha / (ha - hb)
            out.append((a[0] + k * (b[0] - a[0]), a[1] + k * (b[1] - a[1])))
    return tidy(out) if len(out) > 2 else []
