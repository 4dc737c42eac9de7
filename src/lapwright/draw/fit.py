"""How large a blank is drawn and where it lies in the room at hand."""

from __future__ import annotations

from lapwright.draw.axis import Axis, broken, moved, plain
from lapwright.draw.features import Window, plain_runs, values
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


def fit(
    blank: Blank,
    bends: tuple[Bend, ...],
    window: Window,
    room: Room,
    speaker: Speaker,
    largest: float = FULL_SIZE,
    may_break: bool = False,
) -> View:
    """Lay a window of a blank into a room, its figures' margins included.

    Args:
        blank, bends: The metal.
        window: What of it is shown. [in]
        room: Where on the sheet. [pt]
        speaker: Prints the figures, whose length sets the margins.
        largest: No more points to the inch than this.
        may_break: Long plain runs may be shortened by break lines.
    """
    left, lower = (_margin(axis, blank, bends, window, speaker) for axis in (1, 0))
    wide, high = room[2] - room[0] - left - OUTER, room[3] - room[1] - lower - OUTER
    u0, v0, u1, v1 = window
    scale = min(wide / (u1 - u0), high / (v1 - v0), largest)
    axes = (plain(u0, u1, 0.0, scale), plain(v0, v1, 0.0, scale))
    if may_break:
        axes = _broken_out(blank, bends, scale, (wide, high), largest) or axes
    u, v = axes
    x = room[0] + left + max((wide - (u(u1) - u(u0))) / 2, 0)
    y = room[1] + lower + max((high - (v(v1) - v(v0))) / 2, 0)
    return View(blank, bends, moved(u, x), moved(v, y), window, (room[0], room[1]), (room[2], room[3]))


def spare(view: View) -> float:
    """How much lower the room could be without drawing the metal smaller. [pt]"""
    return max(2 * (view.high[1] - view.frame[3] - OUTER), 0.0)


def _margin(axis: int, blank: Blank, bends: tuple[Bend, ...], window: Window, speaker: Speaker) -> float:
    rows = values(axis, blank, bends, window, speaker.length)
    return margin([Figure(0.0, 0.0, r.text) for r in rows]) + CLEAR


def _broken_out(
    blank: Blank, bends: tuple[Bend, ...], scale: float, room: tuple[float, float], largest: float
) -> tuple[Axis, Axis] | None:
    """Axes with the long side shortened, when the short side gains enough by it."""
    sides = (blank.width, blank.height)
    short = 0 if sides[0] < sides[1] else 1
    gaps = plain_runs(1 - short, blank, bends)
    wanted = min(SHORT_SIDE / sides[short], room[short] / sides[short], largest)
    while wanted > scale * WORTH_BREAKING:
        long_axis = broken(0.0, sides[1 - short], gaps, wanted, room[1 - short])
        if long_axis is not None:
            short_axis = plain(0.0, sides[short], 0.0, wanted)
            return (short_axis, long_axis) if short == 0 else (long_axis, short_axis)
        wanted *= 0.93
    return None
