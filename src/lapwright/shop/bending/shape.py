"""The shape of a developed piece, apart from its names and its hand: alike pieces are folded alike.

A shape is the blank with its faces numbered and everything in one fixed sequence. A piece, its mirror image, and both
turned end for end have the same one; which of the four stands for all is told by their coordinates.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product

from lapwright.geom.space import Flat, Frame
from lapwright.metal.develop import Developed, Region, Zone
from lapwright.metal.model import Bend, Blank
from lapwright.shop.bending.model import BendPlan, Blocked, Operation

PLACES = 4
"""Decimals of an inch to which two pieces must agree to be alike."""

HERE = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


Signs = tuple[int, int]
"""Whether u and v run on or back."""


@dataclass(frozen=True, slots=True)
class Shape:
    """flat: the piece in its standard form. faces, bends: its own names by theirs. signs: how u and v were turned."""

    flat: Developed
    faces: dict[str, str]
    bends: dict[str, str]
    signs: Signs

    @property
    def hand(self) -> int:
        """1, or -1 for the mirror image of its standard form."""
        return self.signs[0] * self.signs[1]


def shape_of(flat: Developed) -> Shape:
    """The standard form of a developed piece: of four ways to lay it, the one whose corners come first."""
    rims = {signs: _ring(flat.blank.outline, flat.blank, signs) for signs in product((1, -1), (1, -1))}
    least = min(rims.values())
    laid = [_standard(flat, signs, rim) for signs, rim in rims.items() if rim == least]
    return min(laid, key=lambda shape: tuple((z.near, z.far, z.way) for z in shape.flat.zones))


def _at(p: Flat, blank: Blank, signs: Signs) -> Flat:
    """A point of the blank as it comes to lie; least u and v are 0 again."""
    u = p[0] if signs[0] > 0 else blank.width - p[0]
    v = p[1] if signs[1] > 0 else blank.height - p[1]
    # The nought keeps -0.0 from standing for 0.0.
    return (round(u, PLACES) + 0.0, round(v, PLACES) + 0.0)


def _ring(ring: Sequence[Flat], blank: Blank, signs: Signs) -> tuple[Flat, ...]:
    """A ring as it comes to lie, counter-clockwise from its least corner."""
    points = [_at(p, blank, signs) for p in ring][:: signs[0] * signs[1]]
    k = points.index(min(points))
    return (*points[k:], *points[:k])


def _standard(flat: Developed, signs: Signs, rim: tuple[Flat, ...]) -> Shape:
    def edge(ends: tuple[Flat, Flat]) -> tuple[Flat, Flat]:
        a, b = (_at(p, flat.blank, signs) for p in ends)
        return (a, b) if signs[0] == signs[1] else (b, a)

    rings = {r.face: _ring(r.ring, flat.blank, signs) for r in flat.regions}
    depth = {flat.regions[0].face: 0}
    for z in flat.zones:
        depth[z.child] = depth[z.parent] + 1
    row = sorted(rings, key=lambda face: (depth[face], rings[face]))
    names = {face: str(n) for n, face in enumerate(row)}
    joined = sorted(zip(flat.zones, flat.bends, strict=True), key=lambda one: row.index(one[0].child))
    zones: list[Zone] = []
    bends: list[Bend] = []
    for z, b in joined:
        parent, child = names[z.parent], names[z.child]
        angle, metal = round(z.angle_deg, PLACES), round(z.metal, PLACES + 2)
        zones.append(Zone(parent, child, edge(z.near), edge(z.far), metal, angle, round(z.radius, PLACES), z.way))
        start, end = edge((b.start, b.end))
        bends.append(Bend(f"{parent}/{child}", start, end, angle, b.radius, b.way, len(bends) + 1, b.kind))
    standard = Developed(
        Blank(rim, (), (), 0.0, 0.0, 0.0), tuple(bends), tuple(Region(names[f], rings[f], (), ()) for f in row),
        tuple(zones), HERE, flat.thickness,
    )  # fmt: skip
    own = {new: old for old, new in names.items()}
    return Shape(standard, own, {b.id: old.id for b, (_, old) in zip(bends, joined, strict=True)}, signs)


def named(plan: BendPlan, shape: Shape) -> BendPlan:
    """A plan for a standard form as a plan for the piece itself."""
    return replace(
        plan,
        operations=tuple(_operation(o, shape) for o in plan.operations),
        blocked=tuple(_blocked(b, shape) for b in plan.blocked),
        by_hand=tuple(_blocked(b, shape) for b in plan.by_hand),
    )


def _operation(o: Operation, shape: Shape) -> Operation:
    heading = math.radians(o.heading_deg)
    su, sv = shape.signs
    own = round(math.degrees(math.atan2(sv * math.sin(heading), su * math.cos(heading)))) % 360
    return replace(
        o, bends=tuple(shape.bends[b] for b in o.bends), clamped=shape.faces[o.clamped], heading_deg=float(own)
    )


def _blocked(b: Blocked, shape: Shape) -> Blocked:
    return replace(b, bend=shape.bends[b.bend])
