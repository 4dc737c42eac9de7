"""A job file off the disk, as text."""

from __future__ import annotations

from pathlib import Path

from lapwright.errors import JobProblems, Problem

FAR_TOO_LONG = 1 << 20
"""No more than this is read of any file; the reader of the job says what it allows. [bytes]"""


def read_text(path: Path, filename: str) -> str:
    """The text of a job file.

    Args:
        path: Where it lies.
        filename: What to call it in a problem: the name as the user gave it.

    Returns:
        Its text, at most FAR_TOO_LONG bytes of it.

    Raises:
        JobProblems: there is no such file, it may not be read, or it is no UTF-8 text.
    """
    try:
        with open(path, "rb") as file:
            content = file.read(FAR_TOO_LONG).removeprefix(b"\xef\xbb\xbf")
    except OSError as why:
        raise _problem(filename, 1, 1, "store.unreadable", why=why.strerror or str(why)) from why
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as why:
        before = content[: why.start].decode("utf-8").split("\n")
        line, column = len(before), len(before[-1]) + 1
        raise _problem(filename, line, column, "store.no_text", byte=content[why.start]) from why


def _problem(filename: str, line: int, column: int, key: str, **values: str | int) -> JobProblems:
    return JobProblems(filename, (Problem(line, column, "job file", key, values),))
