"""Where words stand on a blank's cutting file: along what they name, crossing no cut, no bend, no other words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from lapwright.draw.display import oriented
from lapwright.draw.features import Window, read_hole
from lapwright.geom import SAME
from lapwright.geom.clip import Line, holds, overlap
from lapwright.geom.flat import extent
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank

HEIGHTS = (0.5, 0.375, 0.25, 0.1875, 0.125, 0.09, 0.0625, 0.045, 0.03)
"""Heights of letters that are tried, the largest first. [in]"""
LARGEST_NOTE = 0.25
"""Of the words at a bend. [in]"""
WIDE = 1.0
"""Width of a letter over its height in the plainest CAD face, from memory; a wider one than most."""
AIR = 0.4
"""Clear space between letters and lines, over their height."""
SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92)
"""Places along a line that are tried."""
ROWS, COLUMNS = 9, 11
"""Places over a blank that are tried for its id."""

Place = tuple[Flat, float, float]
"""Middle of the words [in], their height [in], how they are turned [deg]."""


class Writing:
    """Finds places for words on one blank, each clear of every line and of the words before. [in]"""

    def __init__(self, blank: Blank, bends: Iterable[Bend], marks: Iterable[Line] = ()) -> None:
        self.blank = blank
        lines = [*_cut_lines(blank), *((b.start, b.end) for b in bends), *marks]
        self.lines = [(line, extent(line)) for line in lines]
        self.taken: list[tuple[tuple[Flat, ...], Window]] = []

    def beside(self, line: Line, said: str) -> Place:
        """Words along a line, on the metal beside it; small ones past its end where there is no such room."""
        return self._first(_beside(line), said) or self._past(line, said)

    def over(self, said: str) -> Place:
        """Words as near the middle of the blank as there is room."""
        return self._first(_over(self.blank, len(said)), said) or ((-1.0, 0.0), HEIGHTS[-1], 90.0)

    def _first(self, places: Iterable[Place], said: str) -> Place | None:
        for at, height, turned in places:
            if not holds(self.blank.outline, at):
                continue
            # A box that no outline passes lies wholly on the metal, or off it, with its middle.
            box = _box(at, height, turned, len(said))
            if self._clear(box):
                return self._take((at, height, turned), box)
        return None

    def _past(self, line: Line, said: str) -> Place:
        """Off the metal, level with one end of the line, further out until nothing is in the way."""
        (a, b), height = line, HEIGHTS[4]
        turned = _angle(a, b)
        reach = len(said) * WIDE * height / 2 + height
        run = (math.cos(math.radians(turned)), math.sin(math.radians(turned)))
        for n in range(400):
            away = reach + n * height
            for end, sign in ((max(a, b), 1.0), (min(a, b), -1.0)):
                at = (end[0] + sign * away * run[0], end[1] + sign * away * run[1])
                box = _box(at, height, turned, len(said))
                if self._clear(box) and not holds(self.blank.outline, at):
                    return self._take((at, height, turned), box)
        raise ValueError("words found no place within fifty inches of a line")

    def _take(self, place: Place, box: tuple[Flat, ...]) -> Place:
        self.taken.append((box, extent(box)))
        return place

    def _clear(self, box: tuple[Flat, ...]) -> bool:
        low_u, low_v, high_u, high_v = extent(box)
        level = min(abs(box[1][0] - box[0][0]), abs(box[1][1] - box[0][1])) < SAME
        for shape, (u0, v0, u1, v1) in (*self.lines, *self.taken):
            if u0 < high_u and u1 > low_u and v0 < high_v and v1 > low_v:
                upright = level and len(shape) == 2 and (u1 - u0 < SAME or v1 - v0 < SAME)
                if upright or overlap(shape, box):
                    return False
        return True


def _cut_lines(blank: Blank) -> Iterator[Line]:
    yield from zip(blank.outline, [*blank.outline[1:], blank.outline[0]], strict=True)
    yield from blank.cuts
    for hole in map(read_hole, blank.holes):
        ring: Sequence[Flat] = hole.ring
        if hole.diameter is not None:
            (u, v), r = hole.centre, hole.diameter / 2
            ring = ((u - r, v - r), (u + r, v - r), (u + r, v + r), (u - r, v + r))
        yield from zip(ring, [*ring[1:], ring[0]], strict=True)


def _angle(a: Flat, b: Flat) -> float:
    """How words along a line are turned, so that they read from below or from the right. [deg]"""
    turned = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    return turned - 180.0 if turned > 90.0 + 1e-9 else turned + 180.0 if turned <= -90.0 + 1e-9 else turned


def _beside(line: Line) -> Iterator[Place]:
    a, b = line
    turned = _angle(a, b)
    across = (-math.sin(math.radians(turned)), math.cos(math.radians(turned)))
    for height in (h for h in HEIGHTS if h <= LARGEST_NOTE):
        off = height * (0.5 + AIR) + 0.01
        for share in SHARES:
            middle = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
            for side in (off, -off):
                yield (middle[0] + side * across[0], middle[1] + side * across[1]), height, turned


def _over(blank: Blank, letters: int) -> Iterator[Place]:
    """Places for an id, large letters first, near the middle first; along the blank's longer side first."""
    grid = [((i + 0.5) / COLUMNS - 0.5, (j + 0.5) / ROWS - 0.5) for j in range(ROWS) for i in range(COLUMNS)]
    grid.sort(key=lambda p: (abs(p[0]) + abs(p[1]), p))
    wide, high = blank.width, blank.height
    turns = (0.0, 90.0) if wide >= high else (90.0, 0.0)
    for height in HEIGHTS:
        for turned in turns:
            long, tall = letters * WIDE * height, height * (1.0 + AIR)
            needs = (long, tall) if turned == 0.0 else (tall, long)
            room = (0.5 - needs[0] / wide / 2, 0.5 - needs[1] / high / 2)
            for u, v in grid:
                if abs(u) <= room[0] and abs(v) <= room[1]:
                    yield ((u + 0.5) * wide, (v + 0.5) * high), height, turned


def _box(at: Flat, height: float, turned: float, letters: int) -> tuple[Flat, ...]:
    half = max(letters, 1) * WIDE * height / 2
    return oriented(at, turned, -half, half, height * (0.5 + AIR / 2))
