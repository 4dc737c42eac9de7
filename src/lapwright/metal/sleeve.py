"""The sleeve round a pipe: a cylinder, or a cone, cut by the roof plane and unrolled.

   head, square to the axis            unrolled, the seam on the downslope side:
    ______                              ______________________
   |      |                            |                      |seam
   |      |   elements run along       |                      | lap
   |      |   the axis (or to the      |      __----__        |
   |     /    cone's apex)             |  __--        --__    |   curve where it meets the plate
   |   /      roof                     |--________________--__|   tabs, slit at every station
   | /  downslope                         upslope in the middle

Azimuth 0 is upslope, where the sleeve is shortest; pi is downslope, where its seam is.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

from lapwright.detail.model import Pipe
from lapwright.geom.space import Flat, Point, add, scale
from lapwright.metal.develop import CHORD
from lapwright.metal.model import Blank, Body, Curve, Face
from lapwright.metal.work import Work

STATIONS = 16
"""Elements that are marked on a blank, and tabs at its foot. House rule."""

FACETS = 24
"""Flats that a rolled sheet is drawn with in space, and looked at for leaks."""


def ordinates(radius: float, lean: float, stations: int = STATIONS) -> tuple[Flat, ...]:
    """How far each element of a cylinder's cut falls below the upslope one, all round.

    Args:
        radius: Of the cylinder. [in]
        lean: Slope of the cutting plane to the cylinder's square section. [rad]
        stations: Elements round the cylinder, 3 or more.

    Returns:
        Along the girth from the upslope element, and the fall: x = r phi, y = r (1 - cos phi) tan lean. [in]

    Source: geometry.

    >>> [round(y, 3) for _, y in ordinates(2.0, math.atan2(6, 12), 12)[:4]]
    [0.0, 0.134, 0.5, 1.0]
    """
    angles = (2 * math.pi * k / stations for k in range(stations + 1))
    return tuple((radius * a, radius * (1 - math.cos(a)) * math.tan(lean)) for a in angles)


def element(apex: float, half_angle: float, lean: float, azimuth: float) -> float:
    """True length of a cone's element from its apex to the plane that cuts it. [in]

    Args:
        apex: Apex above the plane, along the axis. [in]
        half_angle: Of the cone. [rad]
        lean: Slope of the plane to the cone's square section; tan(half_angle) tan(lean) < 1. [rad]
        azimuth: 0 upslope. [rad]

    Source: geometry.

    >>> round(element(10.0, math.radians(15), math.radians(26.565), 0.0), 4)
    9.1296
    """
    return apex / (math.cos(half_angle) + math.sin(half_angle) * math.tan(lean) * math.cos(azimuth))


@dataclass(frozen=True, slots=True)
class Round:
    """A sleeve's middle surface: half its metal off either face.

    head: radius at its upper end; height: of that end along the axis; half_angle: 0 for a cylinder. [in], [rad]
    """

    head: float
    height: float
    half_angle: float
    lean: float

    @property
    def apex(self) -> float:
        """A cone's apex above the plate, along the axis. [in]"""
        return self.height + self.head / math.tan(self.half_angle)

    def foot(self, azimuth: float) -> tuple[float, float]:
        """Where an element meets the plate: off the axis, and along it. [in]"""
        if self.half_angle == 0.0:
            return self.head, self.head * math.cos(azimuth) * math.tan(self.lean)
        long = element(self.apex, self.half_angle, self.lean, azimuth)
        return long * math.sin(self.half_angle), self.apex - long * math.cos(self.half_angle)

    def length(self, azimuth: float) -> float:
        """Of an element, foot to head. [in]"""
        return (self.height - self.foot(azimuth)[1]) / math.cos(self.half_angle)

    def laid(self, azimuth: float, from_head: float) -> Flat:
        """Where a point of the sleeve comes to lie: pi round to 3 pi runs along u, the head is up. [in]"""
        if self.half_angle == 0.0:
            return (self.head * (azimuth - math.pi), -from_head)
        sector = (azimuth - 2 * math.pi) * math.sin(self.half_angle)
        far = self.head / math.sin(self.half_angle) + from_head
        return (far * math.sin(sector), -far * math.cos(sector))


def round_of(work: Work) -> Round:
    """The sleeve's middle surface. Its inside stands off the pipe by the gap."""
    pipe = _pipe(work)
    head = pipe.diameter / 2 + pipe.gap + work.thickness / 2
    return Round(head, pipe.height, pipe.half_angle, pipe.lean)


def _pipe(work: Work) -> Pipe:
    if work.detail.pipe is None:
        raise ValueError("no pipe was decided for this opening")
    return work.detail.pipe


def sleeve_blank(work: Work) -> Blank:
    """The sleeve unrolled: exact development of its middle surface, seam lap at its right.

    Source: geometry; lap and tabs are house rules.
    """
    m, r = work.measures, round_of(work)
    girth_end = 3 * math.pi
    over = girth_end + m.sleeve_lap / (r.foot(math.pi)[0])

    def rim(azimuth: float) -> Flat:
        return r.laid(azimuth, r.length(azimuth) + m.foot_tab)

    def fold(azimuth: float) -> Flat:
        return r.laid(azimuth, r.length(azimuth))

    def head(azimuth: float) -> Flat:
        return r.laid(azimuth, 0.0)

    stations = [math.pi + 2 * math.pi * k / STATIONS for k in range(STATIONS + 1)]
    lower = smooth(rim, math.pi, over, stations)
    upper = smooth(head, over, math.pi, stations) if r.half_angle else ((head(over), head(math.pi)), None)
    slits = tuple((rim(a), fold(a)) for a in (*stations[1:-1], girth_end))
    curves = [lower[1], smooth(fold, math.pi, girth_end, stations, "fold")[1]] + ([upper[1]] if upper[1] else [])
    return set_down((*lower[0], *upper[0]), slits, curves)


def smooth(
    at: Callable[[float], Flat], start: float, end: float, stations: list[float], role: str = "edge"
) -> tuple[tuple[Flat, ...], Curve]:
    """A curve as a run of points, stations among them, its chord error at most CHORD, and one through exact points.

    Args:
        at: a point of it by its parameter, which runs from start to end.
        stations: parameters whose points are marked; those beyond an end are left out.
        role: "edge" of the blank, or "fold" to scribe on it.
    """
    pieces = STATIONS
    while _sagitta(at, start, end, pieces) > CHORD * 0.9 and pieces < 4096:
        pieces += STATIONS
    even = [start + (end - start) * k / pieces for k in range(pieces + 1)]
    points = tuple(at(a) for a in even)
    low, high = min(start, end), max(start, end)
    here = [a for a in stations if low - 1e-9 <= a <= high + 1e-9]
    curve = Curve(role, points, tuple(slopes(at, start, end, pieces)), tuple(at(a) for a in here))  # type: ignore[arg-type]
    # A slit that starts at a station starts on a corner of the run, not beside its chord.
    own = [a for a in here if min(abs(a - b) for b in even) > 1e-9]
    return tuple(at(a) for a in sorted((*even, *own), reverse=end < start)), curve


def slopes(at: Callable[[float], Flat], start: float, end: float, pieces: int) -> list[Flat]:
    """The curve's direction at each of its points, by piece: a central difference, good to 1e-9 of it."""
    step, tiny = (end - start) / pieces, (end - start) * 1e-5
    out = []
    for k in range(pieces + 1):
        t = start + step * k
        (a, b), (c, d) = at(t - tiny), at(t + tiny)
        out.append(((c - a) / (2 * tiny) * step, (d - b) / (2 * tiny) * step))
    return out


def _sagitta(at: Callable[[float], Flat], start: float, end: float, pieces: int) -> float:
    step, worst = (end - start) / pieces, 0.0
    for k in range(pieces):
        a, b, mid = at(start + step * k), at(start + step * (k + 1)), at(start + step * (k + 0.5))
        worst = max(worst, math.dist(mid, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)))
    return worst


def set_down(
    ring: tuple[Flat, ...], slits: tuple[tuple[Flat, Flat], ...], curves: list[Curve]
) -> Blank:
    """A blank with its least u and v at 0. ring: counter-clockwise, repeated points dropped."""
    ring = tuple(p for i, p in enumerate(ring) if math.dist(p, ring[i - 1]) > 1e-9)
    u, v = min(p[0] for p in ring), min(p[1] for p in ring)

    def home(p: Flat) -> Flat:
        return (p[0] - u, p[1] - v)

    outline = tuple(home(p) for p in ring)
    doubled = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(outline, (*outline[1:], outline[0]), strict=True))
    kept = tuple(
        Curve(c.role, tuple(map(home, c.points)), c.slopes, tuple(map(home, c.stations))) for c in curves
    )
    wide, high = max(p[0] for p in outline), max(p[1] for p in outline)
    return Blank(outline, tuple((home(a), home(b)) for a, b in slits), (), doubled / 2, wide, high, kept)


def spoke(work: Work, off: float, along: float, azimuth: float) -> Point:
    """A place by its distance from the pipe's axis, along it from the roof, and its azimuth. Roof frame. [in]"""
    pipe = _pipe(work)
    (x, y), lean = pipe.centre, pipe.lean
    centre: Point = (x, y, 0.0)
    upslope: Point = (0.0, math.cos(lean), -math.sin(lean))
    axis: Point = (0.0, math.sin(lean), math.cos(lean))
    out = add(scale(upslope, math.cos(azimuth)), (math.sin(azimuth), 0.0, 0.0))
    return add(add(centre, out, off), axis, along)


def azimuths() -> list[float]:
    """Of the facets' edges, from upslope round and back to it. Mirrored it is the same. [rad]"""
    return [2 * math.pi * k / FACETS for k in range(FACETS + 1)]


def sleeve_body(work: Work) -> Body:
    """The sleeve rolled up, in facets: its wall, and its tabs turned out on the plate."""
    r, tab = round_of(work), work.measures.foot_tab
    rows = []
    for a in azimuths():
        foot, head = spoke(work, *r.foot(a), a), spoke(work, r.head, r.height, a)
        away = math.dist(foot[:2], _pipe(work).centre)
        k = 1 + tab / away
        cx, cy = _pipe(work).centre
        rows.append((head, foot, (cx + (foot[0] - cx) * k, cy + (foot[1] - cy) * k, 0.0)))
    faces = []
    for n, ((h0, f0, t0), (h1, f1, t1)) in enumerate(itertools.pairwise(rows), 1):
        faces.append(Face(f"wall {n}", (f0, h0, h1, f1)))
        faces.append(Face(f"tab {n}", (f0, f1, t1, t0)))
    return Body(tuple(faces), (), work.thickness, work.metal, (1.0, 0.0, 0.0), rolled=True)
