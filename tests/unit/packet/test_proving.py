"""The record page: zones from low to high, and the sizes that keep water out."""

from __future__ import annotations

from dataclasses import replace

from hand_made import DETAIL, hand_made, without_openings
from lapwright.packet.proving import ZONES, proving
from lapwright.packet.say import Voice
from lapwright.words import Speaker

VOICE = Voice(Speaker("in"))


def test_water_goes_on_from_low_to_high() -> None:
    assert ZONES[0] == "apron" and ZONES[-1] == "panels"
    assert ZONES.index("front_corners") < ZONES.index("back_corners") < ZONES.index("pan") < ZONES.index("cleats")


def test_as_built_sizes_stand_beside_the_planned_ones() -> None:
    built = dict(proving(hand_made(), VOICE)["built"])
    # pan 77.5625 - 42.4375 = 35-1/8 = 2' 11-1/8; upslope end 72 - 60 = 12; legs 60 - 53 = 7; cleat line 69 - 60 = 9
    assert built["pan, edge to edge"] == "2' 11-1/8\""
    assert built["pan's upslope end above the back face"] == "1' 0\""
    assert built["legs' ends below the back face"] == '7"'
    assert built["cleat line above the back face"] == '9"'
    # at either rib the cleat line ends at 56, 4 below the back face
    assert built["cleat line at the left rib, below the back face"] == '4"'


def test_two_openings_are_told_apart() -> None:
    other = replace(DETAIL.openings[0], opening=replace(DETAIL.openings[0].opening, name="vent"))
    job = replace(hand_made(), detail=replace(DETAIL, openings=(DETAIL.openings[0], other)))
    rows = [what for what, _ in proving(job, VOICE)["built"]]
    assert "vent: pan, edge to edge" in rows and "flue stack: pan, edge to edge" in rows


def test_a_roof_without_a_detail_has_no_zones_but_is_signed() -> None:
    page = proving(without_openings(hand_made()), VOICE)
    assert (page["zones"], page["built"]) == ([], [])
    assert len(page["signed"]) == 3
