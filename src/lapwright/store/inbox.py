"""A job file off the disk."""

from __future__ import annotations

from pathlib import Path

from lapwright.errors import JobProblems, Problem

FAR_TOO_LONG = 1 << 20
"""No more than this is read of any file; the reader of the job says what it allows. [bytes]"""


def read_job_file(path: Path, filename: str) -> bytes:
    """The bytes of a job file.

    Args:
        path: Where it lies.
        filename: What to call it in a problem: the name as the user gave it.

    Returns:
        What it holds, at most FAR_TOO_LONG bytes of it.

    Raises:
        JobProblems: there is no such file, or it may not be read.
    """
    try:
        with open(path, "rb") as file:
            return file.read(FAR_TOO_LONG)
    except OSError as why:
        told = {"why": why.strerror or str(why)}
        raise JobProblems(filename, (Problem(1, 1, "job file", "store.unreadable", told),)) from why
