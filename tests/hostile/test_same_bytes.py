"""The same job gives the same bytes: over three runs, two hash seeds, two time zones and two locales."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
WORLDS = [
    {"PYTHONHASHSEED": "0", "TZ": "UTC", "LC_ALL": "C.UTF-8"},
    {"PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland", "LC_ALL": "C"},
    {"PYTHONHASHSEED": "1", "TZ": "America/St_Johns", "LC_ALL": "C.UTF-8"},
]


def packet(case: str, world: dict[str, str], folder: Path) -> dict[str, str]:
    """Digest of every file of a packet made in a fresh process."""
    words = ["plan", str(EXAMPLES / case / "job.toml"), "--paper", "both", "--out", str(folder)]
    script = f"import sys; sys.argv[1:] = {words!r}; from lapwright.cli import main; main()"
    done = subprocess.run([sys.executable, "-c", script], env={**os.environ, **world}, capture_output=True)
    assert done.returncode in (0, 3), done.stderr
    files = (p for p in folder.rglob("*") if p.is_file())
    return {p.relative_to(folder).as_posix(): hashlib.sha256(p.read_bytes()).hexdigest() for p in files}


@pytest.mark.parametrize("case", ["kiln-shed", "orchard-studio"])
def test_the_same_job_gives_the_same_bytes_in_every_world(case: str, tmp_path: Path) -> None:
    first, *rest = [packet(case, world, tmp_path / str(i)) for i, world in enumerate(WORLDS)]
    assert {"plan.json", "packet.pdf", "model.glb"} <= set(first)
    for other in rest:
        assert other == first


def test_on_one_core_the_same_bytes_are_made(tmp_path: Path) -> None:
    if not hasattr(os, "sched_setaffinity"):
        pytest.skip("this system does not tie a process to a core")
    cores = os.sched_getaffinity(0)
    many = packet("kiln-shed", {}, tmp_path / "many")
    try:
        os.sched_setaffinity(0, {min(cores)})
        one = packet("kiln-shed", {}, tmp_path / "one")
    finally:
        os.sched_setaffinity(0, cores)
    assert one == many
