"""Where ribs stand, what strips they make and which bay each opening takes. Inches, roof frame."""

from __future__ import annotations

from dataclasses import dataclass

from lapwright.layout.start import Start


@dataclass(frozen=True, slots=True)
class Strip:
    """A panel's place: between two ribs, or an edge and a rib. index from 0 at the left."""

    index: int
    left: float
    right: float
    left_is_rib: bool
    right_is_rib: bool

    @property
    def width(self) -> float:
        """Coverage of this strip. [in]"""
        return self.right - self.left


@dataclass(frozen=True, slots=True)
class Bay:
    """The clear run between the two ribs that carry the water past an opening.

    left, right: x of the bay's rib centres, or of the roof edge where there is no rib.
    interrupted: x of the ribs strictly inside the bay.
    """

    opening: str
    left: float
    right: float
    left_is_rib: bool
    right_is_rib: bool
    interrupted: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """Ribs (x of centres, left to right), strips and one bay per opening, in the openings' order.

    start: how the first rib was chosen; None where the job gives it.
    """

    ribs: tuple[float, ...]
    strips: tuple[Strip, ...]
    bays: tuple[Bay, ...]
    first_rib: float
    start: Start | None = None

    @property
    def chosen(self) -> bool:
        """Was the first rib chosen here, not given by the job?"""
        return self.start is not None
