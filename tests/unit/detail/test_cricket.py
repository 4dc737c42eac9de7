"""A cricket's true shape, its cleat line and its framing, each number worked by hand above the assert."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from chimney import changed, chimney
from crickets import malt_house
from lapwright import rules
from lapwright.detail.choose import choose
from lapwright.detail.cricket import NoCricket, cricket_of, wall_slant
from lapwright.detail.framing import MASONRY_CLEARANCE, SHORTEST_JACK, clearance_of, framing_of
from lapwright.detail.model import Cricket
from lapwright.job import run
from lapwright.layout.lay_out import lay_out
from lapwright.metal.cricket import one_piece_angles, true_edges
from lapwright.site.model import Defaults, Opening, Roof
from lapwright.tables import rule_sets
from lapwright.words import Speaker

CLOSE = 1e-4


def cricket(
    rise: float, width: float, cross: float | None = None, ridge: float = 0.0, face: str = "plumb"
) -> Cricket:
    """A cricket behind an opening whose back face stands at 80 up the roof, its left side at 100."""
    opening = Opening("o", "curb", 100.0, 50.0, width, 30.0, 60.0, face)  # type: ignore[arg-type]
    return cricket_of(Roof(rise, 400.0, 400.0), opening, replace(Defaults(), cross_slope=cross, ridge_slope=ridge))


# --- true shape -------------------------------------------------------------------------------------


# m, k, W; then H = W k / 2, ridge d = H / m, valley sqrt((W/2)^2 + d^2 + H^2), its slope, its bend
# acos(1/sqrt((1+m^2)(1+k^2))), a plane's area d/2 sqrt((W/2)^2 + H^2).
#   6:12, 36 wide     9, 18; sqrt(324+324+81) = 27; atan(9/25.4558); acos(1/1.25); 9 sqrt(324+81) = 181.1215
#   4:12, 48 wide     8, 24; sqrt(576+576+64) = 34.8712; atan(8/33.9411); acos(0.9); 12 sqrt(576+64) = 303.5787
#   4:12, planes 6:12 9, 27; sqrt(324+729+81) = 33.6749; atan(9/32.4500); acos(1/sqrt(1.3889)); 13.5 x 20.1246
#   12:12, 24 wide    12, 12; 12 sqrt(3) = 20.7846; atan(12/16.9706); acos(1/2); 6 sqrt(288) = 101.8234
SHAPES = [
    (6.0, None, 36.0, 9.0, 18.0, 27.0, 19.4712, 36.8699, 181.1215),
    (4.0, None, 48.0, 8.0, 24.0, 34.8712, 13.2627, 25.8419, 303.5787),
    (4.0, 6.0, 36.0, 9.0, 27.0, 33.6749, 15.5014, 31.9481, 271.6823),
    (12.0, None, 24.0, 12.0, 12.0, 20.7846, 35.2644, 60.0, 101.8234),
]


@pytest.mark.parametrize(("rise", "cross", "width", "high", "ridge", "valley", "slope", "bend", "area"), SHAPES)
def test_a_level_ridge_on_a_plumb_face_has_the_closed_forms(
    rise: float, cross: float | None, width: float, high: float, ridge: float, valley: float,
    slope: float, bend: float, area: float,
) -> None:  # fmt: skip
    c = cricket(rise, width, cross)
    got = (c.height, c.ridge_plan, c.valley, c.valley_slope_deg, c.valley_bend_deg, c.plane_area)
    assert got == pytest.approx((high, ridge, valley, slope, bend, area), abs=CLOSE)


def test_the_ridge_turns_twice_its_cross_slope_and_lies_longer_on_the_roof() -> None:
    # 6:12, 42 wide: 2 atan(1/2) = 53.1301; 21 / cos 26.565 = 23.4787; wall edge sqrt(441 + 110.25) = 23.4787;
    # square to the roof 10.5 cos 26.565 = 9.3915; valley in the roof plane atan(23.4787 / 21) = 48.1897.
    c = cricket(6.0, 42.0)
    assert c.ridge_bend_deg == pytest.approx(53.1301, abs=CLOSE)
    assert (c.ridge_on_roof, c.wall_edge, c.wall_rise) == pytest.approx((23.4787, 23.4787, 9.3915), abs=CLOSE)
    assert math.degrees(c.valley_angle) == pytest.approx(48.1897, abs=CLOSE)


def test_a_square_face_leans_and_the_ridge_starts_downslope_of_the_corner() -> None:
    # 5:12 (12/13, 5/13), 33 wide. The planes climb 5/12 level: 6.875 over the half. Square to the roof that is
    # 6.875 x 13/12 = 7.4479, and its foot lies 7.4479 x 5/13 = 2.8646 downslope, so the ridge is 16.5 + 2.8646 long
    # and still ends 16.5 x 13/12 = 17.875 up the roof. Valley sqrt(2 x 16.5^2 + 6.875^2) = 24.3262 as ever.
    c = cricket(5.0, 33.0, face="square")
    got = (c.height, c.wall_rise, c.ridge_plan, c.ridge_on_roof, c.valley)
    assert got == pytest.approx((6.875, 7.4479, 19.3646, 17.875, 24.3262), abs=CLOSE)
    # Wall edge sqrt(16.5^2 + 7.4479^2) = 18.1031; it climbs atan(7.4479 / 16.5) = 24.2939.
    assert c.wall_edge == pytest.approx(18.1031, abs=CLOSE)
    assert wall_slant(c) == pytest.approx(24.2939, abs=CLOSE)


def test_a_ridge_that_falls_meets_the_roof_sooner() -> None:
    # 6:12, 24 wide, planes 6:12, ridge falling 3:12: 6 high at the wall, gone after 6 / (1/2 + 1/4) = 8 level, where
    # the roof has climbed 4. Valley sqrt(144 + 64 + 16) = 14.9666, slope atan(4 / sqrt 208) = 15.5014; ridge
    # sqrt(64 + 4) = 8.2462; wall edge sqrt(144 + 36) = 13.4164.
    c = cricket(6.0, 24.0, 6.0, -3.0)
    assert (c.height, c.ridge_plan, c.valley, c.wall_edge) == pytest.approx((6.0, 8.0, 14.9666, 13.4164), abs=CLOSE)
    assert c.valley_slope_deg == pytest.approx(15.5014, abs=CLOSE)
    assert true_edges(c)["ridge"] == pytest.approx(8.2462, abs=CLOSE)


def test_a_ridge_as_steep_as_the_roof_is_no_cricket() -> None:
    with pytest.raises(NoCricket, match="as steeply as the roof"):
        cricket(6.0, 24.0, 6.0, 6.0)


@pytest.mark.parametrize(("rise", "sum_"), [(3.0, 363.4726), (6.0, 372.7587), (7.0, 376.7206), (12.0, 398.9424)])
def test_equal_slopes_need_four_times_the_valleys_angle_and_a_straight_angle(rise: float, sum_: float) -> None:
    # phi = atan(1 / cos theta): 45.8681, 48.1897, 49.1802, 54.7356. Round the ridge's head: the roof beyond it
    # 180 + 2 phi, and two planes whose angle there is phi too. Over 360 no one sheet lies there.
    c = cricket(rise, 40.0)
    phi = math.degrees(math.atan(math.hypot(1.0, rise / 12)))
    assert math.degrees(c.valley_angle) == pytest.approx(phi, abs=1e-9)
    assert one_piece_angles(c) == pytest.approx(4 * phi + 180, abs=1e-9)
    assert one_piece_angles(c) == pytest.approx(sum_, abs=1e-3)


def test_a_ridge_that_falls_along_a_leaning_face_is_a_stop_and_no_crash() -> None:
    # 24:12 leans atan 2 from plumb; a ridge falling 6:12 falls 1/2 a unit in one, square to the roof: along the face.
    with pytest.raises(NoCricket, match="along the back face"):
        cricket(24.0, 40.0, None, -6.0, "square")
    site = malt_house(rise=24.0, ridge_slope=-6.0, face="square", height=400.0)
    d = choose(site, lay_out(site)).openings[0]
    assert (d.method, d.why) == ("none", "cricket.steep")
    (found,) = [f for f in run(site).findings if f.rule == "cricket.steep"]
    assert "climb 90.0" in rules.says(found, Speaker())


# --- the cleat line ----------------------------------------------------------------------------------


def line(**new: object) -> tuple[tuple[float, float], ...]:
    """The cleat line of the worked chimney as a cricket at 6:12, changed."""
    site = changed(chimney(), **{"method": "cricket", "rise": 6.0, "slope": 260.0, **new})
    return choose(site, lay_out(site)).openings[0].cleat_line


def assert_runs(got: tuple[tuple[float, float], ...], *by_hand: tuple[float, float]) -> None:
    assert len(got) == len(by_hand)
    for ours, hand in zip(got, by_hand, strict=True):
        assert ours == pytest.approx(hand, abs=CLOSE)


def test_a_bay_rib_close_by_lies_on_the_valleys_parallel_so_two_cleats_are_enough() -> None:
    # 26 wide, back at 103, ribs at 86 and 122, 6 and 4 off: phi 48.1897, 6 / cos phi = 9 above the corner: 112; the
    # apex is 13 tan phi = 14.5344 above that. At the ribs 112 - 6 tan phi = 105.2918 and 112 - 4 tan phi = 107.5279,
    # both above 103 - 4.
    assert_runs(line(first_rib=14.0), (86.0, 105.2918), (105.0, 126.5344), (122.0, 107.5279))


def test_a_bay_rib_far_off_stops_the_line_at_the_cleats_foot_so_four_are_needed() -> None:
    # Ribs at 78 and 132, 14 off: 112 - 14 tan phi = 96.3475 lies below 103 - 4 = 99.
    assert [p[1] for p in line()] == pytest.approx([99.0, 112.0, 126.5344, 112.0, 99.0], abs=CLOSE)


def test_one_near_rib_and_one_far_make_three_cleats() -> None:
    # Ribs at 86 + 20 k: the right one at 126, 8 off: still on the parallel, 112 - 8 tan phi = 103.0557; at 22 k it is
    # at 130, 12 off: 98.5836 is below 99.
    assert len(line(coverage=20.0, first_rib=6.0)) == 3
    by_hand = ((86.0, 105.2918), (105.0, 126.5344), (118.0, 112.0), (130.0, 99.0))
    assert_runs(line(coverage=22.0, first_rib=20.0), *by_hand)


def test_no_run_is_steeper_than_the_steepest() -> None:
    # At 24:12 the valley slants atan(sqrt 5) = 65.9; beside the corner the line keeps to 60.
    got = line(rise=24.0, first_rib=14.0, slope=400.0)
    (x0, y0), (x1, y1) = got[:2]
    assert math.degrees(math.atan2(y1 - y0, x1 - x0)) == pytest.approx(60.0, abs=1e-9)


# --- framing -------------------------------------------------------------------------------------------


def test_the_carpenters_cuts_of_a_wide_chimney_at_6_12() -> None:
    # 42 wide, equal slopes: planes 26.5651, valley 19.4712, in plan 45. Jack's side cut atan(cos 26.5651) = 41.8103,
    # the valley's atan(cos 19.4712) = 43.3139, its edge's bevel atan(sin 19.4712) = 18.4349.
    f = framing_of(cricket(6.0, 42.0), "masonry-chimney")
    assert (f.jack_plumb_deg, f.valley_plumb_deg, f.cheek_deg) == pytest.approx((26.5651, 19.4712, 45.0), abs=CLOSE)
    cuts = (f.jack_side_deg, f.valley_side_deg, f.backing_deg)
    assert cuts == pytest.approx((41.8103, 43.3139, 18.4349), abs=CLOSE)
    # On the deck a jack's level cut tilts with the roof, and the ridge runs out on it at the roof's slope.
    assert (f.foot_tilt_deg, f.ridge_end_deg, f.ridge_plumb_deg) == pytest.approx((26.5651, 26.5651, 0.0), abs=CLOSE)
    # 2 off the masonry, half of 1 1/2 in: 2.75. 21 (1 - 2.75/21) sqrt(1.25) = 20.4041; 16 on, 2.5156 is too short.
    assert [(j.at, j.length) for j in f.jacks] == [pytest.approx((2.75, 20.4041), abs=CLOSE)]
    assert (f.ridge, f.valley, f.clearance) == pytest.approx((19.0, 31.5, 2.0), abs=CLOSE)
    assert f.sheathing == pytest.approx((23.4787, 21.0, 31.5), abs=CLOSE)
    assert f.sheathing_deg == pytest.approx((41.8103, 90.0, 48.1897), abs=CLOSE)


def test_between_equal_slopes_a_valley_bends_by_its_backing_twice() -> None:
    # 12:12: the valley slopes atan(1/sqrt 2) = 35.2644, its backing is atan(sin 35.2644) = 30,
    # its bend acos(1/2) = 60.
    c = cricket(12.0, 24.0)
    assert (framing_of(c, "curb").backing_deg, c.valley_bend_deg) == pytest.approx((30.0, 60.0), abs=1e-9)


def test_jacks_shorten_by_the_same_length_each() -> None:
    # Equal slopes at 4:12: 16 sqrt(1 + 1/9) = 16.8655 a jack. 96 wide: run 48, jacks at 0.75, 16.75, 32.75.
    jacks = framing_of(cricket(4.0, 96.0), "curb").jacks
    assert [j.at for j in jacks] == pytest.approx([0.75, 16.75, 32.75])
    assert [a.length - b.length for a, b in pairwise(jacks)] == pytest.approx([16.8655] * 2, abs=CLOSE)
    assert jacks[-1].length >= SHORTEST_JACK


def test_behind_a_square_curb_the_plan_is_still_that_of_the_valley() -> None:
    # Weir cottage: 33 wide at 5:12. In plan the valley runs 16.5 by 16.5, 45 degrees, though the ridge is 19.36 long.
    # First jack at 0.75: 16.5 (1 - 0.75/16.5) 13/12 = 17.0625.
    f = framing_of(cricket(5.0, 33.0, face="square"), "curb")
    assert (f.cheek_deg, f.ridge) == pytest.approx((45.0, 19.3646), abs=CLOSE)
    assert f.jacks[0].length == pytest.approx(17.0625, abs=CLOSE)


def test_a_jack_reaches_from_the_ridge_to_the_valley() -> None:
    # Wherever it stands: its lower end, set out in space, lies on the line from corner to head.
    for face, ridge in (("plumb", 0.0), ("square", 0.0), ("plumb", -2.0), ("square", -2.0)):
        c = cricket(7.0, 90.0, 5.0, ridge, face)
        theta = math.atan2(7.0, 12.0)
        for j in framing_of(c, "curb").jacks:
            # Level from the corner by `at`; across by length / sqrt(1 + k^2) out from the middle.
            x = c.ridge_head[0] - j.length / math.hypot(1.0, 5 / 12)
            share = (x - c.corner[0]) / (c.ridge_head[0] - c.corner[0])
            on_valley = share * c.ridge_on_roof * math.cos(theta)
            assert on_valley == pytest.approx(j.at, abs=1e-9)


def test_framing_keeps_off_the_wall_as_the_code_or_the_job_asks() -> None:
    assert clearance_of("masonry-chimney") == MASONRY_CLEARANCE == 2.0
    assert clearance_of("framed-chimney") is None
    assert clearance_of("curb") == 0.0
    assert clearance_of("framed-chimney", 1.5) == 1.5
    assert clearance_of("masonry-chimney", 4.0) == 4.0
    near, far = (framing_of(cricket(6.0, 42.0), "masonry-chimney", clear) for clear in (2.0, 4.0))
    assert near.ridge - far.ridge == pytest.approx(2.0)
    # Along a ridge that falls 5:12 the same 2 is 2 x 13/12 of it.
    near, far = (framing_of(cricket(6.0, 42.0, 6.0, -5.0), "masonry-chimney", clear) for clear in (2.0, 4.0))
    assert near.ridge - far.ridge == pytest.approx(2.0 * 13 / 12)


# --- when a rule set asks ------------------------------------------------------------------------------------

# The printed number, one step of a tape inside and one past it; the last is asked at the number itself.
BOUNDARIES = [
    ("irc-2021", "masonry-chimney", 30.0, False),
    ("irc-2021", "curb", 30.0625, True),
    ("ibc-2021", "framed-chimney", 30.0, False),
    ("ibc-2021", "masonry-chimney", 30.0625, True),
    ("house", "skylight", 30.0, False),
    ("house", "skylight", 30.0625, True),
    ("obc-2012", "masonry-chimney", 750 / 25.4, False),
    ("obc-2012", "masonry-chimney", 751 / 25.4, True),
    ("nz-cop-3", "curb", 600 / 25.4, False),
    ("nz-cop-3", "curb", 601 / 25.4, True),
    ("regional-24", "curb", 23.9375, False),
    ("regional-24", "curb", 24.0, True),
]


@pytest.mark.parametrize(("book", "kind", "width", "asked"), BOUNDARIES)
def test_a_set_asks_exactly_where_it_says(book: str, kind: str, width: float, asked: bool) -> None:
    # 7:12, 8 of upstand, 12 of pan: 12 sin 30.256 = 6.05 up the roof is short of the wall's 9.26, so Ontario's other
    # way is not taken.
    site = changed(chimney(), method="auto", slope=300.0, rule_set=book, kind=kind, width=width)
    assert (choose(site, lay_out(site)).openings[0].why == "detail.why.rule") == asked


@pytest.mark.parametrize(("degrees", "asked"), [(9.99, True), (10.0, False)])
def test_new_zealand_asks_on_any_roof_flatter_than_10_degrees(degrees: float, asked: bool) -> None:
    rise = 12 * math.tan(math.radians(degrees))
    site = changed(chimney(), method="auto", rise=rise, slope=600.0, rule_set="nz-cop-3", width=20.0)
    assert (choose(site, lay_out(site)).openings[0].why == "detail.why.rule") == asked


def test_every_set_has_its_boundary_here() -> None:
    assert {b[0] for b in BOUNDARIES} == set(rule_sets())
