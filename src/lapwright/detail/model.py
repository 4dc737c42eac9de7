"""What was decided for each opening, before any metal is drawn. Inches, roof frame."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from lapwright.geom.space import Flat, Point
from lapwright.layout.model import Bay
from lapwright.site.model import Defaults, Opening

Method = Literal["flat-pan", "cricket", "sleeve", "split-plate", "none"]


@dataclass(frozen=True, slots=True)
class Pan:
    """The flat pan's outside. downslope: end of its legs; upslope: its far end; upstand: square to the roof."""

    left: float
    right: float
    downslope: float
    upslope: float
    upstand: float

    @property
    def width(self) -> float:
        """Outside to outside of the rib turn-ups. [in]"""
        return self.right - self.left


@dataclass(frozen=True, slots=True)
class Notch:
    """A stretch of a panel's leg taken off, from y `from_y` to `to_y` along the rib centred at x `rib`.

    cut: outer-leg or lap-lock (bay ribs, on the side panel); leg-back, leg-off, flange-off (the rest).
    """

    rib: float
    from_y: float
    to_y: float
    cut: str


@dataclass(frozen=True, slots=True)
class Lap:
    """`over` laps over `under` (ids of pieces and panels), so `under` goes on first."""

    over: str
    under: str


@dataclass(frozen=True, slots=True)
class Cricket:
    """A cricket's true shape, by intersecting its planes with the roof and the back face.

    cross_slope, ridge_slope: rise per unit of level run, across and along the ridge (up the roof is positive).
    height: ridge above the back face's foot, plumb. ridge_plan: level length of the ridge, ridge_on_roof: the
    same measured up the roof. valley, wall_edge: true lengths of a half's edges. plane_area: one half's. [in2]
    wall_rise: ridge above the roof at the back face, square to the roof. [in]
    corner, ridge_foot, ridge_head: a half's three corners in the roof frame for the left half (x mirrored for
    the right): at the wall corner, at the wall under the ridge, and where the ridge meets the roof.
    valley_angle: of the valley to the eave, in the roof plane. [rad]
    """

    cross_slope: float
    ridge_slope: float
    height: float
    ridge_plan: float
    ridge_on_roof: float
    valley: float
    valley_slope_deg: float
    valley_bend_deg: float
    ridge_bend_deg: float
    wall_edge: float
    plane_area: float
    wall_rise: float
    valley_angle: float
    corner: Point
    ridge_foot: Point
    ridge_head: Point


@dataclass(frozen=True, slots=True)
class Pipe:
    """A round pipe and what stands round it. Inches, angles in radians.

    centre: of its axis in the roof plane. lean: its axis off square to the roof (the roof's slope where plumb).
    across, along: axes of the plate's hole. gap: pipe to sleeve. height: the axis from the roof to the sleeve's end.
    half_angle: of a cone's sleeve, 0 for a cylinder's. rib: centre of the rib that is cut for it, None where none is.
    """

    centre: Flat
    diameter: float
    lean: float
    across: float
    along: float
    gap: float
    height: float
    half_angle: float
    hot: bool
    rib: float | None = None


Role = Literal["through", "side", "lower", "upper"]


@dataclass(frozen=True, slots=True)
class Part:
    """A piece or a panel that will be made.

    kind: one of the contract's piece kinds, or "panel". where: "left", "front", "back-left", "1" ... by kind.
    opening: index of its opening, None for a through panel. strip, role: panels only.
    copies: how far along x the same piece is set again, itself first. [in]
    """

    id: str
    kind: str
    where: str = ""
    opening: int | None = None
    strip: int | None = None
    role: Role | None = None
    copies: tuple[float, ...] = (0.0,)


@dataclass(frozen=True, slots=True)
class Water:
    """Water behind one opening. depth: still, at the middle, square to the roof; 0 behind a cricket. [in]

    supply_gpm: all that arrives. [gal/min]  run_up: of the arriving sheet. [in]  design: 1.10 depth + run_up. [in]
    limit: lowest of the pan's turn-up and the sealed laps' rating, less 1/2 (house rule). [in]
    reach: how far up the roof it stands. [in]  side_depth: in the channels beside the opening. [in]
    """

    supply_gpm: float
    depth: float
    run_up: float
    design: float
    limit: float
    reach: float
    side_depth: float


@dataclass(frozen=True, slots=True)
class OpeningDetail:
    """One opening as decided. method "none": nothing is drawn for it (a STOP finding says why).

    cleat_line: construction line, ends on the bay's rib centres or roof edges.
    pan: outside edges of the flat pan, or of the metal round a cricket.
    why: key of words/ for the method's reason; for method "none" the rule that refuses.
    """

    opening: Opening
    bay: Bay
    method: Method
    measures: Defaults
    cleat_line: tuple[Flat, ...] = ()
    pan: Pan | None = None
    cricket: Cricket | None = None
    notches: tuple[Notch, ...] = ()
    why: str = ""
    water: Water | None = None
    pipe: Pipe | None = None

    @property
    def planned(self) -> bool:
        """Is metal drawn for this opening?"""
        return self.method != "none"


@dataclass(frozen=True, slots=True)
class Detail:
    """Every opening's decisions, every part of the roof and every lap between them."""

    openings: tuple[OpeningDetail, ...]
    laps: tuple[Lap, ...] = field(default=())
    parts: tuple[Part, ...] = field(default=())
