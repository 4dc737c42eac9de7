"""A developed piece folded only so far: each bend at an angle of its own."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lapwright.geom.flat import heading
from lapwright.geom.space import Frame, Point, add, dot, scale, sub
from lapwright.metal.develop import Developed, Zone


def places_at(flat: Developed, angles_deg: Sequence[float], root: Frame | None = None) -> dict[str, Frame]:
    """Where each flat lies: blank coordinates to space.

    Args:
        flat: the developed piece.
        angles_deg: how far each bend stands turned, in the order of its zones, 0 to its own angle. [deg]
        root: where the root's flat lies; left out, the blank's own plane z = 0.

    A bend that is not done yet is flat; half done, the metal next to its parent is bent and the rest is still flat.
    """
    place: dict[str, Frame] = {
        flat.regions[0].face: root or Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    }
    for z, angle in zip(flat.zones, angles_deg, strict=True):
        place[z.child] = place[z.parent] if angle == 0.0 else rolled(place[z.parent], z, angle, flat.thickness)
    return place


def rolled(parent: Frame, z: Zone, angle_deg: float, thickness: float) -> Frame:
    """Where the metal beyond a bend lies once it has turned this far, 0 to the bend's own angle. [deg] [in]"""
    a, b = z.near
    run2 = heading(a, b)
    out2 = (run2[1], -run2[0])
    run = add(scale(parent.ex, run2[0]), parent.ey, run2[1])
    out = add(scale(parent.ex, out2[0]), parent.ey, out2[1])
    sign = 1.0 if z.way == "up" else -1.0
    axis = parent.space(a, z.radius + thickness if z.way == "up" else -z.radius)
    angle = math.radians(angle_deg) * sign
    cos, sin = math.cos(angle), math.sin(angle)
    ez = parent.ez

    def turned(v: Point) -> Point:
        r, o, h = dot(v, run), dot(v, out), dot(v, ez)
        return add(add(scale(out, o * cos - h * sin), ez, o * sin + h * cos), run, r)

    bent = z.metal * min(1.0, angle_deg / z.angle_deg)
    origin = add(axis, turned(sub(add(parent.origin, out, -bent), axis)))
    return Frame(origin, turned(parent.ex), turned(parent.ey))
