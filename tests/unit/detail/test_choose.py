"""What each opening gets, and the reasons for giving nothing, each at its edge and one 1/16 inside it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from chimney import changed, chimney
from lapwright.detail.choose import choose
from lapwright.detail.measures import cleat_line, resolve
from lapwright.detail.model import Detail
from lapwright.layout.lay_out import lay_out
from lapwright.site.model import Defaults, Site


def decided(site: Site) -> Detail:
    return choose(site, lay_out(site))


def why(site: Site) -> str:
    d = decided(site).openings[0]
    return "" if d.method == "flat-pan" else d.why


def test_the_worked_chimney_gets_a_flat_pan() -> None:
    d = decided(changed(chimney(), method="auto")).openings[0]
    # 26 wide: the rule set asks for a cricket only past 30.
    assert (d.method, d.why) == ("flat-pan", "detail.why.not-asked")


def test_a_cricket_asked_for_is_drawn_where_the_wall_is_high_enough_and_never_as_something_else() -> None:
    # Height at the back face 26 / 2 x 7/12 = 7.583 level, and 8 of upstand: 60 of chimney is plenty, 12 is not.
    high = decided(changed(chimney(), method="cricket")).openings[0]
    assert (high.method, high.why) == ("cricket", "detail.why.forced")
    low = decided(changed(chimney(), method="cricket", height=12.0)).openings[0]
    assert (low.method, low.why) == ("none", "cricket.wall")


def test_two_openings_in_one_bay_are_refused_together() -> None:
    site = chimney()
    # Bay 78 to 132; a second opening at 140 has its bay from 132: they touch and do not share.
    beside = replace(site.openings[0], name="second", left=140.0, width=12.0)
    assert [d.method for d in decided(replace(site, openings=(site.openings[0], beside))).openings] == [
        "flat-pan"
    ] * 2
    # At 130 its bay begins at 114 and both want the ribs between.
    close = replace(beside, left=130.0)
    refused = decided(replace(site, openings=(site.openings[0], close))).openings
    assert [d.why for d in refused] == ["bay.shared", "bay.shared"]


def test_the_pan_needs_2_of_roof_above_its_upslope_end() -> None:
    # Upslope end 115; 117 of slope is enough, 1/16 less is not.
    assert why(changed(chimney(), slope=117.0)) == ""
    assert why(changed(chimney(), slope=116.9375)) == "room.upslope"


def test_the_apron_needs_its_flange_and_the_dam_above_the_eave() -> None:
    # Flange 6 and turn-up 1: the downslope face at 7.
    assert why(changed(chimney(), up=7.0)) == ""
    assert why(changed(chimney(), up=6.9375)) == "room.downslope"


def test_beside_the_opening_a_flange_needs_an_inch_and_a_quarter() -> None:
    # A rib in the side channel at 78; the opening's left at 78 + 5/16 + 1/8 + 1 1/4 = 79.6875 is just enough.
    assert why(changed(chimney(), left=79.6875)) == ""
    assert why(changed(chimney(), left=79.625)) == "side.flange-least"


def test_a_refused_opening_still_lets_the_roof_be_panelled() -> None:
    detail = decided(changed(chimney(), up=5.0))
    assert {p.role for p in detail.parts} == {"through"}
    assert detail.openings[0].pan is None


# --- measures ---------------------------------------------------------------------------------------


def test_a_measure_in_the_job_wins_over_practice() -> None:
    site = changed(chimney(), extent=15.0, rib_turn_up=1.0, rib_face=0.5, flashing_metal="copper-16")
    m = resolve(site, site.openings[0])
    assert (m.extent, m.rib_turn_up, m.rib_face, m.flashing_metal) == (15.0, 1.0, 0.5, "copper-16")


@pytest.mark.parametrize(("seam", "face"), [("snap", 0.3125), ("single-fold", 0.25), ("double-fold", 0.25)])
def test_the_rib_face_follows_the_seam(seam: str, face: float) -> None:
    site = changed(chimney(), seam=seam)
    assert resolve(site, site.openings[0]).rib_face == face


def test_the_cleat_line_turns_from_4_below_to_60_degrees_where_the_bay_is_narrow() -> None:
    # Both rules meet where clear x tan 60 = 13: clear = 7.50555. At 7 1/2 the slope governs, at 7 9/16 the foot.
    site = chimney()
    opening, bay = site.openings[0], lay_out(site).bays[0]
    for clear, foot in ((7.5, 112 - 7.5 * 3**0.5), (7.5625, 99.0)):
        line = cleat_line(opening, replace(bay, left=92.0 - clear), Defaults())
        assert line[0] == pytest.approx((92.0 - clear, foot))


# --- notches ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lay", "left", "right"),
    [("left-to-right", "lap-lock", "outer-leg"), ("right-to-left", "outer-leg", "lap-lock")],
)
def test_the_side_panels_own_leading_leg_loses_its_outer_leg(lay: str, left: str, right: str) -> None:
    notches = decided(changed(chimney(), lay=lay)).openings[0].notches
    assert [n.cut for n in notches] == [left, right]
    assert [n.rib for n in notches] == [78.0, 132.0]


def test_no_notch_is_cut_where_the_bay_ends_at_a_roof_edge() -> None:
    notches = decided(changed(chimney(), left=8.0)).openings[0].notches
    assert [n.rib for n in notches] == [42.0]
