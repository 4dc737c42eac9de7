"""A job file as text that a face may edit: what was typed in each place, and where each value lies.

The syntax tree gives the places (bytes of the UTF-8 text), a TOML reader gives the values.
"""

from __future__ import annotations

import datetime
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from lapwright.site.toml import read_toml
from lapwright.site.wrong import Path

if TYPE_CHECKING:
    from tree_sitter import Node

FILE = "job.toml"
"""What an edited job file is called in a problem."""

LONGEST_INT = 10**30


class Written(str):
    """A number with a point, as it stands in the file: 88.50 stays 88.50."""


def values_of(text: str) -> dict[str, Any]:
    """The tables of a job file, its decimal numbers as they were written.

    Raises:
        JobProblems: it is no TOML, or too big or too deep.
    """
    plain, _ = read_toml(text, FILE)
    return tomllib.loads(plain, parse_float=Written)


def value_at(values: Mapping[str, Any], path: Path) -> Any:
    """The value that stands at a place; None where nothing stands."""
    here: Any = values
    for part in path:
        if isinstance(here, dict):
            here = here.get(part)
        elif isinstance(here, list) and isinstance(part, int) and 0 <= part < len(here):
            here = here[part]
        else:
            return None
    return here


def typed(value: Any) -> str:
    """A value as a person would type it into a field; nothing for None."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value) if abs(value) < LONGEST_INT else hex(value)
    if isinstance(value, list):
        return ", ".join(typed(one) for one in value)
    if isinstance(value, datetime.date | datetime.datetime | datetime.time):
        return value.isoformat()
    return value if isinstance(value, str) else "{...}"


@dataclass(frozen=True, slots=True)
class Pair:
    """`name = value`, from its first byte to its last; value_start: first byte of the value."""

    name: str
    start: int
    value_start: int
    end: int


@dataclass(frozen=True, slots=True)
class Block:
    """A table under its own header. path: ("roof",) or ("opening", 1). start, head_end: the header."""

    path: Path
    start: int
    head_end: int
    pairs: dict[str, Pair] = field(default_factory=dict)

    @property
    def end(self) -> int:
        """The byte behind its last value."""
        return max((pair.end for pair in self.pairs.values()), default=self.head_end)


def blocks(source: bytes) -> dict[Path, Block]:
    """Every table that has a plain header of its own, in file order; other ways to write one are left out."""
    import tree_sitter
    import tree_sitter_toml

    parser = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language()))
    counts: dict[str, int] = {}
    found: dict[Path, Block] = {}
    for node in parser.parse(source).root_node.children:
        name = next((_plain(child) for child in node.children if child.is_named), None)
        if node.type not in ("table", "table_array_element") or name is None:
            continue
        path: Path = (name,)
        if node.type == "table_array_element":
            counts[name] = counts.get(name, -1) + 1
            path = (name, counts[name])
        close = next(child for child in node.children if child.type in ("]", "]]"))
        found[path] = Block(path, node.start_byte, close.end_byte, {p.name: p for p in _pairs(node)})
    return found


def _pairs(table: Node) -> Iterator[Pair]:
    for node in table.children:
        if node.type != "pair":
            continue
        inside = [child for child in node.children if child.type != "comment"]
        name = _plain(inside[0])
        if name is not None:
            yield Pair(name, node.start_byte, inside[-1].start_byte, inside[-1].end_byte)


def _plain(key: Node) -> str | None:
    """The name a key says; None for a dotted one."""
    text = (key.text or b"").decode("utf-8")
    if key.type == "bare_key":
        return text
    return next(iter(tomllib.loads(f"{text} = 0"))) if key.type == "quoted_key" else None


def line_start(source: bytes, at: int) -> int:
    """The first byte of the line that holds `at`."""
    return source.rfind(b"\n", 0, at) + 1


def line_end(source: bytes, at: int) -> int:
    """The byte behind the end of the line that holds `at`, its line feed included."""
    found = source.find(b"\n", at)
    return len(source) if found < 0 else found + 1
