"""Triangles for a folded sheet: every flat and every bend zone a closed solid.

Vertices in the sheet's own coordinates. [in]
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lapwright.geom.space import Flat, Point, add
from lapwright.metal.solid import Folded

Triangle = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Mesh:
    """Vertices and triangles, outward faces counter-clockwise."""

    vertices: tuple[Point, ...]
    triangles: tuple[Triangle, ...]


def mesh_of(sheet: Folded) -> Mesh:
    """One mesh for a whole folded sheet: a closed solid per flat and per bend zone, side by side."""
    parts = [prism(f.ring, f.under, f.over) for f in sheet.flats]
    parts += [_ladder(r.under, r.over) for r in sheet.rolls]
    return joined(parts)


def moved(mesh: Mesh, by: Point) -> Mesh:
    """The same mesh somewhere else. [in]"""
    return Mesh(tuple(add(p, by) for p in mesh.vertices), mesh.triangles)


def joined(parts: Sequence[Mesh]) -> Mesh:
    """Several meshes as one."""
    vertices: list[Point] = []
    triangles: list[Triangle] = []
    for m in parts:
        at = len(vertices)
        vertices += m.vertices
        triangles += [(a + at, b + at, c + at) for a, b, c in m.triangles]
    return Mesh(tuple(vertices), tuple(triangles))


def prism(ring: Sequence[Flat], under: Sequence[Point], over: Sequence[Point]) -> Mesh:
    """The solid between two like rings; `ring` is their plan, counter-clockwise seen from `over`."""
    n = len(ring)
    caps = fill(ring)
    triangles = [(c, b, a) for a, b, c in caps]
    triangles += [(a + n, b + n, c + n) for a, b, c in caps]
    for i in range(n):
        k = (i + 1) % n
        triangles += [(i, k, k + n), (i, k + n, i + n)]
    return Mesh((*under, *over), tuple(triangles))


def slab(ring: Sequence[Flat], low: float = 0.0, high: float = 0.05) -> Mesh:
    """A level plate between two heights. [in]"""
    return prism(ring, [(x, y, low) for x, y in ring], [(x, y, high) for x, y in ring])


def fill(ring: Sequence[Flat]) -> list[Triangle]:
    """Triangles that fill a simple ring, by its own corners only (constrained Delaunay, by GEOS)."""
    from shapely import Polygon, constrained_delaunay_triangles

    where = {p: i for i, p in enumerate(ring)}
    out: list[Triangle] = []
    for t in constrained_delaunay_triangles(Polygon(ring)).geoms:
        a, b, c = (where[p] for p in list(t.exterior.coords)[:3])
        p, q, r = ring[a], ring[b], ring[c]
        turned = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
        out.append((a, b, c) if turned > 0 else (a, c, b))
    return sorted(out)


def _ladder(under: Sequence[tuple[Point, Point]], over: Sequence[tuple[Point, Point]]) -> Mesh:
    """The solid between two ladders of rungs, one above the other."""
    vertices: list[Point] = []
    for (a, b), (c, d) in zip(under, over, strict=True):
        vertices += [a, b, d, c]
    triangles: list[Triangle] = []
    for i in range(len(under) - 1):
        p, q = 4 * i, 4 * i + 4
        for j in range(4):
            k = (j + 1) % 4
            triangles += [(p + j, p + k, q + k), (p + j, q + k, q + j)]
    last = 4 * (len(under) - 1)
    triangles += [(0, 2, 1), (0, 3, 2), (last, last + 1, last + 2), (last, last + 2, last + 3)]
    return Mesh(tuple(vertices), tuple(triangles))
