"""`step` where its solid kernel is not installed: a sentence that says what to do, nothing written, no traceback."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from lapwright.cli.app import app
from lapwright.store.loose import write_loose

JOB = Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml"


@pytest.fixture
def no_kernel(monkeypatch: pytest.MonkeyPatch) -> None:
    # None in sys.modules makes every import of it an ImportError, installed or not
    for name in [n for n in sys.modules if n == "OCP" or n.startswith("OCP.")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "OCP", None)


def test_without_the_kernel_it_says_what_to_install(no_kernel: None, tmp_path: Path) -> None:
    done = CliRunner().invoke(app, ["step", str(JOB), "--out", str(tmp_path / "solids")])
    assert done.exit_code == 2
    assert "pip install" in done.stderr and "cadquery-ocp-novtk" in done.stderr and sys.executable in done.stderr
    assert "Traceback" not in done.stderr and done.stdout == ""
    assert not (tmp_path / "solids").exists()


def test_a_job_that_cannot_be_read_is_told_first(no_kernel: None, tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text("[job]\nnam = 'x'\n")
    done = CliRunner().invoke(app, ["step", str(bad)])
    assert done.exit_code == 2
    assert done.stderr.startswith(f"{bad}:") and "pip install" not in done.stderr


def test_help_needs_no_kernel(no_kernel: None) -> None:
    done = CliRunner().invoke(app, ["step", "--help"])
    assert done.exit_code == 0 and "--piece" in done.stdout


def test_files_are_written_whole_beside_what_lies_there(tmp_path: Path) -> None:
    folder = tmp_path / "there" / "solids"
    write_loose(folder, {"a.step": b"old"})
    (folder / "mine.txt").write_text("mine")
    write_loose(folder, {"a.step": b"new", "b.step": b"b"})
    held = {p.name: p.read_bytes() for p in folder.iterdir()}
    assert held == {"a.step": b"new", "b.step": b"b", "mine.txt": b"mine"}


def test_a_file_that_cannot_be_written_leaves_no_half(tmp_path: Path) -> None:
    (tmp_path / "a.step").mkdir()
    with pytest.raises(OSError):
        write_loose(tmp_path, {"a.step": b"new"})
    assert [p.name for p in tmp_path.iterdir()] == ["a.step"]
