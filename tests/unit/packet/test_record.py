"""plan.json has the shape other programs rely on."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import pytest

from hand_made import DETAIL, OPENING, STOP, hand_made
from lapwright import rules
from lapwright.packet.record import corners, to_json, to_record
from lapwright.site.model import Opening

# The contract's keys, written out here and not taken from the program.
SHAPE = {
    "": "format job roof ribs strips openings pieces panels findings takeoff steps",
    "job": "name units",
    "roof": "rise pitch_deg eave slope",
    "strips": "index left right",
    "openings": "name kind corners bay method cleat_line pan notches",
    "pieces": "id kind name opening quantity metal thickness blank bends weight_lb",
    "panels": "id strip outline length width blank bends hems notches",
    "findings": "rule level where says measured limit unit source edition",
    "takeoff": "item quantity unit basis",
    "steps": "n title does marks pieces caution",
}


def record(**changes: Any) -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads(to_json(hand_made(findings=(STOP,), **changes)))
    return loaded


@pytest.mark.parametrize(("part", "keys"), SHAPE.items())
def test_the_record_has_every_key_of_the_contract(part: str, keys: str) -> None:
    rec = record()
    here = rec if part == "" else rec[part]
    row = here[0] if isinstance(here, list) else here
    assert set() == set(keys.split()) - set(row)


def test_the_format_is_named_so_that_a_reader_can_refuse_another() -> None:
    assert record()["format"] == "lapwright-plan/1"


def test_corners_run_left_downslope_right_downslope_right_upslope_left_upslope() -> None:
    # left 50, width 20, up 36, length 24
    assert record()["openings"][0]["corners"] == [[50, 36], [70, 36], [70, 60], [50, 60]]


def test_a_pipe_takes_the_rectangle_round_its_hole() -> None:
    # 4 in pipe centred on 30, 40 at 12:12: across 28..32, along 2 / cos 45 = 2.828427 either way
    pipe = Opening("vent", "pipe", 30.0, 40.0, 4.0, 4.0, 12.0, "plumb", diameter=4.0)
    got = corners(pipe, math.atan2(12.0, 12.0))
    expected = ((28, 37.171573), (32, 37.171573), (32, 42.828427), (28, 42.828427))
    assert expected == tuple((x, pytest.approx(y, abs=1e-6)) for x, y in got)


def test_a_blank_carries_outline_cuts_holes_and_its_size() -> None:
    blank = record()["pieces"][0]["blank"]
    assert blank["outline"] == [[0, 0], [37.5, 0], [37.5, 27.25], [0, 27.25]]
    assert blank["cuts"] == [[[10, 0], [10, 2]]]
    assert len(blank["holes"][0]) == 4
    assert (blank["area"], blank["width"], blank["height"]) == (1021.859375, 37.5, 27.25)


def test_a_bend_says_from_to_angle_way_and_order() -> None:
    bend = record()["pieces"][0]["bends"][0]
    assert tuple(bend[k] for k in ("from", "to", "angle_deg", "way", "order")) == ([10, 8], [27.5, 8], 120.3, "up", 1)


def test_a_panel_from_the_machine_has_no_blank_and_a_worked_one_has() -> None:
    assert [p["blank"] is not None for p in record()["panels"]] == [True, False]


def test_lengths_stay_in_inches_when_the_job_is_in_mm() -> None:
    inches, metric = record(), record(units="mm")
    for part in ("roof", "ribs", "strips", "openings", "panels"):
        assert inches[part] == metric[part]
    assert metric["steps"][0]["marks"][0]["distance"] == 42.4375


def test_a_finding_says_its_sentence_with_the_jobs_own_value() -> None:
    row = record()["findings"][0]
    assert row["says"] == 'flue stack: back pan: the headlap is 2-1/2"; 3" is asked.'
    assert tuple(row[k] for k in ("measured", "limit", "unit", "source", "edition")) == (
        2.5,
        3.0,
        "in",
        "house rule",
        "-",
    )
    assert row["seen"] is None
    assert row["cure"] == "Raise `extent`."


def test_a_cited_finding_says_how_its_source_was_seen() -> None:
    # rules.toml: headlap is UFGS, read in a copy
    found = rules.finding("headlap", "flue stack", 2.5, part="pieces.back-pan")
    row = to_record(hand_made(findings=(found,)))["findings"][0]
    assert row["seen"] == "secondary copy"
    assert row["document"].startswith("Unified Facilities Guide Specification")


def test_a_mark_says_what_from_where_and_how_far() -> None:
    assert (record()["steps"][0]["marks"][0]) == {
        "what": "left edge of the pan",
        "from": "the left rake",
        "distance": 42.4375,
    }


def test_an_opening_without_a_detail_says_none_and_is_named_as_not_checked() -> None:
    bare = replace(DETAIL.openings[0], method="none", pan=None, cleat_line=(), notches=())
    job = replace(hand_made(), detail=replace(DETAIL, openings=(bare,)))
    rec = to_record(job)
    assert rec["openings"][0]["method"] == "none"
    assert "pan" not in rec["openings"][0]
    assert any(OPENING.name in text for text in rec["not_checked"])


def test_the_same_job_gives_the_same_bytes_and_no_negative_nought() -> None:
    job = hand_made(findings=(STOP,))
    assert to_json(job) == to_json(job)
    tilted = replace(job, layout=replace(job.layout, ribs=(-1e-9, 6.0000000004)))
    text = to_json(tilted).decode()
    assert '"ribs": [\n    0.0,\n    6.0\n  ]' in text


def test_a_number_that_is_none_is_our_bug_and_never_written() -> None:
    job = hand_made()
    with pytest.raises(ValueError, match="not JSON compliant"):
        to_json(replace(job, layout=replace(job.layout, ribs=(math.nan,))))


def test_a_lone_surrogate_in_a_name_does_not_break_the_file() -> None:
    job = hand_made(name="shed \ud800 north")
    assert json.loads(to_json(job))["job"]["name"] == "shed ? north"
