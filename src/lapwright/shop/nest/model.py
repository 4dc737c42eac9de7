"""What is to be cut, what it may be cut from, and how it lies there. Lengths in inches.

x runs across the stock's width, y along its height (the length of a roll); the origin is one corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

BoundOf = Literal["used_height", "sheets", "area", "price"]


@dataclass(frozen=True, slots=True)
class Part:
    """A rectangle to cut, `quantity` times. turn: may it lie a quarter turned? [in]"""

    id: str
    width: float
    height: float
    quantity: int = 1
    turn: bool = False


@dataclass(frozen=True, slots=True)
class Stock:
    """A sheet, an offcut or a roll (a sheet of great height). [in]

    quantity: None for as many as wanted. price: of one; None when no stock names a price.
    by_length: only the used height is paid for, at price over height (coil by the foot).
    """

    id: str
    width: float
    height: float
    quantity: int | None = None
    price: float | None = None
    by_length: bool = False


@dataclass(frozen=True, slots=True)
class Placed:
    """One rectangle where it lies; width and height as it lies, turned or not. [in]"""

    id: str
    x: float
    y: float
    width: float
    height: float
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """One piece of stock with what is cut from it."""

    stock: Stock
    placed: tuple[Placed, ...]

    @property
    def used_height(self) -> float:
        """How far up the sheet the highest rectangle reaches. [in]"""
        return max((p.y + p.height for p in self.placed), default=0.0)


@dataclass(frozen=True, slots=True)
class Nest:
    """A whole answer.

    unplaced: ids with how many found no place. bound: no answer can be lower, of what `bound_of` names: used
    height of one sheet [in], sheets, their area [in2] or their price. proved: the answer reaches the bound.
    """

    sheets: tuple[Sheet, ...]
    unplaced: tuple[tuple[str, int], ...]
    bound: float
    bound_of: BoundOf
    proved: bool
    value: float
