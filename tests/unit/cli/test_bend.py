"""`lapwright bend`: the order of folds in words, as JSON, and what no tool makes."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
KILN = Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml"


@pytest.fixture
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    """A terminal so wide that no line is folded."""
    monkeypatch.setenv("COLUMNS", "240")


@pytest.mark.usefixtures("wide")
def test_each_piece_is_told_with_tool_held_part_and_face(lapwright: Run) -> None:
    ran = lapwright("bend", KILN, "--piece", "1-hook-strip-left")
    assert (ran.code, ran.err) == (0, "")
    tools, *lines = [line.strip() for line in ran.out.splitlines() if line.strip()]
    assert tools.startswith("In the shop: straight folder, box-and-pan folder, joggle bars,")
    assert lines == [
        "1-hook-strip-left · hook strip, left side",
        "Operations: 1 · flips: 0 · turns: 0",
        "1  UP 15.0° (base/hook); straight folder; base is held, paint up",
    ]


def test_every_piece_that_is_folded_is_there(lapwright: Run) -> None:
    ran = lapwright("bend", KILN, "--json")
    told = json.loads(ran.out)
    assert (ran.code, told["job"]) == (0, "Kiln shed")
    ids = [p["id"] for p in told["pieces"]]
    assert {"1-back-pan", "1-offset-cleat-3", "panel-7-upper"} <= set(ids)
    assert [p["bending"]["feasible"] for p in told["pieces"]] == [True] * len(ids)
    assert [f["level"] for f in told["findings"]] == ["note", "note"]


@pytest.mark.usefixtures("wide")
def test_a_piece_that_is_not_there_is_told_with_the_nearest(lapwright: Run) -> None:
    ran = lapwright("bend", KILN, "--piece", "1-back-pon")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == "1-back-pon is no piece that is folded here; did you mean 1-back-pan?\n"
    assert "these are: " in lapwright("bend", KILN, "--piece", "zzzz").err


@pytest.mark.usefixtures("wide")
def test_what_no_tool_makes_is_told_with_every_cure_and_leaves_with_3(tmp_path: Path, lapwright: Run) -> None:
    job = tmp_path / "job.toml"
    own = '\n[shop]\nkit = "straight-only"\n[[tool]]\nname = "straight-folder"\nlike = "straight-folder"\n'
    own += "land = 1.25\n"
    job.write_text(KILN.read_text(encoding="utf-8") + own, encoding="utf-8")
    ran = lapwright("bend", job, "--piece", "1-counterflashing-left")
    assert ran.code == 3
    assert "No order of folds exists with these tools." in ran.out
    assert (
        "face/face hem: the flange is narrower than the leaf's land, or than the tool can hold. "
        "What helps: a wider flange, or another tool."
    ) in ran.out
    assert "STOP  flue stack: bend face/face hem of 1-counterflashing-left cannot be made" in ran.out


def test_a_job_that_cannot_be_read_leaves_with_2(tmp_path: Path, lapwright: Run) -> None:
    job = tmp_path / "job.toml"
    job.write_text(KILN.read_text(encoding="utf-8") + '\n[[tool]]\nname = "a"\nlike = "seamers"\nland = 1\n')
    ran = lapwright("bend", job)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith(f"{job}:37:1: tool[1].land: a tool like seamers has no such number")
