"""The stock of a job: what is at hand or can be bought, and in which order it is turned to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lapwright.shop.nest.model import Stock

Form = Literal["sheet", "roll", "offcut", "coil"]
"""coil: bought by the foot; a roll is at hand already."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of metal. at_hand: the shop has it; else it is bought. price: of one, where it is known. [money]"""

    stock: Stock
    form: Form
    at_hand: bool
    price: float | None = None


@dataclass(frozen=True, slots=True)
class Shelf:
    """Rows that are taken together; what finds no place goes on to the next shelf.

    to_length: strips no wider than the blanks that are cut from them, in one dimension.
    """

    rows: tuple[Row, ...]
    to_length: bool = False
