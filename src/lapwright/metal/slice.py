"""Cut folded metal with a plane: what a saw would show.

A flat leaves straight runs, a bend its arc, cut rung by rung; both as the middle of the sheet. The mould
lines of a body are cut the same way: those give figures, the folded sheet gives the picture.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from lapwright.geom.space import Flat, Point, X, Y, Z, add, cross, dot, scale, sub
from lapwright.metal.model import Body
from lapwright.metal.solid import Folded

ON = 1e-9
"""A corner this near the plane counts as before it, so that an edge in the plane is not cut twice. [in]"""
JOINED = 1e-4
"""Ends this near each other are one point. [in]"""


@dataclass(frozen=True, slots=True)
class Cut:
    """A cutting plane through `origin` with its own two axes, unit vectors in roof coordinates."""

    origin: Point
    u: Point
    v: Point

    def height(self, p: Point) -> float:
        """Distance of a point from the plane, signed. [in]"""
        return dot(sub(p, self.origin), cross(self.u, self.v))

    def flat(self, p: Point) -> Flat:
        """A point's place in the plane, square to it. [in]"""
        return (dot(sub(p, self.origin), self.u), dot(sub(p, self.origin), self.v))

    def space(self, p: Flat) -> Point:
        """Where a place in the plane lies in roof coordinates. [in]"""
        return add(add(self.origin, self.u, p[0]), self.v, p[1])


def cut_up_slope(x: float) -> Cut:
    """The plane at x, square to the eave: u is y up the slope, v is off the deck. [in]"""
    return Cut((x, 0.0, 0.0), Y, Z)


def cut_across(y: float) -> Cut:
    """The plane at y, parallel to the eave and square to the roof: u is x to the right, v off the deck. [in]"""
    return Cut((0.0, y, 0.0), X, Z)


@dataclass(frozen=True, slots=True)
class Trace:
    """One part of a cut sheet: a flat's straight run, or a bend's arc (face "parent/child"). [in]"""

    face: str
    points: tuple[Flat, ...]

    @property
    def is_flat(self) -> bool:
        """Is it the run of a flat, not of a bend?"""
        return "/" not in self.face

    @property
    def length(self) -> float:
        """From end to end. [in]"""
        return math.dist(self.points[0], self.points[-1])


def slice_sheet(sheet: Folded, cut: Cut) -> tuple[Trace, ...]:
    """Everything a plane cuts of a folded sheet, along the middle of its thickness."""
    out = []
    for flat in sheet.flats:
        middle = [_middle(a, b) for a, b in zip(flat.under, flat.over, strict=True)]
        out += [Trace(flat.face, run) for run in _cut_ring(middle, cut)]
    for roll in sheet.rolls:
        rungs = [(_middle(a, c), _middle(b, d)) for (a, b), (c, d) in zip(roll.under, roll.over, strict=True)]
        out += [Trace(f"{roll.parent}/{roll.child}", run) for run in _cut_rungs(rungs, cut)]
    return tuple(out)


def slice_body(body: Body, cut: Cut) -> dict[str, tuple[Flat, Flat]]:
    """The longest run that a plane cuts of every face between its mould lines; faces it misses are left out."""
    out = {}
    for face in body.faces:
        runs = _cut_ring(face.corners, cut)
        if runs:
            longest = max(runs, key=lambda run: math.dist(run[0], run[1]))
            out[face.name] = (longest[0], longest[1])
    return out


def chains(traces: Iterable[Trace]) -> tuple[tuple[Flat, ...], ...]:
    """Join runs and arcs that follow each other into unbroken lines. [in]"""
    rest = [list(t.points) for t in traces]
    out: list[tuple[Flat, ...]] = []
    while rest:
        here = rest.pop(0)
        grown = True
        while grown:
            grown = False
            for i, other in enumerate(rest):
                joined = _join(here, other)
                if joined is not None:
                    here, grown = joined, True
                    rest.pop(i)
                    break
        out.append(tuple(here))
    return tuple(out)


def _join(a: list[Flat], b: list[Flat]) -> list[Flat] | None:
    for left in (a, a[::-1]):
        for right in (b, b[::-1]):
            if math.dist(left[-1], right[0]) < JOINED:
                return left + right[1:]
    return None


def _middle(a: Point, b: Point) -> Point:
    return scale(add(a, b), 0.5)


def _cut_ring(ring: Sequence[Point], cut: Cut) -> list[tuple[Flat, Flat]]:
    """The runs of a flat ring that lie in the plane, in order along the cut."""
    found: list[Flat] = []
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        p = _crossing(a, b, cut)
        if p is not None:
            found.append(p)
    # All crossings lie on one line; along it they go in and out of the metal by turns.
    found.sort(key=lambda p: (round(p[0], 9), p[1]))
    pairs = zip(found[::2], found[1::2], strict=True)
    return [(a, b) for a, b in pairs if math.dist(a, b) > JOINED]


def _cut_rungs(rungs: Sequence[tuple[Point, Point]], cut: Cut) -> list[tuple[Flat, ...]]:
    """The arcs of a bend that the plane cuts: unbroken runs of rungs that it crosses."""
    out: list[list[Flat]] = [[]]
    for a, b in rungs:
        p = _crossing(a, b, cut)
        if p is not None:
            out[-1].append(p)
        elif out[-1]:
            out.append([])
    return [tuple(run) for run in out if len(run) > 1]


def _crossing(a: Point, b: Point, cut: Cut) -> Flat | None:
    ha, hb = cut.height(a), cut.height(b)
    if (ha > -ON) == (hb > -ON):
        return None
    return cut.flat(add(a, sub(b, a), ha / (ha - hb)))
