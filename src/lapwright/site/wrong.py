"""What is wrong with a job, before anybody has looked up the line where it stands."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any, Literal

Path = tuple[str | int, ...]
"""Where in the file: ("opening", 0, "width"); a list counts from 0."""

MOST = 100
"""A hundred problems are enough to read at once."""


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing wrong: at the value of a field, at its key, or at the head of a table."""

    path: Path
    key: str
    values: dict[str, Any]
    at: Literal["value", "key"] = "value"


class Enough(Exception):
    """There are as many problems as anyone would read."""


class Wrongs:
    """Collects what is wrong; raises Enough after the hundredth."""

    def __init__(self) -> None:
        self.found: list[Wrong] = []

    def add(self, path: Path, key: str, at: Literal["value", "key"] = "value", **values: Any) -> None:
        """Note one thing wrong.

        Raises:
            Enough: it is the hundredth.
        """
        self.found.append(Wrong(path, key, values, at))
        if len(self.found) >= MOST:
            raise Enough


def named(path: Path) -> str:
    """The field in the job file's words: `opening[2].width`; a list counts from 1 for people."""
    out = ""
    for part in path:
        if isinstance(part, int):
            out += f"[{part + 1}]"
        else:
            out += ("." if out else "") + clean(part)
    return out or "job file"


def given(value: Any) -> str:
    """A value as the user wrote it, short, on one line, safe for a terminal."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value) if abs(value) < 10**30 else f"{'-' if value < 0 else ''}1e30..."
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, str):
        return f'"{clean(value)}"'
    if isinstance(value, datetime.date | datetime.datetime | datetime.time):
        return value.isoformat()
    return "{...}" if isinstance(value, dict) else "[...]"


def clean(text: str, most: int = 48) -> str:
    """Text cut to a readable length, with everything unprintable written as its code."""
    cut = text[:most]
    shown = "".join(char if char.isprintable() else f"\\u{ord(char):04x}" for char in cut)
    return shown + "..." if len(text) > most else shown


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like this one, if any is like it at all."""
    if len(word) > 40:
        return None
    by_lower = {row.lower(): row for row in known}
    found = get_close_matches(word.lower(), list(by_lower), n=1, cutoff=0.6)
    return by_lower[found[0]] if found else None
