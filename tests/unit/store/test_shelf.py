"""The shelf of jobs: what was saved is there, undo only moves, a stale save is refused, nothing is ever lost."""

from __future__ import annotations

import os
import stat
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright.errors import LapwrightError
from lapwright.store.shelf import FILE, Kept, NoSuchJob, NotSaved, Shelf, Stale, Unfit
from lapwright.words import Speaker


class Clock:
    """Stands still until it is told to go on."""

    def __init__(self) -> None:
        self.time = datetime(2026, 3, 4, 10, 42, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.time

    def later(self, seconds: float = 60.0) -> None:
        self.time += timedelta(seconds=seconds)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def shelf(tmp_path: Path, clock: Clock) -> Iterator[Shelf]:
    made = Shelf(tmp_path / "jobs", clock)
    yield made
    made.close()


def job(name: str) -> str:
    return f'[job]\nname = "{name}"\n'


def texts(shelf: Shelf, id: str) -> list[str]:
    return [shelf.at(id, past.revision).text for past in shelf.history(id)]


def test_a_job_added_is_there_and_still_there_after_opening_the_shelf_again(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    kept = shelf.add(job("Barn"), "unnamed")
    shelf.close()
    again = Shelf(tmp_path)
    assert (kept.name, kept.revision, kept.text) == ("Barn", 1, job("Barn"))
    assert (kept.can_undo, kept.can_redo) == (False, False)
    assert again.get(kept.id) == kept
    again.close()


def test_a_job_goes_by_the_name_in_its_text_and_keeps_the_last_one_it_had(shelf: Shelf) -> None:
    kept = shelf.add("no toml [", "Unnamed")
    assert kept.name == "Unnamed"
    kept = shelf.change(kept.id, 1, job("Barn"), "a")
    assert kept.name == "Barn"
    kept = shelf.change(kept.id, 2, "[job]\nname = 12\n", "b")
    assert kept.name == "Barn"
    assert shelf.change(kept.id, 3, "name = 'half", "c").name == "Barn"


def test_the_job_changed_last_stands_first(shelf: Shelf, clock: Clock) -> None:
    one, two = shelf.add(job("one"), ""), shelf.add(job("two"), "")
    assert [k.name for k in shelf.jobs()] == ["two", "one"]
    clock.later()
    shelf.change(one.id, 1, job("one, changed"), "a")
    assert [k.name for k in shelf.jobs()] == ["one, changed", "two"]
    clock.later()
    shelf.tick(two.id, "step", True)
    assert [k.name for k in shelf.jobs()] == ["one, changed", "two"]


def test_a_save_from_an_old_revision_is_refused_with_both_texts(shelf: Shelf) -> None:
    id = shelf.add(job("a"), "").id
    shelf.change(id, 1, job("b"), "x")
    with pytest.raises(Stale) as refused:
        shelf.change(id, 1, job("c"), "y")
    assert (refused.value.now.text, refused.value.sent) == (job("b"), job("c"))
    assert shelf.get(id).text == job("b")
    for move in (shelf.undo, shelf.redo, shelf.remove):
        with pytest.raises(Stale):
            move(id, 1)
    with pytest.raises(Stale):
        shelf.go_back(id, 1, 1)


def test_the_very_same_text_makes_no_new_state(shelf: Shelf) -> None:
    id = shelf.add(job("a"), "").id
    assert shelf.change(id, 1, job("a"), "x").revision == 1
    assert len(shelf.history(id)) == 1


def test_undo_and_redo_move_and_stop_at_the_ends(shelf: Shelf) -> None:
    id = shelf.add("1", "").id
    shelf.change(id, 1, "2", "x")
    kept = shelf.change(id, 2, "3", "y")
    kept = shelf.undo(id, kept.revision)
    assert (kept.text, kept.can_undo, kept.can_redo) == ("2", True, True)
    kept = shelf.undo(id, kept.revision)
    assert (kept.text, kept.can_undo, kept.can_redo) == ("1", False, True)
    assert shelf.undo(id, kept.revision) == kept
    kept = shelf.redo(id, kept.revision)
    kept = shelf.redo(id, kept.revision)
    assert (kept.text, kept.can_undo, kept.can_redo) == ("3", True, False)
    assert shelf.redo(id, kept.revision) == kept


def test_what_was_undone_stays_in_history_when_something_else_is_done(shelf: Shelf) -> None:
    id = shelf.add("1", "").id
    shelf.change(id, 1, "2", "x")
    shelf.undo(id, 2)
    kept = shelf.change(id, 1, "3", "y")
    assert (kept.revision, kept.can_redo) == (3, False)
    assert texts(shelf, id) == ["3", "2", "1"]
    assert shelf.undo(id, 3).text == "1"
    assert shelf.redo(id, 1).text == "3"


def test_going_back_makes_the_old_text_the_newest_state_and_undo_takes_it_back(shelf: Shelf) -> None:
    id = shelf.add("1", "").id
    shelf.change(id, 1, "2", "x")
    shelf.change(id, 2, "3", "y")
    kept = shelf.go_back(id, 3, 1)
    assert (kept.revision, kept.text) == (4, "1")
    assert shelf.history(id)[0].label == "page.did.back 1"
    assert shelf.undo(id, 4).text == "3"
    with pytest.raises(NoSuchJob):
        shelf.go_back(id, 3, 99)


def test_typing_on_in_one_field_is_one_step_back_and_every_state_of_it_is_kept(shelf: Shelf, clock: Clock) -> None:
    id = shelf.add("", "").id
    kept = shelf.get(id)
    for text in ("8", "88", '88 1/2"'):
        clock.later(0.3)
        kept = shelf.change(id, kept.revision, text, "opening[1].left")
    clock.later(0.3)
    kept = shelf.change(id, kept.revision, "other", "opening[1].up")
    kept = shelf.undo(id, kept.revision)
    assert kept.text == '88 1/2"'
    kept = shelf.undo(id, kept.revision)
    assert (kept.text, kept.can_undo) == ("", False)
    assert shelf.redo(id, kept.revision).text == '88 1/2"'
    assert texts(shelf, id) == ["other", '88 1/2"', "88", "8", ""]
    assert [past.passing for past in shelf.history(id)] == [False, False, True, True, False]


def test_the_same_field_after_a_pause_is_a_step_of_its_own(shelf: Shelf, clock: Clock) -> None:
    id = shelf.add("", "").id
    shelf.change(id, 1, "8", "x")
    clock.later(2.0)
    shelf.change(id, 2, "88", "x")
    assert shelf.undo(id, 3).text == "8"


def test_a_clock_set_back_joins_nothing(shelf: Shelf, clock: Clock) -> None:
    id = shelf.add("", "").id
    shelf.change(id, 1, "8", "x")
    clock.later(-3600.0)
    shelf.change(id, 2, "88", "x")
    assert shelf.undo(id, 3).text == "8"


def test_typing_after_an_undo_does_not_reach_behind_it(shelf: Shelf, clock: Clock) -> None:
    id = shelf.add("", "").id
    for base, text in enumerate(("a", "b"), start=1):
        shelf.change(id, base, text, "x")
        clock.later()
    shelf.undo(id, 3)
    shelf.change(id, 2, "c", "x")
    assert shelf.undo(id, 4).text == "a"


def test_a_removed_job_is_gone_from_the_list_and_comes_back_with_its_history(shelf: Shelf) -> None:
    id = shelf.add("1", "Barn").id
    shelf.change(id, 1, "2", "x")
    shelf.remove(id, 2)
    assert shelf.jobs() == ()
    assert [k.id for k in shelf.removed()] == [id]
    for asked in (lambda: shelf.get(id), lambda: shelf.history(id), lambda: shelf.change(id, 2, "3", "y")):
        with pytest.raises(NoSuchJob):
            asked()
    assert shelf.restore(id).text == "2"
    assert shelf.removed() == ()
    assert texts(shelf, id) == ["2", "1"]


def test_steps_that_are_done_are_remembered_until_they_are_not(shelf: Shelf) -> None:
    id = shelf.add("1", "").id
    for step in ("apron", "back-pan", "apron"):
        shelf.tick(id, step, True)
    shelf.tick(id, "back-pan", False)
    shelf.tick(id, "never ticked", False)
    assert shelf.ticked(id) == {"apron"}
    with pytest.raises(NoSuchJob):
        shelf.tick("nobody", "apron", True)


@pytest.mark.parametrize("revision", [0, -1, 99, 1 << 62, 1 << 80])
def test_a_state_that_never_was_is_no_state(shelf: Shelf, revision: int) -> None:
    id = shelf.add("1", "").id
    with pytest.raises(NoSuchJob):
        shelf.at(id, revision)


def test_a_text_that_cannot_be_kept_whole_is_refused(shelf: Shelf) -> None:
    id = shelf.add("1", "").id
    # 64 KiB is what the job file's reader takes
    assert shelf.change(id, 1, "é" * 32768, "x").revision == 2
    for text in ("é" * 32768 + "!", "half a pair \ud83d"):
        with pytest.raises(Unfit):
            shelf.change(id, 2, text, "x")
    assert shelf.get(id).revision == 2


@given(st.text(st.characters(codec="utf-8"), max_size=300))
def test_any_text_comes_back_as_it_was(text: str) -> None:
    with a_shelf() as shelf:
        assert shelf.get(shelf.add(text, "n").id).text == text


def test_two_programs_on_one_shelf_see_each_other(tmp_path: Path) -> None:
    one, two = Shelf(tmp_path), Shelf(tmp_path)
    id = one.add("1", "").id
    two.change(id, 1, "2", "x")
    with pytest.raises(Stale):
        one.change(id, 1, "3", "x")
    assert one.change(id, 2, "3", "x").text == two.get(id).text == "3"
    one.close()
    two.close()


def test_a_save_is_answered_with_itself_however_many_save_at_once(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    id = shelf.add("", "").id

    def write(writer: int) -> None:
        for n in range(40):
            text = f"{writer} {n}"
            while True:
                try:
                    assert shelf.change(id, shelf.get(id).revision, text, text).text == text
                    break
                except Stale:
                    continue

    with ThreadPoolExecutor(4) as writers:
        assert list(writers.map(write, range(4))) == [None] * 4
    # 160 edits and the empty one it began with
    assert len(shelf.history(id)) == 161
    shelf.close()


def test_a_file_that_is_no_shelf_is_refused_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(b"my shopping list, which is not a database at all" * 40)
    before = (tmp_path / FILE).read_bytes()
    with pytest.raises(NotSaved):
        Shelf(tmp_path)
    assert (tmp_path / FILE).read_bytes() == before


def test_a_folder_that_cannot_be_made_is_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(NotSaved) as refused:
        Shelf(tmp_path / "file" / "jobs")
    assert refused.value.key == "store.shut"


def test_every_save_reaches_the_disk_before_it_returns(shelf: Shelf) -> None:
    # 2 is FULL: WAL without it acknowledges what a power cut still loses
    assert shelf._db.execute("PRAGMA synchronous").fetchone() == (2,)
    assert shelf._db.execute("PRAGMA journal_mode").fetchone() == ("wal",)


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="what is pushed is seen through /proc")
def test_a_new_folder_and_those_above_it_are_pushed_to_the_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pushed: list[Path] = []
    monkeypatch.setattr(os, "fsync", lambda held: pushed.append(Path(os.readlink(f"/proc/self/fd/{held}"))))
    for _ in range(2):
        Shelf(tmp_path / "share" / "lapwright").close()
    assert pushed == [tmp_path / "share", tmp_path]
    assert stat.S_IMODE((tmp_path / "share" / "lapwright").stat().st_mode) == 0o700


def test_a_save_the_disk_refuses_is_said_and_changes_nothing(shelf: Shelf) -> None:
    id = shelf.add("1", "").id
    shelf._db.execute("PRAGMA query_only = ON")
    changes = [lambda: shelf.change(id, 1, "2", "x"), lambda: shelf.add("9", ""), lambda: shelf.tick(id, "a", True)]
    for change in changes:
        with pytest.raises(NotSaved):
            change()
    shelf._db.execute("PRAGMA query_only = OFF")
    assert [k.text for k in shelf.jobs()] == ["1"]
    assert shelf.change(id, 1, "2", "x").revision == 2


def test_a_save_cut_short_by_anything_changes_nothing(shelf: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    id = shelf.add("1", "").id

    def cut(self: Shelf, id: str, revision: int) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch, pytest.raises(KeyboardInterrupt):
        patch.setattr(Shelf, "_move", cut)
        shelf.change(id, 1, "2", "x")
    assert (shelf.get(id).text, len(shelf.history(id))) == ("1", 1)
    assert shelf.change(id, 1, "3", "x").revision == 2


@given(st.lists(st.tuples(st.sampled_from("cuurb"), st.integers(1, 9)), max_size=25))
def test_whatever_is_done_no_text_ever_seen_is_lost(doings: list[tuple[str, int]]) -> None:
    # our own model: a set of every text that was ever saved, and the text we stand at
    with a_shelf() as shelf:
        kept = shelf.add("0", "")
        ever = {kept.revision: kept.text}
        for n, (what, where) in enumerate(doings):
            now = done(shelf, kept, what, where, str(n + 1), max(ever))
            assert ever.setdefault(now.revision, now.text) == now.text
            kept = now
        assert {p.revision: shelf.at(kept.id, p.revision).text for p in shelf.history(kept.id)} == ever


def done(shelf: Shelf, kept: Kept, what: str, where: int, text: str, newest: int) -> Kept:
    if what == "c":
        return shelf.change(kept.id, kept.revision, text, f"field {where % 2}")
    if what == "b":
        return shelf.go_back(kept.id, kept.revision, min(where, newest))
    return (shelf.undo if what == "u" else shelf.redo)(kept.id, kept.revision)


@contextmanager
def a_shelf() -> Iterator[Shelf]:
    """A shelf for one example, in a folder that goes away."""
    with tempfile.TemporaryDirectory() as folder:
        shelf = Shelf(Path(folder), Clock())
        try:
            yield shelf
        finally:
            shelf.close()


def test_every_refusal_has_its_sentence(shelf: Shelf) -> None:
    asked = [lambda: shelf.get("no"), lambda: shelf.add("\ud800", ""), lambda: shelf.add("x" * 99999, "")]
    for ask in asked:
        with pytest.raises(LapwrightError) as refused:
            ask()
        assert refused.value.said(Speaker()).endswith(".")
