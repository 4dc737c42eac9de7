"""The jobs a person keeps: one SQLite file, every state of every job, nothing ever overwritten.

    jobs      one row a job: which of its states it stands at, whether it was removed
    states    one row a save: its whole text, what was done, what it came from (undo), where redo leads
    ticks     the steps of the work that are done

A save adds a row and moves the job to it; undo and redo only move. When a call returns, what it did has
reached the disk (WAL with synchronous=FULL: one fdatasync before every answer).
"""

from __future__ import annotations

import os
import secrets
import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from lapwright.errors import JobProblems
from lapwright.site.toml import MOST_BYTES, read_toml
from lapwright.store.backups import back_up
from lapwright.store.kept import ONE_GO, Kept, NoSuchJob, NotSaved, Past, Stale, Unfit
from lapwright.store.migrations import migrate

__all__ = ["FILE", "Kept", "NoSuchJob", "NotSaved", "Past", "Shelf", "Stale", "Unfit"]

FILE = "jobs.sqlite"
_PATIENCE = 10.0  # how long a save waits for another program's save [s]
_MOST_NAME = 200
_KEPT = "j.id, s.name, s.revision, s.text, s.parent, s.redo"
_HEAD = f"SELECT {_KEPT}, j.touched FROM jobs j JOIN states s ON s.job = j.id AND s.revision = j.head"


class Shelf:
    """Jobs in a folder. Safe from several threads and several programs at once."""

    def __init__(self, folder: Path, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        """Open the shelf, made when there is none; backed up first when the last backup is a day old.

        Args:
            folder: Where `jobs.sqlite` lies.
            now: The clock.

        Raises:
            NewerShelf: a later version of this program wrote it; it is left as it is.
            NotSaved: it cannot be opened or written.
        """
        self.folder = folder
        self._now = now
        self._alone = threading.RLock()
        try:
            _make(folder)
            self._db = sqlite3.connect(
                folder / FILE, timeout=_PATIENCE, isolation_level=None, check_same_thread=False
            )
            try:
                migrate(self._db, folder, now())
                back_up(self._db, folder, now())
            except BaseException:
                self._db.close()
                raise
        except (OSError, sqlite3.Error) as why:
            raise NotSaved("store.shut", folder=str(folder), why=str(why)) from why

    def close(self) -> None:
        """Put the shelf away; everything is on the disk already."""
        with self._alone:
            self._db.close()

    # What is there.

    def jobs(self) -> tuple[Kept, ...]:
        """The jobs, the one changed last first; removed ones not."""
        return self._many(f"{_HEAD} WHERE j.removed IS NULL ORDER BY j.touched DESC, j.rowid DESC")

    def removed(self) -> tuple[Kept, ...]:
        """The jobs that were removed and can be restored, the one removed last first."""
        return self._many(f"{_HEAD} WHERE j.removed IS NOT NULL ORDER BY j.removed DESC, j.rowid DESC")

    def get(self, id: str) -> Kept:
        """A job as it stands.

        Raises:
            NoSuchJob: there is none, or it was removed.
        """
        return self._one(f"{_HEAD} WHERE j.id = ? AND j.removed IS NULL", id)

    def at(self, id: str, revision: int) -> Kept:
        """A job as it stood at a revision (for merging and for its history).

        Raises:
            NoSuchJob: no such job or no such revision.
        """
        return self._one(
            f"SELECT {_KEPT}, s.at FROM jobs j JOIN states s ON s.job = j.id WHERE j.id = ? AND s.revision = ?",
            id, _small(revision),
        )  # fmt: skip

    def history(self, id: str) -> tuple[Past, ...]:
        """Everything that was done, the last first; nothing is ever dropped from it."""
        self.get(id)
        rows = self._rows(
            "SELECT s.revision, s.label, s.at, s.name, s.revision = j.head, next.label = s.label FROM states s"
            " JOIN jobs j ON j.id = s.job LEFT JOIN states next"
            " ON next.job = s.job AND next.revision = s.revision + 1 AND next.parent = s.parent"
            " WHERE s.job = ? ORDER BY s.revision DESC", id,
        )  # fmt: skip
        return tuple(Past(r, label, at, name, bool(now), bool(left)) for r, label, at, name, now, left in rows)

    def ticked(self, id: str) -> frozenset[str]:
        """The steps that are done."""
        return frozenset(step for (step,) in self._rows("SELECT step FROM ticks WHERE job = ?", id))

    # What changes it. Each is on the disk when it returns, or raises and changed nothing. What is returned is read
    # before the lock is let go: a later save by someone else is not taken for this one.

    def add(self, text: str, name: str, label: str = "page.did.started") -> Kept:
        """Put a new job on the shelf.

        Args:
            text: The job file; a broken one is kept as it is.
            name: What to call it as long as the text has no name.
            label: What was done, for its history.
        """
        text, name = _fit(text), _named(text, name)
        id = secrets.token_hex(8)
        with self._saving():
            at = self._at()
            self._do("INSERT INTO jobs (id, head, touched) VALUES (?, 1, ?)", id, at)
            self._do(
                "INSERT INTO states (job, revision, text, name, label, at) VALUES (?, 1, ?, ?, ?, ?)",
                id, text, name, label, at,
            )  # fmt: skip
            return self.get(id)

    def change(self, id: str, base: int, text: str, label: str) -> Kept:
        """Save a job's new text.

        Args:
            id: Which job.
            base: The revision the new text was made from.
            text: The whole job file; a broken one is kept as it is. The very text it had: no new state.
            label: What was done: a key of words/ and perhaps, after a blank, what it was done to. Saves of one
                label within ONE_GO of each other are a single step for undo; history keeps them all.

        Raises:
            Stale: the job does not stand at `base`; carries how it stands.
            NoSuchJob, NotSaved, Unfit.
        """
        text = _fit(text)
        with self._saving():
            now = self._standing(id, base, text)
            if text != now.text:
                self._step(now, text, label)
            return self.get(id)

    def undo(self, id: str, base: int) -> Kept:
        """Go to the state this one came from; as it is when there is none. Raises as `change`."""
        with self._saving():
            now = self._standing(id, base)
            parent = self._link("parent", now)
            if parent is not None:
                self._do("UPDATE states SET redo = ? WHERE job = ? AND revision = ?", now.revision, id, parent)
                self._move(id, parent)
            return self.get(id)

    def redo(self, id: str, base: int) -> Kept:
        """Go forward to what was undone last; as it is when nothing was. Raises as `change`."""
        with self._saving():
            now = self._standing(id, base)
            ahead = self._link("redo", now)
            if ahead is not None:
                self._move(id, ahead)
            return self.get(id)

    def go_back(self, id: str, base: int, revision: int) -> Kept:
        """Make an old state the newest one; undo takes it back. Raises as `change`."""
        return self.change(id, base, self.at(id, revision).text, f"page.did.back {revision}")

    def remove(self, id: str, base: int) -> None:
        """Take a job off the shelf; `restore` puts it back. Raises as `change`."""
        with self._saving():
            self._standing(id, base)
            self._do("UPDATE jobs SET removed = ? WHERE id = ?", self._at(), id)

    def restore(self, id: str) -> Kept:
        """Put a removed job back, with its whole history.

        Raises:
            NoSuchJob: there never was one.
        """
        with self._saving():
            self._do("UPDATE jobs SET removed = NULL, touched = ? WHERE id = ?", self._at(), id)
            return self.get(id)

    def tick(self, id: str, step: str, done: bool) -> None:
        """Remember that a step of the work is done, or that it is not."""
        step = _fit(step)
        self.get(id)
        with self._saving():
            if done:
                self._do("INSERT OR IGNORE INTO ticks (job, step, at) VALUES (?, ?, ?)", id, step, self._at())
            else:
                self._do("DELETE FROM ticks WHERE job = ? AND step = ?", id, step)

    # How.

    def _standing(self, id: str, base: int, sent: str | None = None) -> Kept:
        now = self.get(id)
        if now.revision != base:
            raise Stale(now, sent)
        return now

    def _step(self, now: Kept, text: str, label: str) -> None:
        """A new state after `now`; in one go with it when the same thing was changed just before."""
        ((last, began),) = self._rows(
            "SELECT label, parent FROM states WHERE job = ? AND revision = ?", now.id, now.revision
        )
        ago = self._now() - datetime.fromisoformat(now.changed)
        recent = timedelta(0) <= ago < ONE_GO  # a clock that was set back tells nothing
        going_on = label == last and recent and not now.can_redo and began is not None
        ((newest,),) = self._rows("SELECT max(revision) FROM states WHERE job = ?", now.id)
        self._do(
            "INSERT INTO states (job, revision, text, name, label, at, parent) VALUES (?, ?, ?, ?, ?, ?, ?)",
            now.id, newest + 1, text, _named(text, now.name), label, self._at(), began if going_on else now.revision,
        )  # fmt: skip
        self._move(now.id, newest + 1)

    def _move(self, id: str, revision: int) -> None:
        self._do("UPDATE jobs SET head = ?, touched = ? WHERE id = ?", revision, self._at(), id)

    def _link(self, which: str, now: Kept) -> int | None:
        rows = self._rows(f"SELECT {which} FROM states WHERE job = ? AND revision = ?", now.id, now.revision)
        link: int | None = rows[0][0]
        return link

    def _at(self) -> str:
        return self._now().isoformat(timespec="milliseconds")

    @contextmanager
    def _saving(self) -> Iterator[None]:
        """One change, whole or not at all; it has reached the disk when the block is left without an error."""
        with self._alone:
            try:
                self._db.execute("BEGIN IMMEDIATE")
                yield
                self._db.execute("COMMIT")
            except sqlite3.Error as why:
                self._take_back()
                raise NotSaved("store.unsaved", why=str(why)) from why
            except BaseException:
                self._take_back()
                raise

    def _take_back(self) -> None:
        with suppress(sqlite3.Error):
            if self._db.in_transaction:
                self._db.execute("ROLLBACK")

    def _do(self, command: str, *values: object) -> None:
        self._db.execute(command, values)

    def _rows(self, command: str, *values: object) -> list[Any]:
        with self._alone:
            try:
                return self._db.execute(command, values).fetchall()
            except sqlite3.Error as why:
                raise NotSaved("store.unread", why=str(why)) from why

    def _many(self, command: str, *values: object) -> tuple[Kept, ...]:
        return tuple(
            Kept(id, name, revision, text, parent is not None, redo is not None, at)
            for id, name, revision, text, parent, redo, at in self._rows(command, *values)
        )

    def _one(self, command: str, *values: object) -> Kept:
        found = self._many(command, *values)
        if not found:
            raise NoSuchJob("store.no_such_job")
        return found[0]


def _make(folder: Path) -> None:
    """The folder, its own entry on the disk too: what is saved in it must be found after a power cut."""
    missing = [place for place in (folder, *folder.parents) if not place.exists()]
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    for made in missing if os.name == "posix" else ():
        held = os.open(made.parent, os.O_RDONLY)
        try:
            os.fsync(held)
        finally:
            os.close(held)


def _fit(text: str) -> str:
    """The text, if it can be kept and given back as it is."""
    try:
        size = len(text.encode("utf-8"))
    except UnicodeEncodeError as why:
        raise Unfit("store.no_text") from why
    if size > MOST_BYTES:
        raise Unfit("store.too_long", most=MOST_BYTES // 1024)
    return text


def _named(text: str, otherwise: str) -> str:
    """What the job file calls the job; `otherwise` where it has no name or cannot be read."""
    with suppress(JobProblems):
        job = read_toml(text, "")[1].get("job")
        name = job.get("name") if isinstance(job, dict) else None
        if isinstance(name, str) and name.strip():
            return name.strip()[:_MOST_NAME]
    return otherwise[:_MOST_NAME]


def _small(revision: int) -> int:
    """A revision the file can be asked for; 0, which no state has, for one it cannot."""
    return revision if 0 < revision < 1 << 62 else 0
