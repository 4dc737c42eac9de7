"""The rates: what things cost and how long they take. Packaged rows, each of which a shop's own file may replace."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Literal

from lapwright import tables
from lapwright.errors import JobProblems, Problem
from lapwright.site.fields import Field
from lapwright.site.positions import Places
from lapwright.site.toml import read_toml
from lapwright.site.values import BAD, read_value
from lapwright.site.wrong import Enough, Wrong, Wrongs, given, named, nearest

FILE = "rates file"
"""Stands where a field would, when the trouble is the file itself."""

MOST = {"prices": 1e5, "metals": 1e5, "times": 1e4, "girth": 24.0}
"""Highest number of each table: money, money, minutes, inches. Keeps slips of the keyboard out; house rule."""

PER = {
    "prices.solder": "ft", "prices.membrane": "sqft", "times.lock": "ft", "times.single-fold": "ft",
    "times.double-fold": "ft", "times.seam": "ft", "times.solder": "ft", "times.reglet": "ft", "times.ridge": "ft",
    "prices.sealant": "tube", "prices.tape": "roll",
}  # fmt: skip
"""What a row counts by, where that is not one thing; a metal counts by the pound."""

IN_A = {"ft": 0.3048, "sqft": 0.09290304, "lb": 0.45359237, "in": 1 / 25.4}
"""A row per metre, square metre or kilogram, times this, is one per foot, square foot or pound; mm to inches."""


@dataclass(frozen=True, slots=True)
class Rates:
    """Every price and time that stands, in feet, square feet and pounds.

    name: what the file calls itself, if anything. rows: `prices.tape` -> money or minutes. own: rows a shop gave.
    """

    name: str
    rows: Mapping[str, float]
    own: frozenset[str] = frozenset()

    def __getitem__(self, key: str) -> float:
        """One row: money, minutes or inches, for one of `per(key)`."""
        return self.rows[key]


def per(key: str) -> str:
    """What a row counts by: "lb", "ft", "sqft", "in", "tube", "roll" or "each"."""
    table = key.partition(".")[0]
    return {"metals": "lb", "girth": "in"}.get(table) or PER.get(key, "each")


@cache
def packaged() -> Rates:
    """The rates that stand when a shop gives none. Source: data/rates.toml, invented or house rules.

    >>> packaged()["times.bend"]
    2.0
    """
    tables_ = tables.rows("rates")
    rows = {f"{t}.{name}": float(value) for t in MOST for name, value in tables_[t].items()}
    return Rates(str(tables_["rates"]["name"]), rows)


def read_rates(source: str | bytes, filename: str) -> Rates:
    """A shop's own rates; rows that it leaves out stand as packaged.

    Args:
        source: The file (TOML), as text or as its bytes.
        filename: What to call it in a problem.

    Raises:
        JobProblems: it cannot be read, names a row that there is none of, or a number is out of range; all its
            problems at once.
    """
    try:
        text, given_tables = read_toml(source, filename)
    except JobProblems as error:
        raise JobProblems(filename, tuple(replace(p, field=FILE) for p in error.problems)) from None
    wrongs = Wrongs()
    read = Rates("", {})
    with suppress(Enough):
        read = _read(given_tables, wrongs)
    if wrongs.found:
        raise JobProblems(filename, _placed(text, wrongs.found))
    return read


def _placed(text: str, found: list[Wrong]) -> tuple[Problem, ...]:
    places = Places(text)
    problems = [Problem(*places.of(w.path, w.at), named(w.path), w.key, w.values) for w in found]
    return tuple(sorted(problems, key=lambda problem: (problem.line, problem.column)))


def _read(given_tables: dict[str, Any], wrongs: Wrongs) -> Rates:
    known = packaged()
    for name, value in given_tables.items():
        if name not in ("rates", *MOST):
            near = nearest(name, ("rates", *MOST))
            _unknown(wrongs, (name,), "table", near, ", ".join(("rates", *MOST)))
        elif not isinstance(value, dict):
            wrongs.add((name,), "site.one_table", at="key", table=name, given=given(value))
    about = given_tables.get("rates", {})
    units, name = _about(about if isinstance(about, dict) else {}, wrongs)
    own = {}
    for table in MOST:
        rows = given_tables.get(table, {})
        for key, value in (rows if isinstance(rows, dict) else {}).items():
            number = _row(table, key, value, units, wrongs)
            if number is not None:
                own[f"{table}.{key}"] = number
    return Rates(name, {**known.rows, **own}, frozenset(own))


def _about(values: dict[str, Any], wrongs: Wrongs) -> tuple[Literal["in", "mm"], str]:
    """The file's unit and name."""
    fields = {
        "name": Field("rates", "name", "text", 1, 60),
        "units": Field("rates", "units", "choice", choices=("in", "mm")),
    }
    read = {"units": "in", "name": ""}
    for key, value in values.items():
        if key not in fields:
            _unknown(wrongs, ("rates", key), "row", nearest(key, fields), ", ".join(fields))
            continue
        one = read_value(fields[key], value, ("rates", key), "in", wrongs)
        if one is not BAD:
            read[key] = one
    return ("mm" if read["units"] == "mm" else "in"), read["name"]


def _row(table: str, key: str, value: Any, units: str, wrongs: Wrongs) -> float | None:
    """One price or time in feet, square feet and pounds; None where it is wrong, which has been noted."""
    whole, mine = f"{table}.{key}", [k.partition(".")[2] for k in packaged().rows if k.startswith(f"{table}.")]
    if key not in mine:
        _unknown(wrongs, (table, key), "row", nearest(key, mine), ", ".join(mine))
        return None
    unit = {"times": "min", "girth": "mm" if units == "mm" else "inches"}.get(table, "money")
    factor = IN_A.get(per(whole), 1.0) if units == "mm" else 1.0
    most = round(MOST[table] / factor) if table == "girth" else MOST[table]
    field = Field(table, key, "number", 0.0, most, unit)
    number = read_value(field, value, (table, key), "in", wrongs)
    return None if number is BAD else number * factor


def _unknown(wrongs: Wrongs, path: tuple[str, ...], what: str, near: str | None, known: str) -> None:
    key = f"price.rates.unknown_{what}" + ("_near" if near else "")
    wrongs.add(path, key, at="key", near=near or "", known=known)
