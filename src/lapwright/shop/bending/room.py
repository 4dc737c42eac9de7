"""One developed piece with crossing bends, in all its positions, seen along each of its lines."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import reduce
from operator import or_

import numpy as np

from lapwright.geom.space import Frame, add, dot, scale, sub
from lapwright.metal.develop import Developed
from lapwright.shop.bending.blank_lines import (
    Cloud,
    Line,
    laps_on,
    lines_of,
    parted_by,
    paths_from,
    points_of,
    shared_with,
)
from lapwright.shop.bending.partial import rolled


class Room:
    """The piece, its lines, and where its flat parts lie when some bends are done."""

    def __init__(self, flat: Developed) -> None:
        self.flat = flat
        self.lines = lines_of(flat)
        self.needs = laps_on(flat)
        self.points = points_of(flat)
        self.faces = tuple(r.face for r in flat.regions)
        self._joined = {z.child: (i, z) for i, z in enumerate(flat.zones)}
        root = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
        self._places: dict[tuple[str, int], Frame] = {(flat.regions[0].face, 0): root}
        self._above = {self.faces[0]: 0}
        for i, z in enumerate(flat.zones):
            self._above[z.child] = self._above[z.parent] | 1 << i

    def place(self, face: str, done: int) -> Frame:
        """Where a flat lies with these bends done, the root's in the plane z = 0."""
        key = (face, done & self._above[face])
        if key not in self._places:
            i, z = self._joined[face]
            parent = self.place(z.parent, done)
            turned = done >> i & 1
            self._places[key] = rolled(parent, z, z.angle_deg, self.flat.thickness) if turned else parent
        return self._places[key]

    def is_hem(self, line: Line) -> bool:
        """Is it folded, then closed?"""
        return self.flat.bends[line.bends[0]].kind != "bend"


class Part:
    """One flat part as a line sees it: rows of (out from the line, up, along it), and their extremes. [in]"""

    __slots__ = ("cloud", "high", "in_", "low", "out")

    def __init__(self, cloud: Cloud) -> None:
        self.cloud = cloud
        least, most = ([math.inf] * 3, [-math.inf] * 3) if not len(cloud) else (cloud.min(axis=0), cloud.max(axis=0))
        self.in_, self.low = float(least[0]), float(least[1])
        self.out, self.high = float(most[0]), float(most[1])


def between(cloud: Cloud, low: float, high: float) -> Cloud:
    """The points that lie between two places along the line. [in]"""
    return cloud[(cloud[:, 2] > low) & (cloud[:, 2] < high)]


def subsets(bits: int) -> Iterator[int]:
    """Every choice of some of these bits, all of them first, none of them last."""
    some = bits
    while True:
        yield some
        if not some:
            return
        some = (some - 1) & bits


class View:
    """The piece as one line sees it: rows of (out from the line, up, along it from its start). [in]

    Up is the side to which the bend goes; the line itself is still flat. bits: of the bends that matter to it.
    """

    def __init__(self, room: Room, line: Line) -> None:
        self.room, self.line = room, line
        self.paths = paths_from(room.flat, line)
        self.shared = shared_with(room.flat, line)
        self.parted = parted_by(room.flat, line)
        self.bits = reduce(or_, (*self.paths.values(), *self.shared), self.parted)
        self._sides = [[(f, self.paths[f]) for f in room.faces if (f in line.free) == side] for side in (False, True)]
        self._bits = [reduce(or_, (path for _, path in side), 0) for side in self._sides]
        self._seen: dict[tuple[str, int], Part] = {}

    def shares_line(self, done: int) -> bool:
        """Would other metal bend with it now?"""
        return bool(self.parted & done) or any(not bits & done for bits in self.shared)

    def needs(self) -> int:
        """Bits of bends that must be done before: laps, and metal that only one bend takes out of the line."""
        line, bits = self.line, 0
        for i in line.bends:
            # A tab folded in one stroke with the side that it laps on only slides along it later.
            if not self.room.needs[i] & line.bits:
                bits |= self.room.needs[i]
        return bits & ~line.bits

    def side(self, done: int, free: bool) -> int:
        """What of these bends says where the parts of one side lie: an answer about that side is kept by it."""
        return done & self._bits[free]

    def parts(self, done: int, free: bool) -> list[tuple[str, int]]:
        """The flat parts of one side, each with the bends done that say where it lies."""
        return [(face, done & path) for face, path in self._sides[free]]

    def part(self, face: str, config: int) -> Part:
        """One flat part as the line sees it, with these bends done."""
        key = (face, config)
        if key not in self._seen:
            self._seen[key] = Part(self._look(face, config))
        return self._seen[key]

    def _look(self, face: str, done: int) -> Cloud:
        flat, line = self.room.flat, self.line
        half = flat.thickness / 2
        at = self.room.place(line.face_free if face in line.free else line.face_held, done)
        f = self.room.place(face, done)
        run = add(scale(at.ex, line.run[0]), at.ey, line.run[1])
        out = add(scale(at.ex, line.out[0]), at.ey, line.out[1])
        up = at.ez if flat.bends[line.bends[0]].way == "up" else scale(at.ez, -1.0)
        off = sub(f.space((0.0, 0.0), half), at.space(line.start, half))
        origin, ex, ey = ([dot(v, axis) for axis in (out, up, run)] for v in (off, f.ex, f.ey))
        seen: Cloud = self.room.points[face] @ np.array([ex, ey]) + origin
        return seen
