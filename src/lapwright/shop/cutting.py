"""The cutting plan of a job: which stock is taken, what lies on it, what is bought.

    strips of a blank's own girth  ->  offcuts  ->  sheets and rolls at hand  ->  sheets or coil of the usual sizes
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from lapwright import rules, tables
from lapwright.findings import Finding
from lapwright.metal.model import Piece
from lapwright.shop.nest.job import JobNest, JobSheet, Ways, nest_job
from lapwright.shop.nest.model import Stock
from lapwright.shop.nest.rows import Form, Row, Shelf
from lapwright.shop.nest.strips import of_girth
from lapwright.site.model import Site
from lapwright.site.model import Stock as Listed

IN_PLAN = 25_000
"""Work for each shelf while a roof is planned: some hundredths of a second; `lapwright nest` takes more. [units]"""


@dataclass(frozen=True, slots=True)
class Bought:
    """Metal of one kind that a job takes, from the shop or from the supplier.

    stock: the name in the job file, or "sheet" or "coil" where nothing is listed. form: "coil" is bought by the
    foot. quantity: pieces of stock begun. width: of it; length: of all that is taken, a sheet whole, a roll or coil
    as far as it is used. [in]  price: of all that; None where the job names none. [money]  at_hand: in the shop.
    """

    metal: str
    stock: str
    form: Form
    quantity: int
    width: float
    length: float
    price: float | None
    at_hand: bool


def cutting_of(
    site: Site, pieces: Sequence[Piece], effort: int = IN_PLAN, over: Callable[[], bool] | None = None
) -> JobNest:
    """Lay every flat blank of a job on its stock.

    Args:
        site: Says how the shop cuts and what metal it has; panels come from the panel machine.
        pieces: Every piece with its blank.
        effort: Work for each shelf of each metal. [units]
        over: A clock that may end each search early; the answer may then differ from run to run.
    """
    made = [p for p in pieces if p.is_metal]
    width = max((o.measures.stock_width for o in site.openings), default=0.0)
    ways = Ways(site.shop.cuts == "shear", site.shop.turn, effort, over)
    heaps = {metal: [p for p in made if p.metal == metal] for metal in dict.fromkeys(p.metal for p in made)}
    plans = [_of_metal(site.stock, metal, mine, width, ways) for metal, mine in heaps.items()]
    return JobNest(
        tuple(chain.from_iterable(p.sheets for p in plans)),
        tuple(chain.from_iterable(p.short for p in plans)),
        tuple(chain.from_iterable(p.missing for p in plans)),
    )


def _of_metal(listed: Sequence[Listed], metal: str, pieces: Sequence[Piece], width: float, ways: Ways) -> JobNest:
    """The sheets of one metal; coil instead of bought sheets where that saves a whole sheet or more."""
    own = tuple(_at_hand([s for s in listed if s.metal == metal], pieces))
    rows = tables.rows("stock")
    coil = _usual("coil", width, max(rows["coil"]["length"], _in_a_row(pieces)))
    if tables.metals()[metal].join not in rows["sheet"]["joins"]:
        return nest_job(pieces, {metal: (*own, coil)}, ways)
    sheet = _usual("sheet", width, rows["sheet"]["length"])
    plan = nest_job(pieces, {metal: (*own, sheet, coil)}, ways)
    if sum(s.row in sheet.rows for s in plan.sheets) > 1:
        by_foot = nest_job(pieces, {metal: (*own, coil)}, ways)
        if _length_bought(plan) - _length_bought(by_foot) >= sheet.rows[0].stock.height:
            return by_foot
    return plan


def _usual(form: Form, width: float, length: float) -> Shelf:
    """What is bought: a sheet, or coil by the foot. [in]"""
    return Shelf((Row(Stock(form, width, length, None, None, by_length=form == "coil"), form, False),))


def _in_a_row(pieces: Sequence[Piece]) -> float:
    """A length that holds all blanks, whichever way they lie. [in]"""
    return sum(p.quantity * (p.blank.width + p.blank.height) for p in pieces)


def _length_bought(plan: JobNest) -> float:
    return sum(s.taken for s in plan.sheets if not s.row.at_hand)


def bought(cutting: JobNest) -> tuple[Bought, ...]:
    """What the sheets of a cutting plan come to, in the order they are cut; one row for each row of stock."""
    heaps: dict[tuple[str, Row], list[JobSheet]] = {}
    for sheet in cutting.sheets:
        heaps.setdefault((sheet.metal, sheet.row), []).append(sheet)
    return tuple(_bought(metal, row, sheets) for (metal, row), sheets in heaps.items())


def _bought(metal: str, row: Row, sheets: Sequence[JobSheet]) -> Bought:
    prices = [s.price for s in sheets if s.price is not None]
    length = sum(s.taken for s in sheets)
    price = sum(prices) if prices else None
    return Bought(metal, row.stock.id, row.form, len(sheets), row.stock.width, length, price, row.at_hand)


def findings_of(cutting: JobNest, pieces: Sequence[Piece], turn: bool) -> tuple[Finding, ...]:
    """What the metal at hand does not give: a note for what is bought, a STOP for what goes on nothing.

    Args:
        cutting: The plan.
        pieces: Those it was made for.
        turn: May blanks lie either way? Where they may, what goes on nothing is wider than the stock, and the rule
            stock.width says so.
    """
    opening = {p.id: p.opening or p.id for p in pieces}
    found = [("stock.at-hand", cutting.short), *([] if turn else [("stock.lengthwise", cutting.missing)])]
    return tuple(f for rule, listed in found for f in _named(rule, listed, opening))


def _named(rule: str, listed: Sequence[tuple[str, str, int]], opening: Mapping[str, str]) -> Iterator[Finding]:
    """One finding for each opening and metal, with the pieces it is about."""
    heaps: dict[tuple[str, str], list[str]] = {}
    for metal, key, count in listed:
        heaps.setdefault((opening[key], metal), []).append(key if count == 1 else f"{key} ({count})")
    for (where, metal), keys in heaps.items():
        yield rules.finding(rule, where, metal=f"metals.{metal}", pieces=", ".join(keys))


def _at_hand(listed: Sequence[Listed], pieces: Sequence[Piece]) -> Iterator[Shelf]:
    """The shop's own stock of one metal, in the order of this file's picture."""
    priced = all(s.price is not None for s in listed)
    rows = [_row(s, priced) for s in listed]
    strips = [r for r in rows if any(of_girth(r.stock.width, p.blank.height) for p in pieces)]
    shelves = (
        Shelf(tuple(strips), to_length=True),
        Shelf(tuple(r for r in rows if r not in strips and r.form == "offcut")),
        Shelf(tuple(r for r in rows if r not in strips and r.form != "offcut")),
    )
    return (shelf for shelf in shelves if shelf.rows)


def _row(s: Listed, priced: bool) -> Row:
    """A row of the job file; prices are compared only where every row of the metal has one. [in]"""
    price = s.price if priced else None
    stock = Stock(s.name, s.width, s.length, s.quantity, price, by_length=s.form == "roll")
    return Row(stock, s.form, True, s.price)

