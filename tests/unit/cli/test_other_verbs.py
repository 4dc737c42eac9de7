"""`new`, `explain`, `rules` on the command line."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from lapwright.proof.published import Check, CheckReport, CheckResult

Run = Callable[..., Any]


def test_a_new_job_can_be_planned_as_it_stands(tmp_path: Path, lapwright: Run) -> None:
    assert lapwright("new", tmp_path / "mine.toml").code == 0
    assert lapwright("plan", tmp_path / "mine.toml").code == 0


def test_new_without_a_file_prints_the_job(tmp_path: Path, lapwright: Run) -> None:
    printed = lapwright("new")
    lapwright("new", tmp_path / "mine.toml")
    assert printed.out == (tmp_path / "mine.toml").read_text(encoding="utf-8")


def test_new_never_writes_over_a_file(tmp_path: Path, lapwright: Run) -> None:
    (tmp_path / "mine.toml").write_text("mine")
    ran = lapwright("new", tmp_path / "mine.toml")
    assert (ran.code, ran.out) == (2, "")
    assert "mine.toml" in ran.err
    assert (tmp_path / "mine.toml").read_text() == "mine"


def test_explain_says_what_a_rule_asks_why_and_who_says_so(lapwright: Run) -> None:
    ran = lapwright("explain", "headlap")
    assert (ran.code, ran.err) == (0, "")
    assert [word for word in ("asks", "why", "what mends it", "source") if word not in ran.out] == []


def test_explain_names_the_nearest_rule(lapwright: Run) -> None:
    ran = lapwright("explain", "hedlap")
    assert (ran.code, ran.out) == (2, "")
    assert '"headlap"' in ran.err


def test_rules_lists_every_rule(lapwright: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    from lapwright import rules

    monkeypatch.setenv("COLUMNS", "200")
    out = lapwright("rules").out
    assert [name for name in rules.rules() if name not in out] == []


def test_rules_check_ends_with_the_count_and_leaves_with_0(lapwright: Run) -> None:
    ran = lapwright("rules", "--check")
    *_, last = ran.out.splitlines()
    total, passed = int(last.split()[0]), int(last.split(", ")[1].split()[0])
    assert last == f"{total} published checks, {passed} pass"
    assert (ran.code, total > 0, passed) == (0, True, total)


def test_rules_check_names_what_differs_and_leaves_with_1(
    lapwright: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    off = CheckResult(Check("a.b", "a slope", "x", {}, 1.5, 0.1, "irc", "R1", "secondary copy"), 1.7)
    monkeypatch.setattr("lapwright.verbs.rules.report", lambda: CheckReport((off,), ()))
    ran = lapwright("rules", "--check")
    assert ran.code == 1
    assert "a.b: a slope: printed 1.5, computed 1.7 (irc, R1)" in ran.out
    assert ran.out.splitlines()[-1] == "1 published checks, 0 pass"
