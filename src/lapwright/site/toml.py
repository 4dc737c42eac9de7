"""The job file as text: kept small and shallow first, then read as TOML.

A TOML reader takes more than linear time over deeply dotted keys and gives up over deep nesting or
endless digits, so those are refused by one linear look before it sees them.
"""

from __future__ import annotations

import re
import tomllib
from itertools import islice
from typing import Any

from lapwright.errors import JobProblems, Problem
from lapwright.site.wrong import MOST

MOST_BYTES = 64 * 1024
MOST_DOTS = 8
MOST_NESTED = 8
MOST_DIGITS = 40  # and the scan's {41,}
FILE = "job file"
"""Stands where a field would, when the trouble is the file itself."""

# Strings and comments are stepped over whole. An unclosed string runs to the end of its line (or of
# the file) on purpose: no alternative may fail after a long look, or the scan is no longer linear.
_SCAN = re.compile(
    r'''(?P<text>"""(?:\\.|(?!""").)*+(?:"{3,5}|\Z)|\'\'\'(?:(?!\'\'\').)*+(?:\'{3,5}|\Z)'''
    r"""|"(?:\\[^\n]|[^"\\\n])*+(?:"|(?=\n)|\\?\Z|\\(?=\n))|'[^'\n]*+(?:'|(?=\n)|\Z))"""
    r"""|(?P<comment>\#[^\n]*+)|(?P<open>[\[{])|(?P<close>[\]}])|(?P<dot>\.)|(?P<cut>[\n=,])"""
    r"""|(?P<digits>[0-9_]{41,})""",
    re.DOTALL,
)
_PLACED = re.compile(
    r"(?P<what>.*) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)", re.DOTALL
)
_BARE_LENGTH = re.compile(
    r"""\s*(?P<key>[A-Za-z_-]+)\s*=\s*"""
    r"""(?P<value>[0-9][0-9. /'"-]*['"/][^\#]*|[0-9.]+\s*[a-z%°:][^\#]*|[0-9.]+\s+[0-9][^\#]*)"""
)
_INCH_MARK = re.compile(r'\s*(?P<key>[A-Za-z_-]+)\s*=\s*(?P<value>"[^"\\]*[0-9]")"')
_WHAT = (
    ("Cannot overwrite", "site.toml_twice"), ("Cannot declare", "site.toml_twice"),
    ("Duplicate", "site.toml_twice"), ("Cannot mutate", "site.toml_twice"),
    ("Cannot redefine", "site.toml_twice"), ("Unclosed", "site.toml_unclosed"),
    ("Unterminated", "site.toml_unclosed"), ("Expected ']", "site.toml_unclosed"),
    ('Expected "\'', "site.toml_unclosed"), ("Expected '=' after", "site.toml_no_equals"),
    ("Unescaped", "site.toml_backslash"), ("Escaped", "site.toml_backslash"),
    ("Invalid hex", "site.toml_backslash"), ("Illegal character", "site.toml_character"),
    ("Found invalid character", "site.toml_character"), ("Invalid date", "site.toml_value"),
    ("Invalid value", "site.toml_value"), ("Expected newline", "site.toml_value"),
)  # fmt: skip


def read_toml(source: str | bytes, filename: str) -> tuple[str, dict[str, Any]]:
    """Turn a job file into its tables.

    Args:
        source: The file, as text or as the bytes on disk (UTF-8).
        filename: Its name, for the problems.

    Returns:
        The text as read (no byte-order mark, plain line ends) and the tables.

    Raises:
        JobProblems: not UTF-8, too big, too deep, or no TOML.
    """
    text = _decoded(source, filename)
    _refuse_monsters(text, filename)
    try:
        return text, tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise JobProblems(filename, _syntax(str(error), text)) from None
    except (ValueError, RecursionError):  # past our own look; a reader of another version may balk
        raise JobProblems(filename, (Problem(1, 1, FILE, "site.toml_unread"),)) from None


def _decoded(source: str | bytes, filename: str) -> str:
    if len(source) > MOST_BYTES:
        raise JobProblems(filename, (_too_big(len(source)),))
    if isinstance(source, bytes):
        source = _utf8(source, filename)
    size = len(source.encode("utf-8", "surrogatepass"))
    if size > MOST_BYTES:
        raise JobProblems(filename, (_too_big(size),))
    return source.removeprefix("\ufeff").replace("\r\n", "\n")


def _utf8(source: bytes, filename: str) -> str:
    try:
        return source.decode("utf-8")
    except UnicodeDecodeError as error:
        before = source[: error.start].decode("utf-8")
        raise JobProblems(filename, (_at(before, len(before), "site.not_utf8"),)) from None


def _too_big(size: int) -> Problem:
    return Problem(1, 1, FILE, "site.too_big", {"size": size, "most": MOST_BYTES})


def _at(text: str, offset: int, key: str, **values: Any) -> Problem:
    line = text.count("\n", 0, offset) + 1
    column = offset - (text.rfind("\n", 0, offset) + 1) + 1
    return Problem(line, column, FILE, key, values)


def _refuse_monsters(text: str, filename: str) -> None:
    """One look over the text for what would choke the reader; strings and comments do not count."""
    depth = dots = 0
    for found in _SCAN.finditer(text):
        kind = found.lastgroup
        if kind == "open":
            depth, dots = depth + 1, 0
        elif kind == "close":
            depth, dots = max(0, depth - 1), 0
        elif kind == "cut":
            dots = 0
        elif kind == "dot":
            dots += 1
        key = _monster(kind, depth, dots)
        if key:
            most = {"site.too_deep": MOST_NESTED, "site.too_dotted": MOST_DOTS}.get(key, MOST_DIGITS)
            raise JobProblems(filename, (_at(text, found.start(), key, most=most),))


def _monster(kind: str | None, depth: int, dots: int) -> str | None:
    if kind == "open" and depth > MOST_NESTED:
        return "site.too_deep"
    if kind == "dot" and dots > MOST_DOTS:
        return "site.too_dotted"
    return "site.too_many_digits" if kind == "digits" else None


def _syntax(message: str, text: str) -> tuple[Problem, ...]:
    """The reader's one complaint in our words, and every other length that wants its quotes."""
    lines = text.split("\n")
    found = _PLACED.fullmatch(message)
    what = found["what"] if found else message
    line = int(found["line"]) if found and found["line"] else len(lines)
    column = int(found["column"]) if found and found["column"] else len(lines[-1]) + 1
    wanting = (p for n, row in enumerate(lines[line - 1 :], line) if (p := _wants_quotes(n, row)))
    quotes = tuple(islice(wanting, MOST - 1))
    if quotes and quotes[0].line == line:
        return quotes
    key = next((key for start, key in _WHAT if what.startswith(start)), "site.toml_statement")
    if key == "site.toml_twice":
        row = lines[line - 1]
        column = len(row) - len(row.lstrip()) + 1
    return (Problem(line, column, FILE, key), *quotes)


def _wants_quotes(number: int, row: str) -> Problem | None:
    """`eave = 24' 0` wants quotes; `eave = "24' 6""` wants its inch mark away."""
    bare, mark = _BARE_LENGTH.match(row[:200]), _INCH_MARK.match(row[:200])
    found = bare or mark
    if not found or _is_toml(row):
        return None
    key = "site.toml_wants_quotes" if bare else "site.toml_inch_mark"
    value = found["value"].strip() if bare else found["value"]
    clean = "".join(char for char in value[:40] if char.isprintable() and char not in '"')
    values = {"given": clean, "fixed": f'"{clean.strip()}"'}
    return Problem(number, found.start("value") + 1, found["key"], key, values)


def _is_toml(row: str) -> bool:
    try:
        return bool(tomllib.loads(row))
    except (ValueError, RecursionError):
        return False
