"""One template for all places that are cut alike, turned over where a place is the mirror image of another."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise, product

from lapwright.draw.features import Window, clip, edges, inside, read_hole
from lapwright.draw.template_places import Spot
from lapwright.geom.clip import Line
from lapwright.geom.flat import Polygon, cut_by
from lapwright.geom.space import Flat
from lapwright.metal.model import JointKind, Way

ALIKE = 0.00097
"""Cuts nearer to each other than this are the same; no part of an inch falls half-way between two. [in]"""
WAYS = ((1, 1), (-1, 1), (1, -1), (-1, -1))
"""As it lies, mirrored left to right, mirrored lower to upper, turned half round."""

Key = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Fold:
    """A bend as far as it shows."""

    line: Line
    way: Way
    angle_deg: float
    kind: JointKind


@dataclass(frozen=True, slots=True)
class Shape:
    """What lies in a window, from its lower left corner. [in]

    cross: where the lines that place it cross; toward: which way the edges lie that they are laid from (-1 or 1).
    metal: the ring that is metal; waste: holes in it; rounds: centre and diameter of every round hole.
    turned: it lies a quarter round on the paper.
    """

    size: Flat
    cross: Flat
    toward: tuple[int, int]
    metal: tuple[Flat, ...]
    waste: tuple[tuple[Flat, ...], ...]
    cuts: tuple[Line, ...]
    rounds: tuple[tuple[Flat, float], ...]
    folds: tuple[Fold, ...]
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Use:
    """A place that a template is for. over: the paper lies face down there."""

    spot: Spot
    over: bool


@dataclass(frozen=True, slots=True)
class Template:
    """A shape to print, and every place that it is for; the first is the one it is drawn from."""

    shape: Shape
    uses: tuple[Use, ...]

    @property
    def count(self) -> int:
        """How many times it is used."""
        return sum(getattr(use.spot.item, "quantity", 1) for use in self.uses)


def templates_of(spots: Iterable[Spot]) -> tuple[Template, ...]:
    """Templates in the order of their first places, each place under the template that it is cut like."""
    found: dict[Key, int] = {}
    seen: set[Key] = set()
    shapes: list[Shape] = []
    uses: list[list[Use]] = []
    for spot in spots:
        shape = shape_of(spot)
        rough = _rough(shape)
        n, use = len(shapes), Use(spot, False)
        for other, way in product(spot.otherwise(), WAYS) if rough in seen else ():
            key = _key(shape, other, way)
            if key in found:
                n, use = found[key], Use(other, way[0] * way[1] < 0)
                break
        if n == len(shapes):
            seen.add(rough)
            found[_key(shape, spot, WAYS[0])] = n
            shapes.append(replace(shape, metal=_metal(spot)))
            uses.append([])
        uses[n].append(use)
    return tuple(Template(shape, tuple(some)) for shape, some in zip(shapes, uses, strict=True))


def shape_of(spot: Spot) -> Shape:
    """What a window shows, its metal left out. [in]"""
    u0, v0, u1, v1 = spot.window

    def here(p: Flat) -> Flat:
        return (p[0] - u0, p[1] - v0)

    def shown(lines: Iterable[Line]) -> tuple[Line, ...]:
        parts = (clip(a, b, spot.window) for a, b in lines)
        return tuple((here(p[0]), here(p[1])) for p in parts if p is not None)

    holes = [h for h in map(read_hole, spot.blank.holes) if any(inside(p, spot.window) for p in h.ring)]
    angular = [h.ring for h in holes if h.diameter is None]
    lines = [*edges(spot.blank), *spot.blank.cuts, *(line for ring in angular for line in pairwise([*ring, ring[0]]))]
    folds = [Fold(part, b.way, b.angle_deg, b.kind) for b in spot.item.bends for part in shown([(b.start, b.end)])]
    return Shape(
        (u1 - u0, v1 - v0),
        here(spot.cross),
        spot.toward,
        (),
        tuple(tuple(map(here, ring)) for ring in angular),
        shown(lines),
        tuple((here(h.centre), h.diameter) for h in holes if h.diameter is not None),
        tuple(folds),
    )


def _metal(spot: Spot) -> tuple[Flat, ...]:
    """What of the window is metal, from its lower left corner; holes are not taken out. [in]"""
    u0, v0, u1, v1 = spot.window
    return tuple((u - u0, v - v0) for u, v in within_window(spot.blank.outline, (u0, v0, u1, v1)))


def within_window(ring: Polygon, window: Window) -> Polygon:
    """A ring cut down to a window; a ring that leaves it and comes back runs along its edge. [in]"""
    u0, v0, u1, v1 = window
    for corner, k in (((u0, v0), 1.0), ((u1, v1), -1.0)):
        ring = cut_by(cut_by(ring, corner, (k, 0.0)), corner, (0.0, k))
    return ring


def _rough(shape: Shape) -> Key:
    """What two shapes share at the least if they are alike."""
    size = tuple(round(x / ALIKE) for x in shape.size)
    return size, len(shape.cuts), len(shape.rounds), tuple(sorted((f.way, f.kind) for f in shape.folds))


def _key(shape: Shape, spot: Spot, way: tuple[int, int]) -> Key:
    """A shape as seen in a mirror, in whole steps from where the lines cross that place the spot."""
    mu, mv = way
    (u, v), (u0, v0, _, _) = spot.cross, spot.window
    cu, cv, ku, kv = u - u0, v - v0, mu / ALIKE, mv / ALIKE

    def at(p: Flat) -> tuple[int, int]:
        return (round(ku * (p[0] - cu)), round(kv * (p[1] - cv)))

    def run(line: Line) -> tuple[tuple[int, int], tuple[int, int]]:
        a, b = at(line[0]), at(line[1])
        return (a, b) if a < b else (b, a)

    return (
        run(((0.0, 0.0), shape.size)) if mu * mv > 0 else run(((0.0, shape.size[1]), (shape.size[0], 0.0))),
        (mu * spot.toward[0], mv * spot.toward[1]),
        tuple(sorted(map(run, shape.cuts))),
        tuple(sorted((at(centre), round(wide / ALIKE)) for centre, wide in shape.rounds)),
        tuple(sorted((run(f.line), f.way, round(f.angle_deg, 2), f.kind) for f in shape.folds)),
    )
