"""Lines and polygons in a plane, on figures that can be checked on squared paper."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright.geom.flat import crossing, cut_by, extent, heading, same, signed_area, tidy, turn

SQUARE = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
numbers = st.floats(-100, 100)


def test_a_square_4_on_a_side_encloses_16_whichever_way_it_runs() -> None:
    assert signed_area(SQUARE) == 16.0
    assert signed_area(SQUARE[::-1]) == -16.0


def test_a_left_turn_is_positive() -> None:
    assert turn((1.0, 0.0), (0.0, 2.0)) == 2.0
    assert turn((1.0, 0.0), (0.0, -2.0)) == -2.0


def test_two_lines_meet_where_squared_paper_says() -> None:
    # y = x and y = 6 - x / 2 meet at x = 4.
    assert crossing((0.0, 0.0), (1.0, 1.0), (0.0, 6.0), (2.0, -1.0)) == pytest.approx((4.0, 4.0))


def test_parallel_lines_never_meet() -> None:
    assert crossing((0.0, 0.0), (1.0, 1.0), (0.0, 1.0), (2.0, 2.0)) is None


def test_tidy_drops_repeats_and_points_on_a_straight_run() -> None:
    ring = [(0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
    assert tidy(ring) == SQUARE


def test_tidy_keeps_the_tip_of_a_run_that_turns_straight_back() -> None:
    # Out to 6 and back along the same line: the tip is a corner, not a point on the way.
    ring = [(0.0, 0.0), (6.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
    assert (6.0, 0.0) in tidy(ring)


def test_the_extent_of_a_triangle() -> None:
    assert extent([(1.0, 2.0), (5.0, -3.0), (2.0, 7.0)]) == (1.0, -3.0, 5.0, 7.0)


def test_a_square_cut_along_its_diagonal_keeps_half() -> None:
    kept = cut_by(SQUARE, (0.0, 0.0), (1.0, -1.0))
    assert signed_area(kept) == pytest.approx(8.0)
    assert (4.0, 0.0) in kept


def test_a_line_that_misses_keeps_all_or_nothing() -> None:
    assert cut_by(SQUARE, (-1.0, 0.0), (1.0, 0.0)) == SQUARE
    assert cut_by(SQUARE, (5.0, 0.0), (1.0, 0.0)) == []


@given(numbers, numbers, numbers, numbers)
def test_a_heading_has_length_1_and_points_from_a_to_b(ax: float, ay: float, bx: float, by: float) -> None:
    a, b = (ax, ay), (bx, by)
    if math.dist(a, b) < 1e-3:
        return
    d = heading(a, b)
    assert math.hypot(*d) == pytest.approx(1.0)
    assert same((a[0] + d[0] * math.dist(a, b), a[1] + d[1] * math.dist(a, b)), b)


@given(st.floats(0.1, 3.9), st.floats(0, 2 * math.pi))
def test_both_halves_of_a_cut_make_the_whole(at: float, angle: float) -> None:
    inward = (math.cos(angle), math.sin(angle))
    ones = [cut_by(SQUARE, (at, 2.0), n) for n in (inward, (-inward[0], -inward[1]))]
    assert sum(signed_area(r) for r in ones if r) == pytest.approx(16.0, abs=1e-4)
