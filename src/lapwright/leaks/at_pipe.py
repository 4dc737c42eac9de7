"""A pipe in the leak audit: its walls as flats, the plate's rim under the sleeve's foot, what is no way in."""

from __future__ import annotations

import math
from itertools import pairwise

from lapwright.detail.model import Part, Pipe
from lapwright.geom.space import Plane, Point, add, cross, dot, sub, unit
from lapwright.leaks.layers import Assembly, Edge
from lapwright.metal.model import Body
from lapwright.metal.sheet import normal
from lapwright.metal.sleeve import azimuths, round_of, spoke
from lapwright.metal.work import Work

BELOW = 1.0
"""A pipe is looked at from this far under the deck. [in]"""

UNDER_FOOT = 0.1
"""The plate's rim counts from this far outside the sleeve's wall, under its tabs. House rule. [in]"""

MOUTH = 0.02
"""Edges this near the plate's downslope edge are a hood's open mouth, which the rib fills. [in]"""

Ring = tuple[tuple[Point, ...], Point]


def pipe_walls(work: Work) -> list[Ring]:
    """The pipe's own outside, in flats, with their normals."""
    pipe = _pipe(work)
    out = []
    for a, b in pairwise(azimuths()):
        ends = [(a, 0.0), (b, 0.0), (b, 1.0), (a, 1.0)]
        ring = tuple(
            spoke(work, pipe.diameter / 2, -BELOW + k * (work.opening.height + BELOW), t) for t, k in ends
        )
        out.append((ring[::-1], normal(ring[::-1])))
    return [(ring, _outward(work, ring, n)) for ring, n in out]


def pipe_faces(work: Work) -> tuple[Plane, ...]:
    """Planes along the pipe through the sleeve's foot, facing out: what lies behind all of them is in the sleeve."""
    lean, r = _pipe(work).lean, round_of(work)
    axis: Point = (0.0, math.sin(lean), math.cos(lean))
    feet = [spoke(work, *r.foot(a), a) for a in azimuths()]
    out = []
    for p, q in pairwise(feet):
        n = unit(cross(unit(sub(q, p)), axis))
        out.append(Plane(p, _outward(work, (p,), n)))
    return tuple(out)


def no_way_in(work: Work, part: Part, body: Body, moved: Point) -> tuple[tuple[Point, Point], ...]:
    """Edges of a piece that water cannot use: seams of a rolled sheet, its end under the collar, and a hood's
    mouth, which the rib fills.

    A seam of a sleeve and a slit at its foot are sealed or soldered with its tabs.
    """
    if part.kind == "sleeve":
        return tuple(
            (add(a, moved), add(b, moved))
            for f in body.faces
            for a, b in _sides(f.corners)
            if not f.name.startswith("tab") or not _is_rim(work, a, b)
        )
    if part.kind == "rib-hood":
        low = work.pan.downslope
        return tuple(
            (add(a, moved), add(b, moved))
            for f in body.faces
            for a, b in _sides(f.corners)
            if max(abs(a[1] - low), abs(b[1] - low)) < MOUTH or not f.name.endswith("flange")
        )
    return ()


def _is_rim(work: Work, a: Point, b: Point) -> bool:
    """Is an edge of a tab its outer one? It runs round the pipe, further off than the foot."""
    x, y = _pipe(work).centre
    least = work.measures.foot_tab / 2
    return all(math.hypot(p[0] - x, p[1] - y) - _foot_at(work, p) > least for p in (a, b))


def _foot_at(work: Work, p: Point) -> float:
    """How far from the axis, in the roof, the sleeve's foot lies toward a place. [in]"""
    x, y = _pipe(work).centre
    lean = _pipe(work).lean
    azimuth = math.atan2(p[0] - x, (p[1] - y) * math.cos(lean))
    f = spoke(work, *round_of(work).foot(azimuth), azimuth)
    return math.hypot(f[0] - x, f[1] - y)


def lay_hole(built: Assembly, work: Work, sheet: str, moved: Point) -> None:
    """The rim of a plate's hole, or of a half's, looked at under the sleeve's tabs: what gets there is past it."""
    x, y = _pipe(work).centre
    ring = []
    for a in azimuths():
        f = spoke(work, *round_of(work).foot(a), a)
        k = 1 + UNDER_FOOT / math.hypot(f[0] - x, f[1] - y)
        ring.append(add((x + (f[0] - x) * k, y + (f[1] - y) * k, 0.0), moved))
    half = {"downslope": -1.0, "upslope": 1.0}.get(sheet.rpartition("-")[2])
    for p, q in pairwise(ring):
        if half is not None and (p[1] + q[1] - 2 * y - 2 * moved[1]) * half < 0:
            continue
        inward = unit(cross((0.0, 0.0, 1.0), unit(sub(q, p))))
        if dot(inward, sub(p, add((x, y, 0.0), moved))) < 0:
            inward = (-inward[0], -inward[1], -inward[2])
        built.edges.append(Edge(sheet, p, q, inward, (0.0, 0.0, 1.0)))


def _pipe(work: Work) -> Pipe:
    if work.detail.pipe is None:
        raise ValueError("no pipe was decided for this opening")
    return work.detail.pipe


def _outward(work: Work, ring: tuple[Point, ...], n: Point) -> Point:
    """The normal, away from the pipe's axis."""
    pipe = _pipe(work)
    centre: Point = (pipe.centre[0], pipe.centre[1], 0.0)
    axis: Point = (0.0, math.sin(pipe.lean), math.cos(pipe.lean))
    off = sub(ring[0], centre)
    off = add(off, axis, -dot(off, axis))
    return n if dot(n, off) > 0 else (-n[0], -n[1], -n[2])


def _sides(ring: tuple[Point, ...]) -> list[tuple[Point, Point]]:
    return list(zip(ring, (*ring[1:], ring[0]), strict=True))
