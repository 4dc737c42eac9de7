"""Where on a blank a template at true size is wanted: round every cut that does not run straight from edge to edge.

Corners of the outline, ends of slits and holes draw a window round themselves; windows that touch become one, so
that a curve, which is all corners, has a window of its own length. A blank that fits a sheet of paper is shown whole.

    +--------+   . . . . . .  plain length: no template
    |  __    |
    |_|  \\  |  <- window, placed by two lines: so far from two edges of the blank
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from lapwright.draw.blank import Item
from lapwright.draw.features import Window, edges, read_hole, whole
from lapwright.geom import SAME
from lapwright.geom.flat import heading
from lapwright.geom.space import Flat
from lapwright.metal.model import Blank, Piece

Edge = Literal["left", "right", "lower", "upper"]

FIELD: Flat = (7.0, 7.8)
"""Paper for one template on a sheet: what Letter and A4 have in common, less words and check bars. [in]"""
MARGIN = 0.75
"""Of metal shown round a cut. [in]"""
RIM = 0.25
"""Of paper past the edge of a blank. [in]"""
SQUARE = 1e-9
"""How far from level or upright the edges of a plain corner may run."""


@dataclass(frozen=True, slots=True)
class SetLine:
    """A line on a template that is laid so far from an edge of the blank. off: 0 on the edge itself. [in]"""

    edge: Edge
    off: float


@dataclass(frozen=True, slots=True)
class Spot:
    """A part of a blank to be shown. upright, level: the lines that place it."""

    item: Item
    blank: Blank
    window: Window
    upright: SetLine
    level: SetLine

    @property
    def is_whole(self) -> bool:
        """Does it show the whole blank?"""
        u0, v0, u1, v1 = self.window
        return u0 <= 0 and v0 <= 0 and u1 >= self.blank.width and v1 >= self.blank.height

    @property
    def cross(self) -> Flat:
        """Where its two lines cross on the blank. [in]"""
        u, v = self.upright, self.level
        return (
            u.off if u.edge == "left" else self.blank.width - u.off,
            v.off if v.edge == "lower" else self.blank.height - v.off,
        )

    @property
    def toward(self) -> tuple[int, int]:
        """Which way its lines' edges lie: -1 to the left or below, 1 to the right or above."""
        return (-1 if self.upright.edge == "left" else 1, -1 if self.level.edge == "lower" else 1)

    def otherwise(self) -> tuple[Spot, ...]:
        """Itself, and itself placed from the opposite edges, where its window shows both."""
        u0, v0, u1, v1 = self.window
        uprights, levels = [self.upright], [self.level]
        if u0 <= 0 and u1 >= self.blank.width:
            uprights.append(SetLine("right", 0.0))
        if v0 <= 0 and v1 >= self.blank.height:
            levels.append(SetLine("upper", 0.0))
        return tuple(replace(self, upright=u, level=v) for u in uprights for v in levels)


def spots_of(item: Item, step: float) -> tuple[Spot, ...]:
    """The parts of a blank that want a template, from its lower left corner on.

    Args:
        item: A piece or a panel; membrane, which is cut with a knife on the roof, has none.
        step: Lines that place a template lie a whole number of these from an edge. [in]
    """
    blank = item.blank
    if blank is None or (isinstance(item, Piece) and not item.is_metal):
        return ()
    cut = list(_cut_points(blank))
    if not cut:
        return ()
    rim = _widened(whole(blank), RIM)
    if fits(rim):
        return (_spot(item, blank, rim, step),)
    windows = [_within(_widened((*p, *p), MARGIN), rim) for p in cut]
    return tuple(_spot(item, blank, w, step) for w in sorted(_merged(windows)))


def fits(window: Window) -> bool:
    """Does a window fit one sheet, upright or turned?"""
    wide, high = window[2] - window[0], window[3] - window[1]
    return any(a <= FIELD[0] + SAME and b <= FIELD[1] + SAME for a, b in ((wide, high), (high, wide)))


def _cut_points(blank: Blank) -> Iterator[Flat]:
    """Corners that are not the blank's own square ones, ends of slits, holes. [in]"""
    sides = edges(blank)
    for (a, b), (_, c) in zip([sides[-1], *sides[:-1]], sides, strict=True):
        if not (_is_own_corner(blank, b) and _is_level(a, b) and _is_level(b, c)):
            yield b
    for slit in blank.cuts:
        yield from slit
    for hole in map(read_hole, blank.holes):
        yield from [hole.centre] if hole.diameter is not None and hole.diameter < MARGIN else hole.ring


def _is_own_corner(blank: Blank, p: Flat) -> bool:
    return all(min(abs(x), abs(x - far)) < SAME for x, far in zip(p, (blank.width, blank.height), strict=True))


def _is_level(a: Flat, b: Flat) -> bool:
    return min(abs(x) for x in heading(a, b)) < SQUARE


def _merged(windows: Sequence[Window]) -> list[Window]:
    """Windows that touch as one; then neighbours as one as long as both fit the same sheet."""
    out = list(dict.fromkeys(windows))
    while pair := next(((a, b) for i, a in enumerate(out) for b in out[:i] if _touch(a, b)), None):
        out = [w for w in out if w not in pair] + [_both(*pair)]
    while pairs := [
        (_far(a, b), a, b) for i, a in enumerate(sorted(out)) for b in sorted(out)[:i] if fits(_both(a, b))
    ]:
        _, a, b = min(pairs)
        out = [w for w in out if w not in (a, b)] + [_both(a, b)]
    return out


def _touch(a: Window, b: Window) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def _far(a: Window, b: Window) -> float:
    """Clear distance between two windows. [in]"""
    return math.hypot(max(a[0] - b[2], b[0] - a[2], 0.0), max(a[1] - b[3], b[1] - a[3], 0.0))


def _both(a: Window, b: Window) -> Window:
    return (min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3]))


def _widened(w: Window, by: float) -> Window:
    return (w[0] - by, w[1] - by, w[2] + by, w[3] + by)


def _within(w: Window, rim: Window) -> Window:
    """A window, less what lies past the rim; one that comes near an edge shows it."""
    low = tuple(r if x - r < 2 * RIM else x for x, r in zip(w[:2], rim[:2], strict=True))
    high = tuple(r if r - x < 2 * RIM else x for x, r in zip(w[2:], rim[2:], strict=True))
    return (low[0], low[1], high[0], high[1])


def _spot(item: Item, blank: Blank, window: Window, step: float) -> Spot:
    u0, v0, u1, v1 = window
    upright = _set_line(u0, u1, blank.width, step, ("left", "right"))
    return Spot(item, blank, window, upright, _set_line(v0, v1, blank.height, step, ("lower", "upper")))


def _set_line(low: float, high: float, far: float, step: float, names: tuple[Edge, Edge]) -> SetLine:
    """On an edge that the window shows; else a whole number of steps from the nearer edge. [in]"""
    if low <= 0.0:
        return SetLine(names[0], 0.0)
    if high >= far:
        return SetLine(names[1], 0.0)
    near, edge = (low, names[0]) if low <= far - high + SAME else (far - high, names[1])
    return SetLine(edge, step * math.ceil((near + RIM) / step - SAME))
