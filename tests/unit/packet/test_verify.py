"""What must be measured again: everything the plan rests on, each from an edge a tape can hook on."""

from __future__ import annotations

from dataclasses import replace

from hand_made import DETAIL, OPENING, hand_made
from lapwright.packet.say import Voice
from lapwright.packet.verify import readings
from lapwright.words import Speaker


def rows(units: str = "in") -> dict[str, tuple[str, str]]:
    job = hand_made(units)
    blocks = readings(job, Voice(Speaker(units)))
    return {r.what: (r.given, r.hook) for b in blocks for r in b.rows}


def test_the_opening_is_taped_from_the_eave_the_edge_and_its_bay_ribs() -> None:
    got = rows()
    # left 50 = 4' 2, up 36 = 3' 0; bay 42 to 78, so 8 on either side; back 60, slope 96, so 36 above
    assert got["left side, at the downslope corner"] == ("4' 2\"", "left roof edge")
    assert got["downslope face, at the right corner"] == ("3' 0\"", "eave, at the fold of the hem")
    assert got["room on the left"] == ('8"', "centre of the rib on the left")
    assert got["room on the right"] == ('8"', "centre of the rib on the right")
    assert got["back face to the upper edge"] == ("3' 0\"", "back face")


def test_diagonals_are_worked_out_from_the_sides() -> None:
    got = rows()
    # opening 20 by 24: sqrt(400 + 576) = 31.2410 = 2' 7-1/4; roof 120 by 96: sqrt(23616) = 153.675 = 12' 9-11/16
    assert got["diagonal, downslope left to upslope right"][0] == "2' 7-1/4\""
    assert got["diagonal, upslope left to downslope right"][0] == "2' 7-1/4\""
    assert got["both diagonals of the plane"][0] == "12' 9-11/16\""


def test_a_metric_job_is_measured_in_mm() -> None:
    got = rows("mm")
    # 50 in = 1270 mm; 1-3/4 in = 44.45 mm, printed to the half millimetre
    assert got["left side, at the downslope corner"][0] == "1270 mm"
    assert got["height of a rib"][0] == "44.5 mm"


def test_faces_pitch_and_metal_are_looked_at() -> None:
    got = rows()
    # atan(7/12) = 30.256 degrees
    assert got["pitch"][0] == "7:12 · 30.3°"
    assert got["faces stand"][0] == "plumb"
    assert "24 ga" in got["metal and coating"][0]


def test_a_pipe_is_taped_to_its_centre_and_its_rim() -> None:
    pipe = replace(OPENING, kind="pipe", diameter=4.0)
    bare = replace(DETAIL.openings[0], opening=pipe, method="none")
    made = hand_made()
    job = replace(made, site=replace(made.site, openings=(pipe,)), detail=replace(DETAIL, openings=(bare,)))
    got = {r.what: r.given for b in readings(job, Voice(Speaker("in"))) for r in b.rows}
    assert got["diameter outside"] == '4"'
    assert got["centre of the pipe, along the eave"] == "4' 2\""
    assert "width, upslope face" not in got
