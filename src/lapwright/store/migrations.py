"""The shelf's file from any version to this one: `user_version` says which it is.

A file of a later version is refused and left as it is. Before an old one is changed it is backed up.
"""

from __future__ import annotations

import sqlite3
from datetime import datetime
from pathlib import Path

from lapwright.errors import LapwrightError
from lapwright.store.backups import back_up

# The n-th makes a file of version n-1 into one of version n. One that was shipped is never changed again.
# (No STRICT tables: the SQLite of some systems that are still looked after is older than they are, 3.37.)
MIGRATIONS: tuple[str, ...] = (
    """
    CREATE TABLE jobs (
        id TEXT PRIMARY KEY, head INTEGER NOT NULL, touched TEXT NOT NULL, removed TEXT
    );
    CREATE TABLE states (
        job TEXT NOT NULL REFERENCES jobs, revision INTEGER NOT NULL, text TEXT NOT NULL, name TEXT NOT NULL,
        label TEXT NOT NULL, at TEXT NOT NULL, parent INTEGER, redo INTEGER,
        PRIMARY KEY (job, revision)
    ) WITHOUT ROWID;
    CREATE TABLE ticks (
        job TEXT NOT NULL REFERENCES jobs, step TEXT NOT NULL, at TEXT NOT NULL, PRIMARY KEY (job, step)
    ) WITHOUT ROWID;
    """,
)
VERSION = len(MIGRATIONS)


class NewerShelf(LapwrightError):
    """The file was written by a later version of this program (`theirs`); it is left as it is."""


def migrate(db: sqlite3.Connection, folder: Path, now: datetime) -> None:
    """Bring the shelf's file to this version, all of it or nothing, and make every save reach the disk.

    Args:
        db: The open file, in autocommit.
        folder: Where it lies; an old one is backed up there before it is changed.
        now: The time, for the backup's name.

    Raises:
        NewerShelf: it is of a later version; nothing was changed.
        sqlite3.Error: it is no such file, or the disk refused.
    """
    found = _version(db)
    if found > VERSION:
        raise NewerShelf("store.newer", folder=str(folder), theirs=found, ours=VERSION)
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA synchronous = FULL")
    db.execute("PRAGMA fullfsync = ON")  # a Mac's fsync stops at the drive's own memory without it
    db.execute("PRAGMA foreign_keys = ON")
    if 0 < found < VERSION:
        back_up(db, folder, now, always=True)
    if found < VERSION:
        _step_up(db)


def _step_up(db: sqlite3.Connection) -> None:
    db.execute("BEGIN IMMEDIATE")
    try:
        # read again: another program may have done it while this one waited
        for script in MIGRATIONS[_version(db) :]:
            for statement in filter(str.strip, script.split(";")):
                db.execute(statement)
        db.execute(f"PRAGMA user_version = {VERSION}")
        db.execute("COMMIT")
    except BaseException:
        if db.in_transaction:
            db.execute("ROLLBACK")
        raise


def _version(db: sqlite3.Connection) -> int:
    return int(db.execute("PRAGMA user_version").fetchone()[0])
