"""One line of a piece with crossing bends at one folder: may it be folded with these bends done?"""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.shop.bending.machine import machine_for
from lapwright.shop.bending.room import Part, View, between, subsets
from lapwright.shop.bending.shadow import Span, bars, bars_ways, why_not_free, why_not_held
from lapwright.shop.bending.strip_moves import swing_cost
from lapwright.shop.bending.tools import Folder

FINGER_ROOM = 0.0625
"""Fingers are narrower than the room between two sides by this. House rule. [in]"""

PARTS = 64
"""Fingers are added up in this part of an inch."""

FINGER_SHORT = 1.5
"""Fingers leave no more than this of a line unheld, both ends together. House rule. [in]"""

SHORTER = 2.0
"""A short folder may be this much shorter than its line; the ends are dressed over by hand. House rule. [in]"""


class AtFolder:
    """A line at a folder. angle_deg: how far its leaf turns there."""

    def __init__(self, view: View, tool: Folder, angle_deg: float) -> None:
        self.view, self.tool, self.angle_deg = view, tool, angle_deg
        self.machine = machine_for(tool, view.room.flat.thickness)
        span = finger_span(tool.fingers, view.line.length) if tool.kind == "box" else None
        self.spans: tuple[Span, ...] = (None,) if span is None else (None, span)
        self._known: dict[int, str] = {}
        self._struck: dict[tuple[str, int, Span], str] = {}
        self._strikes: dict[tuple[bool, int, Span], str] = {}
        self._barred: dict[tuple[str, int, Span, float], bool] = {}
        self._barred_ways: dict[tuple[str, int, Span, float], tuple[bool, ...]] = {}
        self._open: dict[tuple[bool, int, Span, float, int], bool] = {}
        self._reaches: dict[tuple[bool, int], float] = {}
        self._shown: dict[tuple[str, int], Part] = {}
        self._in_the_way: dict[tuple[str, int], str] = {}
        self._blocks: dict[tuple[bool, int], str] = {}
        self._dead: dict[int, bool] = {}
        self._asked = view.needs()
        if tool.kind != "short":
            self._asked |= sum({bits for bits in view.shared if bits.bit_count() == 1})

    def why_not(self, done: int) -> str:
        """Why it cannot be folded with these bends done, "" when it can."""
        if done not in self._known:
            self._known[done] = self._work_out(done)
        return self._known[done]

    def _work_out(self, done: int) -> str:
        if self.tool.kind != "short" and self.view.shares_line(done):
            return "shared-line"
        why = self._too_small(done)
        if why:
            return why
        for span in self.spans:
            why = self._why_not_section(done, span)
            if not why:
                return ""
        return "fingers" if self.tool.kind == "box" and len(self.spans) == 1 else why

    def never(self) -> str:
        """A reason that holds whatever is done, "" when there is none."""
        tool, line = self.tool, self.view.line
        if not self.view.room.is_hem(line) and self.angle_deg > tool.most_deg + 1e-9:
            return "nose"
        if tool.kind == "short":
            if tool.length > line.length + 1e-9:
                return "length"
            return "too-long" if tool.length < line.length - SHORTER else self._barred_by_a_part(0)
        if line.length > tool.length:
            return "length"
        return "shared-line" if 0 in self.view.shared else self._barred_by_a_part(0)

    def swing(self) -> float:
        """What swinging this side adds to the cost."""
        return swing_cost(self._reach(0, True), self._reach(0, False))

    def dead(self, done: int) -> bool:
        """Is it certain that it can be folded neither now nor after more bends?"""
        key = done & self.view.bits
        if key not in self._dead:
            self._dead[key] = self._is_dead(key)
        return self._dead[key]

    def _is_dead(self, done: int) -> bool:
        if self._barred_by_a_part(done):
            return True
        if self.tool.kind == "short":
            return False
        if self.view.parted & done:
            return True
        asked = done | self._asked
        ways = ([1 << n for n in range(b.bit_length()) if b >> n & 1] for b in self.view.shared if not b & asked)
        return any(all(self._barred_by_a_part(asked | bit) for bit in bits) for bits in ways)

    def _barred_by_a_part(self, done: int) -> str:
        """A part that is in the way wherever the bends between it and the line will have left it."""
        return self._blocked_side(done, False) or self._blocked_side(done, True)

    def _blocked_side(self, done: int, free: bool) -> str:
        key = (free, self.view.side(done | self._asked, free))
        if key not in self._blocks:
            stuck = (self._always_in_the_way(face, place, free) for face, place in self.view.parts(key[1], free))
            self._blocks[key] = next(filter(None, stuck), "")
        return self._blocks[key]

    def _always_in_the_way(self, face: str, place: int, free: bool) -> str:
        key = (face, place)
        if key not in self._in_the_way:
            self._in_the_way[key] = self._stuck(face, place, free)
        return self._in_the_way[key]

    def _stuck(self, face: str, place: int, free: bool) -> str:
        first = ""
        for more in subsets(self.view.paths[face] & ~place):
            for span in self.spans:
                struck = self._strike(face, place | more, free, span)
                if not struck:
                    return ""
                first = first or struck
        return first

    def _too_small(self, done: int) -> str:
        if self._reach(done, True) < self.tool.land:
            return "land"
        behind = self._reach(done, False)
        if behind < self.tool.grip:
            return "grip"
        return "throat" if behind > self.tool.throat else ""

    def _reach(self, done: int, free: bool) -> float:
        """How far one side reaches from the line. [in]"""
        key = (free, self.view.side(done, free))
        if key not in self._reaches:
            parts = [self._part(face, place) for face, place in self.view.parts(key[1], free)]
            self._reaches[key] = max(0.0, *(part.out if free else -part.in_ for part in parts))
        return self._reaches[key]

    def _why_not_section(self, done: int, span: Span) -> str:
        why = self._side_strikes(done, False, span) or self._side_strikes(done, True, span)
        if why:
            return why
        return "" if all(self._comes_out(done, span, angle) for angle in (0.0, self.angle_deg)) else "trapped"

    def _side_strikes(self, done: int, free: bool, span: Span) -> str:
        key = (free, self.view.side(done, free), span)
        if key not in self._strikes:
            struck = (self._strike(face, place, free, span) for face, place in self.view.parts(key[1], free))
            self._strikes[key] = next(filter(None, struck), "")
        return self._strikes[key]

    def _comes_out(self, done: int, span: Span, angle_deg: float) -> bool:
        return any(
            self._is_open(done, False, span, 0.0, way) and self._is_open(done, True, span, angle_deg, way)
            for way in range(len(self.machine.ways))
        )

    def _is_open(self, done: int, free: bool, span: Span, angle_deg: float, way: int) -> bool:
        """Does one side come out that way?"""
        key = (free, self.view.side(done, free), span, angle_deg, way)
        if key not in self._open:
            parts = self.view.parts(key[1], free)
            self._open[key] = not any(self._bars(face, place, span, angle_deg, way) for face, place in parts)
        return self._open[key]

    def _bars(self, face: str, place: int, span: Span, angle_deg: float, way: int) -> bool:
        """The plainest way out is asked for alone: most pieces take it."""
        key = (face, place, span, angle_deg)
        if way == 0:
            if key not in self._barred:
                self._barred[key] = bars(self.machine, self._part(face, place), angle_deg, span)
            return self._barred[key]
        if key not in self._barred_ways:
            self._barred_ways[key] = bars_ways(self.machine, self._part(face, place), angle_deg, span)
        return self._barred_ways[key][way]

    def _strike(self, face: str, place: int, free: bool, span: Span) -> str:
        key = (face, place, span)
        if key not in self._struck:
            part = self._part(face, place)
            if free:
                self._struck[key] = why_not_free(self.machine, part, self.angle_deg, span)
            else:
                self._struck[key] = why_not_held(self.machine, part, span)
        return self._struck[key]

    def _part(self, face: str, place: int) -> Part:
        """A flat part; a short folder meets only what lies within its own length."""
        if self.tool.kind != "short":
            return self.view.part(face, place)
        key = (face, place)
        if key not in self._shown:
            off = (self.view.line.length - self.tool.length) / 2
            cloud = self.view.part(face, place).cloud
            self._shown[key] = Part(between(cloud, off, self.view.line.length - off))
        return self._shown[key]


def finger_span(fingers: Sequence[float], length: float) -> tuple[float, float] | None:
    """Where fingers stand that fit between two sides, or None when they leave too much of the line unheld. [in]

    >>> finger_span((3.0, 4.0, 8.0), 12.0)
    (0.5, 11.5)
    """
    # Whole sixty-fourths: one bit for every width that some of the fingers make together.
    made, room = 1, int((length - FINGER_ROOM) * PARTS + 1e-6)
    for width in fingers:
        made |= made << int(width * PARTS + 1e-6)
        made &= (2 << max(room, 0)) - 1
    widest = (made.bit_length() - 1) / PARTS
    off = (length - widest) / 2
    return None if widest <= 0 or 2 * off > FINGER_SHORT else (off, length - off)
