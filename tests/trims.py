"""Trims for the tests of bend order: a section given by mould widths and turns, straight from end to end.

    turns up (toward the paint) are positive; widths are mould to mould, in the order of the faces f0, f1 ...
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from lapwright.metal.develop import develop
from lapwright.metal.model import Body, Piece, Way
from lapwright.metal.sheet import Sheet

STEEL = 0.0255
"""24 gauge, coated. [in]"""


def trim(
    widths: Sequence[float],
    turns: Sequence[float],
    first_hem: tuple[float, Way, float] | None = None,
    last_hem: tuple[float, Way, float] | None = None,
    length: float = 60.0,
) -> Body:
    """A straight trim; a hem is (depth, way, gap inside). [in, deg]"""
    sheet = Sheet("steel-24", STEEL, 2 * STEEL)
    corners = [(0.0, 0.0)]
    angle = 0.0
    for k, wide in enumerate(widths):
        x, z = corners[-1]
        corners.append((x + wide * math.cos(angle), z + wide * math.sin(angle)))
        angle += math.radians(turns[k]) if k < len(turns) else 0.0

    def ring(k: int) -> list[tuple[float, float, float]]:
        (x0, z0), (x1, z1) = corners[k], corners[k + 1]
        return [(x0, 0.0, z0), (x1, 0.0, z1), (x1, length, z1), (x0, length, z0)]

    sheet.root("f0", ring(0), painted=(0.0, 0.0, 1.0))
    for k in range(1, len(widths)):
        sheet.attach(f"f{k - 1}", f"f{k}", ring(k))
    for hem, corner, face in ((first_hem, corners[0], 0), (last_hem, corners[-1], len(widths) - 1)):
        if hem is not None:
            depth, way, gap = hem
            a, b = ((corner[0], y, corner[1]) for y in (0.0, length))
            sheet.hem(f"f{face}", f"hem{face}", sheet.edge(f"f{face}", a, b), depth, way, gap=gap)
    return sheet.body(u_axis=(0.0, 1.0, 0.0))


def pan(wide: float, long: float, high: float, tab: float) -> Body:
    """A box-corner pan: four sides turned up, a tab at each end of the two short sides, lapping on the long ones."""
    sheet = Sheet("steel-24", STEEL, 2 * STEEL)
    clear = 0.25
    xs, ys = (0.0, wide), (0.0, long)
    corners = [(xs[0], ys[0], 0.0), (xs[1], ys[0], 0.0), (xs[1], ys[1], 0.0), (xs[0], ys[1], 0.0)]
    sheet.root("base", corners, painted=(0.0, 0.0, 1.0))
    for name, x in (("left", xs[0]), ("right", xs[1])):
        sheet.attach("base", name, [(x, ys[0], 0), (x, ys[1], 0), (x, ys[1], high), (x, ys[0], high)])
    for name, y, into in (("near", ys[0], 1.0), ("far", ys[1], -1.0)):
        lower, upper = [(xs[0], y, 0.0), (xs[1], y, 0.0)], [(xs[1], y, high), (xs[0], y, high)]
        rim = [*lower, (xs[1], y, clear), *upper, (xs[0], y, clear)]
        sheet.attach("base", name, rim)
        for hand, x in (("left", xs[0]), ("right", xs[1])):
            tip = y + into * tab
            sheet.attach(name, f"{name} {hand} tab", [(x, y, clear), (x, y, high), (x, tip, high), (x, tip, clear)])
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def piece_of(body: Body, name: str = "trim") -> Piece:
    """A body as a piece to make."""
    flat = develop(body)
    return Piece(name, "trim", name, None, 1, body.metal, body.thickness, flat.blank, flat.bends, 1.0, body)
