"""Line and column of every key and value of a job file. No TOML reader gives them; the syntax tree does.

Only asked when something is wrong, so a good job never loads the tree.
"""

from __future__ import annotations

import tomllib
from itertools import islice
from typing import TYPE_CHECKING, Literal

from lapwright.site.wrong import Path

if TYPE_CHECKING:
    from tree_sitter import Node

Place = tuple[int, int]
"""Line and column, both from 1; the column counts characters."""

DEEPEST = 3
"""No field lies deeper than ("opening", 0, "width"); what does is placed at the table round it."""

MOST_ROWS = 500
"""No list of tables may have more rows than this."""

_KEYS = ("bare_key", "quoted_key", "dotted_key")


class Places:
    """Where the keys and values of one job file stand.

    Args:
        text: The file's text; it must have passed a TOML reader, else places may be missing.
    """

    def __init__(self, text: str) -> None:
        import tree_sitter
        import tree_sitter_toml

        self._lines = [line.encode("utf-8", "replace") for line in text.split("\n")]
        self._keys: dict[Path, Place] = {}
        self._values: dict[Path, Place] = {}
        self._counts: dict[Path, int] = {}
        parser = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language()))
        for node in parser.parse(text.encode("utf-8", "replace")).root_node.children:
            self._statement(node)

    def of(self, path: Path, at: Literal["value", "key"] = "value") -> Place:
        """The place of a value (or of its key); of the nearest table round it when it is not there."""
        first, second = (self._values, self._keys) if at == "value" else (self._keys, self._values)
        for end in range(len(path), 0, -1):
            place = first.get(path[:end]) or second.get(path[:end])
            if place:
                return place
        return (1, 1)

    def _statement(self, node: Node) -> None:
        if node.type == "pair":
            self._pair(node, ())
        elif node.type in ("table", "table_array_element"):
            self._table(node)

    def _table(self, node: Node) -> None:
        head = next((child for child in node.children if child.type in _KEYS), None)
        if head is None:
            return
        parts = _parts(head)
        path = self._inside(parts[:-1]) + parts[-1:]
        if node.type == "table_array_element":
            self._keys.setdefault(path, self._place(head))
            self._counts[path] = self._counts.get(path, -1) + 1
            path = (*path, self._counts[path])
        else:
            path = self._inside(parts)
        self._keys[path] = self._place(head)
        for child in node.children:
            if child.type == "pair":
                self._pair(child, path)

    def _inside(self, parts: Path) -> Path:
        """The path of a header: a list on the way means its last row."""
        path: Path = ()
        for part in parts:
            path = (*path, part)
            if path in self._counts:
                path = (*path, self._counts[path])
        return path

    def _pair(self, node: Node, prefix: Path) -> None:
        if len(node.children) < 3:
            return
        key, value = node.children[0], node.children[-1]
        path = prefix
        for part in _parts(key):
            path = (*path, part)
            self._keys.setdefault(path, self._place(key))
        self._value(value, path)

    def _value(self, node: Node, path: Path) -> None:
        self._values.setdefault(path, self._place(node))
        if len(path) >= DEEPEST:
            return
        if node.type == "inline_table":
            for child in node.children:
                if child.type == "pair":
                    self._pair(child, path)
        elif node.type == "array":
            rows = (child for child in node.children if child.is_named and child.type != "comment")
            for index, child in enumerate(islice(rows, MOST_ROWS)):
                self._value(child, (*path, index))

    def _place(self, node: Node) -> Place:
        row, column = node.start_point.row, node.start_point.column
        if row >= len(self._lines):
            return (row + 1, 1)
        return (row + 1, len(self._lines[row][:column].decode("utf-8", "replace")) + 1)


def _parts(key: Node) -> Path:
    """The parts of a key, quotes and escapes read: `a."b c"` is ("a", "b c")."""
    text = (key.text or b"").decode("utf-8", "replace")
    if key.type == "bare_key":
        return (text,)
    try:
        row = tomllib.loads(f"{text} = 0")
    except ValueError:
        return (text,)
    parts: list[str] = []
    while isinstance(row, dict):
        ((part, row),) = row.items()
        parts.append(part)
    return tuple(parts)
