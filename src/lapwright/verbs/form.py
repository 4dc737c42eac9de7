"""The form that follows the tape: every field of a job file in the order in which a person measures it.

Fields, ranges and words come from `site.fields` and words/; what was typed stays as typed, and beside it
stands what was understood, in the job's unit and the other one, or what is wrong with it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

from lapwright.errors import JobProblems, Problem
from lapwright.site.fields import LISTS, NEEDED, RECTANGLES, Field, fields_of
from lapwright.site.model import Site
from lapwright.site.read import read_job
from lapwright.site.toml import read_toml
from lapwright.site.values import BAD, Unit, read_value
from lapwright.site.wrong import Path, Wrongs
from lapwright.verbs.echo import choice_text, default_text, echo, range_text
from lapwright.verbs.form_model import Choice, Form, FormField, Group
from lapwright.verbs.job_text import FILE, typed, value_at, values_of
from lapwright.words import Speaker

MEASURED = ("job", "roof", "panel", "opening", "site")
"""Tables in the order of the tape."""
FOLDED = ("defaults", "shop", "tool", "stock", "deviation")
"""Tables a job can do without; they stay folded away until somebody opens them."""
_FIRST = {
    "roof": ("eave", "slope", "pitch"),
    "panel": ("coverage", "first_rib", "rib_height"),
    "opening": ("name", "kind", "left", "up", "width", "length", "diameter", "hot", "height", "face", "method"),
}
"""What is measured first in each table; the others follow as they are declared."""
_PLACE = re.compile(r"([a-z_]+)(?:\[(\d+)\])?(?:\.([a-z_]+))?")


@lru_cache(maxsize=64)
def form_of(text: str) -> Form:
    """A job file as the form that follows the tape.

    Args:
        text: The job file, in whatever state: blank, half typed, wrong or whole.
    """
    try:
        values = values_of(text)
    except JobProblems as error:
        return Form("in", (), _lines(error), None, broken=True)
    site, found = _read(text)
    unit: Unit = "mm" if value_at(values, ("job", "units")) == "mm" else "in"
    speaker = Speaker(unit)
    errors, wanted, problems = _sorted_out(found, speaker)
    plain = read_toml(text, FILE)[1]
    reading = _Reading(plain, values, unit, speaker, errors, wanted)
    return Form(unit, tuple(reading.groups()), problems, site)


def _read(text: str) -> tuple[Site | None, tuple[Problem, ...]]:
    try:
        return read_job(text, FILE), ()
    except JobProblems as error:
        return None, error.problems


def _lines(error: JobProblems) -> tuple[str, ...]:
    speaker = Speaker(error.unit)
    return tuple(
        speaker.say("page_form.problem_at", line=p.line, field=p.field, says=p.says(speaker)) for p in error.problems
    )


def _sorted_out(
    found: Sequence[Problem], speaker: Speaker
) -> tuple[dict[Path, str], frozenset[Path], tuple[str, ...]]:
    """What is wrong by field, what is only missing yet, and what belongs to no field."""
    errors: dict[Path, str] = {}
    wanted: set[Path] = set()
    rest = []
    for problem in found:
        path = path_of(problem.field)
        if problem.key == "site.table_missing":
            continue  # its fields ask for themselves
        if path is None:
            rest.append(speaker.say("page_form.problem", field=problem.field, says=problem.says(speaker)))
        elif problem.key.startswith("site.missing_"):
            wanted.add(path)
        else:
            errors[path] = f"{errors[path]}; {problem.says(speaker)}" if path in errors else problem.says(speaker)
    return errors, frozenset(wanted), tuple(rest)


def path_of(named: str) -> Path | None:
    """The place of a field by its name in a problem: opening[2].width is ("opening", 1, "width")."""
    found = _PLACE.fullmatch(named)
    if not found or not found[3]:
        return None
    table, name = found[1], found[3]
    row = fields_of(table).get(name)
    if row is None or row.kind == "later" or (table in LISTS) != bool(found[2]):
        return None
    return (table, int(found[2]) - 1, name) if found[2] else (table, name)


@dataclass(frozen=True, slots=True)
class _Reading:
    """A file being turned into groups of fields. plain: its values; written: the same as they stand there."""

    plain: Mapping[str, Any]
    written: Mapping[str, Any]
    unit: Unit
    speaker: Speaker
    errors: Mapping[Path, str]
    wanted: frozenset[Path]

    def groups(self) -> Iterator[Group]:
        """Every group in the order of the tape."""
        for table in (*MEASURED, *FOLDED):
            if table not in LISTS:
                yield Group((table,), self.speaker.say(f"page_form.group_{table}"), self._fields((table,), table))
                continue
            for n in range(_count(self.plain.get(table))):
                own = self._fields((table, n), "defaults") if table == "opening" else ()
                yield Group((table, n), self._row_title(table, n), self._fields((table, n), table), own)

    def _row_title(self, table: str, n: int) -> str:
        name = typed(value_at(self.written, (table, n, "opening" if table == "deviation" else "name"))).strip()
        if name:
            return self.speaker.say("page_form.row_named", name=name[:60])
        return self.speaker.say(f"page_form.{'group_opening' if table == 'opening' else f'row_{table}'}", n=n + 1)

    def _fields(self, path: Path, table: str) -> tuple[FormField, ...]:
        return tuple(self._field(row, (*path, row.name)) for row in in_tape_order(table))

    def _field(self, row: Field, path: Path) -> FormField:
        value = value_at(self.plain, path)
        read = None if value is None else read_value(row, value, path, self.unit, Wrongs())
        known = None if read is BAD else read
        own = path[0] == "opening" and row.table == "defaults"
        error, told = self.errors.get(path, ""), _told(row, self.unit)
        return FormField(
            path=path,
            kind=row.kind,
            label=told.label,
            help=told.help,
            range=told.range,
            unit=told.unit,
            unused=self._unused(row, own) or told.unused,
            default="" if own else told.default,
            choices=told.choices,
            typed=typed(value_at(self.written, path)),
            echo="" if error else echo(row, known, self.speaker),
            error=error,
            wanted=path in self.wanted or (value is None and not own and self._must(row, path)),
            shown=value is not None or self._belongs(row, path),
            value=known,
        )

    def _must(self, row: Field, path: Path) -> bool:
        return row.default is NEEDED and (not row.kinds or self._kind(path) in row.kinds)

    def _belongs(self, row: Field, path: Path) -> bool:
        kind = self._kind(path)
        return not row.kinds or kind in row.kinds or (kind not in _KINDS and row.kinds == RECTANGLES)

    def _kind(self, path: Path) -> str:
        return typed(value_at(self.plain, (*path[:-1], "kind")))

    def _unused(self, row: Field, own: bool) -> str:
        """An opening's own measure is the job's when it is left out, where the job gives one."""
        return typed(value_at(self.written, ("defaults", row.name))) if own else ""


@dataclass(frozen=True, slots=True)
class _Told:
    """What a field says of itself, whatever was typed."""

    label: str
    help: str
    range: str
    unit: str
    unused: str
    default: str
    choices: tuple[Choice, ...]


@cache
def _told(row: Field, unit: Unit) -> _Told:
    speaker = Speaker(unit)
    words = ("true", "false") if row.kind == "bool" else row.allowed()
    return _Told(
        label=speaker.say(f"{row.words}.label"),
        help=speaker.say(f"{row.words}.help"),
        range=range_text(row, speaker),
        unit=unit if row.kind in ("length", "lengths") else row.unit,
        unused=default_text(row, speaker),
        default=typed(row.default) if words and row.default is not NEEDED else "",
        choices=tuple(Choice(word, choice_text(row, word, speaker)) for word in words),
    )


_KINDS = (*RECTANGLES, "pipe")


@cache
def in_tape_order(table: str) -> tuple[Field, ...]:
    """The fields of a table as a person measures them, an opening without its flashing measures."""
    rows = {name: row for name, row in fields_of(table).items() if row.table == table and row.kind != "later"}
    first = _FIRST.get(table, ())
    return (*(rows[name] for name in first), *(row for name, row in rows.items() if name not in first))


def _count(rows: Any) -> int:
    return len(rows) if isinstance(rows, list) and all(isinstance(row, dict) for row in rows) else 0
