"""Both ways of every opening: each is what a forced job comes to, and the faces print it."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from lapwright.job import run
from lapwright.site.read import read_job
from lapwright.verbs.compare import METHODS, Comparison, compare, hand_over

EXAMPLES = Path(__file__).parents[3] / "examples"


def text(name: str) -> str:
    return (EXAMPLES / name / "job.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def malt() -> Comparison:
    return compare(text("malt-house"), "malt-house/job.toml")


def test_each_way_is_what_the_job_comes_to_when_it_is_forced(malt: Comparison) -> None:
    site = read_job(text("malt-house"), "x")
    (pair,) = malt.pairs
    for side, method in zip(pair.sides, METHODS, strict=True):
        job = run(replace(site, openings=(replace(site.openings[0], method=method),)))
        own = [p for p in job.pieces if p.is_metal]
        assert side.drawn and side.method == method == job.detail.openings[0].method
        assert side.area == pytest.approx(sum(p.quantity * p.blank.area for p in own))
        assert side.weight_lb == pytest.approx(sum(p.quantity * p.weight_lb for p in own))
        (tubes,) = [line.quantity for line in job.takeoff if line.item == "shop.item.sealant"]
        assert side.tubes == tubes
        assert side.bends == sum(p.quantity * len(p.bends) for p in own) + sum(
            len(p.bends) for p in job.panels if p.opening and p.blank
        )


def test_the_way_that_the_job_takes_is_marked(malt: Comparison) -> None:
    assert [side.planned for side in malt.pairs[0].sides] == [False, True]


def test_a_flat_pan_where_a_cricket_is_asked_shows_its_stop(malt: Comparison) -> None:
    pan, cricket = malt.pairs[0].sides
    assert "method.forbidden" in pan.stops
    assert "method.forbidden" not in cricket.stops
    assert "cricket.required" in [f.rule for f in cricket.findings]


def test_a_cricket_takes_more_metal_and_a_pan_holds_the_water(malt: Comparison) -> None:
    pan, cricket = malt.pairs[0].sides
    assert cricket.area > pan.area
    assert pan.depth is not None and pan.depth > 0
    assert cricket.depth == 0


def test_a_way_that_cannot_be_drawn_says_why_and_has_no_measures() -> None:
    # The low curb: 12 high, where a cricket needs its ridge and 8 above it.
    low = compare(text("must-stop-low-curb"), "x")
    pan, cricket = low.pairs[0].sides
    assert (pan.drawn, cricket.drawn, cricket.why) == (True, False, "cricket.wall")
    told = json.loads(low.to_json())["openings"][0]["ways"][1]
    assert told["why"] == "cricket.wall"
    measures = ("metal_area", "weight_lb", "sealant_tubes", "pieces", "cuts", "bends", "hours", "depth")
    assert {told[k] for k in measures} == {None}


def test_other_openings_stay_as_the_job_has_them() -> None:
    job = text("malt-house") + text("malt-house")[text("malt-house").index("[[opening]]") :].replace(
        '"11\' 10 1/2"', "30"
    ).replace("width = 42", "width = 20").replace("kiln chimney", "small one")
    both = compare(job, "x")
    assert [p.opening.name for p in both.pairs] == ["kiln chimney", "small one"]
    # The small one's two ways do not touch the kiln chimney's findings.
    assert all(f.where.startswith("small one") for side in both.pairs[1].sides for f in side.findings)


def test_only_the_opening_that_is_compared_is_forced() -> None:
    from lapwright.verbs.compare import _forced

    site = read_job(text("malt-house"), "x")
    two = replace(site, openings=(site.openings[0], replace(site.openings[0], name="other")))
    assert [o.method for o in _forced(two, 1, "flat-pan").openings] == ["auto", "flat-pan"]


def test_the_picture_is_drawn_both_ways_at_one_scale(malt: Comparison) -> None:
    root = ElementTree.fromstring(malt.pairs[0].svg)
    said = " ".join(t.text or "" for t in root.iter("{http://www.w3.org/2000/svg}text"))
    assert "Flat pan" in said and "Cricket (as planned)" in said
    assert "kiln chimney" in said


def test_the_same_job_gives_the_same_comparison(malt: Comparison) -> None:
    again = compare(text("malt-house"), "malt-house/job.toml")
    assert (again.to_json(), again.pairs[0].svg) == (malt.to_json(), malt.pairs[0].svg)


# --- the command ----------------------------------------------------------------------------------------


def test_the_table_is_printed_and_nothing_written(lapwright: Callable[..., Any], tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(text("orchard-studio"), encoding="utf-8")
    ran = lapwright("compare", job)
    assert (ran.code, ran.err) == (0, "")
    assert "Flat pan" in ran.out and "Cricket" in ran.out and "m²" in ran.out
    assert [p.name for p in tmp_path.iterdir()] == ["job.toml"]


def test_with_out_the_pictures_join_what_is_there(lapwright: Callable[..., Any], tmp_path: Path) -> None:
    folder = tmp_path / "pictures"
    folder.mkdir()
    (folder / "mine.txt").write_text("mine", encoding="utf-8")
    ran = lapwright("compare", EXAMPLES / "orchard-studio" / "job.toml", "--out", folder)
    assert ran.code == 0
    assert sorted(p.name for p in folder.iterdir()) == ["compare-1.svg", "mine.txt"]
    assert str(folder / "compare-1.svg") in ran.out.replace("\n", "")


def test_json_is_all_that_is_printed(lapwright: Callable[..., Any]) -> None:
    ran = lapwright("compare", EXAMPLES / "must-stop-low-curb" / "job.toml", "--json")
    told = json.loads(ran.out)
    assert (ran.code, told["format"], told["job"]["stopped"]) == (3, "lapwright-compare/1", True)
    assert [w["method"] for w in told["openings"][0]["ways"]] == ["flat-pan", "cricket"]
    for way in told["openings"][0]["ways"]:
        for value in way.values():
            assert not isinstance(value, float) or math.isfinite(value)


def test_a_job_that_cannot_be_read_leaves_with_2(lapwright: Callable[..., Any], tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text('[job]\nname = "x"\n', encoding="utf-8")
    ran = lapwright("compare", job, "--out", tmp_path / "pictures")
    assert (ran.code, ran.out) == (2, "")
    assert "job.toml" in ran.err
    assert not (tmp_path / "pictures").exists()


def test_a_failed_write_leaves_no_half_picture(malt: Comparison, tmp_path: Path) -> None:
    blocked = tmp_path / malt.pairs[0].file
    blocked.mkdir()
    with pytest.raises(OSError):
        hand_over(malt, tmp_path)
    assert [p.name for p in tmp_path.iterdir()] == [malt.pairs[0].file]
