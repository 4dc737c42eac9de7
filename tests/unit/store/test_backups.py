"""Copies of the shelf: one a day, fourteen kept, each a whole shelf."""

from __future__ import annotations

import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from lapwright.store.backups import KEPT, back_up, backups
from lapwright.store.shelf import FILE, NotSaved, Shelf

DAY = timedelta(days=1)
START = datetime(2026, 3, 4, 6, 30, tzinfo=UTC)


def opened(folder: Path, at: datetime) -> None:
    Shelf(folder, lambda: at).close()


def test_opening_copies_the_shelf_once_a_day_and_not_while_it_is_empty(tmp_path: Path) -> None:
    opened(tmp_path, START)
    assert backups(tmp_path) == []
    shelf = Shelf(tmp_path, lambda: START)
    shelf.add("[job]\nname = 'Barn'\n", "")
    shelf.close()
    for hours, copies in ((1, 1), (5, 1), (24.9, 1), (25, 2), (26, 2)):
        opened(tmp_path, START + timedelta(hours=hours))
        assert len(backups(tmp_path)) == copies, hours
    assert backups(tmp_path)[0].name == "jobs-2026-03-04T073000Z.sqlite"


def test_the_last_fourteen_are_kept(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, lambda: START)
    shelf.add("1", "Barn")
    shelf.close()
    for day in range(20):
        opened(tmp_path, START + day * DAY)
    # days 0 to 19 gave twenty copies; 6 to 19 stay
    assert len(backups(tmp_path)) == KEPT == 14
    assert [p.name[5:15] for p in backups(tmp_path)][:: KEPT - 1] == ["2026-03-10", "2026-03-23"]
    assert sorted(p.name for p in (tmp_path / "backups").iterdir()) == [p.name for p in backups(tmp_path)]


def test_a_copy_put_in_the_place_of_a_lost_shelf_is_the_shelf(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "jobs", lambda: START)
    kept = shelf.add("[job]\nname = 'Barn'\n", "")
    copy = back_up(shelf._db, tmp_path / "jobs", START)
    shelf.close()
    assert copy is not None
    (tmp_path / "again").mkdir()
    (tmp_path / "again" / FILE).write_bytes(copy.read_bytes())
    again = Shelf(tmp_path / "again", lambda: START)
    assert again.get(kept.id) == kept
    again.close()


def test_a_copy_that_fails_leaves_the_older_ones_and_no_half_one(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, lambda: START)
    shelf.add("1", "Barn")
    back_up(shelf._db, tmp_path, START)

    class Refusing:
        """A database whose copy breaks off half way."""

        def execute(self, command: str) -> sqlite3.Cursor:
            return shelf._db.execute(command)

        def backup(self, into: sqlite3.Connection) -> None:
            into.execute("CREATE TABLE half (a)")
            raise sqlite3.OperationalError("database or disk is full")

    with pytest.raises(sqlite3.OperationalError):
        back_up(Refusing(), tmp_path, START + DAY)  # type: ignore[arg-type]
    assert [p.name for p in (tmp_path / "backups").iterdir()] == ["jobs-2026-03-04T063000Z.sqlite"]
    shelf.close()


def test_a_shelf_that_cannot_be_copied_is_not_opened_in_silence(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, lambda: START)
    shelf.add("1", "Barn")
    shelf.close()
    (tmp_path / "backups").write_text("a file stands where the folder belongs")
    with pytest.raises(NotSaved):
        opened(tmp_path, START + 2 * DAY)
