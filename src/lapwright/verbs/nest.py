"""Nest: a list of parts and a list of stock in, sheets out."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lapwright.shop.lists import read_parts, read_stock
from lapwright.shop.nest.cuts import CutPlan, cut_plan
from lapwright.shop.nest.exact import prover
from lapwright.shop.nest.model import Nest, Part, Stock
from lapwright.shop.nest.nest import EFFORT, nest
from lapwright.units import Unit
from lapwright.verbs.lists import read_both, shown

PER_SECOND = 4_000_000
"""Work allowed for each second when a clock ends the search; more than any machine does. [units]"""


@dataclass(frozen=True, slots=True)
class Nested:
    """The answer, and for every sheet its cuts (none where no straight cut takes it apart).

    turn_fits: ids that found no place and would fit some stock if they might turn.
    """

    nest: Nest
    cuts: tuple[CutPlan | None, ...]
    unit: Unit
    turn_fits: frozenset[str]

    @property
    def complete(self) -> bool:
        """Has everything found its place?"""
        return not self.nest.unplaced


def nest_lists(
    parts: Path,
    stock: Path,
    *,
    guillotine: bool = False,
    unit: Unit = "in",
    seconds: float | None = None,
    exact: bool = False,
) -> Nested:
    """Read both lists and nest them.

    Args:
        parts: CSV of rectangles.
        stock: CSV of sheets, offcuts and rolls.
        guillotine: Only straight cuts from edge to edge.
        unit: What a bare number means.
        seconds: A clock for the search; None for a fixed amount of work. [s]
        exact: Prove the answer.

    Raises:
        BadLists: a list cannot be used.
        NotExact: no proof can be had.
    """
    wanted, have = read_both(parts, read_parts, stock, read_stock, unit)
    effort, over = work(seconds, EFFORT)
    found = nest(wanted, have, guillotine, effort, over, prover(guillotine, seconds) if exact else None)
    return Nested(found, tuple(cut_plan(s) for s in found.sheets), unit, _turn_fits(wanted, have))


def _turn_fits(parts: Sequence[Part], stock: Sequence[Stock]) -> frozenset[str]:
    def fits(width: float, height: float) -> bool:
        return any(width <= s.width and height <= s.height and s.quantity != 0 for s in stock)

    fixed = (p for p in parts if not p.turn and not fits(p.width, p.height))
    return frozenset(p.id for p in fixed if fits(p.height, p.width))


def work(seconds: float | None, effort: int) -> tuple[int, Callable[[], bool] | None]:
    """How long to search: by work, or by the clock. [s]"""
    if seconds is None:
        return effort, None
    end = time.monotonic() + seconds
    return max(int(seconds * PER_SECOND), 1), lambda: time.monotonic() > end


def as_json(nested: Nested) -> dict[str, Any]:
    """The answer for other programs: lengths are numbers of the unit, widths and heights as the parts lie."""
    answer, unit = nested.nest, nested.unit
    sizes = answer.bound_of == "used_height"
    square = 25.4**2 if unit == "mm" and answer.bound_of == "area" else 1.0
    bound, value = (shown(v, unit) if sizes else round(v * square, 6) for v in (answer.bound, answer.value))
    return {
        "sheets": [
            {
                "stock": s.stock.id,
                "placed": [
                    {
                        "id": p.id,
                        "x": shown(p.x, unit),
                        "y": shown(p.y, unit),
                        "width": shown(p.width, unit),
                        "height": shown(p.height, unit),
                        "turned": p.turned,
                    }
                    for p in s.placed
                ],
                "used_height": shown(s.used_height, unit),
                "cuts": None if cuts is None else [_cut(c, unit) for c in cuts.cuts],
            }
            for s, cuts in zip(answer.sheets, nested.cuts, strict=True)
        ],
        "unplaced": [{"id": i, "quantity": n} for i, n in answer.unplaced],
        "bound": bound,
        "bound_of": answer.bound_of,
        "value": value,
        "proved": answer.proved,
        "unit": unit,
    }


def _cut(cut: Any, unit: Unit) -> dict[str, Any]:
    return {"way": cut.way, **{name: shown(getattr(cut, name), unit) for name in ("at", "start", "end")}}
