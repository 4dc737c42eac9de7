"""The shelves of published numbers are in order, and a wrong number is seen."""

import dataclasses
from pathlib import Path

import pytest

from lapwright import sources
from lapwright.proof.compute import COMPUTE
from lapwright.proof.published import Check, CheckReport, CheckResult, checks, run

BOTH = (*checks("published"), *checks("from_memory"))
HERE = Path(__file__).parent


def test_every_source_of_a_published_number_has_its_own_file() -> None:
    asked = {f"test_{c.source.replace('-', '_')}.py" for c in checks("published")}
    assert sorted(asked - {p.name for p in HERE.glob("test_*.py")}) == []


def test_no_two_checks_share_a_name() -> None:
    names = [c.id for c in BOTH]
    assert sorted({n for n in names if names.count(n) > 1}) == []


@pytest.mark.parametrize("check", BOTH, ids=lambda c: c.id)
def test_a_check_cites_a_document_and_runs_the_programs_own_code(check: Check) -> None:
    assert check.source in sources.sources()
    assert check.compute in COMPUTE
    assert check.what and check.section
    assert 0.0 <= check.tolerance <= 0.5


@pytest.mark.parametrize("check", BOTH, ids=lambda c: c.id)
def test_a_number_off_by_more_than_its_rounding_fails(check: Check) -> None:
    off = dataclasses.replace(check, expected=check.expected + 2.1 * check.tolerance + 1e-6)
    assert not run(off).passes


def test_one_failure_fails_the_report_and_is_named() -> None:
    good = checks("published")[0]
    bad = CheckResult(good, good.expected + 1.0)
    whole = CheckReport((CheckResult(good, good.expected), bad), ())
    assert (whole.total, whole.passed, whole.failed, whole.all_pass) == (2, 1, (bad,), False)
