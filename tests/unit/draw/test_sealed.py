"""The sealing map shows what the takeoff counts: every use of one, and runs as long where they lie flat."""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from lapwright.detail.model import Detail
from lapwright.draw.sealed import shown
from lapwright.job import Job, run
from lapwright.packet.drawings import own
from lapwright.shop.takeoff import take_off
from lapwright.site.read import read_job

EXAMPLES = Path(__file__).parents[3] / "examples"
CASES = sorted(p.parent.name for p in EXAMPLES.glob("*/job.toml"))
EVERYWHERE = {"screws-flanges", "clips", "clip-screws"}
FLAT = {"tape-side-panels": 0.02, "tape-cleats": 0.16, "tape-side-hems": 0.12, "tape-hook-strips": 0.12}
"""Runs that lie in the plane of the roof, and how near to the takeoff the map must come: a cleat's blank is
longer than its base by its mitres, a hem's by the tabs at its ends."""


@cache
def job(case: str) -> Job:
    return run(read_job((EXAMPLES / case / "job.toml").read_text(encoding="utf-8"), "job.toml"))


def uses(case: str) -> tuple[dict[str, float], dict[str, float]]:
    """Per use: length on the map [in] or dots, and the takeoff's quantity for that opening."""
    d = job(case).detail.openings[0]
    pieces, panels = own(job(case), d)
    drawn = {}
    for s in shown(job(case).site, d, pieces, panels):
        dots = sum(len(p) for p in s.paths)
        drawn[s.use] = dots if s.look in ("screw", "wedge") else sum(_length(p) for p in s.paths)
    lines = take_off(job(case).site, job(case).layout, Detail((d,)), pieces, panels)
    counted = {t.item.removeprefix("shop.item."): t.quantity for t in lines}
    return drawn, counted


def _length(path: tuple[tuple[float, float], ...]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(path))


@pytest.mark.parametrize("case", [c for c in CASES if c != "must-stop-low-curb"])
def test_every_run_and_fixing_that_is_bought_is_on_the_map(case: str) -> None:
    drawn, counted = uses(case)
    bought = {u for u in counted if u.startswith(("bead-", "tape-", "screws-", "wedges", "rivets", "solder"))}
    assert bought - EVERYWHERE == set(drawn) & bought
    assert set(drawn) <= bought


@pytest.mark.parametrize("case", ["kiln-shed", "orchard-studio", "boat-store"])
def test_runs_that_lie_flat_are_as_long_as_the_takeoff_counts(case: str) -> None:
    drawn, counted = uses(case)
    for use, near in FLAT.items():
        assert drawn[use] / 12 == pytest.approx(counted[use], rel=near), use


@pytest.mark.parametrize("case", ["kiln-shed", "orchard-studio"])
def test_screws_of_strips_and_pans_are_as_many_as_the_takeoff_counts(case: str) -> None:
    drawn, counted = uses(case)
    for use in ("screws-hook-strips", "screws-pans", "screws-dams"):
        assert abs(drawn[use] - counted[use]) <= 1, use


def test_a_roof_that_is_not_detailed_has_no_map() -> None:
    assert uses("must-stop-low-curb")[0] == {}
