"""The folded sheet as it really is: flats with thickness, bends as arcs.

shells_of: every flat and every bend zone as a strip of quads on the unpainted and the painted side.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from lapwright.geom.flat import heading
from lapwright.geom.space import Flat, Frame, Point, add, cross, scale, sub, unit
from lapwright.metal.develop import Developed, Region, Zone, develop, part_slits, places
from lapwright.metal.model import Body
from lapwright.metal.sheet import normal

ARC_STEP_DEG = 15.0
"""Widest facet of a drawn bend."""

LARGE_HOLE = 0.4
"""Smaller holes are drawn as if they were closed. House rule. [in]"""


@dataclass(frozen=True, slots=True)
class Flatness:
    """One flat part: its ring on the unpainted side, the same ring on the painted side, and the ring in the flat."""

    face: str
    under: tuple[Point, ...]
    over: tuple[Point, ...]
    ring: tuple[Flat, ...]


@dataclass(frozen=True, slots=True)
class Roll:
    """One bend zone: rungs from the parent to the child, each (start, end) on the unpainted and painted side."""

    parent: str
    child: str
    under: tuple[tuple[Point, Point], ...]
    over: tuple[tuple[Point, Point], ...]


@dataclass(frozen=True, slots=True)
class Folded:
    """A folded sheet with thickness, in roof coordinates."""

    flats: tuple[Flatness, ...]
    rolls: tuple[Roll, ...]


def folded(flat: Developed, moved: Point = (0.0, 0.0, 0.0)) -> Folded:
    """Fold a blank into sheet metal with thickness, moved by a vector.

    Args:
        flat: the developed blank.
        moved: added to every point (see place.shift). [in]
    """
    place = {n: Frame(add(f.origin, moved), f.ex, f.ey) for n, f in places(flat).items()}
    t = flat.thickness
    flats = tuple(f for r in flat.regions for f in _flats(r, place[r.face], t, flat.blank.holes))
    rolls = tuple(_roll(place[z.parent], z, t) for z in flat.zones)
    return Folded(flats, rolls)


@lru_cache(maxsize=1024)
def in_place(body: Body, moved: Point) -> Folded:
    """A piece's sheet folded and moved to its place: asked for by the model, the sections and every step's picture.

    Args:
        body: the folded piece.
        moved: added to every point (see place.shift). [in]
    """
    return _rolled_up(body, moved) if body.rolled else folded(develop(body), moved)


def _rolled_up(body: Body, moved: Point) -> Folded:
    """A rolled sheet by its facets, each thickened out of its paint."""
    flats = []
    for f in body.faces:
        under = tuple(add(p, moved) for p in f.corners)
        n = normal(under)
        frame = Frame(under[0], unit(sub(under[1], under[0])), cross(n, unit(sub(under[1], under[0]))))
        over = tuple(add(p, n, body.thickness) for p in under)
        flats.append(Flatness(f.name, under, over, tuple(map(frame.flat, under))))
    return Folded(tuple(flats), ())


def _flats(
    region: Region, place: Frame, thickness: float, holes: tuple[tuple[Flat, ...], ...]
) -> Iterator[Flatness]:
    """A region's solid; where a large hole is cut in it, in two parts that meet at the hole's middle."""
    # A relieved corner may leave a nick that runs back on itself: no metal, so no solid.
    ring, _ = part_slits(list(region.ring))
    large = [h for h in holes if max(x for x, _ in h) - min(x for x, _ in h) > LARGE_HOLE and _inside(ring, h[0])]
    for part in _without(ring, large[0]) if large else (ring,):
        under, over = (tuple(place.space(p, z) for p in part) for z in (0.0, thickness))
        yield Flatness(region.face, under, over, tuple(part))


def _inside(ring: Sequence[Flat], p: Flat) -> bool:
    """Crossing number. [in]"""
    inside = False
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y0 > p[1]) != (y1 > p[1]) and p[0] < (x1 - x0) * (p[1] - y0) / (y1 - y0) + x0:
            inside = not inside
    return inside


def _without(ring: Sequence[Flat], hole: tuple[Flat, ...]) -> Iterator[list[Flat]]:
    from shapely import Polygon, box
    from shapely.geometry.polygon import orient

    metal = Polygon(ring, [hole])
    x0, y0, x1, y1 = metal.bounds
    middle = (min(y for _, y in hole) + max(y for _, y in hole)) / 2
    for half in (box(x0, y0, x1, middle), box(x0, middle, x1, y1)):
        yield [(x, y) for x, y in orient(metal.intersection(half)).exterior.coords[:-1]]


def _roll(parent: Frame, z: Zone, thickness: float) -> Roll:
    steps = max(2, math.ceil(z.angle_deg / ARC_STEP_DEG))
    under, over = [], []
    for k in range(steps + 1):
        share = k / steps
        ends = [_between(a, b, share) for a, b in zip(z.near, z.far, strict=True)]
        under.append(
            (_rolled(parent, z, ends[0], share, 0.0, thickness), _rolled(parent, z, ends[1], share, 0.0, thickness))
        )
        over.append(
            (
                _rolled(parent, z, ends[0], share, thickness, thickness),
                _rolled(parent, z, ends[1], share, thickness, thickness),
            )
        )
    return Roll(z.parent, z.child, tuple(under), tuple(over))


def _between(a: Flat, b: Flat, share: float) -> Flat:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _rolled(parent: Frame, z: Zone, p: Flat, share: float, height: float, thickness: float) -> Point:
    """A point of the bend zone once `share` of the angle lies behind it; height above the unpainted side."""
    a, b = z.near
    run2 = heading(a, b)
    out2 = (run2[1], -run2[0])
    run = add(scale(parent.ex, run2[0]), parent.ey, run2[1])
    out = add(scale(parent.ex, out2[0]), parent.ey, out2[1])
    up = z.way == "up"
    centre = z.radius + thickness if up else -z.radius
    angle = math.radians(z.angle_deg) * share
    along = (p[0] - a[0]) * run2[0] + (p[1] - a[1]) * run2[1]
    axis = add(parent.space(a, centre), run, along)
    reach = abs(centre - height)
    sign = 1.0 if up else -1.0
    spoke = add(scale(parent.ez, -sign * math.cos(angle)), out, math.sin(angle))
    return add(axis, spoke, reach)
