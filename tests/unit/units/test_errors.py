"""Errors carry their sentence's key and values, whole, even into another process."""

from __future__ import annotations

import pickle

import pytest

from lapwright.errors import BadLength, JobProblems, LapwrightError, OutOfRange, Problem
from lapwright.words import Speaker

PROBLEM = Problem(3, 8, "roof.eave", "site.length_range", {"given": "5", "low": 24.0, "high": 6000.0})


ERRORS = [BadLength("units.not_length", text="x"), OutOfRange("rise", 30.0, 0.0, 24.0)]


@pytest.mark.parametrize("error", ERRORS, ids=["length", "range"])
def test_an_error_survives_the_way_to_another_process(error: LapwrightError) -> None:
    again = pickle.loads(pickle.dumps(error))
    assert (type(error), error.key, error.values) == (type(again), again.key, again.values)
    assert isinstance(again, ValueError)


def test_job_problems_survive_the_way_to_another_process() -> None:
    again = pickle.loads(pickle.dumps(JobProblems("a.toml", (PROBLEM,), "mm")))
    assert (again.filename, again.problems, again.unit) == ("a.toml", (PROBLEM,), "mm")


def test_a_problem_is_one_line_with_its_place_first() -> None:
    problems = JobProblems("JOB.toml", (PROBLEM,))
    place = "JOB.toml:3:8: roof.eave: 5 is given;"
    assert (f"{place} 2' 0\" to 500' 0\" is allowed",) == problems.lines(Speaker())
    # 24 in = 609.6 mm, 6000 in = 152400 mm
    assert (f"{place} 609.6 mm to 152400 mm is allowed",) == problems.lines(Speaker("mm"))


def test_out_of_range_names_value_and_limits() -> None:
    assert OutOfRange("rise", 30.0, 0.0, 24.0).said(Speaker()) == "rise is 30.0, 0.0 to 24.0 is allowed"
