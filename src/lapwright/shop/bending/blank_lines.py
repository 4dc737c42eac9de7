"""The bend lines of a blank: what lies on both sides of each, and what has to come before what.

    free side  (moves)       heading: from the held side to the free side
    -----------line----------
    held side                a line shared with other metal runs on past its ends through metal that would bend too
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import Polygon

from lapwright.geom.flat import heading
from lapwright.geom.space import Flat, Frame, dot, sub
from lapwright.metal.develop import Developed
from lapwright.shop.bending.partial import places_at

Cloud = NDArray[np.floating[Any]]
"""Rows of points. [in]"""

PITCH, GRID = 0.5, 1.5
"""Distance of the points that stand for a face, along its rim and over it. [in]"""

PAST_END = 0.1
"""Metal this far past the end of a line, and this far to both sides of it, is other metal. House rule. [in]"""

IN_LINE = 0.05
"""Bend lines this near to one line are folded in one stroke. House rule. [in]"""

LAPS = 6.0
"""A face laps on another of the same piece when their planes lie within this many thicknesses. House rule."""

LAP_AREA = 0.02
"""Less common area than this is no lap. House rule. [in2]"""


@dataclass(frozen=True)
class Line:
    """A bend, or bends in one line, seen from one side. start to end runs so that the free side lies to the right.

    bends: indices. spans: where along the line they lie, from start. [in]  free: faces that move; held: the others.
    face_free, face_held: those next to the (first) bend.
    """

    bends: tuple[int, ...]
    start: Flat
    end: Flat
    spans: tuple[tuple[float, float], ...]
    free: frozenset[str]
    held: frozenset[str]
    face_free: str
    face_held: str

    @cached_property
    def bits(self) -> int:
        """Its bends as bits."""
        return sum(1 << i for i in self.bends)

    @cached_property
    def length(self) -> float:
        """From the first bend's start to the last one's end. [in]"""
        return math.dist(self.start, self.end)

    @cached_property
    def run(self) -> Flat:
        """Unit vector along it."""
        return heading(self.start, self.end)

    @cached_property
    def out(self) -> Flat:
        """Unit vector from the held side to the free side."""
        return (self.run[1], -self.run[0])

    @cached_property
    def heading_deg(self) -> int:
        """Where the free side lies, in whole degrees."""
        return round(math.degrees(math.atan2(self.out[1], self.out[0]))) % 360


def lines_of(flat: Developed) -> list[Line]:
    """Every bend from both sides (the child moving, the parent moving), and bends in one line together."""
    children: dict[str, list[int]] = {}
    for i, z in enumerate(flat.zones):
        children.setdefault(z.parent, []).append(i)

    def below(face: str) -> frozenset[str]:
        out = {face}
        for i in children.get(face, []):
            out |= below(flat.zones[i].child)
        return frozenset(out)

    every = frozenset(r.face for r in flat.regions)
    lines: list[Line] = []
    singles: list[Line] = []
    for i, z in enumerate(flat.zones):
        a, b = flat.bends[i].start, flat.bends[i].end
        part, span = below(z.child), ((0.0, math.dist(a, b)),)
        singles.append(Line((i,), a, b, span, part, every - part, z.child, z.parent))
        lines += [singles[-1], Line((i,), b, a, span, every - part, part, z.parent, z.child)]
    return [*_in_one_line(flat, singles), *lines]


def _in_one_line(flat: Developed, singles: list[Line]) -> list[Line]:
    """Bends that one stroke of a folder makes together: one line on the blank, one way, one angle."""
    out: list[Line] = []
    used: set[int] = set()
    for k, first in enumerate(singles):
        if k in used:
            continue
        group = [first] + [other for other in singles[k + 1 :] if _continues(flat, first, other)]
        used |= {g.bends[0] for g in group}
        if len(group) > 1:
            out.append(_joined(group))
    return out


def _continues(flat: Developed, a: Line, b: Line) -> bool:
    p, q = flat.bends[a.bends[0]], flat.bends[b.bends[0]]
    if p.way != q.way or p.kind != q.kind or abs(p.angle_deg - q.angle_deg) > 0.5 or a.heading_deg != b.heading_deg:
        return False
    if any(abs((e[0] - a.start[0]) * a.out[0] + (e[1] - a.start[1]) * a.out[1]) > IN_LINE for e in (b.start, b.end)):
        return False
    return not a.free & b.free


def _joined(group: list[Line]) -> Line:
    first = group[0]

    def at(p: Flat) -> float:
        return (p[0] - first.start[0]) * first.run[0] + (p[1] - first.start[1]) * first.run[1]

    group = sorted(group, key=lambda g: at(g.start))
    low, high = at(group[0].start), max(at(g.end) for g in group)
    start, end = ((first.start[0] + k * first.run[0], first.start[1] + k * first.run[1]) for k in (low, high))
    spans = tuple((at(g.start) - low, at(g.end) - low) for g in group)
    free = frozenset().union(*(g.free for g in group))
    held = frozenset.intersection(*(g.held for g in group))
    return Line(
        tuple(g.bends[0] for g in group), start, end, spans, free, held, group[0].face_free, group[0].face_held
    )


def points_of(flat: Developed) -> dict[str, Cloud]:
    """Each flat as points in the blank: its rim, and a grid over it."""
    return {r.face: _points(list(r.ring)) for r in flat.regions}


def _points(ring: list[Flat]) -> Cloud:
    rim = []
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        n = max(4, math.ceil(math.dist(a, b) / PITCH))
        k = np.arange(n)[:, None] / n
        rim.append(np.array(a) + k * np.subtract(b, a))
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    gx, gy = np.meshgrid(np.arange(min(xs), max(xs), GRID), np.arange(min(ys), max(ys), GRID))
    grid = np.column_stack([gx.ravel(), gy.ravel()])
    within = np.zeros(len(grid), dtype=bool)
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if y0 != y1:
            spans = (y0 > grid[:, 1]) != (y1 > grid[:, 1])
            within ^= spans & (grid[:, 0] < x0 + (grid[:, 1] - y0) * (x1 - x0) / (y1 - y0))
    return np.vstack([*rim, grid[within]])


def shared_with(flat: Developed, line: Line) -> list[int]:
    """What other metal lies in a line, run on past its bends: for each, the bits of the bends that part the two.

    Such metal bends too unless one of those bends has been made and has taken it out of the line. No bits: it
    always does.
    """
    parent = {z.child: (z.parent, i) for i, z in enumerate(flat.zones)}
    out: list[int] = []
    for region in flat.regions:
        if _crosses(region.ring, line):
            paths = [_path(parent, region.face, f) for f in (line.face_held, line.face_free)]
            out.append(min(paths, key=int.bit_count) & ~line.bits)
    for i, b in enumerate(flat.bends):
        if i not in line.bends and _lies_in(b.start, b.end, line):
            out.append(_path(parent, flat.zones[i].parent, line.face_held) & ~line.bits | 1 << i)
    return out


def paths_from(flat: Developed, line: Line) -> dict[str, int]:
    """For each face, the bits of the bends that say where it lies as the line sees it."""
    parent = {z.child: (z.parent, i) for i, z in enumerate(flat.zones)}
    return {
        r.face: _path(parent, r.face, line.face_free if r.face in line.free else line.face_held) & ~line.bits
        for r in flat.regions
    }


def parted_by(flat: Developed, line: Line) -> int:
    """Bits of the bends that take the bends of one stroke out of one line."""
    parent = {z.child: (z.parent, i) for i, z in enumerate(flat.zones)}
    bits = 0
    for i in line.bends[1:]:
        bits |= _path(parent, flat.zones[i].parent, line.face_held)
    return bits & ~line.bits


def _crosses(ring: tuple[Flat, ...], line: Line) -> bool:
    """Does a face have metal on both sides of the line, past its bends?"""
    near = [_seen(p, line) for p in ring]
    if min(p[0] for p in near) > -PAST_END or max(p[0] for p in near) < PAST_END:
        return False
    beside = [_lengths_at(near, x) for x in (-PAST_END, 0.0, PAST_END)]
    free = [(-math.inf, line.spans[0][0] - PAST_END)]
    free += [(a[1] + PAST_END, b[0] - PAST_END) for a, b in zip(line.spans, line.spans[1:], strict=False)]
    free += [(line.spans[-1][1] + PAST_END, math.inf)]
    return any(
        min(high, *(q[1] for q in trio)) - max(low, *(q[0] for q in trio)) > 1e-6
        for low, high in free
        for trio in product(*beside)
    )


def _lengths_at(ring: list[Flat], x: float) -> list[tuple[float, float]]:
    cuts = []
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (a[0] > x) != (b[0] > x):
            cuts.append(a[1] + (x - a[0]) * (b[1] - a[1]) / (b[0] - a[0]))
    cuts.sort()
    return list(zip(cuts[::2], cuts[1::2], strict=False))


def _lies_in(start: Flat, end: Flat, line: Line) -> bool:
    """Does another bend line lie in this one, past its bends?"""
    a, b = _seen(start, line), _seen(end, line)
    return max(abs(a[0]), abs(b[0])) < PAST_END


def _seen(p: Flat, line: Line) -> Flat:
    """A point of the blank: out from the line, and along it. [in]"""
    dx, dy = p[0] - line.start[0], p[1] - line.start[1]
    return (dx * line.out[0] + dy * line.out[1], dx * line.run[0] + dy * line.run[1])


def laps_on(flat: Developed) -> list[int]:
    """For each bend, the bits of the bends that must come first because its face laps on another of the piece.

    A tab that comes to lie on a neighbouring side is turned after both sides stand.
    Source: house rule.
    """
    place = places_at(flat, [b.angle_deg for b in flat.bends])
    parent = {z.child: (z.parent, i) for i, z in enumerate(flat.zones)}
    needs = [0] * len(flat.bends)
    for i, z in enumerate(flat.zones):
        if flat.bends[i].kind != "bend":
            continue
        for other in flat.regions:
            if other.face in (z.child, z.parent) or parent.get(other.face, ("", 0))[0] == z.child:
                continue
            own = next(r.ring for r in flat.regions if r.face == z.child)
            ring = other.ring
            if Polygon(own).area < Polygon(ring).area and _laps(
                place[z.child], own, place[other.face], ring, flat.thickness
            ):
                needs[i] |= _path(parent, z.parent, other.face)
    return needs


def _laps(a: Frame, own: tuple[Flat, ...], b: Frame, other: tuple[Flat, ...], thickness: float) -> bool:
    if abs(dot(a.ez, b.ez)) < math.cos(math.radians(5.0)):
        return False
    if abs(dot(sub(a.space(own[0]), b.origin), b.ez)) > LAPS * thickness:
        return False
    shadow = Polygon([b.flat(a.space(p)) for p in own])
    return bool(shadow.is_valid and shadow.intersection(Polygon(other).buffer(0)).area > LAP_AREA)


def _path(parent: dict[str, tuple[str, int]], a: str, b: str) -> int:
    """Bits of the bends between two faces."""

    def up(face: str) -> dict[str, int]:
        out, bits = {face: 0}, 0
        while face in parent:
            face, i = parent[face]
            bits |= 1 << i
            out[face] = bits
        return out

    first, second = up(a), up(b)
    joint = next(f for f in first if f in second)
    return first[joint] | second[joint]
