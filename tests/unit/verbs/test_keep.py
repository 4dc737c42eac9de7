"""Keep what is typed: many hands over one job lose nothing."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from lapwright.store.shelf import Kept, Shelf, Stale
from lapwright.verbs.edit import copy_row, set_value
from lapwright.verbs.job_text import values_of
from lapwright.verbs.keep import keep_row, keep_value

KILN = (Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml").read_text(encoding="utf-8")
FIELDS = [("roof", "eave"), ("roof", "slope"), ("panel", "first_rib"), ("panel", "coverage"), ("site", "rain"),
          ("defaults", "upstand"), ("opening", 0, "width"), ("opening", 1, "width")]  # fmt: skip
EDITS = 12


@pytest.fixture
def shelf(tmp_path: Path) -> Iterator[Shelf]:
    shelf = Shelf(tmp_path)
    yield shelf
    shelf.close()


@pytest.fixture
def kept(shelf: Shelf) -> Kept:
    return shelf.add(set_value(copy_row(KILN, "opening", 0), ("opening", 1, "left"), "20"), "x")


def test_eight_hands_on_eight_fields_at_once_lose_nothing(shelf: Shelf, kept: Kept) -> None:
    saved: dict[tuple[str | int, ...], list[str]] = {field: [] for field in FIELDS}
    start = threading.Barrier(len(FIELDS))

    def write(field: tuple[str | int, ...]) -> None:
        start.wait()
        base = kept.revision
        for n in range(EDITS):
            base = keep_value(shelf, kept.id, base, field, str(n)).revision
            saved[field].append(str(n))

    hands = [threading.Thread(target=write, args=(field,)) for field in FIELDS]
    for hand in hands:
        hand.start()
    for hand in hands:
        hand.join()
    assert {len(done) for done in saved.values()} == {EDITS}
    values = values_of(shelf.get(kept.id).text)
    last = str(EDITS - 1)
    assert [str(values[f[0]][f[1]][f[2]] if len(f) == 3 else values[f[0]][f[1]]) for f in FIELDS] == [last] * 8
    # every state stands in the history: the first one and every edit
    assert len(shelf.history(kept.id)) == 1 + len(FIELDS) * EDITS


def test_a_refused_value_hands_back_both_texts(shelf: Shelf, kept: Kept) -> None:
    mine = keep_value(shelf, kept.id, 1, ("roof", "eave"), "22' 4")
    with pytest.raises(Stale) as refused:
        keep_value(shelf, kept.id, 1, ("roof", "eave"), "22' 5")
    assert refused.value.now == mine
    assert refused.value.sent is not None and values_of(refused.value.sent)["roof"]["eave"] == "22' 5"
    assert shelf.get(kept.id) == mine


def test_rows_are_kept_over_newer_texts(shelf: Shelf, kept: Kept) -> None:
    keep_value(shelf, kept.id, 1, ("roof", "eave"), "22' 4")
    keep_row(shelf, kept.id, 1, "add", "tool")
    keep_row(shelf, kept.id, 1, "remove", "opening", 1)
    values = values_of(shelf.get(kept.id).text)
    assert (values["roof"]["eave"], values["tool"], len(values["opening"])) == ("22' 4", [{}], 1)


@pytest.mark.parametrize(("move", "table", "n"), [("add", "roof", 0), ("copy", "tool", 0), ("remove", "opening", 2)])
def test_a_row_that_is_not_there_is_not_kept(shelf: Shelf, kept: Kept, move: str, table: str, n: int) -> None:
    with pytest.raises(KeyError):
        keep_row(shelf, kept.id, 1, move, table, n)  # type: ignore[arg-type]
    assert shelf.get(kept.id) == kept
