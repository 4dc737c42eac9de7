"""Every example roof does what its name says."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
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


WORLDS = [
    {"PYTHONHASHSEED": "1", "TZ": "Asia/Tokyo", "LC_ALL": "C"},
    {"PYTHONHASHSEED": "2", "TZ": "America/Denver", "LC_ALL": "C.UTF-8", "COLUMNS": "200"},
]


@pytest.mark.parametrize("job", EXAMPLES, ids=lambda job: job.parent.name)
def test_the_same_job_gives_the_same_bytes_wherever_and_whenever(job: Path, tmp_path: Path) -> None:
    seen = []
    for n, world in enumerate(WORLDS):
        folder = tmp_path / str(n)
        words = ["plan", str(job), "--out", str(folder)]
        script = f"import sys; sys.argv[1:] = {words!r}; from lapwright.cli import main; main()"
        home = {**os.environ, **world}
        done = subprocess.run([sys.executable, "-c", script], env=home, capture_output=True)
        assert done.returncode == code_of(job), done.stderr.decode()
        files = sorted(path for path in folder.rglob("*") if path.is_file())
        seen.append({str(p.relative_to(folder)): hashlib.sha256(p.read_bytes()).hexdigest() for p in files})
    assert seen[0] == seen[1]
