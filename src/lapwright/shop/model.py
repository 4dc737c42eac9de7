"""What to buy."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TakeoffLine:
    """One line to buy. item and basis are keys of words/ with their values; quantity is in `unit`."""

    item: str
    quantity: float
    unit: str
    basis: str
    values: dict[str, float | int | str]
