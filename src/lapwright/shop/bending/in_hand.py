"""One line of a piece with crossing bends and one hand tool: is there flat metal beside it to take hold of?"""

from __future__ import annotations

import math

import numpy as np

from lapwright.shop.bending.room import View, between, subsets
from lapwright.shop.bending.strip_moves import why_not_held
from lapwright.shop.bending.tools import HandTool

ENDS = 0.25
"""A hand tool need not hold this much at each end of a line, nor a quarter of it. House rule. [in]"""

LEVEL = 1.5
"""Metal within this many thicknesses of a flat lies in it: a closed hem does. House rule."""


class InHand:
    """A line and a hand tool. angle_deg: how far it is turned."""

    def __init__(self, view: View, tool: HandTool, angle_deg: float) -> None:
        self.view, self.tool, self.angle_deg = view, tool, angle_deg
        self._known: dict[int, str] = {}
        self._flats: dict[tuple[str, int, bool], tuple[float, float]] = {}
        self._beside: dict[tuple[bool, int], tuple[float, bool]] = {}
        self._later: dict[tuple[bool, int], tuple[float, float, bool]] = {}
        self._parts_onward: dict[tuple[str, int], tuple[float, float, float, float]] = {}

    def why_not(self, done: int) -> str:
        """Why the tool does not get hold with these bends done, "" when it does."""
        if done not in self._known:
            self._known[done] = self._work_out(done)
        return self._known[done]

    def _work_out(self, done: int) -> str:
        flange, bare = self._flat_beside(done, True)
        behind, _ = self._flat_beside(done, False)
        return why_not_held(self.tool, flange, bare, behind)

    def never(self) -> str:
        """A reason that holds whatever is done, "" when there is none."""
        if self.angle_deg > self.tool.most_deg + 1e-9:
            return "angle"
        return "length" if self.tool.length and self.view.line.length > self.tool.length else ""

    def dead(self, done: int) -> bool:
        """Is it certain that it gets hold neither now nor after more bends, whatever each part may yet come to?"""
        least, most, stands = self._onward(done, True)
        if most < self.tool.least:
            return True
        if self.tool.kind == "seamers":
            return stands or bool(self.tool.depth and least > self.tool.depth)
        return self._onward(done, False)[1] < self.tool.width

    def _onward(self, done: int, free: bool) -> tuple[float, float, bool]:
        """Flat metal beside the line, now or later: least and most [in]; whether something stands whatever comes."""
        key = (free, self.view.side(done, free))
        if key not in self._later:
            parts = [self._part_onward(face, place, free) for face, place in self.view.parts(key[1], free)]
            far_least, far_most = max(p[0] for p in parts), max(p[1] for p in parts)
            stands_least, stands_most = min(p[2] for p in parts), min(p[3] for p in parts)
            least, most = min(far_least, max(0.0, stands_least)), min(far_most, max(0.0, stands_most))
            self._later[key] = least, most, stands_most < math.inf
        return self._later[key]

    def _part_onward(self, face: str, place: int, free: bool) -> tuple[float, float, float, float]:
        """What `_part` may yet tell of one part: least and most reach, nearest and farthest it stands off. [in]"""
        key = (face, place)
        if key not in self._parts_onward:
            may = [self._part(face, place | more, free) for more in subsets(self.view.paths[face] & ~place)]
            fars, stands = [m[0] for m in may], [m[1] for m in may]
            self._parts_onward[key] = min(fars), max(fars), min(stands), max(stands)
        return self._parts_onward[key]

    def swing(self) -> float:
        """By hand nothing has to swing. [cost, no unit]"""
        return 0.0

    def _flat_beside(self, done: int, free: bool) -> tuple[float, bool]:
        """How far flat metal reaches out from the line, and whether nothing but closed hems stands beyond. [in]"""
        key = (free, self.view.side(done, free))
        if key not in self._beside:
            parts = [self._part(face, place, free) for face, place in self.view.parts(key[1], free)]
            far, stands = max(p[0] for p in parts), min(p[1] for p in parts)
            self._beside[key] = min(far, max(0.0, stands)), stands == math.inf
        return self._beside[key]

    def _part(self, face: str, place: int, free: bool) -> tuple[float, float]:
        """How far one part reaches, and where it begins to stand off the flat (infinite where it does not). [in]"""
        key = (face, place, free)
        if key not in self._flats:
            length = self.view.line.length
            ends = min(ENDS, length / 4)
            cloud = between(self.view.part(face, place).cloud, ends, length - ends)
            x = cloud[:, 0] if free else -cloud[:, 0]
            standing = x[np.abs(cloud[:, 1]) > LEVEL * self.view.room.flat.thickness]
            self._flats[key] = (float(x.max(initial=0.0)), float(standing.min()) if len(standing) else math.inf)
        return self._flats[key]
