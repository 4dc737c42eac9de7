"""What is to be cut to length, what from, and which piece comes from which bar. Lengths in inches."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

BoundOf = Literal["bars", "length", "price"]


@dataclass(frozen=True, slots=True)
class Length:
    """A piece to cut, `quantity` times. [in]"""

    id: str
    length: float
    quantity: int = 1


@dataclass(frozen=True, slots=True)
class Bar:
    """A length of stock. [in]  quantity: None for as many as wanted. price: of one; None when none is named."""

    id: str
    length: float
    quantity: int | None = None
    price: float | None = None


@dataclass(frozen=True, slots=True)
class CutBar:
    """One bar and the ids of the pieces cut from it, longest first. left: what is over. [in]"""

    stock: Bar
    pieces: tuple[str, ...]
    left: float


@dataclass(frozen=True, slots=True)
class Cutting:
    """A whole answer.

    unplaced: ids with how many found no bar. bound: no answer can be lower, of what `bound_of` names: bars, their
    length [in] or their price. value: this answer's. proved: the two are the same.
    """

    bars: tuple[CutBar, ...]
    unplaced: tuple[tuple[str, int], ...]
    bound: float
    bound_of: BoundOf
    proved: bool
    value: float
