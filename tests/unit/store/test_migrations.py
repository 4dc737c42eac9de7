"""Every shelf a version ever wrote opens for ever; one of a later version is refused and left as it is."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from lapwright.store import migrations
from lapwright.store.backups import backups
from lapwright.store.migrations import VERSION, NewerShelf
from lapwright.store.shelf import FILE, NotSaved, Shelf
from lapwright.words import Speaker

SHIPPED = Path(__file__).parents[2] / "data" / "shelves"


@pytest.mark.parametrize("version", range(1, VERSION + 1))
def test_a_shelf_of_every_version_opens_with_all_that_was_in_it(tmp_path: Path, version: int) -> None:
    # tests/data/README.md says what was put in: two jobs, one of them removed, a step done, an undo
    shutil.copy(SHIPPED / f"{version}.sqlite", tmp_path / FILE)
    shelf = Shelf(tmp_path)
    (barn,), (gone,) = shelf.jobs(), shelf.removed()
    assert (barn.name, barn.text) == ("Barn", '[job]\nname = "Barn"\nunits = "mm"\n')
    assert (barn.can_undo, barn.can_redo) == (True, True)
    assert [(p.revision, p.label) for p in shelf.history(barn.id)] == [
        (3, "page.did.file"), (2, "page.did.file"), (1, "page.did.started"),
    ]  # fmt: skip
    assert shelf.redo(barn.id, barn.revision).text == '[job]\nname = "Byre"\nunits = "mm"\n'
    assert shelf.ticked(barn.id) == {"apron"}
    assert gone.name == "Gone"
    shelf.close()


def test_a_shelf_of_a_later_version_is_refused_and_left_to_the_byte(tmp_path: Path) -> None:
    Shelf(tmp_path).close()
    with closing(sqlite3.connect(tmp_path / FILE)) as db:
        db.execute(f"PRAGMA user_version = {VERSION + 1}")
    before = {p.name: p.read_bytes() for p in tmp_path.iterdir()}
    with pytest.raises(NewerShelf) as refused:
        Shelf(tmp_path)
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == before
    said = refused.value.said(Speaker())
    assert str(tmp_path) in said and f"format is {VERSION + 1}" in said


def test_an_old_shelf_is_copied_before_it_is_changed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copy(SHIPPED / "1.sqlite", tmp_path / FILE)
    monkeypatch.setattr(migrations, "MIGRATIONS", (migrations.MIGRATIONS[0], "CREATE TABLE more (a TEXT)"))
    monkeypatch.setattr(migrations, "VERSION", 2)
    shelf = Shelf(tmp_path)
    assert shelf._db.execute("PRAGMA user_version").fetchone() == (2,)
    assert len(shelf.jobs()) == 1
    shelf.close()
    (copy,) = backups(tmp_path)
    with closing(sqlite3.connect(copy)) as old:
        assert old.execute("PRAGMA user_version").fetchone() == (1,)
        assert old.execute("SELECT count(*) FROM jobs").fetchone() == (2,)


def test_a_migration_that_breaks_off_leaves_the_old_version(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copy(SHIPPED / "1.sqlite", tmp_path / FILE)
    broken = "CREATE TABLE more (a TEXT) STRICT; INSERT INTO nowhere VALUES (1)"
    with monkeypatch.context() as patch:
        patch.setattr(migrations, "MIGRATIONS", (migrations.MIGRATIONS[0], broken))
        patch.setattr(migrations, "VERSION", 2)
        with pytest.raises(NotSaved):
            Shelf(tmp_path)
    shelf = Shelf(tmp_path)
    assert shelf._db.execute("SELECT count(*) FROM sqlite_master WHERE name = 'more'").fetchone() == (0,)
    assert len(shelf.jobs()) == 1
    shelf.close()
