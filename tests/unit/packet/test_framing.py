"""The carpenter's table: docs/cricket.md's numbers in words, and what is said where something is missing."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import pairwise

import pytest

from chimney import chimney
from crickets import malt_house
from lapwright.job import run
from lapwright.packet.contents import contents
from lapwright.packet.framing import framing_rows
from lapwright.packet.record import to_json
from lapwright.words import Speaker


def test_the_malt_house_has_its_table() -> None:
    # docs/cricket.md: ridge 19, valley 31.5, jack 20.4041 at 2.75; 23.4787, 21, 31.5; 41.8, 90, 48.2; bevel 18.4.
    rows = framing_rows(run(malt_house()))
    assert [(what, length) for what, length, _ in rows] == [
        ("Clear of the wall", '2"'),
        ("Ridge, 1", '19"'),
        ("Valley, 2", '31-1/2"'),
        ('Jacks, 2, 2-3/4" from the back face', '20-3/8"'),
        ("Sheathing, 2 triangles", '23-1/2" along the wall, 21" along the ridge, 31-1/2" along the valley'),
    ]
    angles = {what: angle for what, _, angle in rows}
    assert angles["Ridge, 1"] == "level; runs out on the deck at 26.6°"
    assert angles["Valley, 2"].startswith("plumb cut 19.5°, level cut 70.5°; side cut at the ridge 43.3°")
    assert "plumb cut 26.6° at the ridge" in rows[3][2]
    assert "level cut (63.4°) with the blade at 26.6°" in rows[3][2]
    assert "blade at 45.0° (41.8° on the edge)" in rows[3][2]
    assert rows[4][2].startswith("angles 41.8° at the corner, 90.0° at the ridge's foot, 48.2° at its head")


def test_every_further_jack_is_16_on_and_as_much_shorter() -> None:
    # 96 wide at 6:12: 48 (1 - at/48) sqrt(1.25) at 2.75, 18.75, 34.75: 50.5910, 32.7025, 14.8139.
    rows = framing_rows(run(malt_house(width=96.0, left=110.0, eave=340.0, first_rib=0.0, slope=400.0)))
    jacks = [r for r in rows if r[0].startswith("Jacks")]
    assert [r[1] for r in jacks] == ['50-9/16"', '32-11/16"', '14-13/16"']
    assert [bool(r[2]) for r in jacks] == [True, False, False]
    for one, other in pairwise(jacks):
        assert one[0] != other[0]


def test_a_flat_pan_has_no_framing() -> None:
    assert framing_rows(run(chimney())) == []


def test_a_flue_whose_clearance_is_not_known_says_so() -> None:
    unknown = framing_rows(run(malt_house(kind="framed-chimney")))
    assert unknown[0][1:] == ("not known", "as the flue's listing asks; give it as framing_clear and plan again")
    known = framing_rows(run(malt_house(kind="framed-chimney", framing_clear=1.0)))
    assert known[0][:2] == ("Clear of the wall", '1"')
    assert known[1][1] == '20"'


def test_behind_a_curb_nothing_is_kept_clear() -> None:
    rows = framing_rows(run(malt_house(kind="curb")))
    assert rows[0][:2] == ("Ridge, 1", '21"')


def test_a_small_cricket_needs_no_jacks_and_a_ridge_may_fall() -> None:
    # 8 wide, planes 9:12, ridge falling 3:12: 3 high, gone after 3 / (1/2 + 1/4) = 4. At 2.75 from the masonry a jack
    # would be 4 (1 - 2.75/4) 1.25 = 1.5625, under 3. The ridge falls atan(1/4) = 14.0.
    rows = framing_rows(run(malt_house(width=8.0, cross_slope=9.0, ridge_slope=-3.0)))
    assert rows[1][2].startswith("falls 14.0°")
    assert ("Jacks", "none", "the deck spans from ridge to valley by itself") in rows


def test_one_opening_of_several_can_be_asked_for() -> None:
    site = malt_house()
    twin = replace(site.openings[0], name="small", left=40.0, width=20.0, method="flat-pan")
    job = run(replace(site, openings=(twin, site.openings[0])))
    assert framing_rows(job, 0) == []
    assert framing_rows(job, 1) == framing_rows(job) != []


def test_a_metric_job_prints_millimetres() -> None:
    rows = framing_rows(run(replace(malt_house(), units="mm")))
    assert rows[1][:2] == ("Ridge, 1", "482.6 mm")


def said(**new: object) -> list[str]:
    """The sentences of the framing step."""
    (step,) = [s for s in run(malt_house(**new)).steps if s.title == "steps.cricket.framing"]
    return [Speaker().say(key, **step.values) for key in step.does]


def test_the_step_says_the_clearance_that_is_known_and_no_other() -> None:
    assert any("IRC R1003.18" in s for s in said())
    assert any("this plan does not know it" in s for s in said(kind="framed-chimney"))
    given = said(kind="framed-chimney", framing_clear=1.0)
    assert any('1" clear of the wall, as the job gives it' in s for s in given)
    assert not any("does not know" in s or "R1003.18" in s for s in given)
    assert not any("clear of the" in s for s in said(kind="framed-chimney", framing_clear=0.0))


def test_a_ridge_that_falls_is_not_called_level() -> None:
    assert "Set the ridge level" in said()[0]
    assert "let it fall" in said(ridge_slope=-2.0)[0]


def test_the_table_stands_under_the_step_that_frames_it_and_in_plan_json() -> None:
    job = run(malt_house())
    steps = contents(job, ())["steps"]
    tables = {s["title"]: s["table"]["rows"] for s in steps if s["table"]["rows"]}
    assert list(tables) == ["Framing of the cricket behind chimney"]
    assert [tuple(r) for r in tables["Framing of the cricket behind chimney"]] == framing_rows(job)
    framing = json.loads(to_json(job))["openings"][0]["cricket"]["framing"]
    assert framing["jacks"] == [{"at": 2.75, "length": pytest.approx(20.4041, abs=1e-4), "quantity": 2}]
    assert (framing["jack_side_deg"], framing["backing_deg"]) == pytest.approx((41.8103, 18.4349), abs=1e-4)
