"""What to buy and what to do."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TakeoffLine:
    """One line to buy or to do. item and basis are keys of words/ with their values; quantity is in `unit`.

    rate: the row of the rates that prices it (`prices.tape`; `labour` for hours); none for a line that is a part of
    another or is only for information. spare: so much of the quantity is waste. price: money for all of it, where
    the job itself names that.
    """

    item: str
    quantity: float
    unit: str
    basis: str
    values: dict[str, float | int | str]
    rate: str = ""
    spare: float = 0.0
    price: float | None = None
