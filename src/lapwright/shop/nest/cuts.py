"""A sheet taken apart by straight cuts: which cut comes first, what is left over.

      +-----------+    1  across the sheet over everything: the offcut above is one piece
      |  offcut   |    2  wide empty room to the right is cut off whole
    1 +------+----+    3  then the cuts that part the rectangles, across before along
      |  a   2    |
      +--3---+    |
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from lapwright.geom import SAME
from lapwright.shop.nest.model import Placed, Sheet

KEEP = 6.0
"""An offcut along the stock wider than this is cut off in one piece. House rule. [in]"""

LEAST = 1 / 64
"""Less metal than this is not trimmed off: no shear takes so little. House rule. [in]"""

Region = tuple[float, float, float, float]
"""x and y of the near corner, x and y of the far one. [in]"""


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut of the shear: along x at height y ("across"), or along y at x ("along"). [in]

    at: where on the sheet; start, end: from edge to edge of the piece that lies in the shear. n counts from 1.
    """

    n: int
    way: Literal["across", "along"]
    at: float
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle of metal that is left. [in]"""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class CutPlan:
    """Every cut in order, and every offcut, the largest first."""

    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]


def cut_plan(sheet: Sheet) -> CutPlan | None:
    """Find the straight cuts that take a sheet apart.

    Returns:
        The cuts and the offcuts; None where no sequence of straight cuts does it (free cuts).
    """
    found = _Taking()
    if not found.apart((0.0, 0.0, sheet.stock.width, sheet.stock.height), list(sheet.placed)):
        return None
    offcuts = sorted(found.offcuts, key=lambda o: (-o.width * o.height, o.y, o.x))
    return CutPlan(tuple(found.cuts), tuple(offcuts))


class _Taking:
    def __init__(self) -> None:
        self.cuts: list[Cut] = []
        self.offcuts: list[Offcut] = []

    def apart(self, region: Region, placed: Sequence[Placed]) -> bool:
        stack: list[tuple[Region, Sequence[Placed]]] = [(region, placed)]
        while stack:
            region, placed = stack.pop()
            if not placed:
                x, y, far_x, far_y = region
                self.offcuts.append(Offcut(x, y, far_x - x, far_y - y))
                continue
            cut = _first_cut(region, placed)
            if cut is None:
                if len(placed) > 1:
                    return False
                continue
            axis, at = cut
            stack += reversed(self._made(region, placed, axis, at))
        return True

    def _made(
        self, region: Region, placed: Sequence[Placed], axis: int, at: float
    ) -> list[tuple[Region, Sequence[Placed]]]:
        """Note the cut; what lies beyond it is put aside first where it is an offcut."""
        x, y, far_x, far_y = region
        n = len(self.cuts) + 1
        near = [p for p in placed if (p.x, p.y)[axis] < at - SAME / 2]
        beyond = [p for p in placed if (p.x, p.y)[axis] >= at - SAME / 2]
        if axis:
            self.cuts.append(Cut(n, "across", at, x, far_x))
            return [((x, y, far_x, at), near), ((x, at, far_x, far_y), beyond)]
        self.cuts.append(Cut(n, "along", at, y, far_y))
        return [((x, y, at, far_y), near), ((at, y, far_x, far_y), beyond)]


def _first_cut(region: Region, placed: Sequence[Placed]) -> tuple[int, float] | None:
    """Trim across, or along where a good offcut comes off whole; part across; only then trim and part along.

    Axis 1 is across. Short cuts come sooner than cuts along a coil, and slivers are trimmed off short pieces.
    """
    trim = _trim(region, placed, 1) or _trim(region, placed, 0, KEEP) or _part(placed, 1)
    return trim or _trim(region, placed, 0) or _part(placed, 0)


def _trim(region: Region, placed: Sequence[Placed], axis: int, least: float = LEAST) -> tuple[int, float] | None:
    """Cut off what is empty beyond or before everything, where that is more than `least`. [in]"""
    low, high = region[axis], region[axis + 2]
    beyond, before = max(_far(p, axis) for p in placed), min((p.x, p.y)[axis] for p in placed)
    if high - beyond > least:
        return axis, beyond
    if before - low > least:
        return axis, before
    return None


def _part(placed: Sequence[Placed], axis: int) -> tuple[int, float] | None:
    """Where a cut goes through between rectangles."""
    reach = None
    for p in sorted(placed, key=lambda p: (p.x, p.y)[axis]):
        if reach is not None and (p.x, p.y)[axis] >= reach - SAME / 2:
            return axis, (p.x, p.y)[axis]
        reach = max(_far(p, axis), reach or 0.0)
    return None


def _far(p: Placed, axis: int) -> float:
    return p.y + p.height if axis else p.x + p.width
