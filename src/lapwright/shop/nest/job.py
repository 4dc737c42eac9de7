"""The sheets of a whole job: every flat blank on the stock at hand or to buy, one heap for each metal."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from lapwright.geom import SAME
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank, Piece
from lapwright.shop.nest.cuts import CutPlan, Offcut, cut_plan
from lapwright.shop.nest.lean import UPRIGHT, Lean, leaned
from lapwright.shop.nest.model import Nest, Part, Placed, Sheet, Stock
from lapwright.shop.nest.nest import EFFORT, nest
from lapwright.shop.nest.pairs import Lie, Pair, pairs_of
from lapwright.shop.nest.rows import Row, Shelf
from lapwright.shop.nest.strips import cut_strips

LEAST_OFFCUT = 3.0
"""An offcut narrower than this is scrap. House rule. [in]"""


@dataclass(frozen=True, slots=True)
class Lying:
    """One blank where it lies on its sheet. number: the same for all of one piece, from 1 on this sheet.

    lean: `blank` and `bends` are the piece's own, turned so first.
    """

    id: str
    number: int
    blank: Blank
    bends: tuple[Bend, ...]
    lie: Lie
    lean: Lean = UPRIGHT

    def at(self, p: Flat) -> Flat:
        """A point of the blank on the sheet. [in]"""
        return self.lie.at(p, self.blank.width, self.blank.height)

    def corners(self) -> tuple[Flat, Flat]:
        """Least and greatest x and y of its rectangle on the sheet. [in]"""
        a, b = self.at((0.0, 0.0)), self.at((self.blank.width, self.blank.height))
        return (min(a[0], b[0]), min(a[1], b[1])), (max(a[0], b[0]), max(a[1], b[1]))


@dataclass(frozen=True, slots=True)
class JobSheet:
    """One sheet of one metal, n of `of`. plan: its straight cuts; None where no shear can cut it."""

    metal: str
    n: int
    of: int
    row: Row
    lying: tuple[Lying, ...]
    used_height: float
    plan: CutPlan | None

    @property
    def stock(self) -> Stock:
        """Its size. [in]"""
        return self.row.stock

    @property
    def taken(self) -> float:
        """Length of it that is taken: a sheet whole, a roll or coil as far as it is used. [in]"""
        return self.used_height if self.stock.by_length else self.stock.height

    @property
    def share(self) -> float:
        """How much of the metal that is taken becomes blanks, 0 to 1. [-]"""
        return sum(x.blank.area for x in self.lying) / (self.taken * self.stock.width)

    @property
    def price(self) -> float | None:
        """What the metal that is taken costs; None where it has no price. [money]"""
        return None if self.row.price is None else self.row.price * self.taken / self.stock.height

    def offcuts(self) -> tuple[Offcut, ...]:
        """What is left of it and wide enough to keep, the largest first; without the rest of a roll or coil."""
        if self.plan is None:
            width, end = self.stock.width, self.taken
            found = [Offcut(0.0, self.used_height, width, end - self.used_height)]
        else:
            found = [o for o in self.plan.offcuts if o.y + o.height <= self.taken + SAME]
        return tuple(o for o in found if min(o.width, o.height) >= LEAST_OFFCUT)


@dataclass(frozen=True, slots=True)
class JobNest:
    """Every sheet of a job, and what did not go where it was meant to (metal, id, how many).

    short: does not go on the stock at hand and is cut from what is bought. missing: goes on nothing.
    """

    sheets: tuple[JobSheet, ...] = ()
    short: tuple[tuple[str, str, int], ...] = ()
    missing: tuple[tuple[str, str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Ways:
    """How the shop cuts.

    guillotine: straight cuts only; without it blanks that are no rectangles are paired where that saves.
    turn: may a blank lie either way? Else its length runs along the stock. effort: work for each shelf. [units]
    over: a clock that may end each search early.
    """

    guillotine: bool = True
    turn: bool = True
    effort: int = EFFORT
    over: Callable[[], bool] | None = None


@dataclass(frozen=True, slots=True)
class _Item:
    id: str
    blank: Blank
    bends: tuple[Bend, ...]
    quantity: int
    lean: Lean = UPRIGHT


_Laid = tuple[Row, Sheet, list[tuple[_Item, Lie]]]
"""A row, the rectangles on it, and every blank as it lies."""


def nest_job(pieces: Sequence[Piece], shelves: Mapping[str, Sequence[Shelf]], ways: Ways) -> JobNest:
    """Lay every flat blank of a job on stock, metal by metal.

    Args:
        pieces: Membranes are passed over.
        shelves: For each metal, where its blanks may lie, shelf after shelf.
        ways: How the shop cuts.
    """
    heaps: dict[str, list[_Item]] = {}
    for p in pieces:
        if p.is_metal:
            heaps.setdefault(p.metal, []).append(_Item(p.id, p.blank, p.bends, p.quantity))
    sheets: list[JobSheet] = []
    short: list[tuple[str, str, int]] = []
    missing: list[tuple[str, str, int]] = []
    for metal, items in heaps.items():
        left = [i.quantity for i in items]
        laid: list[_Laid] = []
        had = list(left)
        for shelf in shelves[metal]:
            if any(left):
                laid += _on_shelf(items, left, shelf, ways)
            if shelf.rows[0].at_hand:
                had = list(left)
        missing += [(metal, i.id, n) for i, n in zip(items, left, strict=True) if n]
        if any(shelf.rows[0].at_hand for shelf in shelves[metal]):
            short += [(metal, i.id, n - m) for i, n, m in zip(items, had, left, strict=True) if n > m]
        sheets += [_job_sheet(metal, (n, len(laid)), *each) for n, each in enumerate(laid, 1)]
    return JobNest(tuple(sheets), tuple(short), tuple(missing))


def _on_shelf(items: Sequence[_Item], left: list[int], shelf: Shelf, ways: Ways) -> Iterator[_Laid]:
    """What goes on these rows; `left` is told what went."""
    mine = [_as_it_goes(i, shelf, ways) for i in items]
    if shelf.to_length:
        parts = _parts(mine, left, (), ways)
        found = cut_strips(parts, [r.stock for r in shelf.rows], ways.effort, ways.over)
        pairs: tuple[Pair, ...] = ()
    else:
        answer, pairs = _nested(mine, left, [r.stock for r in shelf.rows], ways)
        found = answer.sheets
    rows = {r.stock: r for r in shelf.rows}
    for sheet in found:
        lying = []
        for who, lie in _lies(sheet, mine, pairs, ways):
            left[who] -= 1
            lying.append((mine[who], lie))
        yield rows[sheet.stock], sheet, lying


def _as_it_goes(item: _Item, shelf: Shelf, ways: Ways) -> _Item:
    """The piece as it is, or aslant where only so it goes on these rows."""
    sizes = [(r.stock.width, r.stock.height) for r in shelf.rows]
    if shelf.to_length or not ways.turn or any(_goes(item.blank, *size) for size in sizes):
        return item
    blank, bends, lean = leaned(item.blank, item.bends)
    goes = any(_goes(blank, *size) for size in sizes)
    return _Item(item.id, blank, bends, item.quantity, lean) if goes else item


def _goes(blank: Blank, width: float, height: float) -> bool:
    w, h = blank.width - SAME, blank.height - SAME
    return (w <= width and h <= height) or (h <= width and w <= height)


def _nested(
    items: Sequence[_Item], counts: Sequence[int], stock: Sequence[Stock], ways: Ways
) -> tuple[Nest, tuple[Pair, ...]]:
    """With pairs and without; the better of the two."""
    alone = nest(_parts(items, counts, (), ways), stock, ways.guillotine, ways.effort, ways.over)
    found = () if ways.guillotine else pairs_of([i.blank for i in items], counts, ways.turn)
    pairs = tuple(p for p in found if any(_holds(s, p, ways.turn) for s in stock))
    if not pairs:
        return alone, ()
    paired = nest(_parts(items, counts, pairs, ways), stock, ways.guillotine, ways.effort, ways.over)
    if _score(paired, items, pairs) < _score(alone, items, ()):
        return paired, pairs
    return alone, ()


def _holds(stock: Stock, pair: Pair, turn: bool) -> bool:
    sizes = ((pair.height, pair.width), (pair.width, pair.height))[: 2 if turn else 1]
    return any(w <= stock.width and h <= stock.height for w, h in sizes)


def _who(part: str, pairs: Sequence[Pair]) -> tuple[int, ...]:
    """The pieces that a part of the nest stands for."""
    return (pairs[int(part[1:])].one, pairs[int(part[1:])].two) if part.startswith("P") else (int(part),)


def _score(answer: Nest, items: Sequence[_Item], pairs: Sequence[Pair]) -> tuple[float, float, float]:
    """What found no place, then the price or the metal that is taken, then metal used. [in2]"""
    missing = sum(n * items[who].blank.area for part, n in answer.unplaced for who in _who(part, pairs))
    used = sum(s.used_height * s.stock.width for s in answer.sheets)
    return round(missing, 6), round(sum(_cost(s) for s in answer.sheets), 6), used


def _cost(sheet: Sheet) -> float:
    stock = sheet.stock
    whole = stock.width * stock.height if stock.price is None else stock.price
    return whole * sheet.used_height / stock.height if stock.by_length else whole


def _parts(items: Sequence[_Item], counts: Sequence[int], pairs: Sequence[Pair], ways: Ways) -> list[Part]:
    """One part for each piece, by its number; and one for each pair, by its number after a P."""
    left = list(counts)
    out = []
    for n, pair in enumerate(pairs):
        left[pair.one] -= 1
        left[pair.two] -= 1
        out.append(_part(f"P{n}", pair.width, pair.height, 1, ways))
    for n, item in enumerate(items):
        if left[n]:
            out.append(_part(str(n), item.blank.width, item.blank.height, left[n], ways))
    return out


def _part(key: str, width: float, height: float, count: int, ways: Ways) -> Part:
    """A part; where nothing may turn its length runs along the stock. [in]"""
    return Part(key, width, height, count, True) if ways.turn else Part(key, height, width, count, False)


def _lies(sheet: Sheet, items: Sequence[_Item], pairs: Sequence[Pair], ways: Ways) -> Iterator[tuple[int, Lie]]:
    """Every blank of a sheet by its number, and how it lies there."""
    for p in sheet.placed:
        turned = p.turned if ways.turn else True
        if p.id.startswith("P"):
            pair = pairs[int(p.id[1:])]
            for who, lie in zip(_who(p.id, pairs), pair.lies, strict=True):
                yield who, _on_sheet(lie, items[who].blank, p, turned, pair.height)
        else:
            blank = items[int(p.id)].blank
            yield int(p.id), _on_sheet(Lie(), blank, p, turned, blank.height)


def _job_sheet(
    metal: str, place: tuple[int, int], row: Row, sheet: Sheet, laid: Sequence[tuple[_Item, Lie]]
) -> JobSheet:
    names = dict.fromkeys(item.id for item, _ in laid)
    numbers = {key: n for n, key in enumerate(names, 1)}
    lying = tuple(Lying(i.id, numbers[i.id], i.blank, i.bends, lie, i.lean) for i, lie in laid)
    return JobSheet(metal, *place, row, lying, sheet.used_height, cut_plan(sheet))


def _on_sheet(lie: Lie, blank: Blank, placed: Placed, turned: bool, height: float) -> Lie:
    """How a blank lies on the sheet when the rectangle it lies in (so high) is placed there, turned or not. [in]"""
    if not turned:
        return Lie(lie.quarter, lie.x + placed.x, lie.y + placed.y)
    # a quarter turn of the rectangle takes (x, y) to (height - y, x); the blank's own rectangle goes with it
    tall = blank.width if lie.quarter % 2 else blank.height
    return Lie((lie.quarter + 1) % 4, placed.x + height - lie.y - tall, placed.y + lie.x)
