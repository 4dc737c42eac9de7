"""A template larger than a sheet as tiles: how many, how they are called, what neighbours share."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lapwright.draw.features import Window
from lapwright.draw.template_places import FIELD
from lapwright.geom import SAME
from lapwright.geom.space import Flat

OVERLAP = 0.6
"""Of two tiles. [in]"""


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet of a template: its coordinate (A1; none where there is but one) and what it shows. [in]"""

    name: str
    window: Window


def tiles_of(size: Flat) -> tuple[Tile, ...]:
    """The tiles of a size: letters from the left, numbers from below; neighbours overlap. [in]"""
    columns, rows = count_of(size)
    out = []
    for i, j in ((i, j) for j in range(rows) for i in range(columns)):
        u0, u1 = _span(i, columns, size[0])
        v0, v1 = _span(j, rows, size[1])
        name = f"{_letters(i)}{j + 1}" if columns * rows > 1 else ""
        out.append(Tile(name, (u0, v0, u1, v1)))
    return tuple(out)


def count_of(size: Flat) -> tuple[int, int]:
    """Columns and rows of tiles."""
    across, up = (
        max(1, math.ceil((long - OVERLAP) / (room - OVERLAP) - SAME)) for long, room in zip(size, FIELD, strict=True)
    )
    return across, up


def _span(i: int, count: int, long: float) -> tuple[float, float]:
    """From where to where a tile reaches, all of one row as long as each other. [in]"""
    own = (long + (count - 1) * OVERLAP) / count
    return i * (own - OVERLAP), i * (own - OVERLAP) + own


def _letters(i: int) -> str:
    return chr(ord("A") + i) if i < 26 else _letters(i // 26 - 1) + chr(ord("A") + i % 26)


def shared_by(a: Window, b: Window) -> Window | None:
    """What two neighbours in a row or a column share; tiles that meet at a corner only share nothing. [in]"""
    both = (max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3]))
    wide, high = both[2] - both[0], both[3] - both[1]
    if min(wide, high) <= 0 or max(wide, high) <= OVERLAP + SAME:
        return None
    return both
