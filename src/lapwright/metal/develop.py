"""Unfold a body into its flat blank, and fold a blank back into space.

develop: each face is cut back to its bends' tangent lines, laid down beside its parent with the
         bend's metal between them, and the rim is walked once round.
fold:    each flat is rolled about its bend's axis from the flat numbers alone; its mould-line corners
         then have to land on the corners that the planes gave.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from lapwright.geom.flat import along, crossing, heading, minus, signed_area, tidy, turn
from lapwright.geom.space import Flat, Frame, Point, add, cross, dot, scale, sub, unit
from lapwright.metal.bend import allowance, setback
from lapwright.metal.model import Bend, Blank, Body, Face, Joint, Way
from lapwright.metal.sheet import normal

CHORD = 0.001
"""Greatest distance of a hole's polygon from its circle. [in]"""

NICK = 0.0625
"""A slit shorter than this is a nick of the snips and is not drawn. House rule. [in]"""

NEARLY_STRAIGHT = math.cos(math.radians(15))
"""Cosine of the turn below which two edges, only one of them bent, meet in a jog. House rule."""


@dataclass(frozen=True, slots=True)
class Region:
    """A flat of the blank between tangent lines, in blank coordinates.

    joints[i]: index of the joint on the edge from ring[i] to ring[i+1], or None where the edge is free.
    mould: where the face's mould-line corners come to lie in the flat (they overrun the bend zones).
    """

    face: str
    ring: tuple[Flat, ...]
    joints: tuple[int | None, ...]
    mould: tuple[Flat, ...]


@dataclass(frozen=True, slots=True)
class Zone:
    """A bend between two regions: its tangent lines, both run as on the parent. `metal`: its allowance. [in]"""

    parent: str
    child: str
    near: tuple[Flat, Flat]
    far: tuple[Flat, Flat]
    metal: float
    angle_deg: float
    radius: float
    way: Way


@dataclass(frozen=True, slots=True)
class Developed:
    """A blank with what is needed to fold it back. root: where the blank's plane lies when folded."""

    blank: Blank
    bends: tuple[Bend, ...]
    regions: tuple[Region, ...]
    zones: tuple[Zone, ...]
    root: Frame
    thickness: float


@lru_cache(maxsize=1024)
def develop(body: Body) -> Developed:
    """Lay the folded piece out flat.

    Args:
        body: folded piece; faces joined as a tree, faces[0] the root.

    Returns:
        The blank with least u and v at 0, bends in tree order numbered as `bend_order` says, regions.

    Source: geometry; bend metal A (r + K t) as in bend.py.
    """
    normals = {f.name: normal(f.corners) for f in body.faces}
    root_face = body.faces[0]
    ez = normals[root_face.name]
    ex = unit(sub(body.u_axis, scale(ez, dot(body.u_axis, ez))))
    root = Frame(root_face.corners[0], ex, cross(ez, ex))
    frames = {root_face.name: root}
    metal = [allowance(j.angle_deg, j.radius, body.thickness) for j in body.joints]
    back = [setback(j.angle_deg, j.radius, body.thickness, j.way) for j in body.joints]
    for j, m, s in zip(body.joints, metal, back, strict=True):
        frames[j.child] = _lay_beside(frames[j.parent], j, m, s, normals)
    flats = {f.name: _region(f, frames[f.name], body.joints, back) for f in body.faces}
    rim, slits = part_slits(_walk(root_face.name, None, flats, body.joints))
    least_u, least_v = min(p[0] for p in rim), min(p[1] for p in rim)

    def home(p: Flat) -> Flat:
        return (p[0] - least_u, p[1] - least_v)

    outline = tuple(home(p) for p in rim)
    holes = tuple(_circle(home(frames[face].flat(centre)), diameter / 2) for face, centre, diameter in body.holes)
    holes += tuple(tuple(home(frames[face].flat(p)) for p in ring) for face, ring in body.cutouts)
    area = signed_area(outline) - sum(signed_area(h) for h in holes)
    blank = Blank(
        outline,
        tuple((home(a), home(b)) for a, b in slits),
        holes,
        area,
        max(p[0] for p in outline),
        max(p[1] for p in outline),
    )
    regions = tuple(
        Region(n, tuple(map(home, r.ring)), r.joints, tuple(map(home, r.mould))) for n, r in flats.items()
    )
    by_name = {r.face: r for r in regions}
    zones, lines = [], []
    for i, (j, m) in enumerate(zip(body.joints, metal, strict=True)):
        a, b = _edge_of(by_name[j.parent], i)
        d, c = _edge_of(by_name[j.child], i)
        zones.append(Zone(j.parent, j.child, (a, b), (c, d), m, j.angle_deg, j.radius, j.way))
        lines.append((_half_way(a, c), _half_way(b, d)))
    order = bend_order(body)
    bends = tuple(
        Bend(f"{j.parent}/{j.child}", s, e, j.angle_deg, j.radius, j.way, order[i], j.kind)
        for i, (j, (s, e)) in enumerate(zip(body.joints, lines, strict=True))
    )
    shifted = Frame(root.space((least_u, least_v)), root.ex, root.ey)
    return Developed(blank, bends, regions, tuple(zones), shifted, body.thickness)


def bend_order(body: Body) -> list[int]:
    """Number the bends from 1: hems, then outermost bends, then those nearer the root.

    House rule: a hem is folded while the sheet is still flat, and a tab before the face that carries it.
    """
    depth = {body.faces[0].name: 0}
    for j in body.joints:
        depth[j.child] = depth[j.parent] + 1
    ranked = sorted(
        range(len(body.joints)),
        key=lambda i: (body.joints[i].kind == "bend", -depth[body.joints[i].child], i),
    )
    order = [0] * len(ranked)
    for n, i in enumerate(ranked, start=1):
        order[i] = n
    return order


def fold(flat: Developed) -> dict[str, tuple[Point, ...]]:
    """Fold a blank back: the mould-line corners of every face, in space.

    Uses only flat numbers (regions, tangent lines, angles, radii, the root's place), never the body.
    """
    place = places(flat)
    return {r.face: tuple(map(place[r.face].space, r.mould)) for r in flat.regions}


def places(flat: Developed) -> dict[str, Frame]:
    """Where each flat's sheet lies in space once every bend is made: blank coordinates to roof coordinates."""
    place: dict[str, Frame] = {flat.regions[0].face: flat.root}
    for z in flat.zones:
        place[z.child] = _roll(place[z.parent], z, flat.thickness)
    return place


def _lay_beside(parent: Frame, j: Joint, metal: float, back: float, normals: dict[str, Point]) -> Frame:
    """The child's frame: maps the child's points in space to where they lie in the flat."""
    p, q = j.edge
    run = unit(sub(q, p))
    n_p, n_c = normals[j.parent], normals[j.child]
    into_parent = cross(n_p, run)
    into_child = cross(n_c, scale(run, -1.0))
    gap = sub(j.child_edge[0], p)
    p_child = add(p, sub(gap, scale(run, dot(gap, run))))
    at_parent = parent.flat(add(p, into_parent, back))
    e = (dot(run, parent.ex), dot(run, parent.ey))
    out = (e[1], -e[0])
    target = along(at_parent, out, metal)
    # The child's sheet turned flat: run stays along e, into_child lies along `out`.
    ex = add(scale(run, e[0]), into_child, out[0])
    ey = add(scale(run, e[1]), into_child, out[1])
    held = add(p_child, into_child, back)
    origin = add(add(held, ex, -target[0]), ey, -target[1])
    return Frame(origin, ex, ey)


def _region(face: Face, frame: Frame, joints: tuple[Joint, ...], back: list[float]) -> Region:
    ring = [frame.flat(c) for c in face.corners]
    labels: list[int | None] = [None] * len(ring)
    for i, j in enumerate(joints):
        if face.name in (j.parent, j.child):
            edge = j.edge if face.name == j.parent else j.child_edge
            labels[_edge_index(ring, frame.flat(edge[0]), frame.flat(edge[1]))] = i
    corners = _inset(ring, [0.0 if i is None else back[i] for i in labels])
    points: list[Flat] = []
    kept: list[int | None] = []
    for k, corner in enumerate(corners):
        for n, p in enumerate(corner):
            points.append(p)
            kept.append(labels[k] if n == len(corner) - 1 else None)
    return Region(face.name, tuple(points), tuple(kept), tuple(ring))


def _edge_index(ring: list[Flat], a: Flat, b: Flat) -> int:
    for i, p in enumerate(ring):
        q = ring[(i + 1) % len(ring)]
        if math.dist(p, a) < 1e-6 and math.dist(q, b) < 1e-6:
            return i
    raise ValueError("a joint that lies on no edge of its face")


def _inset(ring: tuple[Flat, ...] | list[Flat], offsets: list[float]) -> list[list[Flat]]:
    """Move edge i inward by offsets[i]; a corner between unequal edges that run nearly straight is a jog.

    Their lines would cross far off: 0.05 of setback at half a degree of turn is a spike 6 long.
    """
    keep = [i for i in range(len(ring)) if math.dist(ring[i], ring[(i + 1) % len(ring)]) > 1e-9]
    points = [ring[i] for i in keep]
    moved = [offsets[i] for i in keep]
    n = len(points)
    runs = [heading(points[i], points[(i + 1) % n]) for i in range(n)]
    made: list[list[Flat]] = []
    for i in range(n):
        before, after = runs[i - 1], runs[i]
        a = along(points[i], (-before[1], before[0]), moved[i - 1])
        b = along(points[i], (-after[1], after[0]), moved[i])
        jogged = moved[i - 1] != moved[i] and before[0] * after[0] + before[1] * after[1] > NEARLY_STRAIGHT
        cut = None if jogged or abs(turn(before, after)) <= 1e-9 else crossing(a, before, b, after)
        if cut is not None:
            made.append([cut])
        else:
            made.append([a] if math.dist(a, b) < 1e-12 else [a, b])
    if n == len(ring):
        return made
    out: list[list[Flat]] = [[] for _ in ring]
    for i, corner in zip(keep, made, strict=True):
        out[i] = corner
    return out


def _walk(name: str, entry: int | None, flats: dict[str, Region], joints: tuple[Joint, ...]) -> list[Flat]:
    """The rim from a face's entry edge round to it again, going into every child on the way."""
    region = flats[name]
    n = len(region.ring)
    start = 0 if entry is None else region.joints.index(entry) + 1
    out: list[Flat] = []
    for k in range(n):
        i = (start + k) % n
        out.append(region.ring[i])
        label = region.joints[i]
        if label is not None and label != entry:
            out.extend(_walk(joints[label].child, label, flats, joints))
    return out


def part_slits(rim: list[Flat]) -> tuple[list[Flat], list[tuple[Flat, Flat]]]:
    """Part a rim that runs back on itself into a simple outline and slits of no width."""
    ring = [p for i, p in enumerate(rim) if math.dist(p, rim[i - 1]) > 1e-7]
    slits: list[tuple[Flat, Flat]] = []
    i = 0
    since = 0
    while since < len(ring) and len(ring) > 3:
        i %= len(ring)
        a, b, c = ring[i - 1], ring[i], ring[(i + 1) % len(ring)]
        in_, out = minus(b, a), minus(c, b)
        reversed_ = in_[0] * out[0] + in_[1] * out[1] < 0
        level = 1e-7 * max(math.hypot(*in_), math.hypot(*out), 1.0)
        if reversed_ and abs(turn(in_, out)) <= level:
            shorter = a if math.hypot(*in_) <= math.hypot(*out) else c
            slits.append((shorter, b))
            ring.pop(i)
            if math.dist(a, c) < 1e-7:
                ring.pop(i % len(ring))
            i = max(i - 1, 0)
            since = 0
        else:
            i += 1
            since += 1
    return tidy(ring, 1e-9), [s for s in _join(slits) if math.dist(*s) > NICK]


def _join(slits: list[tuple[Flat, Flat]]) -> list[tuple[Flat, Flat]]:
    """Join slits that follow each other in a straight line."""
    out: list[tuple[Flat, Flat]] = []
    for a, b in slits:
        if out:
            c, d = out[-1]
            if math.dist(b, c) < 1e-7 and abs(turn(minus(b, a), minus(d, c))) < 1e-7:
                out[-1] = (a, d)
                continue
        out.append((a, b))
    return out


def _edge_of(region: Region, joint: int) -> tuple[Flat, Flat]:
    i = region.joints.index(joint)
    return region.ring[i], region.ring[(i + 1) % len(region.ring)]


def _half_way(a: Flat, b: Flat) -> Flat:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _circle(centre: Flat, radius: float) -> tuple[Flat, ...]:
    sides = max(12, math.ceil(math.pi / math.acos(1 - min(CHORD, radius / 2) / radius)))
    return tuple(
        along(centre, (math.cos(2 * math.pi * k / sides), math.sin(2 * math.pi * k / sides)), radius)
        for k in range(sides)
    )


def _roll(parent: Frame, z: Zone, thickness: float) -> Frame:
    """Where the child's flat lands when its bend is rolled up.

    The axis lies r above the painted face (up) or r below the unpainted one (down), over the near tangent.
    """
    a, b = z.near
    run2 = heading(a, b)
    out2 = (run2[1], -run2[0])
    run = add(scale(parent.ex, run2[0]), parent.ey, run2[1])
    out = add(scale(parent.ex, out2[0]), parent.ey, out2[1])
    sign = 1.0 if z.way == "up" else -1.0
    height = z.radius + thickness if z.way == "up" else -z.radius
    axis = parent.space(a, height)
    angle = math.radians(z.angle_deg) * sign
    cos, sin = math.cos(angle), math.sin(angle)
    ez = parent.ez

    def turned(v: Point) -> Point:
        """A vector of the flat sheet, rolled about `run` so that `out` rises toward ez for positive angles."""
        r, o, h = dot(v, run), dot(v, out), dot(v, ez)
        rolled = add(scale(out, o * cos - h * sin), ez, o * sin + h * cos)
        return add(rolled, run, r)

    flat_origin = add(parent.origin, out, -z.metal)
    origin = add(axis, turned(sub(flat_origin, axis)))
    return Frame(origin, turned(parent.ex), turned(parent.ey))
