"""CSV as cells with their line and column. A quote counts only at the start of a field, so 12" may stand as it is."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Cell:
    """One field where it stands; column counts characters from 1."""

    text: str
    line: int
    column: int


Odd = Callable[[Cell, str], None]


def lines_of(text: str, odd: Odd) -> Iterator[list[Cell]]:
    """The cells of every line that is not blank.

    Args:
        text: The file, without a byte-order mark.
        odd: Told where a quote is out of place, with the key of a sentence.
    """
    separator = _separator(text)
    for number, line in enumerate(text.replace("\r\n", "\n").replace("\r", "\n").split("\n"), 1):
        if line.strip().strip(separator):
            yield _cells(line, number, separator, odd)


def _separator(text: str) -> str:
    """A comma; a semicolon or a tab where the first line has those and no comma."""
    head = text.lstrip("\n\r").split("\n", 1)[0]
    return next((s for s in (",", ";", "\t") if s in head), ",")


def _cells(line: str, number: int, separator: str, odd: Odd) -> list[Cell]:
    """Split one line. A quote counts only at the start of a field, so that 12" may stand as it is."""
    out: list[Cell] = []
    at = 0
    while True:
        start = at + len(line[at:]) - len(line[at:].lstrip(" "))
        if line[start : start + 1] == '"':
            text, at = _quoted(line, start, number, separator, odd)
        else:
            end = line.find(separator, at)
            end = len(line) if end < 0 else end
            text, at = line[start:end], end
        out.append(Cell(text, number, start + 1))
        if at >= len(line):
            return out
        at += 1


def _quoted(line: str, start: int, number: int, separator: str, odd: Odd) -> tuple[str, int]:
    """A field in quotes, and where it ends; a doubled quote is one quote."""
    at, text = start + 1, ""
    while at < len(line):
        if line[at] != '"':
            text += line[at]
            at += 1
        elif line[at + 1 : at + 2] == '"':
            text += '"'
            at += 2
        else:
            end = line.find(separator, at)
            end = len(line) if end < 0 else end
            if line[at + 1 : end].strip():
                odd(Cell("", number, at + 1), "nest.quote_inside")
            return text, end
    odd(Cell("", number, start + 1), "nest.quote_open")
    return text, len(line)
