"""The folded sheet as it really is: flats with thickness, bends as arcs.

shells_of: every flat and every bend zone as a strip of quads on the unpainted and the painted side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from lapwright.geom.flat import heading
from lapwright.geom.space import Flat, Frame, Point, add, scale
from lapwright.metal.develop import Developed, Region, Zone, develop, part_slits, places
from lapwright.metal.model import Body

ARC_STEP_DEG = 15.0
"""Widest facet of a drawn bend."""


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
    flats = tuple(_flat(r, place[r.face], t) for r in flat.regions)
    rolls = tuple(_roll(place[z.parent], z, t) for z in flat.zones)
    return Folded(flats, rolls)


@lru_cache(maxsize=1024)
def in_place(body: Body, moved: Point) -> Folded:
    """A piece's sheet folded and moved to its place: asked for by the model, the sections and every step's picture.

    Args:
        body: the folded piece.
        moved: added to every point (see place.shift). [in]
    """
    return folded(develop(body), moved)


def _flat(region: Region, place: Frame, thickness: float) -> Flatness:
    # A relieved corner may leave a nick that runs back on itself: no metal, so no solid.
    ring, _ = part_slits(list(region.ring))
    under, over = ([place.space(p, z) for p in ring] for z in (0.0, thickness))
    return Flatness(region.face, tuple(under), tuple(over), tuple(ring))


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
