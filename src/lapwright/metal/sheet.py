"""Put a folded piece together, face by face, in roof coordinates.

Corners are mould-line corners on the unpainted surface, found by intersecting planes; the sheet itself
stands on their painted side. Nothing here knows how a blank is laid out: develop.py does that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from lapwright.geom.space import Point, add, cross, distance, dot, sub, unit
from lapwright.metal.bend import allowance, setback
from lapwright.metal.model import Body, Face, Joint, JointKind, Way

Edge = tuple[Point, Point]

CLOSED_HEM_RADIUS = 0.0
"""A hem beaten flat. [in]"""


class NoSharedEdge(ValueError):
    """Two faces that should be joined have no edge in common: our bug."""


@dataclass(frozen=True, slots=True)
class Trim:
    """How a hem ends: `lean` from square in the flat (positive shortens the flap as it goes out). [rad]"""

    lean: float = 0.0


@dataclass(slots=True)
class Sheet:
    """A piece being put together. thickness: coated metal. [in] radius: inside, of ordinary bends. [in]"""

    metal: str
    thickness: float
    radius: float
    faces: list[Face] = field(default_factory=list)
    joints: list[Joint] = field(default_factory=list)
    holes: list[tuple[str, Point, float]] = field(default_factory=list)
    cutouts: list[tuple[str, tuple[Point, ...]]] = field(default_factory=list)

    def face(self, name: str, corners: Sequence[Point]) -> Face:
        """Add a face; corners counter-clockwise seen from the painted side. Repeated corners are dropped."""
        kept = [p for i, p in enumerate(corners) if distance(p, corners[i - 1]) > 1e-9]
        made = Face(name, tuple(kept))
        self.faces.append(made)
        return made

    def root(self, name: str, corners: Sequence[Point], painted: Point) -> Face:
        """Add the face the blank is laid out from; its painted side looks toward `painted`."""
        ring = list(corners)
        return self.face(name, ring if dot(normal(ring), painted) > 0 else ring[::-1])

    def attach(self, parent: str, name: str, corners: Sequence[Point]) -> Joint:
        """Add a face bent on along an edge the parent already has; the painted side carries over the bend.

        Raises:
            NoSharedEdge: they share no edge.
        """
        ring = list(corners)
        known = _sides(self._find(parent).corners)
        if any(_same_run(a, b) for a in known for b in _sides(ring)):
            ring.reverse()
        self.face(name, ring)
        return self.bend(parent, name)

    def bend(self, parent: str, child: str) -> Joint:
        """Join two faces along the edge they share; way and angle follow from their planes.

        Raises:
            NoSharedEdge: they share no edge.
        """
        p, c = self._find(parent), self._find(child)
        a, b = _shared_edge(p, c)
        n_p, n_c = normal(p.corners), normal(c.corners)
        into_child = cross(n_c, unit(sub(a, b)))
        way: Way = "up" if dot(into_child, n_p) > 0 else "down"
        turned = math.degrees(math.acos(max(-1.0, min(1.0, dot(n_p, n_c)))))
        joint = Joint(parent, child, (a, b), (b, a), turned, way, self.radius)
        self.joints.append(joint)
        return joint

    def hem(
        self,
        parent: str,
        name: str,
        edge: tuple[Point, Point],
        depth: float,
        way: Way,
        *,
        gap: float = CLOSED_HEM_RADIUS,
        start: Trim = Trim(),
        end: Trim = Trim(),
    ) -> Joint:
        """Fold `depth` of metal back over (up) or under (down) the parent along one of its edges.

        Args:
            edge: the fold's outermost line, run as the parent's ring runs.
            depth: from that line to the flap's edge. [in]
            gap: clear inside the fold, 0 for a closed hem. [in]
            start, end: how the flap's ends lean in the flat.
        """
        p, q = edge
        n = normal(self._find(parent).corners)
        run = unit(sub(q, p))
        inward = cross(n, run)
        radius = gap / 2
        lift = 2 * (radius + self.thickness) if way == "up" else -2 * radius
        lost = deduction(180.0, radius, self.thickness, way)

        def at(e: float, w: float) -> Point:
            return add(add(add(p, run, e), inward, w), n, lift)

        length = distance(p, q)

        def first(w: float) -> float:
            return (w - lost) * math.tan(start.lean)

        def last(w: float) -> float:
            return length - (w - lost) * math.tan(end.lean)

        ring = [at(last(0), 0), at(first(0), 0), at(first(depth), depth), at(last(depth), depth)]
        self.face(name, ring)
        kind: JointKind = "open-hem" if gap > 0 else "closed-hem"
        joint = Joint(parent, name, edge, (ring[0], ring[1]), 180.0, way, radius, kind)
        self.joints.append(joint)
        return joint

    def edge(self, face: str, p: Point, q: Point) -> Edge:
        """The edge between two corners of a face, run as its ring runs.

        Raises:
            NoSharedEdge: the face has no such edge.
        """
        for side in _sides(self._find(face).corners):
            if _same_run(side, (p, q)) or _same_run(side, (q, p)):
                return side
        raise NoSharedEdge(f"{face} has no edge there")

    def hole(self, face: str, centre: Point, diameter: float) -> None:
        """A round hole in a face. [in]"""
        self.holes.append((face, centre, diameter))

    def body(self, u_axis: Point) -> Body:
        """The finished piece; u_axis gives the blank's long way."""
        kept = tuple(self.faces), tuple(self.joints), self.thickness, self.metal, u_axis
        return Body(*kept, tuple(self.holes), tuple(self.cutouts))

    def setback(self, turned_deg: float, way: Way) -> float:
        """Mould line to tangent line of this sheet's ordinary bend. [in]"""
        return setback(turned_deg, self.radius, self.thickness, way)

    def allowance(self, turned_deg: float) -> float:
        """Metal in this sheet's ordinary bend. [in]"""
        return allowance(turned_deg, self.radius, self.thickness)

    def _find(self, name: str) -> Face:
        return next(f for f in self.faces if f.name == name)


def deduction(angle_deg: float, radius: float, thickness: float, way: Way) -> float:
    """What a bend saves: two setbacks less the allowance. [in]"""
    return 2 * setback(angle_deg, radius, thickness, way) - allowance(angle_deg, radius, thickness)


def normal(corners: Sequence[Point]) -> Point:
    """Unit normal of a flat ring, out of its painted side (Newell's sum, from memory)."""
    total: Point = (0.0, 0.0, 0.0)
    origin = corners[0]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        total = add(total, cross(sub(a, origin), sub(b, origin)))
    return unit(total)


def _shared_edge(p: Face, c: Face) -> Edge:
    for a, b in _sides(p.corners):
        if any(_same_run((a, b), (e, d)) for d, e in _sides(c.corners)):
            return a, b
    raise NoSharedEdge(f"{p.name} and {c.name} share no edge")


def _sides(corners: Sequence[Point]) -> list[Edge]:
    return list(zip(corners, [*corners[1:], corners[0]], strict=True))


def _same_run(a: Edge, b: Edge) -> bool:
    return distance(a[0], b[0]) < 1e-7 and distance(a[1], b[1]) < 1e-7
