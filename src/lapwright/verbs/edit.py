"""Edit a job file as a person would: change one value where it stands, keep every comment.

Whatever is typed goes in, right or wrong: a measure that cannot be read is kept as the text it is, and
`read_job` says what is wrong with it. No text typed into a field can break the file: after every edit the
file is read again and must hold what it held, and the one change.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from copy import deepcopy
from typing import Any

from lapwright.errors import JobProblems
from lapwright.site.fields import LISTS, Field, fields_of
from lapwright.site.toml import MOST_BYTES, read_toml
from lapwright.site.wrong import Path
from lapwright.verbs.job_text import FILE, Written, typed, value_at, values_of
from lapwright.verbs.splice import cut_row, cut_value, insert_row, inside, put_value

_BARE = re.compile(r"-?(0|[1-9][0-9]{0,14})(\.[0-9]{1,14})?")
_WHOLE = re.compile(r"0|[1-9][0-9]{0,14}")


def set_value(text: str, path: Path, entered: str | None) -> str:
    """Put what was typed into one field of a job file.

    Args:
        text: The job file.
        path: ("roof", "eave") or ("opening", 0, "width"); a missing table is made, a missing row is not.
        entered: What was typed; nothing, or None, leaves the field out.

    Returns:
        The job file with that one value changed; its other values and its comments stand as they stood.

    Raises:
        JobProblems: the file is no TOML, or would grow past what is read.
        KeyError: there is no such field, or no such row.
    """
    row = field_at(path)
    values = values_of(text)
    _known_row(values, path)
    plain = _lines(text)
    entered = _sayable(entered or "").strip()
    if entered == typed(value_at(values, path)):
        return plain
    wanted = deepcopy(values)
    home = _table(wanted, path[:-1])
    if not entered:
        del home[row.name]
        return _checked(wanted, lambda: cut_value(plain, path))
    value = _as_toml(row, entered)
    home[row.name] = values_of(f"x = {value}")["x"]
    return _checked(wanted, lambda: put_value(plain, path, value))


def field_at(path: Path) -> Field:
    """The field that stands at a place.

    Raises:
        KeyError: there is none.
    """
    table, name = path[0] if path else None, path[-1] if path else None
    if isinstance(table, str) and isinstance(name, str) and len(path) == (3 if table in LISTS else 2):
        row = fields_of(table).get(name)
        if row is not None and row.kind != "later":
            return row
    raise KeyError(path)


def add_row(text: str, table: str) -> str:
    """Add an empty row behind the others: an opening, a tool, a stock, a deviation."""
    values, plain = values_of(text), _lines(text)
    rows = _rows(values, table)
    return _checked({**values, table: [*rows, {}]}, lambda: insert_row(plain, table, len(rows), ""))


def remove_row(text: str, table: str, n: int) -> str:
    """Take row `n` (from 0) away with its own lines.

    Raises:
        KeyError: there is no such row.
    """
    values, plain = values_of(text), _lines(text)
    _known_row(values, (table, n))
    rows = [row for i, row in enumerate(values[table]) if i != n]
    wanted = {**values, table: rows} if rows else {k: v for k, v in values.items() if k != table}
    return _checked(wanted, lambda: cut_row(plain, (table, n)))


def copy_row(text: str, table: str, n: int) -> str:
    """Write row `n` (from 0) once more behind the last one, with a name of its own.

    An opening's copy has no `left` yet: two openings cannot stand in one place.

    Raises:
        KeyError: there is no such row.
    """
    values, plain = values_of(text), _lines(text)
    _known_row(values, (table, n))
    rows = _rows(values, table)
    lines = inside(plain, (table, n))
    both = _checked({**values, table: [*rows, rows[n]]}, lambda: insert_row(plain, table, len(rows), lines))
    name = _own_name(typed(rows[n].get("name")), {typed(row.get("name")) for row in rows})
    last = (table, len(rows))
    if "name" in fields_of(table) and name:
        both = set_value(both, (*last, "name"), name)
    return set_value(both, (*last, "left"), None) if table == "opening" else both


def merge(base_text: str, now_text: str, path: Path, entered: str | None) -> str | None:
    """Put a value that was typed over an older text into the newest one.

    Returns:
        The newest text with the value; None when that very value was changed to something else in
        between, or its row may no longer be the one that was meant.

    Raises:
        JobProblems, KeyError: as set_value.
    """
    base, now = values_of(base_text), values_of(now_text)
    if len(path) == 3 and not _same_row(base, now, path):
        return None
    if typed(value_at(now, path)) not in (typed(value_at(base, path)), (entered or "").strip()):
        return None
    return set_value(now_text, path, entered)


def same_row(base_text: str, now_text: str, path: Path) -> bool:
    """Is a row of an older text, ("opening", 1), still the one that stands there in the newest?"""
    return _same_row(values_of(base_text), values_of(now_text), path)


def _same_row(base: dict[str, Any], now: dict[str, Any], path: Path) -> bool:
    """It has kept its name; or no row is gone, and it has kept all but one of its values."""
    before, after = (value_at(values, path[:1]) for values in (base, now))
    a, b = (value_at(values, path[:2]) for values in (base, now))
    if not (isinstance(a, dict) and isinstance(b, dict)):
        return False
    if "name" in a and a["name"] == b.get("name"):
        return True
    changed = [name for name in {**a, **b} if a.get(name) != b.get(name)]
    return len(before) <= len(after) and len(changed) <= 1


def _lines(text: str) -> str:
    """The text as the reader sees it; raises what the reader raises."""
    return read_toml(text, FILE)[0]


def _sayable(text: str) -> str:
    """Half a surrogate pair cannot be written to a file."""
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def _rows(values: dict[str, Any], table: str) -> list[dict[str, Any]]:
    rows = values.get(table, [])
    if table not in LISTS or not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise KeyError(table)
    return rows


def _known_row(values: dict[str, Any], path: Path) -> None:
    if path[0] in LISTS:
        n, count = path[1], len(_rows(values, str(path[0])))
        if not isinstance(n, int) or not 0 <= n < count:
            raise KeyError(path)


def _table(values: dict[str, Any], path: Path) -> dict[str, Any]:
    """The table at a place, made where it is missing."""
    name = str(path[0])
    home = values[name][path[1]] if len(path) == 2 else values.setdefault(name, {})
    if not isinstance(home, dict):
        raise KeyError(path)
    return home


def _as_toml(row: Field, entered: str) -> str:
    """What was typed, as it is written in a job file: a number bare where the field may be one."""
    if row.kind == "bool" and entered in ("true", "false"):
        return entered
    if row.kind == "count" and _WHOLE.fullmatch(entered):
        return entered
    if row.kind in ("length", "number") and _BARE.fullmatch(entered):
        return entered
    if row.kind == "lengths":
        parts = [part.strip() for part in entered.split(",")]
        return "[" + ", ".join(p if _BARE.fullmatch(p) else _quoted(p) for p in parts if p) + "]"
    return _quoted(entered)


def _quoted(text: str) -> str:
    import tomlkit

    return tomlkit.string(text).as_string()


def _own_name(name: str, taken: set[str]) -> str:
    """stack, stack 2, stack 3 ..."""
    stem = re.sub(r" \d{1,3}$", "", name)[:50]
    return next(own for n in range(2, 999) if (own := f"{stem} {n}") not in taken) if name else ""


def _checked(wanted: dict[str, Any], edit: Callable[[], str | None]) -> str:
    """The edited text if it says what is wanted, else all of it written out anew.

    Tables under plain headers are edited where they stand. A file written another way (inline tables, dotted
    keys) keeps its values and loses its comments.
    """
    import tomlkit

    text = edit()
    if text is not None and len(text.encode()) > MOST_BYTES:
        return _lines(text)  # raises: comments are not dropped to make room
    with suppress(JobProblems):
        if text is not None and values_of(text) == wanted:
            return text
    return _lines(tomlkit.dumps(_bare(wanted)))


def _bare(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _bare(one) for name, one in value.items()}
    if isinstance(value, list):
        return [_bare(one) for one in value]
    return float(value) if isinstance(value, Written) else value
