"""What every piece of one opening is made from: measures, walls and metal."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from lapwright.detail.measures import side_room
from lapwright.detail.model import OpeningDetail, Pan
from lapwright.geom.space import Point
from lapwright.metal.bend import allowance, setback
from lapwright.metal.sheet import Sheet
from lapwright.metal.walls import Walls, walls_of
from lapwright.site.model import Defaults, Opening, Site
from lapwright.tables import metals

Hand = Literal["left", "right"]
HANDS: tuple[Hand, Hand] = ("left", "right")


@dataclass(frozen=True, slots=True)
class Work:
    """One opening at the bench. thickness: coated flashing metal; radius: inside of ordinary bends. [in]"""

    site: Site
    detail: OpeningDetail
    walls: Walls
    metal: str
    thickness: float
    radius: float

    @property
    def opening(self) -> Opening:
        """The opening itself."""
        return self.detail.opening

    @property
    def measures(self) -> Defaults:
        """Its measures, all resolved."""
        return self.detail.measures

    @property
    def pan(self) -> Pan:
        """The flat pan's outside.

        Raises:
            ValueError: no flat pan was decided (our bug).
        """
        if self.detail.pan is None:
            raise ValueError("no pan was decided for this opening")
        return self.detail.pan

    def sheet(self) -> Sheet:
        """A fresh sheet of the flashing metal."""
        return Sheet(self.metal, self.thickness, self.radius)

    def setback(self, turned_deg: float) -> float:
        """Mould line to tangent line of a bend up. [in]"""
        return setback(turned_deg, self.radius, self.thickness, "up")

    def far(self, turned_deg: float) -> float:
        """How far past the mould line the bend's metal reaches in the flat. [in]"""
        return allowance(turned_deg, self.radius, self.thickness) - self.setback(turned_deg)

    @property
    def turn_back(self) -> float:
        """Degrees the sheet turns up at the back face: 90 + lean."""
        return 90.0 + math.degrees(self.walls.lean)

    @property
    def turn_front(self) -> float:
        """Degrees the sheet turns up at the downslope face: 90 - lean."""
        return 90.0 - math.degrees(self.walls.lean)

    def out(self, hand: Hand) -> Point:
        """Away from the opening on that side."""
        return (-1.0, 0.0, 0.0) if hand == "left" else (1.0, 0.0, 0.0)

    def into(self, hand: Hand) -> Point:
        """Toward the middle of the opening from that side."""
        return (1.0, 0.0, 0.0) if hand == "left" else (-1.0, 0.0, 0.0)

    def room(self, hand: Hand) -> float:
        """From the opening's side to the nearest rib's face, or the roof edge, less the gap. [in]"""
        left, right = side_room(self.opening, self.detail.bay, self.measures)
        return left if hand == "left" else right

    @property
    def ribs_in_face(self) -> tuple[float, ...]:
        """Interrupted ribs that run into the downslope face (x of centres)."""
        o = self.opening
        return tuple(r for r in self.detail.bay.interrupted if o.left < r < o.right)

    @property
    def raised(self) -> bool:
        """Does the apron's flange stand on rib-high closures? (snap ribs in the downslope face)"""
        return bool(self.ribs_in_face) and not self.site.panel.folded


def at_bench(site: Site, detail: OpeningDetail) -> Work:
    """Gather what the pieces of one opening need."""
    m = detail.measures
    row = metals()[m.flashing_metal or site.panel.metal]
    walls = walls_of(site.roof, detail.opening)
    return Work(site, detail, walls, row.key, row.coated, m.bend_radius * row.coated)
