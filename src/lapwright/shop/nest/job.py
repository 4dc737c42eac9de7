"""The sheets of a whole job: every flat blank on coil or on the stock at hand, one heap for each metal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank, Piece, RoofPanel
from lapwright.shop.nest.cuts import CutPlan, cut_plan
from lapwright.shop.nest.model import Nest, Part, Placed, Sheet, Stock
from lapwright.shop.nest.nest import EFFORT, nest
from lapwright.shop.nest.pairs import Lie, Pair, pairs_of

COIL = 100 * 12.0
"""Length of the coil that is taken where no stock is listed; longer where the blanks ask for more. [in]"""


@dataclass(frozen=True, slots=True)
class Lying:
    """One blank where it lies on its sheet. number: the same for all of one piece, from 1 on this sheet."""

    id: str
    number: int
    blank: Blank
    bends: tuple[Bend, ...]
    lie: Lie

    def at(self, p: Flat) -> Flat:
        """A point of the blank on the sheet. [in]"""
        return self.lie.at(p, self.blank.width, self.blank.height)

    def corners(self) -> tuple[Flat, Flat]:
        """Least and greatest x and y of its rectangle on the sheet. [in]"""
        a, b = self.at((0.0, 0.0)), self.at((self.blank.width, self.blank.height))
        return (min(a[0], b[0]), min(a[1], b[1])), (max(a[0], b[0]), max(a[1], b[1]))


@dataclass(frozen=True, slots=True)
class JobSheet:
    """One sheet of one metal, n of `of`. plan: its straight cuts and offcuts; None where no shear can cut it."""

    metal: str
    n: int
    of: int
    stock: Stock
    lying: tuple[Lying, ...]
    used_height: float
    plan: CutPlan | None


@dataclass(frozen=True, slots=True)
class JobNest:
    """Every sheet of a job; what found no place (metal, id, how many); per metal the nest it came from, whose
    parts go by numbers: for its bound and whether that is proved.
    """

    sheets: tuple[JobSheet, ...]
    missing: tuple[tuple[str, str, int], ...]
    nests: tuple[tuple[str, Nest], ...]


@dataclass(frozen=True, slots=True)
class _Item:
    id: str
    blank: Blank
    bends: tuple[Bend, ...]
    quantity: int


def nest_job(
    pieces: Sequence[Piece],
    panels: Sequence[RoofPanel] = (),
    stock: Mapping[str, Sequence[Stock]] | None = None,
    *,
    stock_width: float = 48.0,
    guillotine: bool = True,
    turn: bool = True,
    effort: int = EFFORT,
) -> JobNest:
    """Lay every flat blank of a job on stock, metal by metal.

    Args:
        pieces: Membranes are passed over.
        panels: Those with a blank are laid out too, under the metal "panel"; the panel machine makes the others.
        stock: What there is, by metal; a metal that is not in it comes from coil, paid by the foot.
        stock_width: Of that coil. [in]
        guillotine: Straight cuts only; without it blanks that are no rectangles are paired where that saves.
        turn: May a blank lie a quarter turned (no, where the finish has a direction)?
        effort: Work allowed for each metal. [units]
    """
    heaps: dict[str, list[_Item]] = {}
    for p in pieces:
        if p.is_metal:
            heaps.setdefault(p.metal, []).append(_Item(p.id, p.blank, p.bends, p.quantity))
    for panel in panels:
        if panel.blank is not None:
            heaps.setdefault("panel", []).append(_Item(panel.id, panel.blank, panel.bends, 1))
    sheets: list[JobSheet] = []
    missing: list[tuple[str, str, int]] = []
    nests = []
    for metal, items in heaps.items():
        have = (stock or {}).get(metal) or (_coil(items, stock_width),)
        answer, pairs = _nested(items, have, guillotine, turn, effort)
        nests.append((metal, answer))
        for part, count in answer.unplaced:
            missing += [(metal, items[who].id, count) for who in _who(part, pairs)]
        for n, sheet in enumerate(answer.sheets, 1):
            sheets.append(_job_sheet(metal, (n, len(answer.sheets)), sheet, items, pairs))
    return JobNest(tuple(sheets), tuple(missing), tuple(nests))


def _coil(items: Sequence[_Item], width: float) -> Stock:
    length = max(COIL, sum(i.quantity * max(i.blank.width, i.blank.height) for i in items))
    return Stock("coil", width, length, None, None, by_length=True)


def _nested(
    items: Sequence[_Item], stock: Sequence[Stock], guillotine: bool, turn: bool, effort: int
) -> tuple[Nest, tuple[Pair, ...]]:
    """With pairs and without; the better of the two."""
    counts = [i.quantity for i in items]
    alone = nest(_parts(items, counts, (), turn), stock, guillotine, effort)
    found = () if guillotine else pairs_of([i.blank for i in items], counts, turn)
    pairs = tuple(p for p in found if any(_holds(s, p, turn) for s in stock))
    if not pairs:
        return alone, ()
    paired = nest(_parts(items, counts, pairs, turn), stock, guillotine, effort)
    return (paired, pairs) if _score(paired) < _score(alone) else (alone, ())


def _holds(stock: Stock, pair: Pair, turn: bool) -> bool:
    sizes = ((pair.width, pair.height), (pair.height, pair.width))[: 2 if turn else 1]
    return any(w <= stock.width and h <= stock.height for w, h in sizes)


def _who(part: str, pairs: Sequence[Pair]) -> tuple[int, ...]:
    """The pieces that a part of the nest stands for."""
    return (pairs[int(part[1:])].one, pairs[int(part[1:])].two) if part.startswith("P") else (int(part),)


def _score(answer: Nest) -> tuple[int, float, float]:
    """What found no place, then the value, then metal used."""
    used = sum(s.used_height * s.stock.width for s in answer.sheets)
    return sum(n for _, n in answer.unplaced), round(answer.value, 6), used


def _parts(items: Sequence[_Item], counts: Sequence[int], pairs: Sequence[Pair], turn: bool) -> list[Part]:
    """One part for each piece, by its number; and one for each pair, by its number after a P."""
    left = list(counts)
    out = []
    for n, pair in enumerate(pairs):
        left[pair.one] -= 1
        left[pair.two] -= 1
        out.append(Part(f"P{n}", pair.width, pair.height, 1, turn))
    for n, item in enumerate(items):
        if left[n]:
            out.append(Part(str(n), item.blank.width, item.blank.height, left[n], turn))
    return out


def _job_sheet(
    metal: str, place: tuple[int, int], sheet: Sheet, items: Sequence[_Item], pairs: Sequence[Pair]
) -> JobSheet:
    laid: list[tuple[int, Lie]] = []
    for p in sheet.placed:
        if p.id.startswith("P"):
            pair = pairs[int(p.id[1:])]
            for who, lie in zip(_who(p.id, pairs), pair.lies, strict=True):
                laid.append((who, _on_sheet(lie, items[who].blank, p, (pair.width, pair.height))))
        else:
            who = int(p.id)
            blank = items[who].blank
            laid.append((who, _on_sheet(Lie(), blank, p, (blank.width, blank.height))))
    numbers = {who: n for n, who in enumerate(sorted({who for who, _ in laid}), 1)}
    lying = tuple(Lying(items[w].id, numbers[w], items[w].blank, items[w].bends, lie) for w, lie in laid)
    return JobSheet(metal, *place, sheet.stock, lying, sheet.used_height, cut_plan(sheet))


def _on_sheet(lie: Lie, blank: Blank, placed: Placed, size: tuple[float, float]) -> Lie:
    """How a blank lies on the sheet when the rectangle it lies in is placed there, turned or not."""
    if not placed.turned:
        return Lie(lie.quarter, lie.x + placed.x, lie.y + placed.y)
    # a quarter turn of the rectangle takes (x, y) to (height - y, x); the blank's own rectangle goes with it
    tall = blank.width if lie.quarter % 2 else blank.height
    return Lie((lie.quarter + 1) % 4, placed.x + size[1] - lie.y - tall, placed.y + lie.x)
