"""The assembly as layers: every sheet's faces in place, and at every free edge what lies over and under it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from lapwright.geom.space import Point, add, cross, dot, scale, sub, unit
from lapwright.metal.model import Body
from lapwright.metal.sheet import normal

STEP = 0.5
"""Edges are looked at every so far. House rule. [in]"""

NUDGE = 0.04
"""Looked at this far inside the edge, so that the sheet itself is there. [in]"""

TOUCH = 0.012
"""Sheets nearer than this lie in one plane: their order says which is over. [in]"""

STANDS = 0.3
"""Cosine to the wall's direction, or to square from the roof, under which a sheet stands. House rule."""

ROOFED = 0.25
"""A standing edge counts as roofed over when a sheet lies above a place this far in front of it. [in]"""

LEAST = 1e-6
"""Edges shorter than this are points. [in]"""

UP_THE_SLOPE: Point = (0.0, 1.0, 0.0)

REACH = 2.6
"""Two sheets further apart than this make no gap that holds water. House rule. [in]"""

FLOOR = 12.0
"""The sheet in front of a standing edge is looked for this far down. House rule. [in]"""


@dataclass(frozen=True, slots=True)
class Facet:
    """A flat part of a sheet in place: its ring, its normal out of the paint, which sheet it is of."""

    sheet: str
    ring: tuple[Point, ...]
    normal: Point


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge water can pass: free metal, the fold of a hem, or a hole. inward: unit, into the sheet."""

    sheet: str
    start: Point
    end: Point
    inward: Point
    normal: Point
    hem: tuple[Point, float] | None = None
    hole: bool = False


@dataclass(slots=True)
class Assembly:
    """Everything in place round one opening.

    ranks: which sheet lies over which where two stand in one plane; a higher rank lies over.
    """

    facets: list[Facet] = field(default_factory=list)
    edges: list[Edge] = field(default_factory=list)
    ranks: dict[str, float] = field(default_factory=dict)

    def lay(self, sheet: str, body: Body, moved: Point, skip: Sequence[tuple[Point, Point]] = ()) -> None:
        """Add a folded sheet, moved to its place; edges lying along a `skip` segment are no edges."""
        flaps = {j.child for j in body.joints if j.kind != "bend"}
        for f in body.faces:
            if f.name in flaps:
                continue
            ring = tuple(add(p, moved) for p in f.corners)
            if _flat_out(ring):
                continue
            n = normal(ring)
            self.facets.append(Facet(sheet, ring, n))
            bends = [
                (add(a, moved), add(b, moved))
                for j in body.joints
                if j.kind == "bend" and f.name in (j.parent, j.child)
                for a, b in (j.edge,)
            ]
            hems = [
                (add(j.edge[0], moved), add(j.edge[1], moved), _depth(body, j.child, j.edge))
                for j in body.joints
                if j.kind != "bend" and j.parent == f.name
            ]
            for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
                if math.dist(a, b) < LEAST or any(_on(a, b, s) for s in (*bends, *skip)):
                    continue
                inward = cross(n, unit(sub(b, a)))
                depth = next((d for p, q, d in hems if _on(a, b, (p, q))), None)
                self.edges.append(Edge(sheet, a, b, inward, n, None if depth is None else (inward, depth)))
            for name, centre, across in body.holes:
                if name == f.name:
                    self.pierce(Facet(sheet, ring, n), add(centre, moved), across)

    def pierce(self, f: Facet, centre: Point, across: float) -> None:
        """Put a round hole into a facet; its edge is looked at across the middle. [in]"""
        run = unit(cross(UP_THE_SLOPE, f.normal))
        ends = [add(centre, run, side * across / 2) for side in (-1.0, 1.0)]
        self.edges.append(Edge(f.sheet, ends[0], ends[1], cross(f.normal, run), f.normal, hole=True))


def _flat_out(ring: Sequence[Point]) -> bool:
    """Is a ring no more than a line?"""
    doubled = (0.0, 0.0, 0.0)
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        doubled = add(doubled, cross(sub(a, ring[0]), sub(b, ring[0])))
    return dot(doubled, doubled) < LEAST


def _depth(body: Body, child: str, edge: tuple[Point, Point]) -> float:
    """How far a hem's flap reaches back from its fold. [in]"""
    run = unit(sub(edge[1], edge[0]))
    out = 0.0
    for p in body.face(child).corners:
        d = sub(p, edge[0])
        across = sub(d, scale(run, dot(d, run)))
        out = max(out, math.sqrt(dot(across, across)))
    return out


def _on(a: Point, b: Point, segment: tuple[Point, Point]) -> bool:
    """Does the edge a-b lie along a segment (within it)?"""
    p, q = segment
    length = math.dist(p, q)
    if length < 1e-9:
        return False
    run = scale(sub(q, p), 1.0 / length)
    for x in (a, b):
        d = sub(x, p)
        along = dot(d, run)
        off = math.dist(d, scale(run, along))
        if off > 0.02 or along < -0.02 or along > length + 0.02:
            return False
    return True


@dataclass(frozen=True, slots=True)
class Sight:
    """One place on an edge: what lies over it and under it there (names of sheets, None for nothing).

    gap: how far below the edge the sheet under it lies, 0 where there is none. [in]
    over_out, under_out: the same just beyond the edge.
    floor: how far below a standing edge the sheet in front of it lies, None where there is none. [in]
    """

    edge: Edge
    at: Point
    over: str | None
    under: str | None
    gap: float
    hooked: str | None
    over_out: str | None = None
    under_out: str | None = None
    floor: float | None = None


def lies(n: Point, plumb: Point) -> bool:
    """Does a sheet with this normal lie (on the roof or on a cricket), rather than stand?"""
    return min(abs(dot(n, plumb)), abs(n[2])) > STANDS


def height(f: Facet, x: float, y: float) -> float:
    """How far off the deck a facet's plane is at a place of the roof. [in]"""
    p, n = f.ring[0], f.normal
    return p[2] - (n[0] * (x - p[0]) + n[1] * (y - p[1])) / n[2]


def within(ring: Sequence[Point], x: float, y: float) -> bool:
    """Is a place of the roof inside a ring, seen square to the roof? Crossing number. [in]"""
    inside = False
    for (x0, y0, _), (x1, y1, _) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y0 > y) != (y1 > y) and x < (x1 - x0) * (y - y0) / (y1 - y0) + x0:
            inside = not inside
    return inside


def look(assembly: Assembly, plumb: Point, hooks: Sequence[str] = ()) -> Iterator[Sight]:
    """Look over and under every edge, and just beyond it, every STEP along it.

    Args:
        plumb: up the opening's walls; what stands along it is a standing sheet, the rest lies.
        hooks: sheets that a hem may be hooked on; a hem whose flap reaches under one is `hooked`.

    Source: ray against plane polygon, crossing number; numpy over all rays at once.
    """
    import numpy as np

    places = [(e, p) for e in assembly.edges for p in _along(e)]
    if not places:
        return
    square = np.array([e.normal for e, _ in places])
    stands = [not lies(e.normal, plumb) for e, _ in places]
    # Lying sheets are looked at along the walls, so that a wall leaning over them is not taken for a cover.
    upward = square @ np.array(plumb)
    ray = np.where(np.array(stands)[:, None], square, np.copysign(1.0, upward)[:, None] * np.array(plumb))
    seen = Looker(assembly, plumb, ray, [e.sheet for e, _ in places], stands)
    over, under, gaps = seen.at(np.array([add(p, e.inward, NUDGE) for e, p in places]))
    over_out, under_out, _ = seen.at(np.array([add(p, e.inward, -NUDGE) for e, p in places]))
    tips = np.array([add(p, e.inward, e.hem[1] - NUDGE) if e.hem else p for e, p in places])
    own = [e.sheet for e, _ in places]
    caught = _nearest([f for f in assembly.facets if f.sheet in set(hooks)], tips, -square, own)[0]
    floor = seen.floor(np.array([p for _, p in places]))
    rows = zip(places, over, under, gaps, over_out, under_out, caught, floor, strict=True)
    for (e, p), a, b, g, c, d, h, low in rows:
        yield Sight(e, p, a, b, 0.0 if b is None else float(g), h if e.hem else None, c, d, low)


class Looker:
    """Casts rays from many places at once, along each place's own normal."""

    def __init__(self, assembly: Assembly, plumb: Point, ray: Any, own: list[str], stands: list[bool]) -> None:
        self.facets, self.ray, self.own, self.stands = assembly.facets, ray, own, stands
        self.flat = [f for f in assembly.facets if lies(f.normal, plumb)]
        self.rank, self.plumb = assembly.ranks, plumb

    def at(self, start: Any) -> tuple[list[str | None], list[str | None], Any]:
        """The sheets over and under each place, and how far under the lower one lies. [in]"""
        import numpy as np

        rank = self.rank
        over, _ = _nearest(self.facets, start, self.ray, self.own, lambda a, b: rank.get(a, 0) > rank.get(b, 0))
        under, gaps = _nearest(self.facets, start, -self.ray, self.own, lambda a, b: rank.get(a, 0) < rank.get(b, 0))
        # A standing edge may be roofed over, or stand over a sheet, without one beside it.
        up = np.tile(np.array(self.plumb), (len(start), 1))
        roofed, _ = _nearest(self.flat, start + self.ray * ROOFED, up, self.own)
        floored, _ = _nearest(self.flat, start - self.ray * NUDGE, -up, self.own)
        for i, standing in enumerate(self.stands):
            if standing:
                over[i] = over[i] or roofed[i]
                if under[i] is None and floored[i] is not None:
                    under[i], gaps[i] = floored[i], 0.0
        return over, under, gaps

    def floor(self, start: Any) -> list[float | None]:
        """How far below each standing edge the lying sheet in front of it is, its own included; else None. [in]"""
        import numpy as np

        down = np.tile(-np.array(self.plumb), (len(start), 1))
        nobody = [""] * len(start)
        found, depth = _nearest(self.flat, start + self.ray * ROOFED, down, nobody, far=FLOOR)
        rows = zip(self.stands, found, depth, strict=True)
        return [float(d) if standing and f is not None else None for standing, f, d in rows]


def _along(e: Edge) -> Iterator[Point]:
    length = math.dist(e.start, e.end)
    count = max(1, math.ceil(length / STEP))
    for k in range(count):
        share = (k + 0.5) / count
        yield add(e.start, sub(e.end, e.start), share)


def _nearest(
    facets: Sequence[Facet],
    start: Any,
    ray: Any,
    own: list[str],
    touching: Callable[[str, str], bool] | None = None,
    far: float = REACH,
) -> tuple[list[str | None], Any]:
    """The first other sheet each ray meets within `far`, or None; and how far off it is.

    touching(a, own): may a sheet in the same plane count? Without it, such a sheet is not met.
    """
    import numpy as np

    best = np.full(len(start), far)
    found: list[str | None] = [None] * len(start)
    for f in facets:
        n = np.array(f.normal)
        slope = ray @ n
        with np.errstate(divide="ignore", invalid="ignore"):
            t = ((np.array(f.ring[0]) - start) @ n) / slope
        near = -TOUCH if touching is not None else 1e-6
        # Of two in one plane the first laid counts, so that a sheet on a wall is met before the wall.
        idx = np.nonzero((np.abs(slope) > 1e-6) & (t > near) & (t < best - LEAST))[0]
        if not len(idx):
            continue
        hit = start[idx] + ray[idx] * t[idx, None]
        for i in idx[_inside(np.array(f.ring), n, hit)]:
            beside = touching is not None and touching(f.sheet, own[i])
            if own[i] != f.sheet and (t[i] > TOUCH or beside):
                best[i], found[i] = t[i], f.sheet
    return found, best


def _inside(ring: Any, n: Any, hit: Any) -> Any:
    """Crossing-number test in the plane's two larger directions.

    A place on a left or a right side is inside, so that a mirrored roof sees mirrored sheets.
    """
    import numpy as np

    drop = int(np.argmax(np.abs(n)))
    keep = [k for k in range(3) if k != drop]
    r, p = ring[:, keep], hit[:, keep]
    inside = np.zeros((2, len(p)), dtype=bool)
    for (x0, y0), (x1, y1) in zip(r, np.roll(r, -1, axis=0), strict=True):
        if y0 == y1:
            continue
        between = (y0 > p[:, 1]) != (y1 > p[:, 1])
        side = (x1 - x0) * (p[:, 1] - y0) / (y1 - y0) + x0
        inside[0] ^= between & (p[:, 0] < side - LEAST)
        inside[1] ^= between & (p[:, 0] < side + LEAST)
    return inside[0] | inside[1]
