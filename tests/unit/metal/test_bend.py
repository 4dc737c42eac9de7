"""Bend arithmetic against numbers worked by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright.metal.bend import allowance, deduction, din_k, k_factor, setback

thicknesses = st.floats(0.010, 0.125)
radii = st.floats(0.0, 1.0)
angles = st.floats(0.0, 175.0)


def test_the_neutral_line_moves_out_with_the_radius() -> None:
    # r = s: log10(1) = 0, so k = 0.65. r = 2 s: 0.65 + 0.5 x 0.30103 = 0.800515.
    assert din_k(0.03, 0.03) == pytest.approx(0.65, abs=1e-12)
    assert din_k(0.06, 0.03) == pytest.approx(0.800515, abs=1e-6)


def test_the_neutral_line_is_at_mid_thickness_from_five_thicknesses_up() -> None:
    # The formula reaches 0.65 + 0.5 log10(5) = 0.999485 at r/s = 5; past it k is 1.
    assert din_k(5.0, 1.0) == pytest.approx(0.999485, abs=1e-6)
    assert din_k(5.001, 1.0) == 1.0
    assert k_factor(10.0, 1.0) == 0.5


def test_a_very_sharp_bend_never_has_its_neutral_line_outside_the_metal() -> None:
    # r/s = 0.01: 0.65 - 1 = -0.35, which no metal can do.
    assert din_k(0.01, 1.0) == 0.0


def test_a_square_bend_of_24_ga_takes_the_metal_worked_by_hand() -> None:
    # t 0.0255, r 2t = 0.051: K = 0.800515/2 = 0.4002575;
    # allowance pi/2 (0.051 + 0.4002575 x 0.0255) = 1.570796 x 0.06120657 = 0.0961430.
    assert allowance(90, 0.051, 0.0255) == pytest.approx(0.096143, abs=1e-6)
    # Setback up (0.051 + 0.0255) tan 45 = 0.0765; down 0.051.
    assert setback(90, 0.051, 0.0255, "up") == pytest.approx(0.0765, abs=1e-12)
    assert setback(90, 0.051, 0.0255, "down") == pytest.approx(0.051, abs=1e-12)
    # Deduction up 2 x 0.0765 - 0.096143 = 0.056857; down 0.102 - 0.096143 = 0.005857.
    assert deduction(90, 0.051, 0.0255) == pytest.approx(0.056857, abs=1e-6)
    assert deduction(90, 0.051, 0.0255, "down") == pytest.approx(0.005857, abs=1e-6)


def test_a_chimneys_back_bend_sets_back_by_the_half_angle() -> None:
    # 7:12 plumb back: 90 + 30.2564 = 120.2564 deg; tan 60.1282 = 1.741036; x 0.0765 = 0.133189.
    assert setback(120.2564, 0.051, 0.0255, "up") == pytest.approx(0.133189, abs=1e-6)


def test_a_closed_hem_eats_about_43_hundredths_of_the_thickness() -> None:
    # 2t - pi t/2 = 0.429204 t, either way.
    for way in ("up", "down"):
        assert deduction(180, 0.0, 0.0255, way) == pytest.approx(0.429204 * 0.0255, abs=1e-8)  # type: ignore[arg-type]


def test_an_open_hem_sets_back_from_its_extreme_edge() -> None:
    # 1/16 gap: r 0.03125, t 0.0239: 0.03125 + 0.0239 = 0.05515 both ways.
    assert setback(180, 0.03125, 0.0239, "up") == pytest.approx(0.05515, abs=1e-12)
    assert setback(180, 0.03125, 0.0239, "down") == pytest.approx(0.05515, abs=1e-12)


def test_no_turn_takes_no_metal() -> None:
    assert allowance(0, 0.05, 0.025) == 0.0
    assert setback(0, 0.05, 0.025, "up") == 0.0


@given(angles, radii, thicknesses)
def test_the_metal_lies_between_the_inside_arc_and_mid_thickness(a: float, r: float, t: float) -> None:
    turn = math.radians(a)
    assert turn * r - 1e-12 <= allowance(a, r, t) <= turn * (r + t / 2) + 1e-12


@given(angles, radii, thicknesses)
def test_a_bend_measured_outside_sets_back_one_thickness_more(a: float, r: float, t: float) -> None:
    more = t * math.tan(math.radians(a) / 2)
    assert setback(a, r, t, "up") - setback(a, r, t, "down") == pytest.approx(more, abs=1e-9, rel=1e-9)


@given(angles, st.floats(0.011, 1.0), thicknesses, st.floats(0.1, 50.0))
def test_scaling_the_drawing_scales_the_deduction(a: float, r: float, t: float, scale: float) -> None:
    assert deduction(a, r * scale, t * scale) == pytest.approx(scale * deduction(a, r, t), abs=1e-9, rel=1e-9)


@pytest.mark.parametrize(
    ("angle", "radius", "thickness"),
    [(-1.0, 0.1, 0.1), (181.0, 0.1, 0.1), (90.0, -0.1, 0.1), (90.0, 0.1, 0.0), (math.nan, 0.1, 0.1)],
)
def test_impossible_bends_are_refused(angle: float, radius: float, thickness: float) -> None:
    with pytest.raises(ValueError, match=r"must|turns"):
        allowance(angle, radius, thickness)
    with pytest.raises(ValueError, match=r"must|turns"):
        setback(angle, radius, thickness, "up")


def test_a_neutral_line_outside_the_metal_is_refused() -> None:
    with pytest.raises(ValueError, match=r"K 0\.6"):
        allowance(90, 0.1, 0.1, k=0.6)
    with pytest.raises(ValueError, match="above 0"):
        din_k(0.0, 1.0)
    with pytest.raises(ValueError, match="above 0"):
        k_factor(0.0, 0.0)
