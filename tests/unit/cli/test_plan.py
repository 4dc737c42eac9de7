"""`lapwright plan`: exit codes, streams and the folder, exactly as other programs rely on them."""

from __future__ import annotations

import errno
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
ROOT = Path(__file__).parents[3]
PROBLEM = re.compile(r"^(?P<file>[^:]+):(?P<line>\d+):(?P<column>\d+): (?P<field>[^:]+): .+$")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """The kiln shed's job file, alone in a folder."""
    path = tmp_path / "shed.toml"
    path.write_bytes((ROOT / "examples" / "kiln-shed" / "job.toml").read_bytes())
    return path


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_planned_job_leaves_with_0_and_its_packet_beside_it(job: Path, lapwright: Run) -> None:
    ran = lapwright("plan", job)
    assert (ran.code, ran.err) == (0, "")
    assert names(job.parent) == ["shed-packet", "shed.toml"]
    assert str(job.parent / "shed-packet") in ran.out, "the folder is printed in one piece, to be copied"
    assert "DO NOT CUT" not in ran.out


def test_out_names_the_folder_and_those_above_it(job: Path, tmp_path: Path, lapwright: Run) -> None:
    assert lapwright("plan", job, "--out", tmp_path / "a" / "b").code == 0
    assert "plan.json" in names(tmp_path / "a" / "b")
    assert names(tmp_path) == ["a", "shed.toml"]


def test_json_puts_plan_json_on_stdout_and_nothing_else(job: Path, lapwright: Run) -> None:
    ran = lapwright("plan", job, "--json")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (job.parent / "shed-packet" / "plan.json").read_text(encoding="utf-8")
    assert json.loads(ran.out)["format"] == "lapwright-plan/1"


def test_a_stop_leaves_with_3_says_so_first_and_still_hands_over_the_packet(
    tmp_path: Path, lapwright: Run
) -> None:
    stops = next((ROOT / "examples").glob("must-stop*/job.toml"))
    ran = lapwright("plan", stops, "--out", tmp_path / "p")
    assert (ran.code, ran.err) == (3, "")
    assert ran.out.index("DO NOT CUT") < ran.out.index("STOP ")
    assert "stamped DO NOT CUT" in ran.out
    assert "plan.json" in names(tmp_path / "p")


def test_every_problem_gets_one_line_on_stderr_and_nothing_is_written(job: Path, lapwright: Run) -> None:
    text = job.read_text(encoding="utf-8").replace("[panel]", "[panel]\nsaem = 1")
    text = re.sub(r"^pitch.*$", 'pitch = "steep"', text, flags=re.MULTILINE)
    job.write_text(text, encoding="utf-8")
    ran = lapwright("plan", job)
    assert (ran.code, ran.out) == (2, "")
    lines = ran.err.splitlines()
    seen = [PROBLEM.match(line) for line in lines]
    assert all(seen), lines
    found = {(m["field"], m["file"]) for m in seen if m}
    assert found == {("roof.pitch", str(job)), ("panel.saem", str(job))}
    where = {m["field"]: int(m["line"]) for m in seen if m}
    assert text.splitlines()[where["panel.saem"] - 1] == "saem = 1"
    assert text.splitlines()[where["roof.pitch"] - 1] == 'pitch = "steep"'
    assert names(job.parent) == ["shed.toml"]


@pytest.mark.parametrize(
    "content", [b"", b"not toml", b"\xff\xfe", b"[job]\nname = nan", b"x = 1\n" * 20000, b"a" + b".a" * 3000]
)
def test_what_is_no_job_at_all_leaves_with_2_and_no_traceback(
    job: Path, content: bytes, lapwright: Run
) -> None:
    job.write_bytes(content)
    ran = lapwright("plan", job)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err != ""
    assert all(PROBLEM.match(line) for line in ran.err.splitlines()), ran.err
    assert names(job.parent) == ["shed.toml"]


@pytest.mark.parametrize("what", ["no-such-file.toml", "."])
def test_a_path_that_is_no_file_leaves_with_2(tmp_path: Path, what: str, lapwright: Run) -> None:
    ran = lapwright("plan", tmp_path / what, "--out", tmp_path / "p")
    assert (ran.code, ran.out) == (2, "")
    assert PROBLEM.match(ran.err.strip())
    assert names(tmp_path) == []


def test_a_folder_that_is_no_packet_is_refused_and_left_alone(job: Path, lapwright: Run) -> None:
    (job.parent / "keep").mkdir()
    (job.parent / "keep" / "photo.jpg").write_bytes(b"mine")
    ran = lapwright("plan", job, "--out", job.parent / "keep")
    assert (ran.code, ran.out) == (2, "")
    assert "photo.jpg" in ran.err
    assert names(job.parent / "keep") == ["photo.jpg"]


def test_a_full_disk_is_told_in_one_line(job: Path, lapwright: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("lapwright.store.outbox._fill", full)
    ran = lapwright("plan", job)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.count("\n") == 1
    assert "No space left on device" in ran.err
    assert names(job.parent) == ["shed.toml"]


def test_our_own_bug_leaves_with_1_and_a_short_message(
    job: Path, lapwright: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise KeyError("rib")

    monkeypatch.setattr("lapwright.verbs.plan.begin", broken)
    monkeypatch.delenv("LAPWRIGHT_DEBUG", raising=False)
    ran = lapwright("plan", job)
    assert (ran.code, ran.out) == (1, "")
    assert "KeyError: 'rib'" in ran.err
    assert "Traceback" not in ran.err
    assert names(job.parent) == ["shed.toml"]


def test_debug_shows_where_our_own_bug_is(job: Path, lapwright: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("lapwright.verbs.plan.begin", lambda *_: 1 / 0)
    monkeypatch.setenv("LAPWRIGHT_DEBUG", "1")
    with pytest.raises(ZeroDivisionError):
        lapwright("plan", job)


def test_planning_again_replaces_the_packet(job: Path, lapwright: Run) -> None:
    assert lapwright("plan", job).code == 0
    (job.parent / "shed-packet" / "cut" / "of-an-older-version.dxf").write_bytes(b"old")
    assert lapwright("plan", job).code == 0
    assert "of-an-older-version.dxf" not in names(job.parent / "shed-packet" / "cut")
