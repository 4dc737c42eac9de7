"""One developed piece with crossing bends, in all its positions, seen along each of its lines."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

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
from lapwright.shop.bending.partial import places_at


class Room:
    """The piece, its lines, and where its flat parts lie when some bends are done."""

    def __init__(self, flat: Developed) -> None:
        self.flat = flat
        self.lines = lines_of(flat)
        self.needs = laps_on(flat)
        self.points = points_of(flat)
        self.faces = tuple(r.face for r in flat.regions)

    def is_hem(self, line: Line) -> bool:
        """Is it folded, then closed?"""
        return self.flat.bends[line.bends[0]].kind != "bend"


def between(cloud: Cloud, low: float, high: float) -> Cloud:
    """The points that lie between two places along the line. [in]"""
    return cloud[(cloud[:, 2] > low) & (cloud[:, 2] < high)]


class View:
    """The piece as one line sees it: rows of (out from the line, up, along it from its start). [in]

    Up is the side to which the bend goes; the line itself is still flat.
    """

    def __init__(self, room: Room, line: Line) -> None:
        self.room, self.line = room, line
        self.paths = paths_from(room.flat, line)
        self.shared = shared_with(room.flat, line)
        self.parted = parted_by(room.flat, line)
        self._clouds: dict[tuple[str, int], Cloud] = {}

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

    def parts(self, done: int, free: bool) -> Iterator[tuple[str, int]]:
        """The flat parts of one side, each with the bends done that say where it lies."""
        for face in self.room.faces:
            if (face in self.line.free) == free:
                yield face, done & self.paths[face]

    def cloud(self, face: str, config: int) -> Cloud:
        """One flat part as the line sees it, with these bends done."""
        key = (face, config)
        if key not in self._clouds:
            self._clouds[key] = self._look(face, config)
        return self._clouds[key]

    def _look(self, face: str, done: int) -> Cloud:
        flat, line = self.room.flat, self.line
        half = flat.thickness / 2
        place = places_at(flat, [b.angle_deg if done >> k & 1 else 0.0 for k, b in enumerate(flat.bends)])
        at, f = place[line.face_free if face in line.free else line.face_held], place[face]
        up = 1.0 if flat.bends[line.bends[0]].way == "up" else -1.0
        ex, ey, ez = np.array(at.ex), np.array(at.ey), np.array(at.ez)
        run = ex * line.run[0] + ey * line.run[1]
        out = ex * line.out[0] + ey * line.out[1]
        basis = np.column_stack([out, up * ez, run])
        origin = np.subtract(f.space((0.0, 0.0), half), at.space(line.start, half)) @ basis
        seen: Cloud = origin + self.room.points[face] @ (np.array([f.ex, f.ey]) @ basis)
        return seen
