"""Part lists and stock lists as a spreadsheet writes them (CSV), every problem with its line and column.

    id,width,height,quantity,turn        columns by name, in any order; the first line names them
    apron,3' 4 1/2",12,2,no              a length is a number or what a tape says
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar

from lapwright import units
from lapwright.errors import BadLength, JobProblems, Problem
from lapwright.shop.csv_cells import Cell, lines_of
from lapwright.shop.cut1d.model import Bar, Length
from lapwright.shop.nest.model import Part, Stock

LONGEST = 120_000.0
"""No part or stock is longer: 10,000 feet. House rule. [in]"""

LEAST = 1 / 64
"""No part or stock is smaller. House rule. [in]"""

MOST_PIECES = 1_000
"""Of one part. House rule."""

MOST_IN_ALL = {"parts": 1_000, "lengths": 5_000}
"""Pieces of one list together: rectangles, and lengths."""

MOST_ROWS = 1_000
MOST_PRICE = 1e9
MOST_PROBLEMS = 100
LONGEST_ID = 60
FILE = "list"
"""Stands where a field would, when the trouble is the file itself."""

_YES, _NO = ("yes", "y", "true", "1"), ("no", "n", "false", "0")


@dataclass(slots=True)
class _Found:
    problems: list[Problem] = field(default_factory=list)

    def add(self, cell: Cell, name: str, key: str, **values: Any) -> None:
        if len(self.problems) < MOST_PROBLEMS:
            self.problems.append(Problem(cell.line, cell.column, name, key, values))


@dataclass(frozen=True, slots=True)
class _Column:
    name: str
    read: Callable[[Cell, _Reader], Any]
    needed: bool = True
    default: Any = None


@dataclass(frozen=True, slots=True)
class _Reader:
    unit: units.Unit
    found: _Found
    name: str


def read_parts(text: str, filename: str, unit: units.Unit) -> tuple[Part, ...]:
    """Rectangles to cut: id, width, height, quantity, turn.

    Args:
        text: The file.
        filename: Its name, for the problems.
        unit: What a bare number means.

    Raises:
        JobProblems: every problem in the list, at once.
    """
    columns = (
        *_SIZES, _Column("quantity", _count, False, 1), _Column("turn", _yes_or_no, False, False)
    )  # fmt: skip
    rows, found = _rows(text, columns, unit)
    parts = [Part(r["id"], r["width"], r["height"], r["quantity"], r["turn"]) for r in rows]
    _not_too_many(found, sum(p.quantity for p in parts), MOST_IN_ALL["parts"])
    return tuple(_or_raise(parts, found, filename, unit))


def read_stock(text: str, filename: str, unit: units.Unit) -> tuple[Stock, ...]:
    """Sheets, offcuts and rolls: id, width, height, quantity, price; quantity blank for as many as wanted.

    `sold` is an extra column: by "sheet", or by "length", when only the used height is paid for.
    Raises and args: as read_parts.
    """
    columns = (*_SIZES, *_BOUGHT, _Column("sold", _sold, False, False))
    rows, found = _rows(text, columns, unit)
    _all_priced(rows, found)
    made = [Stock(r["id"], r["width"], r["height"], r["quantity"], r["price"], r["sold"]) for r in rows]
    return tuple(_or_raise(made, found, filename, unit))


def read_lengths(text: str, filename: str, unit: units.Unit) -> tuple[Length, ...]:
    """Pieces to cut to length: id, length, quantity. Raises and args: as read_parts."""
    columns = (*_SIZE, _Column("quantity", _count, False, 1))
    rows, found = _rows(text, columns, unit)
    parts = [Length(r["id"], r["length"], r["quantity"]) for r in rows]
    _not_too_many(found, sum(p.quantity for p in parts), MOST_IN_ALL["lengths"])
    return tuple(_or_raise(parts, found, filename, unit))


def read_bars(text: str, filename: str, unit: units.Unit) -> tuple[Bar, ...]:
    """Bars to cut from: id, length, quantity, price; blank as for read_stock. Raises and args: as read_parts."""
    rows, found = _rows(text, (*_SIZE, *_BOUGHT), unit)
    _all_priced(rows, found)
    made = [Bar(r["id"], r["length"], r["quantity"], r["price"]) for r in rows]
    return tuple(_or_raise(made, found, filename, unit))


_T = TypeVar("_T")


def _or_raise(made: Sequence[_T], found: _Found, filename: str, unit: units.Unit) -> Sequence[_T]:
    if not made and not found.problems:
        found.add(Cell("", 1, 1), FILE, "nest.no_rows")
    if found.problems:
        order = sorted(found.problems, key=lambda p: (p.line, p.column))
        raise JobProblems(filename, tuple(order), unit)
    return made


def _not_too_many(found: _Found, count: int, most: int) -> None:
    if count > most:
        found.add(Cell("", 1, 1), "quantity", "nest.too_many_pieces", given=count, most=most)


def _all_priced(rows: Sequence[dict[str, Any]], found: _Found) -> None:
    blank = [r for r in rows if r["price"] is None]
    if blank and len(blank) < len(rows):
        found.add(blank[0]["price@"], "price", "nest.price_missing")


def _rows(text: str, columns: Sequence[_Column], unit: units.Unit) -> tuple[list[dict[str, Any]], _Found]:
    """Every row that can be read, with what is wrong with the others."""
    found = _Found()
    lines = list(lines_of(text.removeprefix("\ufeff"), lambda cell, key: found.add(cell, FILE, key)))
    if not lines:
        if not found.problems:
            found.add(Cell("", 1, 1), FILE, "nest.empty", columns=_named(columns))
        return [], found
    places = _header(lines[0], columns, found)
    out = []
    if places is not None:
        for cells in lines[1 : MOST_ROWS + 1]:
            row = _row(cells, columns, places, unit, found, len(lines[0]))
            if row is not None:
                out.append(row)
        if len(lines) > MOST_ROWS + 1:
            found.add(lines[MOST_ROWS + 1][0], FILE, "nest.too_many_rows", most=MOST_ROWS)
    return out, found


def _named(columns: Sequence[_Column]) -> str:
    return ",".join(c.name for c in columns)


def _header(cells: Sequence[Cell], columns: Sequence[_Column], found: _Found) -> dict[str, int] | None:
    places: dict[str, int] = {}
    known, before = {c.name for c in columns}, len(found.problems)
    if not any(cell.text.strip().lower() in known for cell in cells):
        found.add(cells[0], FILE, "nest.no_header", given=_shown(cells[0].text), columns=_named(columns))
        return None
    for i, cell in enumerate(cells):
        name = cell.text.strip().lower()
        if name not in known:
            found.add(cell, FILE, "nest.unknown_column", given=_shown(cell.text), columns=_named(columns))
        elif name in places:
            found.add(cell, FILE, "nest.column_twice", given=name)
        places.setdefault(name, i)
    for column in columns:
        if column.needed and column.name not in places:
            found.add(cells[0], FILE, "nest.column_missing", column=column.name, columns=_named(columns))
    return places if len(found.problems) == before else None


def _row(
    cells: Sequence[Cell],
    columns: Sequence[_Column],
    places: dict[str, int],
    unit: units.Unit,
    found: _Found,
    width: int,
) -> dict[str, Any] | None:
    if len(cells) > width:
        found.add(cells[width], FILE, "nest.too_many_fields", given=len(cells), most=width)
        return None
    before = len(found.problems)
    row: dict[str, Any] = {}
    end = Cell("", cells[-1].line, cells[-1].column + len(cells[-1].text))
    for column in columns:
        at = places.get(column.name, -1)
        cell = cells[at] if 0 <= at < len(cells) else end
        row[f"{column.name}@"] = cell
        if cell.text.strip():
            row[column.name] = column.read(cell, _Reader(unit, found, column.name))
        elif column.needed:
            found.add(cell, column.name, "nest.blank")
        else:
            row[column.name] = column.default
    return row if len(found.problems) == before else None


def _shown(text: str) -> str:
    cut = "".join(c if c.isprintable() else "?" for c in text[:40])
    return f'"{cut}..."' if len(text) > 40 else f'"{cut}"'


def _id(cell: Cell, reader: _Reader) -> str:
    text = cell.text.strip()
    if len(text) > LONGEST_ID or not text.isprintable():
        reader.found.add(cell, reader.name, "nest.bad_id", given=_shown(text), most=LONGEST_ID)
    return text


def _length(cell: Cell, reader: _Reader) -> float:
    try:
        size = units.read_length(cell.text, reader.unit)
    except BadLength as error:
        reader.found.add(cell, reader.name, error.key, **error.values)
        return LEAST
    if not LEAST <= size <= LONGEST:
        reader.found.add(cell, reader.name, "nest.length_range", given=_shown(cell.text), high=LONGEST)
    return size


def _count(cell: Cell, reader: _Reader) -> int:
    text = cell.text.strip()
    if not (text.isascii() and text.isdigit() and len(text) < 10 and 1 <= int(text) <= MOST_PIECES):
        reader.found.add(cell, reader.name, "nest.count", given=_shown(text), most=MOST_PIECES)
        return 1
    return int(text)


def _stocked(cell: Cell, reader: _Reader) -> int:
    text = cell.text.strip()
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        reader.found.add(cell, reader.name, "nest.stock_count", given=_shown(text))
        return 0
    return int(text)


def _price(cell: Cell, reader: _Reader) -> float:
    text = cell.text.strip()
    try:
        price = float(text) if text.isascii() and "_" not in text else -1.0
    except ValueError:
        price = -1.0
    if not 0 <= price <= MOST_PRICE:
        reader.found.add(cell, reader.name, "nest.price", given=_shown(text), most=f"{MOST_PRICE:g}")
    return price


def _yes_or_no(cell: Cell, reader: _Reader) -> bool:
    return _either(cell, reader, _YES, _NO)


def _sold(cell: Cell, reader: _Reader) -> bool:
    return _either(cell, reader, ("length",), ("sheet",))


def _either(cell: Cell, reader: _Reader, true: Sequence[str], false: Sequence[str]) -> bool:
    text = cell.text.strip().lower()
    if text not in true and text not in false:
        reader.found.add(cell, reader.name, "nest.either", given=_shown(cell.text), one=true[0], other=false[0])
    return text in true


_ID = _Column("id", _id)
_SIZE = (_ID, _Column("length", _length))
_SIZES = (_ID, _Column("width", _length), _Column("height", _length))
_BOUGHT = (_Column("quantity", _stocked, False, None), _Column("price", _price, False, None))
