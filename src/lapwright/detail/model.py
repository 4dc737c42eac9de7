"""What was decided for each opening, before any metal is drawn. Inches, roof frame."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from lapwright.geom.space import Flat
from lapwright.layout.model import Bay
from lapwright.site.model import Defaults, Opening

Method = Literal["flat-pan", "cricket", "none"]


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
class OpeningDetail:
    """One opening as decided. method "none": nothing is drawn for it (a STOP finding says why).

    cleat_line: construction line, ends on the bay's rib centres or roof edges.
    why: (key of words/, values) of the reason for the method.
    """

    opening: Opening
    bay: Bay
    method: Method
    measures: Defaults
    cleat_line: tuple[Flat, ...] = ()
    pan: Pan | None = None
    notches: tuple[Notch, ...] = ()
    why: str = ""


@dataclass(frozen=True, slots=True)
class Detail:
    """Every opening's decisions, every part of the roof and every lap between them."""

    openings: tuple[OpeningDetail, ...]
    laps: tuple[Lap, ...] = field(default=())
    parts: tuple[Part, ...] = field(default=())
