"""Every example roof does what its name says."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EXAMPLES = sorted((Path(__file__).parents[1] / "examples").glob("*/job.toml"))
PACKET = {"plan.json", "packet.pdf", "cutlist.csv", "takeoff.csv", "drawings", "cut"}


def code_of(job: Path) -> int:
    """A roof whose folder starts with must-stop may not be cut."""
    return 3 if job.parent.name.startswith("must-stop") else 0


def test_there_are_roofs_to_cut_and_one_that_must_stop() -> None:
    assert sorted({code_of(job) for job in EXAMPLES}) == [0, 3]
    assert "kiln-shed" in [job.parent.name for job in EXAMPLES], "./lapwright demo plans this one"


@pytest.mark.parametrize("job", EXAMPLES, ids=lambda job: job.parent.name)
def test_every_example_plans_to_its_exit_code(
    job: Path, tmp_path: Path, lapwright: Callable[..., Any]
) -> None:
    folder = tmp_path / "packet"
    ran = lapwright("plan", job, "--out", folder)
    assert (ran.code, ran.err) == (code_of(job), "")
    assert {path.name for path in folder.iterdir()} >= PACKET
    record = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    assert record["format"] == "lapwright-plan/1"
    levels = {row["level"] for row in record["findings"]}
    assert ("stop" in levels) == (code_of(job) == 3)
    assert ("DO NOT CUT" in ran.out) == (code_of(job) == 3)


@pytest.mark.parametrize("job", EXAMPLES, ids=lambda job: job.parent.name)
def test_planning_an_example_twice_gives_the_same_bytes(job: Path) -> None:
    from lapwright.verbs.plan import plan

    text = job.read_text(encoding="utf-8")
    assert plan(text, "job.toml").files == plan(text, "job.toml").files
