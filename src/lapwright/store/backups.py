"""Copies of the shelf's file, one a day at most, the last fourteen kept."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

FOLDER = "backups"
KEPT = 14
_STAMP = "%Y-%m-%dT%H%M%SZ"
_OLD = timedelta(days=1)


def back_up(db: sqlite3.Connection, folder: Path, now: datetime, always: bool = False) -> Path | None:
    """Copy the shelf's file whole, when the last copy is a day old; the oldest copies go.

    Args:
        db: The open file.
        folder: Where it lies; copies go into `backups/` there.
        now: The time, with its zone.
        always: However young the last copy is.

    Returns:
        The copy, or None when none was due: the last is young, or there are no jobs yet.

    Raises:
        OSError, sqlite3.Error: the disk refused; older copies are as they were.
    """
    kept = backups(folder)
    if kept and not always and now - _when(kept[-1]) < _OLD:
        return None
    if not db.execute("SELECT 1 FROM jobs LIMIT 1").fetchall():
        return None
    into = folder / FOLDER
    into.mkdir(exist_ok=True)
    copy = into / f"jobs-{now.astimezone(UTC).strftime(_STAMP)}.sqlite"
    part = copy.with_suffix(f".{os.getpid()}.part")
    try:
        with closing(sqlite3.connect(part)) as made:
            db.backup(made)
        os.replace(part, copy)
    finally:
        part.unlink(missing_ok=True)
    for old in backups(folder)[:-KEPT]:
        old.unlink()
    return copy


def backups(folder: Path) -> list[Path]:
    """The copies there are, the oldest first."""
    return sorted((folder / FOLDER).glob("jobs-*Z.sqlite"))


def _when(copy: Path) -> datetime:
    return datetime.strptime(copy.stem, f"jobs-{_STAMP}").replace(tzinfo=UTC)
