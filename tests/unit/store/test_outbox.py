"""A packet folder is written whole, replaces only a packet, and leaves nothing beside it."""

from __future__ import annotations

from pathlib import Path

import pytest

from lapwright.store import outbox

FIRST = {"plan.json": b"{}", "cut/apron.dxf": b"0\nEOF\n", "drawings/apron.svg": b"<svg/>"}
SECOND = {"plan.json": b'{"n": 2}', "packet.pdf": b"%PDF"}


def read(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_every_file_lands_under_its_own_name_and_nothing_lies_beside(tmp_path: Path) -> None:
    outbox.write_packet(tmp_path / "new" / "shed-packet", FIRST)
    assert read(tmp_path / "new" / "shed-packet") == FIRST
    assert [p.name for p in (tmp_path / "new").iterdir()] == ["shed-packet"]


@pytest.mark.parametrize("swap_is_known", [True, False])
def test_a_new_packet_leaves_nothing_of_the_old_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, swap_is_known: bool
) -> None:
    if not swap_is_known:
        monkeypatch.setattr(outbox, "_exchange", lambda one, other: False)
    outbox.write_packet(tmp_path / "p", FIRST)
    outbox.write_packet(tmp_path / "p", SECOND)
    assert read(tmp_path / "p") == SECOND
    assert [p.name for p in tmp_path.iterdir()] == ["p"]


def test_an_empty_folder_may_become_the_packet(tmp_path: Path) -> None:
    (tmp_path / "p").mkdir()
    outbox.write_packet(tmp_path / "p", FIRST)
    assert read(tmp_path / "p") == FIRST


@pytest.mark.parametrize(
    "stranger", ["notes.txt", "cut/photo.jpg", "drawings/old/apron.png", "sub/plan.json"]
)
def test_a_folder_with_someone_elses_file_is_not_touched(tmp_path: Path, stranger: str) -> None:
    outbox.write_packet(tmp_path / "p", FIRST)
    (tmp_path / "p" / stranger).parent.mkdir(exist_ok=True, parents=True)
    (tmp_path / "p" / stranger).write_bytes(b"mine")
    with pytest.raises(outbox.NotOurs) as refusal:
        outbox.write_packet(tmp_path / "p", SECOND)
    assert refusal.value.values["what"] == stranger
    assert read(tmp_path / "p") == FIRST | {stranger: b"mine"}
    assert [p.name for p in tmp_path.iterdir()] == ["p"]


def test_a_file_in_the_way_is_not_touched(tmp_path: Path) -> None:
    (tmp_path / "p").write_text("mine")
    with pytest.raises(outbox.NotOurs):
        outbox.write_packet(tmp_path / "p", FIRST)
    assert (tmp_path / "p").read_text() == "mine"


def test_a_link_to_a_packet_still_leads_to_the_new_one(tmp_path: Path) -> None:
    outbox.write_packet(tmp_path / "real", FIRST)
    (tmp_path / "link").symlink_to(tmp_path / "real")
    outbox.write_packet(tmp_path / "link", SECOND)
    assert (tmp_path / "link").is_symlink()
    assert read(tmp_path / "real") == SECOND


@pytest.mark.parametrize("name", ["../plan.json", "/plan.json", "cut/../../x.dxf"])
def test_a_name_that_leads_out_of_the_packet_is_our_bug(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="leads out"):
        outbox.write_packet(tmp_path / "p", {name: b""})
    assert list(tmp_path.iterdir()) == []


def test_strays_of_killed_runs_are_swept_and_those_of_other_packets_are_not(tmp_path: Path) -> None:
    (tmp_path / ".p.999.part" / "cut").mkdir(parents=True)
    (tmp_path / ".q.999.part").mkdir()
    outbox.write_packet(tmp_path / "p", FIRST)
    assert sorted(x.name for x in tmp_path.iterdir()) == [".q.999.part", "p"]


def test_a_packet_left_without_its_name_gets_it_back_when_the_next_one_fails(tmp_path: Path) -> None:
    # Killed between the two renames of the slow way: the old packet stands under .p.999.old only.
    outbox.write_packet(tmp_path / ".p.999.old", FIRST)
    (tmp_path / ".p.999.old" / "notes.txt").write_bytes(b"mine")
    with pytest.raises(outbox.NotOurs):
        outbox.write_packet(tmp_path / "p", SECOND)
    assert read(tmp_path / "p") == FIRST | {"notes.txt": b"mine"}
