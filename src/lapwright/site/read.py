"""The job file in, the Site out, or every problem at once with its line and column."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, field, replace
from typing import Any

from lapwright.errors import JobProblems, Problem
from lapwright.site.fields import DEFAULTS, LISTS, NEEDED, TABLES, Field, fields_of
from lapwright.site.model import Defaults, Deviation, Opening, OwnTool, Panel, Roof, Shop, Site, Stock, Weather
from lapwright.site.positions import Places
from lapwright.site.sense import make_sense, tools_make_sense
from lapwright.site.toml import read_toml
from lapwright.site.values import BAD, Unit, read_value
from lapwright.site.wrong import Enough, Path, Wrong, Wrongs, clean, given, named, nearest

_PLUMB = ("masonry-chimney", "framed-chimney", "wall", "pipe")


def read_job(text: str | bytes, filename: str) -> Site:
    """Read a job file into what the tape said.

    Args:
        text: The file, as text or as its bytes (UTF-8, at most 64 KiB).
        filename: Its name as the user gave it; problems start with it.

    Returns:
        The site, in inches, every default filled in. A job without openings is legal: it plans
        the panels only.

    Raises:
        JobProblems: it cannot be read or makes no sense; holds every problem found (up to 100).
    """
    plain, tables = read_toml(text, filename)
    reading = _Reading(tables)
    with suppress(Enough):
        reading.all()
    if not reading.wrongs.found:
        return reading.site()
    problems = _placed(plain, reading.wrongs.found)
    raise JobProblems(filename, problems, reading.unit or "in")


def _placed(text: str, found: list[Wrong]) -> tuple[Problem, ...]:
    places = Places(text)
    problems = [Problem(*places.of(w.path, w.at), named(w.path), w.key, w.values) for w in found]
    return tuple(sorted(problems, key=lambda problem: (problem.line, problem.column)))


@dataclass(slots=True)
class _Part:
    """One table as read: the values that were fine, and whether all of them were."""

    path: Path
    values: dict[str, Any] = field(default_factory=dict)
    whole: bool = True


class _Reading:
    """The reading of one file; what is wrong gathers on the way."""

    def __init__(self, tables: dict[str, Any]) -> None:
        self.wrongs = Wrongs()
        self.tables = tables
        self.unit: Unit | None = "in"
        self.misnamed: set[str] = set()
        self.job = _Part(())
        self.measures = Defaults()
        self.roof: Roof | None = None
        self.panel: Panel | None = None
        self.weather: Weather | None = None
        self.openings: list[tuple[int, Opening]] = []
        self.deviations: list[tuple[int, Deviation]] = []
        self.shop = Shop()
        self.tools: list[tuple[int, OwnTool]] = []
        self.stock: list[Stock] = []

    def all(self) -> None:
        """Read every table, then ask whether they make sense together."""
        self._unknown_tables()
        self.job = self._table("job")
        self.unit = self.job.values.get("units")
        roof, panel = self._table("roof"), self._table("panel")
        weather, measures = self._table("site"), self._table("defaults")
        self.measures = replace(Defaults(), **measures.values)
        self.roof = Roof(**roof.values) if roof.whole else None
        self.panel = _panel(panel) if panel.whole else None
        self.weather = Weather(**weather.values) if weather.whole else None
        parts = self._rows("opening")
        self.openings = [(n, self._opening(part)) for n, part in parts if part.whole]
        rows = self._rows("deviation")
        self.deviations = [(n, Deviation(**part.values)) for n, part in rows if part.whole]
        shop = self._table("shop")
        self.shop = Shop(**shop.values)
        self.tools = [(n, OwnTool(**part.values)) for n, part in self._rows("tool") if part.whole]
        self.stock = [Stock(**part.values) for _, part in self._rows("stock") if part.whole]
        names = {n: part.values["name"] for n, part in parts if isinstance(part.values.get("name"), str)}
        make_sense(self.roof, self.panel, self.openings, names, self.deviations, self.wrongs)
        tools_make_sense(self.tools, self.wrongs)

    def site(self) -> Site:
        """The site, once nothing is wrong."""
        assert self.roof and self.panel and self.weather
        return Site(
            name=self.job.values["name"],
            units=self.job.values["units"],
            roof=self.roof,
            panel=self.panel,
            weather=self.weather,
            openings=tuple(opening for _, opening in self.openings),
            deviations=tuple(deviation for _, deviation in self.deviations),
            shop=self.shop,
            tools=tuple(tool for _, tool in self.tools),
            stock=tuple(self.stock),
        )

    def _unknown_tables(self) -> None:
        for name, value in self.tables.items():
            if name in TABLES:
                continue
            home = next((table for table in TABLES if name in fields_of(table)), None)
            near = nearest(name, TABLES)
            if home and not isinstance(value, dict | list):
                self.wrongs.add((name,), "site.field_elsewhere", at="key", table=home)
            elif near:
                self.misnamed.add(near)
                self.wrongs.add((name,), "site.unknown_table_near", at="key", near=near)
            else:
                self.wrongs.add((name,), "site.unknown_table", at="key", known=", ".join(TABLES))

    def _table(self, name: str) -> _Part:
        value = self.tables.get(name)
        if isinstance(value, dict):
            return self._fields(name, (name,), value)
        if value is not None:
            self.wrongs.add((name,), "site.one_table", at="key", table=name, given=given(value))
            return _Part((name,), _plain_values(name), whole=False)
        if any(row.default is NEEDED for row in fields_of(name).values()):
            if name not in self.misnamed:
                self.wrongs.add((name,), "site.table_missing", table=name)
            return _Part((name,), _plain_values(name), whole=False)
        return _Part((name,), _plain_values(name))

    def _rows(self, name: str) -> list[tuple[int, _Part]]:
        value = self.tables.get(name, [])
        if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
            self.wrongs.add((name,), "site.list_of_tables", at="key", table=name, given=given(value))
            return []
        if len(value) > LISTS[name]:
            self.wrongs.add((name,), "site.too_many", at="key", count=len(value), most=LISTS[name])
            return []
        return [(n, self._fields(name, (name, n), row)) for n, row in enumerate(value)]

    def _fields(self, table: str, path: Path, values: dict[str, Any]) -> _Part:
        """One table's values, each by its field; unknown keys, wrong values and missing ones noted."""
        known = fields_of(table)
        part = _Part(path)
        for name in values:
            if name not in known:
                self._unknown(table, (*path, name), name)
        later = any(known[name].kind == "later" for name in values if name in known)
        kind = _kind_of(known, values) if table == "opening" else None
        for row in known.values():
            if row.name in values:
                read = self._one(row, path, values[row.name], kind)
            elif row.default is NEEDED and not later and _takes(row, kind):
                read = self._missing(row, path)
            elif row.default is NEEDED or row.kind == "later":
                continue
            elif table == "opening" and row.table == "defaults":
                continue  # an opening without a measure of its own takes the job's
            else:
                read = row.default
            if read is BAD:
                part.whole = False
            else:
                part.values[row.fills] = read
        part.whole = part.whole and not later
        return part

    def _one(self, row: Field, path: Path, value: Any, kind: str | None) -> Any:
        path = (*path, row.name)
        if kind and row.kinds and kind not in row.kinds:
            key = "site.pipe_takes_diameter" if kind == "pipe" else "site.only_a_pipe"
            self.wrongs.add(path, key, at="key", kind=kind)
            return BAD
        return read_value(row, value, path, self.unit, self.wrongs)

    def _missing(self, row: Field, path: Path) -> object:
        values: dict[str, Any] = {"low": row.low, "high": row.high, "unit": row.unit}
        if row.kind in ("choice", "metal"):
            values = {"allowed": ", ".join(row.allowed())}
        elif row.unit != "in":
            values = {"low": f"{row.low:g}", "high": f"{row.high:g}", "unit": row.unit}
        self.wrongs.add((*path, row.name), f"site.missing_{row.kind}", **values)
        return BAD

    def _unknown(self, table: str, path: Path, name: str) -> None:
        known = fields_of(table)
        near = nearest(name, known)
        home = next((other for other in TABLES if name in fields_of(other)), None)
        if home:
            self.wrongs.add(path, "site.field_elsewhere", at="key", table=home)
        elif near:
            self.wrongs.add(path, "site.unknown_near", at="key", near=near)
        else:
            own = [row.name for row in known.values() if row.table == table]
            self.wrongs.add(path, "site.unknown", at="key", table=table, known=clean(", ".join(own), 700))

    def _opening(self, part: _Part) -> Opening:
        names = {row.name for row in DEFAULTS}
        own = {name: value for name, value in part.values.items() if name in names}
        values = {name: value for name, value in part.values.items() if name not in names}
        if values["kind"] == "pipe":
            # a pipe is measured by its rim; left and up give its centre
            values |= {"width": values["diameter"], "length": values["diameter"]}
        values.setdefault("diameter", None)
        values["face"] = values["face"] or ("plumb" if values["kind"] in _PLUMB else "square")
        return Opening(**values, measures=replace(self.measures, **own))


def _kind_of(known: dict[str, Field], values: dict[str, Any]) -> str | None:
    kind = values.get("kind")
    return kind if isinstance(kind, str) and kind in known["kind"].choices else None


def _takes(row: Field, kind: str | None) -> bool:
    """Does this kind of opening need the field? An unknown kind is asked for none of the special ones."""
    return not row.kinds or (kind is not None and kind in row.kinds)


def _plain_values(table: str) -> dict[str, Any]:
    rows = fields_of(table).values()
    return {row.fills: row.default for row in rows if row.default is not NEEDED and row.kind != "later"}


def _panel(part: _Part) -> Panel:
    values = dict(part.values)
    folded = values["seam"] != "snap"
    values["fixing"] = values["fixing"] or ("clip" if folded else "nailing-flange")
    return Panel(**values)
