"""Five more openings worked by hand: other pitches, widths, hands, seams, metals, a roof edge, millimetres.

Bend arithmetic as in docs/worked-case.md. For 24 ga steel (t 0.0255): deduction of 90 up 0.056857, of 90 down
0.005857, of 87.5 up 0.052993; closed hem 1/2 takes 0.489055, open hem 1/2 takes 0.504147.
"""

from __future__ import annotations

import math

import pytest

from chimney import worked
from lapwright.detail.measures import end_angles
from lapwright.metal.model import Piece, RoofPanel
from lapwright.metal.work import at_bench
from lapwright.site.model import Opening, Panel, Roof, Site
from lapwright.site.read import read_job


class Worked:
    """A job read by a person: sizes of blanks, the pan, the cleat line, the notches."""

    def __init__(self, site: Site) -> None:
        self.job, self.metal = worked(site)
        self.detail = self.job.detail.openings[0]

    @property
    def bay(self) -> tuple[float, float, tuple[float, ...]]:
        b = self.detail.bay
        return b.left, b.right, b.interrupted

    @property
    def pan(self) -> tuple[float, float, float, float]:
        p = self.detail.pan
        assert p is not None
        return p.left, p.right, p.downslope, p.upslope

    @property
    def notches(self) -> list[tuple[float, str]]:
        return [(n.to_y, n.cut) for n in self.detail.notches]

    def size(self, piece: str) -> tuple[float, float]:
        blank = self.metal[f"1-{piece}"].blank
        assert blank is not None
        return blank.width, blank.height

    def turn(self, piece: str, bend: str) -> float:
        return next(b.angle_deg for b in self.metal[f"1-{piece}"].bends if b.id == bend)

    def made(self, id_: str) -> Piece | RoofPanel:
        return self.metal[id_]

    def cleat_feet(self) -> tuple[float, float]:
        return self.detail.cleat_line[0][1], self.detail.cleat_line[-1][1]


def close(*values: float) -> object:
    return pytest.approx(values, abs=2e-4)


# --- 1: a square curb at 4:12 under a double-folded roof laid from the right ----------------------


@pytest.fixture(scope="module")
def curb() -> Worked:
    opening = Opening("curb", "curb", 91.0, 60.0, 20.0, 30.0, 8.0, "square")
    panel = Panel(16.0, 1.5, "double-fold", "clip", 4.0, "right-to-left")
    return Worked(Site("1", "in", Roof(4.0, 240.0, 240.0), panel, openings=(opening,)))


def test_curb_bay_and_pan(curb: Worked) -> None:
    # Ribs 4 + 16 k: 91 - 4 = 87 -> 84; 111 + 4 = 115 -> 116; 100 is cut. Folded face 1/4 and gap 1/8: 84.375
    # to 115.625.
    assert curb.bay == (84.0, 116.0, (100.0,))
    # Legs to 90 - 7 = 83; at 4:12 the pan runs 18 up: 108.
    assert curb.pan == (84.375, 115.625, 83.0, 108.0)


def test_curb_pan_blank_has_a_return(curb: Worked) -> None:
    # Across: 31.25 + 2 (1.25 - 0.052993) = 33.6440.
    # Up: the tongue 8 and the return 1 over the curb end at 90.051 + 0.056857 - 8 - (1 - 0.005857) = 81.1137,
    # below the legs' 83 - 0.4891; the hem ends at 108.5041; 108.5041 - 81.1137 = 27.3904.
    assert close(33.6440, 27.3904) == curb.size("back-pan")
    assert curb.turn("back-pan", "base/tongue") == pytest.approx(90.0)
    assert curb.turn("back-pan", "tongue/return") == pytest.approx(90.0)


def test_curb_cleats_are_held_to_60_degrees(curb: Worked) -> None:
    # 99 across. Left: 99 - 7 x 1.73205 = 86.8756, above 90 - 4 = 86. Right: 99 - 5 x 1.73205 = 90.3397.
    assert close(86.8756, 90.3397) == curb.cleat_feet()
    assert close(60.0, 60.0) == tuple(math.degrees(a) for a in end_angles(curb.detail.cleat_line))


def test_curb_notches_trade_places_when_laid_from_the_right(curb: Worked) -> None:
    # The finished edge lies 1.25 / cos 60 = 2.5 lower: 84.3756 and 87.8397. Leading legs are on each panel's left.
    assert [y for y, _ in curb.notches] == pytest.approx([84.3756, 87.8397], abs=2e-4)
    assert [cut for _, cut in curb.notches] == ["outer-leg", "lap-lock"]


def test_curb_has_one_cap_and_a_flat_apron(curb: Worked) -> None:
    # Folded ribs are dressed flat, so the flange runs on past the corners: room 7 - 3/8 = 6.625 on the left lets it
    # go its 5; on the right 5 - 3/8 = 4.625. 20 + 5 + 4.625 = 29.625. Up: 0.4891 + 6 + 8 - 0.0569 = 14.4322.
    assert close(29.625, 14.4322) == curb.size("apron")
    assert [p for p in curb.metal if "counterflashing" in p] == ["1-counterflashing-cap"]


# --- 2: a plumb chimney at 9:12 whose bay ends at the right rake ----------------------------------


@pytest.fixture(scope="module")
def at_the_rake() -> Worked:
    opening = Opening("stack", "masonry-chimney", 92.0, 64.0, 20.0, 36.0, 48.0, "plumb")
    return Worked(Site("2", "in", Roof(9.0, 120.0, 200.0), Panel(12.0, 1.75, first_rib=6.0), openings=(opening,)))


def test_rake_bay_ends_at_the_roof_edge(at_the_rake: Worked) -> None:
    # Ribs 6 + 12 k. 88 -> 78. 112 + 4 = 116 has no rib before the rake at 120. Cut: 90, 102, 114.
    assert at_the_rake.bay == (78.0, 120.0, (90.0, 102.0, 114.0))
    # At the edge just the gap: 120 - 1/8. Left 78 + 7/16. 9:12 is past 6:12: 12 up.
    assert at_the_rake.pan == (78.4375, 119.875, 93.0, 112.0)


def test_rake_pan_on_a_3_4_5_slope(at_the_rake: Worked) -> None:
    # theta 36.8699: cos 0.8, sin 0.6. The back turns 126.8699, whose half has the tangent 2.
    assert at_the_rake.turn("back-pan", "base/tongue") == pytest.approx(126.8699, abs=1e-4)
    # Setback 0.0765 x 2 = 0.153; allowance 2.214297 x 0.0612066 = 0.135530; deduction 0.170470.
    # Foot 100 + 0.051 / 0.8 = 100.06375; tongue 10; its end at 100.06375 + 0.17047 - 10 = 90.23422.
    # 112.504147 - 90.23422 = 22.26993. Across: 41.4375 + 2 (1.5 - 0.052993) = 44.33151.
    assert close(44.3315, 22.2699) == at_the_rake.size("back-pan")


def test_rake_apron_on_a_3_4_5_slope(at_the_rake: Worked) -> None:
    # Front turns 53.1301 (tangent of the half 0.5): setback 0.03825, allowance 0.927295 x 0.0612066 = 0.056757,
    # deduction 0.019743. Raised 1 3/4: foot 64 + 1.75 x 0.75 = 65.3125, flange 7.3125; upstand 6.25 / 0.8 = 7.8125.
    # 0.489055 + 7.3125 + 7.8125 - 0.019743 = 15.5943. Across 20 + 2 (1.75 - 0.005857) = 23.4883.
    assert close(23.4883, 15.5943) == at_the_rake.size("apron")


def test_rake_cleat_line_ends_at_the_edge_itself(at_the_rake: Worked) -> None:
    # Across 109. Right: 109 - 8 x 1.73205 = 95.1436 lies below 100 - 4, so 96 holds: atan(13/8) = 58.3925.
    assert at_the_rake.detail.cleat_line[-1] == (120.0, 96.0)
    left, right = end_angles(at_the_rake.detail.cleat_line)
    assert close(42.8789, 58.3925) == (math.degrees(left), math.degrees(right))
    # Bend line of the third: from 112 to 119.875 - 0.0255 - 0.1875 = 119.662, 7.662 / cos 58.3925 = 14.6194.
    web = at_the_rake.made("1-offset-cleat-3").body.face("web").corners  # type: ignore[union-attr]
    assert max(math.dist(p, q) for p in web for q in web if p[2] == q[2]) == pytest.approx(14.6194, abs=2e-4)


def test_rake_side_has_no_rib_to_notch(at_the_rake: Worked) -> None:
    # Left only: 96 - 1.25 / cos 42.8789 = 94.2942, laid from the left: its leading leg is the neighbour's.
    assert at_the_rake.notches == [(pytest.approx(94.2942, abs=2e-4), "lap-lock")]


def test_rake_flange_stops_at_the_rib_in_the_side_channel(at_the_rake: Worked) -> None:
    # The rib at 114 stands 2 off: 2 - 5/16 - 1/8 - t = 1.537 instead of 4. Up: 0.489055 + 1.537 + 8 - 0.056857.
    assert at_the_rake.size("side-wall-right")[1] == pytest.approx(9.9692, abs=2e-4)
    # Left: the rib at 90 stands 2 off as well.
    assert at_the_rake.size("side-wall-left")[1] == pytest.approx(9.9692, abs=2e-4)


# --- 3: a framed chimney at 12:12 between two single-folded ribs ----------------------------------


@pytest.fixture(scope="module")
def framed() -> Worked:
    opening = Opening("flue", "framed-chimney", 78.0, 60.0, 12.0, 30.0, 60.0, "plumb", "flat-pan")
    panel = Panel(24.0, 1.5, "single-fold", "clip", 0.0)
    return Worked(Site("3", "in", Roof(12.0, 180.0, 200.0), panel, openings=(opening,)))


def test_framed_bay_cuts_no_rib(framed: Worked) -> None:
    # Ribs 24 k: 74 -> 72, 94 -> 96. 72 + 3/8 to 96 - 3/8.
    assert framed.bay == (72.0, 96.0, ())
    assert framed.pan == (72.375, 95.625, 83.0, 102.0)
    assert [p for p in framed.metal if "lower" in p] == []


def test_framed_pan_at_45_degrees(framed: Worked) -> None:
    # The back turns 135: setback 0.0765 x 2.414214 = 0.184687, allowance 2.356194 x 0.0612066 = 0.144215,
    # deduction 0.225160. Foot 90 + 0.051 x 1.414214 = 90.072125; tongue 8 x 1.414214 = 11.313708; its end at
    # 78.983577.
    # 102.504147 - 78.983577 = 23.5206. Across 23.25 + 2 (1.25 - 0.052993) = 25.6440.
    assert close(25.6440, 23.5206) == framed.size("back-pan")


def test_framed_apron_lies_flat_and_runs_5_past_each_corner(framed: Worked) -> None:
    # Room 6 - 3/8 = 5.625 lets it. Front turns 45: setback 0.031687, allowance 0.048072, deduction 0.015303.
    # Up: 0.489055 + 6 + 11.313708 - 0.015303 = 17.7875.
    assert close(22.0, 17.7875) == framed.size("apron")


def test_framed_cleats_fall_60_degrees_on_both_sides(framed: Worked) -> None:
    # 99 - 6 x 1.73205 = 88.6077, above 86. Notches to 88.6077 - 2.5 = 86.1077.
    assert close(88.6077, 88.6077) == framed.cleat_feet()
    assert [(pytest.approx(86.1077, abs=2e-4), "lap-lock"), (pytest.approx(86.1077, abs=2e-4), "outer-leg")] == (
        framed.notches
    )


def test_framed_counterflashing_goes_up_behind_the_wall_and_into_no_reglet(framed: Worked) -> None:
    # From 4 to 8 + 1 + 2 = 11: 7 x 1.414214 = 9.899495, and the hem 0.489055: 10.3886.
    # Across 12 + 2 (0.102 + 0.0255) + 2 (1 - 0.005857) = 14.2433.
    assert close(14.2433, 10.3886) == framed.size("counterflashing-back")
    assert "face/leg" not in {b.id for b in framed.made("1-counterflashing-back").bends}


# --- 4: a skylight measured in millimetres --------------------------------------------------------

METRIC = """
[job]
name = "Loft"
units = "mm"
[roof]
pitch = "25 deg"
eave = 6000
slope = 5000
[panel]
seam = "double-fold"
fixing = "clip"
coverage = 500
rib_height = 38
first_rib = 200
lay = "left-to-right"
metal = "steel-24"
[[opening]]
name = "window"
kind = "skylight"
left = 1900
up = 1400
width = 600
length = 800
height = 240
face = "square"
"""


@pytest.fixture(scope="module")
def metric() -> Worked:
    return Worked(read_job(METRIC, "job.toml"))


def test_metric_bay(metric: Worked) -> None:
    # 1900 - 101.6 = 1798.4 -> rib 1700; 2500 + 101.6 = 2601.6 -> rib 2700; 2200 is cut.
    assert metric.bay[:2] == pytest.approx((1700 / 25.4, 2700 / 25.4), abs=1e-9)
    assert metric.bay[2] == pytest.approx((2200 / 25.4,), abs=1e-9)


def test_metric_pan_is_981_mm_wide(metric: Worked) -> None:
    # 1000 mm less 2 x 3/8 in = 1000 - 19.05 = 980.95 mm.
    left, right, downslope, upslope = metric.pan
    assert (right - left) * 25.4 == pytest.approx(980.95, abs=1e-6)
    # tan 25 x 12 = 5.596 to 12: 18 in upslope, 2200 + 457.2; legs to 2200 - 177.8.
    assert (upslope * 25.4, downslope * 25.4) == pytest.approx((2657.2, 2022.2), abs=1e-6)
    # Turn-ups 38 mm - 1/4 = 1.246063 in. Across 38.620079 + 2 (1.246063 - 0.052993) = 41.0062 in.
    # Up 18 + 0.504147 - 0.051 - 0.056857 + 8 = 26.3963 in: square, so the pitch does not enter.
    assert close(41.0062, 26.3963) == metric.size("back-pan")


def test_metric_cleat_line(metric: Worked) -> None:
    # 200 mm = 7.874016 in clear: 95.614173 - 13.638196 = 81.97598 < 82.614173, so 4 below the back face holds.
    assert close(82.6142, 82.6142) == metric.cleat_feet()
    # atan(13 / 7.874016) = 58.7970; notches to 82.614173 - 1.25 / cos 58.7970 = 80.2014.
    assert math.degrees(end_angles(metric.detail.cleat_line)[0]) == pytest.approx(58.7970, abs=2e-4)
    assert [y for y, _ in metric.notches] == pytest.approx([80.2014, 80.2014], abs=2e-4)


# --- 5: copper at 2 1/2 : 12, laid from the right, little room on the left ------------------------


@pytest.fixture(scope="module")
def copper() -> Worked:
    opening = Opening("chimney", "masonry-chimney", 46.5, 60.0, 21.0, 30.0, 60.0, "plumb")
    panel = Panel(17.0, 1.5, "snap", first_rib=8.5, lay="right-to-left", metal="copper-16")
    return Worked(Site("5", "in", Roof(2.5, 160.0, 180.0), panel, openings=(opening,)))


def test_copper_bay_at_exactly_the_side_clearance(copper: Worked) -> None:
    # Ribs 8.5 + 17 k: 46.5 - 4 = 42.5 is a rib itself; 67.5 + 4 = 71.5 -> 76.5; 59.5 is cut.
    assert copper.bay == (42.5, 76.5, (59.5,))
    # Below 3:12 the pan runs 24 up.
    assert copper.pan == (42.9375, 76.0625, 83.0, 114.0)


def test_copper_pan_bends_by_its_own_thickness(copper: Worked) -> None:
    # t 0.0216: neutral 0.0432 + 0.4002575 x 0.0216 = 0.0518456. theta 11.7683, cos 0.978980. The back turns 101.7683:
    # setback 0.0648 tan 50.8841 = 0.079691, allowance 1.776192 x 0.0518456 = 0.092088, deduction 0.067295.
    # Foot 90 + 0.0432 / 0.978980 = 90.044128; tongue 8.171767; its end at 81.939655, below the legs' 82.5093.
    # Open hem 0.503512: 114.503512 - 81.939655 = 32.5639.
    # Turn-ups 1.25 - 0.044888: 33.125 + 2 x 1.205112 = 35.5352.
    assert close(35.5352, 32.5639) == copper.size("back-pan")


def test_copper_flange_is_cut_to_the_room_on_its_side(copper: Worked) -> None:
    # Left: 4 - 5/16 - 1/8 - 0.0216 = 3.5409 instead of 4. Deduction 0.048161, hem 0.490729.
    # 0.490729 + 3.5409 + 8 - 0.048161 = 11.9835; right 0.490729 + 4 + 8 - 0.048161 = 12.4426.
    assert copper.size("side-wall-left")[1] == pytest.approx(11.9835, abs=2e-4)
    assert copper.size("side-wall-right")[1] == pytest.approx(12.4426, abs=2e-4)


def test_copper_cleats_differ_left_and_right(copper: Worked) -> None:
    # Across 99. Left 99 - 4 x 1.73205 = 92.0718 (60 degrees); right 99 - 9 x 1.73205 < 86, so 86:
    # atan(13/9) = 55.3048.
    assert close(92.0718, 86.0) == copper.cleat_feet()
    # Edges 92.0718 - 2.5 = 89.5718 and 86 - 1.25 / cos 55.3048 = 83.8040. Laid from the right: left is outer-leg.
    assert [y for y, _ in copper.notches] == pytest.approx([89.5718, 83.8040], abs=2e-4)
    assert [cut for _, cut in copper.notches] == ["outer-leg", "lap-lock"]


def test_copper_flashings_are_copper_and_weigh_16_oz_to_the_square_foot(copper: Worked) -> None:
    pan = copper.made("1-back-pan")
    assert isinstance(pan, Piece)
    assert pan.metal == "copper-16" == at_bench(copper.job.site, copper.detail).metal
    assert pan.blank.area / 144 * 1.0 == pytest.approx(pan.weight_lb, rel=0.005)
