"""How large a blank is drawn and where it lies in the room at hand."""

from __future__ import annotations

from functools import cached_property

from lapwright.draw.axis import Axis, broken, moved, plain
from lapwright.draw.features import Value, Window, plain_runs, values
from lapwright.draw.running import CLEAR, Figure, margin
from lapwright.draw.view import View
from lapwright.metal.model import Bend, Blank
from lapwright.words import Speaker

FULL_SIZE = 72.0
"""Points to the inch at 1 : 1; a whole blank is drawn no larger."""
SHORT_SIDE = 190.0
"""A long narrow blank is broken out until its short side is about this. [pt]"""
WORTH_BREAKING = 1.3
"""It is broken out only where it grows by this much."""
OUTER = 34.0
"""Room kept right of and above the metal. [pt]"""

Room = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y. [pt]"""


class Fitting:
    """A window of a blank with its figures, ready to be laid into one room after another."""

    def __init__(self, blank: Blank, bends: tuple[Bend, ...], window: Window, speaker: Speaker) -> None:
        self.blank, self.bends, self.window = blank, bends, window
        self.us, self.vs = (values(axis, blank, bends, window, speaker.length) for axis in (0, 1))
        self.left, self.lower = _margin(self.vs), _margin(self.us)

    @cached_property
    def gaps(self) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
        """Runs along u and along v that may be broken out. [in]"""
        return plain_runs(0, self.blank, self.bends), plain_runs(1, self.blank, self.bends)

    def into(self, room: Room, largest: float = FULL_SIZE, may_break: bool = False, above: float = OUTER) -> View:
        """Lay it into a room, its figures' margins included.

        Args:
            room: Where on the sheet. [pt]
            largest: No more points to the inch than this.
            may_break: Long plain runs may be shortened by break lines.
            above: Room kept above the metal. [pt]
        """
        wide = room[2] - room[0] - self.left - OUTER
        high = room[3] - room[1] - self.lower - above
        u0, v0, u1, v1 = self.window
        scale = min(wide / (u1 - u0), high / (v1 - v0), largest)
        axes = (plain(u0, u1, 0.0, scale), plain(v0, v1, 0.0, scale))
        if may_break:
            axes = self._broken_out(scale, (wide, high), largest) or axes
        u, v = axes
        x = room[0] + self.left + max((wide - (u(u1) - u(u0))) / 2, 0)
        y = room[1] + self.lower + max((high - (v(v1) - v(v0))) / 2, 0)
        low, up = (room[0], room[1]), (room[2], room[3])
        return View(self.blank, self.bends, moved(u, x), moved(v, y), self.window, low, up)

    def _broken_out(self, scale: float, room: tuple[float, float], largest: float) -> tuple[Axis, Axis] | None:
        """Axes with the long side shortened, when the short side gains enough by it."""
        sides = (self.blank.width, self.blank.height)
        short = 0 if sides[0] < sides[1] else 1
        wanted = min(SHORT_SIDE / sides[short], room[short] / sides[short], largest)
        while wanted > scale * WORTH_BREAKING:
            long_axis = broken(0.0, sides[1 - short], self.gaps[1 - short], wanted, room[1 - short])
            if long_axis is not None:
                short_axis = plain(0.0, sides[short], 0.0, wanted)
                return (short_axis, long_axis) if short == 0 else (long_axis, short_axis)
            wanted *= 0.93
        return None


def fit(
    blank: Blank,
    bends: tuple[Bend, ...],
    window: Window,
    room: Room,
    speaker: Speaker,
    largest: float = FULL_SIZE,
    may_break: bool = False,
    above: float = OUTER,
) -> View:
    """Lay a window of a blank into one room: see `Fitting.into`. largest [pt/in], above [pt]"""
    return Fitting(blank, bends, window, speaker).into(room, largest, may_break, above)


def _margin(rows: list[Value]) -> float:
    return margin([Figure(0.0, 0.0, r.text) for r in rows]) + CLEAR
