"""Cut: a list of lengths and a list of bars in, bars with their pieces out."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lapwright.shop.cut1d.cut import EFFORT, cut
from lapwright.shop.cut1d.model import Cutting
from lapwright.shop.lists import read_bars, read_lengths
from lapwright.units import Unit
from lapwright.verbs.lists import read_both, shown
from lapwright.verbs.nest import work


@dataclass(frozen=True, slots=True)
class CutUp:
    """The answer, and the unit it is told in."""

    cutting: Cutting
    unit: Unit

    @property
    def complete(self) -> bool:
        """Has every piece found its bar?"""
        return not self.cutting.unplaced


def cut_lists(parts: Path, stock: Path, *, unit: Unit = "in", seconds: float | None = None) -> CutUp:
    """Read both lists and cut.

    Args:
        parts: CSV of lengths.
        stock: CSV of bars.
        unit: What a bare number means.
        seconds: A clock for the search; None for a fixed amount of work. [s]

    Raises:
        BadLists: a list cannot be used.
    """
    wanted, have = read_both(parts, read_lengths, stock, read_bars, unit)
    return CutUp(cut(wanted, have, *work(seconds, EFFORT)), unit)


def as_json(done: CutUp) -> dict[str, Any]:
    """The answer for other programs: lengths are numbers of the unit."""
    answer, unit = done.cutting, done.unit
    long = answer.bound_of == "length"
    bound, value = (shown(v, unit) if long else round(v, 6) for v in (answer.bound, answer.value))
    return {
        "bars": [
            {"stock": b.stock.id, "pieces": list(b.pieces), "left": shown(b.left, unit)} for b in answer.bars
        ],
        "unplaced": [{"id": i, "quantity": n} for i, n in answer.unplaced],
        "bound": bound,
        "bound_of": answer.bound_of,
        "value": value,
        "proved": answer.proved,
        "unit": unit,
    }
