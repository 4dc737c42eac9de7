"""Cut and paste in the text of a job file: what is not touched stays to the byte.

Only tables under plain headers of their own are edited this way; for any other the answer is None.
"""

from __future__ import annotations

from lapwright.site.fields import fields_of
from lapwright.site.wrong import Path
from lapwright.verbs.job_text import Block, blocks, line_end, line_start


def put_value(text: str, path: Path, value: str) -> str | None:
    """The text with `value` (TOML) at a place; None where it is not under a plain header."""
    source = text.encode()
    found = blocks(source)
    block = found.get(path[:-1])
    line = f"{path[-1]} = {value}\n"
    if block is None:
        return f"{_closed(text)}\n[{path[0]}]\n{line}".lstrip("\n") if len(path) == 2 else None
    pair = block.pairs.get(str(path[-1]))
    if pair is not None:
        return _spliced(source, pair.value_start, pair.end, value)
    at = line_end(source, _before(block, path))
    return _spliced(source, at, at, line if source[:at].endswith(b"\n") else "\n" + line)


def _before(block: Block, path: Path) -> int:
    """Behind which byte a new field goes: the fields of a table stand in the order in which they are measured."""
    order = list(fields_of(str(path[0])))
    earlier = order[: order.index(str(path[-1]))]
    return max((pair.end for name, pair in block.pairs.items() if name in earlier), default=block.head_end)


def cut_value(text: str, path: Path) -> str | None:
    """The text without the line that holds a value; None where it is not under a plain header."""
    source = text.encode()
    block = blocks(source).get(path[:-1])
    pair = block.pairs.get(str(path[-1])) if block else None
    if pair is None:
        return None
    return _spliced(source, line_start(source, pair.start), line_end(source, pair.end), "")


def insert_row(text: str, table: str, count: int, lines: str | None) -> str | None:
    """The text with one more row of a list, `lines` under its header; None where the rows have no plain headers."""
    source = text.encode()
    head = f"[[{table}]]\n"
    if lines is None:
        return None
    if not count:
        return f"{_closed(text)}\n{head}{lines}".lstrip("\n")
    last = blocks(source).get((table, count - 1))
    if last is None:
        return None
    at = line_end(source, last.end)
    before = "\n" if source[:at].endswith(b"\n") else "\n\n"
    return _spliced(source, at, at, f"{before}{head}{lines}")


def inside(text: str, path: Path) -> str | None:
    """The lines under a row's header, to its last value."""
    source = text.encode()
    block = blocks(source).get(path)
    if block is None:
        return None
    return _closed(source[line_end(source, block.head_end) : line_end(source, block.end)].decode())


def cut_row(text: str, path: Path) -> str | None:
    """The text without a row's lines; None where it has no plain header. Comments outside its lines stay."""
    source = text.encode()
    block = blocks(source).get(path)
    if block is None:
        return None
    end = line_end(source, block.end)
    if source[end : end + 1] == b"\n":
        end += 1
    return _spliced(source, line_start(source, block.start), end, "")


def _closed(text: str) -> str:
    return text if not text or text.endswith("\n") else text + "\n"


def _spliced(source: bytes, start: int, end: int, new: str) -> str:
    return (source[:start] + new.encode() + source[end:]).decode()
