"""A revision is planned once, however many views look at it, and the oldest is let go."""

from __future__ import annotations

from pathlib import Path

import pytest

from lapwright.errors import JobProblems
from lapwright.verbs.jobs import Kept, example
from lapwright.web import working
from lapwright.web.working import MOST, Working


def kept(revision: int, text: str) -> Kept:
    return Kept("id", "Barn", revision, text, False, False, "2026-03-04T10:42:00+00:00")


def test_a_revision_is_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    real = working.worked_out
    monkeypatch.setattr(working, "worked_out", lambda text, name: asked.append(name) or real(text, name))
    done = Working()
    first = done.job(kept(1, example("kiln-shed")))
    assert done.job(kept(1, example("kiln-shed"))) is first
    assert done.job(kept(2, example("kiln-shed"))) is not first
    assert len(asked) == 2


def test_what_is_wrong_with_a_revision_is_found_once_and_said_each_time(monkeypatch: pytest.MonkeyPatch) -> None:
    done, broken = Working(), kept(1, "[job]\n")
    said = []
    for _ in range(2):
        with pytest.raises(JobProblems) as problems:
            done.job(broken)
        said.append(problems.value)
    assert said[0] is said[1]


def test_only_the_last_ones_are_kept() -> None:
    done, text = Working(), example("kiln-shed")
    first = done.job(kept(1, text))
    for n in range(2, MOST + 1):
        done.job(kept(n, text))
    assert done.job(kept(1, text)) is first  # looked at again: now the youngest
    done.job(kept(MOST + 1, text))
    assert done.job(kept(1, text)) is first
    assert len(done._done) == MOST


def test_the_examples_lie_beside_the_modules_or_in_the_checkout() -> None:
    assert (Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml").read_text() == example("kiln-shed")
