"""What must never happen to a saved job, in small; each figure has a script in bench/ and a mutant that must fail."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

BENCH = Path(__file__).parents[2] / "bench"
STRACE = shutil.which("strace") is not None and subprocess.run(["strace", "-o", os.devnull, "true"]).returncode == 0
needs_strace = pytest.mark.skipif(not STRACE, reason="no strace here, or it may not watch: it sees the system calls")


def figures(script: str, *words: object) -> tuple[int, list[int], str]:
    """Run a script: its exit code, the numbers it printed and the line they stand in."""
    ran = subprocess.run(
        [sys.executable, BENCH / script, *map(str, words)], capture_output=True, text=True, timeout=100
    )
    assert ran.stderr == "", ran.stderr
    return ran.returncode, [int(n) for n in re.findall(r"\d+", ran.stdout)], ran.stdout


def test_kill_9_while_saving_loses_nothing_that_was_acknowledged() -> None:
    code, (kills, saves, lost, corrupt), said = figures("kill_saves.py", 25)
    assert (code, kills, lost, corrupt) == (0, 25, 0, 0), said
    assert saves >= 20 * kills


def test_the_same_saves_over_the_old_file_do_not_outlive_the_kills() -> None:
    code, (_, _, lost, corrupt), said = figures("kill_saves.py", 25, "--in-place")
    assert code == 1 and lost + corrupt > 0, said


@needs_strace
def test_every_save_is_pushed_to_the_disk_before_it_is_acknowledged() -> None:
    code, (saves, _, barriers, after, early), said = figures("power_loss.py", 40)
    assert (code, after, early) == (0, saves, 0), said
    assert barriers >= saves


@needs_strace
def test_without_the_barrier_saves_are_seen_to_be_acknowledged_too_early() -> None:
    code, (saves, _, _, _, early), said = figures("power_loss.py", 40, "--no-barrier")
    assert (code, early) == (1, saves), said


@needs_strace
def test_a_disk_that_refuses_is_never_called_saved() -> None:
    code, (_, saved, refused, false, broken), said = figures("disk_faults.py", 1)
    assert (code, false, broken) == (0, 0, 0), said
    assert saved > 0 and refused > 0


@needs_strace
def test_a_program_that_says_saved_whatever_happens_is_found_out() -> None:
    code, (_, _, _, false, _), said = figures("disk_faults.py", 1, "--careless")
    assert code == 1 and false > 0, said


def test_several_windows_on_one_job_lose_nothing() -> None:
    code, (writers, edits, lost, _), said = figures("lost_updates.py", 4, 8)
    assert (code, writers, edits, lost) == (0, 4, 8, 0), said


def test_where_the_last_one_wins_edits_are_lost() -> None:
    code, (_, _, lost, _), said = figures("lost_updates.py", 4, 8, "--last-wins")
    assert code == 1 and lost > 0, said
