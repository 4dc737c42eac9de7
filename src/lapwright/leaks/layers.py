"""The assembly as layers: every sheet's faces in place, and at every free edge what lies over and under it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from lapwright.geom.space import Point, add, cross, dot, scale, sub, unit
from lapwright.leaks.rays import LEAST, Facet, Facets, Met
from lapwright.metal.model import Body
from lapwright.metal.sheet import normal

STEP = 0.5
"""Edges are looked at every so far. House rule. [in]"""

NUDGE = 0.04
"""Looked at this far inside the edge, so that the sheet itself is there. [in]"""

STANDS = 0.3
"""Cosine to the wall's direction, or to square from the roof, under which a sheet stands. House rule."""

ROOFED = 0.25
"""A standing edge counts as roofed over when a sheet lies above a place this far in front of it. [in]"""

UP_THE_SLOPE: Point = (0.0, 1.0, 0.0)

NOTHING: tuple[None, float] = (None, 0.0)
"""What a ray that meets no sheet has met."""

REACH = 2.6
"""Two sheets further apart than this, square to the roof, make no gap that holds water. House rule. [in]"""

RAISED = 0.6
"""Over taller ribs the reach is their height and this much more. House rule. [in]"""

FLOOR = 12.0
"""The sheet in front of a standing edge is looked for this far down. House rule. [in]"""


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
            for name, rim in body.cutouts:
                if name == f.name and not sheet.endswith("base-plate"):
                    self.edges += _cut_edges(sheet, tuple(add(p, moved) for p in rim), n)
            for name, centre, across in body.holes:
                if name == f.name:
                    self.pierce(Facet(sheet, ring, n), add(centre, moved), across)

    def pierce(self, f: Facet, centre: Point, across: float) -> None:
        """Put a round hole into a facet; its edge is looked at across the middle. [in]"""
        run = unit(cross(UP_THE_SLOPE, f.normal))
        ends = [add(centre, run, side * across / 2) for side in (-1.0, 1.0)]
        self.edges.append(Edge(f.sheet, ends[0], ends[1], cross(f.normal, run), f.normal, hole=True))


def _cut_edges(sheet: str, rim: tuple[Point, ...], n: Point) -> Iterator[Edge]:
    """The edge of a hole cut in a flat: a ring counter-clockwise as seen from the paint, its metal outside."""
    for a, b in zip(rim, (*rim[1:], rim[0]), strict=True):
        yield Edge(sheet, a, b, scale(cross(n, unit(sub(b, a))), -1.0), n)


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


class Sight(NamedTuple):
    """One place on an edge: what lies over it and under it there (names of sheets, None for nothing).

    steep: does the sheet stand there?
    gap: how far below the edge the sheet under it lies, 0 where there is none. [in]
    over_out, under_out: the same just beyond an edge that is covered.
    floor: how far below a standing edge the sheet in front of it lies, None where there is none. [in]
    """

    edge: Edge
    at: Point
    steep: bool
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


def look(assembly: Assembly, plumb: Point, hooks: Sequence[str] = (), ribs: float = 0.0) -> Iterator[Sight]:
    """Look over and under every edge, and just beyond it where it is covered, every STEP along it.

    Args:
        plumb: up the opening's walls; what stands along it is a standing sheet, the rest lies.
        hooks: sheets that a hem may be hooked on; a hem whose flap reaches under one is `hooked`.
        ribs: height of the ribs that sheets may be raised on, and turned up against. [in]

    Source: ray against plane polygon, crossing number; numpy over all rays at once.
    """
    places = [(e, p) for e in assembly.edges for p in _along(e)]
    if not places:
        return
    eye = _Eye(assembly, plumb, places, max(REACH, ribs + RAISED))
    every = list(range(len(places)))
    over, under = eye.over(every, NUDGE), eye.under(every, NUDGE)
    over_out, under_out = (cast(list(over), -NUDGE) for cast in (eye.over, eye.under))
    caught, floor = eye.caught(hooks), eye.floor()
    sheets = [[met.get(i, NOTHING)[0] for i in every] for met in (over, under, caught, over_out, under_out)]
    gaps = [under.get(i, NOTHING)[1] for i in every]
    floors = [floor[i][1] if i in floor else None for i in every]
    rows = zip(places, *sheets, gaps, floors, strict=True)
    for (e, p), above, below, hook, above_out, below_out, gap, low in rows:
        yield Sight(e, p, eye.stands[e.normal], above, below, gap, hook, above_out, below_out, low)


class _Eye:
    """Looks from one place on each edge after the other; what is met by the number of the place."""

    def __init__(self, assembly: Assembly, plumb: Point, places: Sequence[tuple[Edge, Point]], reach: float) -> None:
        import numpy as np

        self.edges = [e for e, _ in places]
        self.places = np.array([p for _, p in places])
        self.inward = np.array([e.inward for e in self.edges])
        self.square = np.array([e.normal for e in self.edges])
        self.facets = Facets(assembly.facets, assembly.ranks)
        self.flat = np.array([lies(f.normal, plumb) for f in assembly.facets], dtype=bool)
        self.own = self.facets.number([e.sheet for e in self.edges])
        self.plumb = np.array(plumb)
        self.stands = {n: not lies(n, plumb) for n in {e.normal for e in self.edges}}
        self.standing = [i for i, e in enumerate(self.edges) if self.stands[e.normal]]
        # Lying sheets are looked at along the walls, so that a wall leaning over them is not taken for a cover.
        self.ray = np.copysign(1.0, self.square @ self.plumb)[:, None] * self.plumb
        self.ray[self.standing] = self.square[self.standing]
        # Along a leaning wall it is further from sheet to sheet than square to the roof.
        self.upright = reach / plumb[2]
        self.reach = np.full(len(places), self.upright)
        self.reach[self.standing] = reach

    def over(self, which: Sequence[int], inside: float) -> dict[int, Met]:
        """The sheets over some places, so far inside their edges. [in]"""
        found = self._cast(which, self.places + inside * self.inward, self.ray, self.reach, beside=1)
        # A standing edge may be roofed over without a sheet beside it.
        alone = self._alone(which, found)
        start = self.places + inside * self.inward + ROOFED * self.ray
        return self._cast(alone, start, self._upright(1.0), self.upright, self.flat) | found

    def under(self, which: Sequence[int], inside: float) -> dict[int, Met]:
        """The sheets under some places, and how far under. [in]"""
        found = self._cast(which, self.places + inside * self.inward, -self.ray, self.reach, beside=-1)
        # A standing edge may stand over a sheet without one beside it.
        alone = self._alone(which, found)
        start = self.places + inside * self.inward - NUDGE * self.ray
        floored = self._cast(alone, start, self._upright(-1.0), self.upright, self.flat)
        return {i: (sheet, 0.0) for i, (sheet, _) in floored.items()} | found

    def caught(self, hooks: Sequence[str]) -> dict[int, Met]:
        """The sheets that the flaps of hems reach under."""
        import numpy as np

        hemmed = [i for i, e in enumerate(self.edges) if e.hem is not None]
        reach = np.array([[0.0 if e.hem is None else e.hem[1] - NUDGE] for e in self.edges])
        lips = np.array([sheet in set(hooks) for sheet in self.facets.sheets], dtype=bool)
        return self._cast(hemmed, self.places + reach * self.inward, -self.square, REACH, lips)

    def floor(self) -> dict[int, Met]:
        """How far below each standing edge the lying sheet in front of it is, its own included. [in]"""
        start = self.places + ROOFED * self.ray
        return self._cast(self.standing, start, self._upright(-1.0), FLOOR, self.flat, others=False)

    def _alone(self, which: Sequence[int], found: dict[int, Met]) -> list[int]:
        asked = set(which)
        return [i for i in self.standing if i in asked and i not in found]

    def _upright(self, way: float) -> Any:
        """Rays up (1) or down (-1) the walls."""
        import numpy as np

        return np.tile(way * self.plumb, (len(self.edges), 1))

    def _cast(
        self,
        which: Sequence[int],
        start: Any,
        ray: Any,
        far: Any,
        only: Any = None,
        beside: int = 0,
        others: bool = True,
    ) -> dict[int, Met]:
        """What is met from some places. others: a ray does not meet the sheet it starts from."""
        import numpy as np

        own = self.own[which] if others else np.full(len(which), -1)
        reach = np.broadcast_to(far, len(self.edges))[which]
        found = self.facets.nearest(start[which], ray[which], own, reach, only, beside)
        return {i: met for i, met in zip(which, found, strict=True) if met is not None}


def _along(e: Edge) -> Iterator[Point]:
    length = math.dist(e.start, e.end)
    count = max(1, math.ceil(length / STEP))
    for k in range(count):
        share = (k + 0.5) / count
        yield add(e.start, sub(e.end, e.start), share)
