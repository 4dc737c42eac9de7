r"""A simple polygon cut into upright bands: exact, band by band, however it turns.

    |  /\  |      |      |     Between two neighbouring stops (a band's side or a corner of the polygon) what lies
    | /  \_|______|___   |     inside is trapezoids, one above the other. Those of one band that share a piece of
    |/     |      |   |  |     an upright line are one part; the shared pieces drop out, and the rest is its rim.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from lapwright.geom import SAME
from lapwright.geom.flat import Polygon
from lapwright.geom.space import Flat

CUT = -1
"""Stands for the band's own side where a rim has no side of the polygon."""

Side = tuple[Flat, Flat, int]
"""A piece of a rim: from, to, and the polygon's side it lies on, or CUT."""


@dataclass(frozen=True, slots=True)
class BandPart:
    """One part of a polygon in one band: its rim, counter-clockwise, without collinear corners of one side."""

    band: int
    rim: tuple[Side, ...]

    @property
    def ring(self) -> tuple[Flat, ...]:
        """Its corners. [in]"""
        return tuple(a for a, _, _ in self.rim)


@dataclass(slots=True)
class _Slab:
    """A trapezoid between two neighbouring stops: the polygon's side under it and the one over it."""

    x: tuple[float, float]
    low: tuple[float, float]
    high: tuple[float, float]
    sides: tuple[int, int]


def cut_in_bands(ring: Polygon, lines: Sequence[float]) -> tuple[BandPart, ...]:
    """Cut a polygon along upright lines.

    Args:
        ring: Simple, counter-clockwise. [in]
        lines: x of the lines, rising; the first lies at or left of the polygon, the last at or right of it. [in]

    Returns:
        Its parts, band by band from the left (band 0 lies between the first two lines), in one band from below.
        Their areas add up to the polygon's.

    Source: trapezoidal decomposition by a sweep (from memory).
    """
    stops = _stops(ring, lines)
    columns = list(_columns(ring, stops))
    walls = [_upright(ring, x) for x in stops]
    out: list[BandPart] = []
    for band in range(len(lines) - 1):
        a, b = bisect_left(stops, lines[band] - SAME), bisect_left(stops, lines[band + 1] - SAME)
        slabs = [s for column in columns[a:b] for s in column]
        if slabs:
            out += _parts(band, slabs, stops[a : b + 1], walls[a : b + 1])
    return tuple(out)


def _stops(ring: Polygon, lines: Iterable[float]) -> list[float]:
    """Every line and every corner's x once; a corner a hair off a line lies on it."""
    kept: list[float] = []
    for x, _ in sorted([(x, 0) for x in lines] + [(p[0], 1) for p in ring]):
        if not kept or x - kept[-1] > SAME:
            kept.append(x)
    return kept


def _columns(ring: Polygon, stops: Sequence[float]) -> Iterable[list[_Slab]]:
    """The trapezoids between every two stops, from below."""
    count = len(ring)
    spans: list[list[int]] = [[] for _ in stops[1:]]
    for i in range(count):
        low, high = sorted((ring[i][0], ring[(i + 1) % count][0]))
        for k in range(bisect_left(stops, low - SAME), bisect_left(stops, high - SAME)):
            spans[k].append(i)
    for k, sides in enumerate(spans):
        x = (stops[k], stops[k + 1])
        rows = []
        for i in sides:
            a, b = _y_at(ring[i], ring[(i + 1) % count], x[0]), _y_at(ring[i], ring[(i + 1) % count], x[1])
            rows.append(((a + b) / 2, a, b, i))
        rows.sort()
        yield [
            _Slab(x, (one[1], one[2]), (other[1], other[2]), (one[3], other[3]))
            for one, other in zip(rows[::2], rows[1::2], strict=True)
        ]


def _y_at(p: Flat, q: Flat, x: float) -> float:
    if abs(x - p[0]) <= SAME:
        return p[1]
    if abs(x - q[0]) <= SAME:
        return q[1]
    return p[1] + (q[1] - p[1]) * (x - p[0]) / (q[0] - p[0])


def _upright(ring: Polygon, x: float) -> list[tuple[float, float, int]]:
    """The polygon's upright sides at a stop: y, y, side."""
    out = []
    for i, p in enumerate(ring):
        q = ring[(i + 1) % len(ring)]
        if abs(p[0] - x) <= SAME and abs(q[0] - x) <= SAME:
            out.append((min(p[1], q[1]), max(p[1], q[1]), i))
    return out


def _parts(
    band: int, slabs: list[_Slab], stops: Sequence[float], walls: Sequence[list[tuple[float, float, int]]]
) -> list[BandPart]:
    groups = _joined(slabs)
    parts = [_rim(band, [slabs[i] for i in group], stops, walls) for group in groups]
    return sorted(parts, key=lambda part: min(p[1] for p in part.ring))


def _joined(slabs: list[_Slab]) -> list[list[int]]:
    """Trapezoids that share a piece of an upright line, as groups."""
    mother = list(range(len(slabs)))

    def root(i: int) -> int:
        while mother[i] != i:
            mother[i] = mother[mother[i]]
            i = mother[i]
        return i

    ends: dict[float, list[int]] = {}
    for i, s in enumerate(slabs):
        ends.setdefault(s.x[1], []).append(i)
    for k, s in enumerate(slabs):
        for i in ends.get(s.x[0], ()):
            if min(slabs[i].high[1], s.high[0]) - max(slabs[i].low[1], s.low[0]) > SAME:
                mother[root(k)] = root(i)
    groups: dict[int, list[int]] = {}
    for i in range(len(slabs)):
        groups.setdefault(root(i), []).append(i)
    return list(groups.values())


def _rim(
    band: int, slabs: list[_Slab], stops: Sequence[float], walls: Sequence[list[tuple[float, float, int]]]
) -> BandPart:
    """The outline of joined trapezoids: undersides to the right, upper sides to the left, ends up and down."""
    runs: list[Side] = []
    for s in slabs:
        runs.append(((s.x[0], s.low[0]), (s.x[1], s.low[1]), s.sides[0]))
        runs.append(((s.x[1], s.high[1]), (s.x[0], s.high[0]), s.sides[1]))
    for x, wall in zip(stops, walls, strict=True):
        lefts = [(s.low[1], s.high[1]) for s in slabs if s.x[1] == x]
        rights = [(s.low[0], s.high[0]) for s in slabs if s.x[0] == x]
        runs += [((x, a), (x, b), i) for a, b, i in _named(_less(lefts, rights), wall)]
        runs += [((x, b), (x, a), i) for a, b, i in _named(_less(rights, lefts), wall)]
    return BandPart(band, tuple(_smooth(_chained([r for r in runs if _long(r)]))))


def _long(run: Side) -> bool:
    (a, b, _) = run
    return abs(a[0] - b[0]) > SAME or abs(a[1] - b[1]) > SAME


def _less(some: list[tuple[float, float]], others: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """What of some spans no other covers."""
    out = some
    for c, d in others:
        out = [r for a, b in out for r in ((a, min(b, c)), (max(a, d), b)) if r[1] - r[0] > SAME]
    return out


def _named(
    spans: list[tuple[float, float]], wall: list[tuple[float, float, int]]
) -> list[tuple[float, float, int]]:
    """Each span by the polygon's upright side it lies on, and CUT for the rest."""
    out = []
    for a, b in spans:
        for c, d, i in wall:
            if min(b, d) - max(a, c) > SAME:
                out.append((max(a, c), min(b, d), i))
        out += [(c, d, CUT) for c, d in _less([(a, b)], [(c, d) for c, d, _ in wall])]
    return out


def _chained(runs: list[Side]) -> list[Side]:
    """The pieces in the order of the rim, from the lowest, then leftmost one that starts there."""
    by_start: dict[tuple[int, int], list[Side]] = {}
    for r in runs:
        by_start.setdefault(_place(r[0]), []).append(r)
    at = min(runs, key=lambda r: (round(r[0][1], 6), r[0][0]))
    out: list[Side] = []
    for _ in runs:
        out.append(at)
        rest = _near(by_start, at[1])
        here = next((r for r in rest if r not in out), None)
        if here is None:
            break
        at = here
    return out


def _place(p: Flat) -> tuple[int, int]:
    return (round(p[0] / (4 * SAME)), round(p[1] / (4 * SAME)))


def _near(by_start: dict[tuple[int, int], list[Side]], p: Flat) -> list[Side]:
    """Pieces that start at a point; the grid's next cells too, where rounding parted them."""
    x, y = _place(p)
    cells = ((x + i, y + j) for i in (0, -1, 1) for j in (0, -1, 1))
    return [r for cell in cells for r in by_start.get(cell, ())]


def _smooth(rim: list[Side]) -> list[Side]:
    """Pieces of one side that follow one another in one direction as one piece."""
    out: list[Side] = []
    for a, b, i in rim:
        if out and out[-1][2] == i and _straight(out[-1][0], a, b):
            out[-1] = (out[-1][0], b, i)
        else:
            out.append((a, b, i))
    if len(out) > 1 and out[0][2] == out[-1][2] and _straight(out[-1][0], out[0][0], out[0][1]):
        out[0] = (out[-1][0], out[0][1], out[0][2])
        out.pop()
    return out


def _straight(a: Flat, b: Flat, c: Flat) -> bool:
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    return ux * vx + uy * vy > 0 and abs(ux * vy - uy * vx) <= SAME * (abs(ux) + abs(uy) + abs(vx) + abs(vy))
