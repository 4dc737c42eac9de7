"""One value of the job file, read by what its field says it is."""

from __future__ import annotations

import math
import unicodedata
from typing import Any, Literal

from lapwright import units
from lapwright.errors import BadMeasure
from lapwright.site.fields import Field
from lapwright.site.wrong import Path, Wrongs, given, nearest

Unit = Literal["in", "mm"]

# bidirectional marks can make a printed line say something other than its letters
_TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_UNPRINTABLE = {"Cc", "Cs", "Cn", "Co", "Zl", "Zp"}

MOST_LENGTHS = 40
"""How many lengths one list may hold. House rule."""

BAD = object()
"""Stands for a value that was refused; what is wrong with it has been noted."""


def read_value(row: Field, value: Any, path: Path, unit: Unit | None, wrongs: Wrongs) -> Any:
    """Read one value, or note what is wrong with it and hand back BAD.

    Args:
        unit: The job's unit; None when the job names none that is known (then a bare length is
            not held against its range, or every length would be reported too).
    """
    if row.kind == "later":
        wrongs.add(path, "site.later", at="key")
        return BAD
    if row.kind == "length":
        return _length(row, value, path, unit, wrongs)
    if row.kind == "lengths":
        return _lengths(row, value, path, unit, wrongs)
    if row.kind == "count":
        return _count(row, value, path, wrongs)
    if row.kind == "pitch":
        return _pitch(row, value, path, wrongs)
    if row.kind == "number":
        return _number(row, value, path, wrongs)
    if row.kind == "text":
        return _text(row, value, path, wrongs)
    if row.kind == "bool":
        known = isinstance(value, bool)
        return value if known else _refused(path, wrongs, "site.not_bool", given=given(value))
    return _word(row, value, path, wrongs)


def _refused(path: Path, wrongs: Wrongs, key: str, **values: Any) -> object:
    wrongs.add(path, key, **values)
    return BAD


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _range(row: Field) -> dict[str, Any]:
    if row.unit == "in":
        return {"low": float(row.low), "high": float(row.high)}
    return {"low": f"{row.low:g}", "high": f"{row.high:g}", "unit": row.unit}


def _length(row: Field, value: Any, path: Path, unit: Unit | None, wrongs: Wrongs) -> Any:
    if not (isinstance(value, str) or (_is_number(value) and math.isfinite(min(value, 1e300)))):
        return _refused(path, wrongs, "site.not_length", given=given(value), **_range(row))
    try:
        size = units.read_length(value, unit or "in")
    except BadMeasure as error:
        return _refused(path, wrongs, error.key, **error.values)
    if unit is None and _is_number(value):
        return BAD
    if not row.low <= size <= row.high:
        return _refused(path, wrongs, "site.length_range", given=given(value), **_range(row))
    return size


def _lengths(row: Field, value: Any, path: Path, unit: Unit | None, wrongs: Wrongs) -> Any:
    if not isinstance(value, list) or not 1 <= len(value) <= MOST_LENGTHS:
        return _refused(path, wrongs, "site.not_lengths", given=given(value), most=MOST_LENGTHS)
    read = tuple(_length(row, one, path, unit, wrongs) for one in value)
    return BAD if BAD in read else read


def _count(row: Field, value: Any, path: Path, wrongs: Wrongs) -> Any:
    low, high = int(row.low), int(row.high)
    if not isinstance(value, int) or isinstance(value, bool) or not low <= value <= high:
        return _refused(path, wrongs, "site.count_range", given=given(value), low=low, high=high)
    return value


def _pitch(row: Field, value: Any, path: Path, wrongs: Wrongs) -> Any:
    if not (isinstance(value, str) or _is_number(value)):
        return _refused(path, wrongs, "site.not_pitch", given=given(value), **_range(row))
    try:
        rise = units.read_pitch(value)
    except BadMeasure as error:
        return _refused(path, wrongs, error.key, **error.values)
    if not row.low <= rise <= row.high:
        return _refused(path, wrongs, "site.pitch_range", given=given(value), **_range(row))
    return rise


def _number(row: Field, value: Any, path: Path, wrongs: Wrongs) -> Any:
    # an integer of any size compares exactly; only one inside the range is turned into a float
    if not _is_number(value) or not row.low <= value <= row.high:
        return _refused(path, wrongs, "site.number_range", given=given(value), **_range(row))
    return float(value)


def _text(row: Field, value: Any, path: Path, wrongs: Wrongs) -> Any:
    low, high = int(row.low), int(row.high)
    if not isinstance(value, str):
        return _refused(path, wrongs, "site.not_text", given=given(value), low=low, high=high)
    text = value.strip()
    bad = next((c for c in text if c in _TURNING or unicodedata.category(c) in _UNPRINTABLE), None)
    if bad is not None:
        return _refused(path, wrongs, "site.text_character", given=given(value), code=f"U+{ord(bad):04X}")
    if not low <= len(text) <= high:
        return _refused(path, wrongs, "site.text_range", given=given(value), low=low, high=high)
    return text


def _word(row: Field, value: Any, path: Path, wrongs: Wrongs) -> Any:
    allowed = row.allowed()
    if isinstance(value, str) and value in allowed:
        return value
    near = _meant(value, allowed) if isinstance(value, str) else None
    shown, words = given(value), ", ".join(allowed)
    if near:
        return _refused(path, wrongs, "site.choice_near", given=shown, allowed=words, near=near)
    return _refused(path, wrongs, "site.choice", given=shown, allowed=words)


def _meant(value: str, allowed: tuple[str, ...]) -> str | None:
    """The one word it must have been; "chimney" is part of two, so the user is asked, not told."""
    holding = [word for word in allowed if value and value.lower() in word]
    if holding:
        return holding[0] if len(holding) == 1 else None
    return nearest(value, allowed)
