"""Blanks that are no rectangles, paired: hand-worked triangles and trapezoids."""

from __future__ import annotations

import pytest

from lapwright.metal.model import Blank
from lapwright.shop.nest.pairs import Lie, pairs_of


def blank(*outline: tuple[float, float]) -> Blank:
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(outline, (*outline[1:], outline[0]), strict=True))) / 2
    return Blank(outline, (), (), area, max(p[0] for p in outline), max(p[1] for p in outline))


TRIANGLE = blank((0, 0), (30, 0), (0, 20))
LEFT = blank((0, 0), (30, 0), (18, 10), (0, 10))  # one slanted end, 12 in over 10


def test_two_equal_triangles_make_their_rectangle() -> None:
    # each needs 30 x 20 alone; one turned by half fills the other's corner: 30 x 20 for both, 600 saved
    (pair,) = pairs_of([TRIANGLE], [2], turn=False)
    assert (pair.width, pair.height, pair.saved) == (30, 20, pytest.approx(600))
    assert [lie.quarter for lie in pair.lies] == [0, 2]


def test_two_equal_trapezoids_share_their_slanted_ends() -> None:
    # 30 x 10 twice; the second turned by half and slid against the first: 30 + 18 = 48 x 10, 120 saved
    (pair,) = pairs_of([LEFT], [2], turn=False)
    assert (pair.width, pair.height, pair.saved) == (pytest.approx(48), 10, pytest.approx(120))


def test_three_equal_ones_make_one_pair_and_leave_one() -> None:
    assert len(pairs_of([TRIANGLE], [3], turn=False)) == 1
    assert pairs_of([TRIANGLE], [1], turn=False) == ()


def test_rectangles_are_left_alone() -> None:
    assert pairs_of([blank((0, 0), (30, 0), (30, 20), (0, 20))], [4], turn=True) == ()


def test_a_left_and_a_right_hand_triangle_pair_along_their_slanted_sides_when_one_is_turned() -> None:
    # (0,0) (30,0) (0,20) and its mirror (0,0) (30,0) (30,20). Slanted side on slanted side without turning over
    # leaves no rectangle, but on their upright sides they make one gable, and side by side they save what can be:
    # whatever is found, the two must not overlap and must lie in the rectangle.
    mirror = blank((0, 0), (30, 0), (30, 20))
    for pair in pairs_of([TRIANGLE, mirror], [1, 1], turn=True):
        assert pair.saved > 0
        for lie, one in zip(pair.lies, (TRIANGLE, mirror), strict=True):
            for p in one.outline:
                x, y = lie.at(p, one.width, one.height)
                assert -1e-9 <= x <= pair.width + 1e-9
                assert -1e-9 <= y <= pair.height + 1e-9


@pytest.mark.parametrize(("quarter", "expected"), [(0, (3, 1)), (1, (19, 3)), (2, (27, 19)), (3, (1, 27))])
def test_quarter_turns_go_counter_clockwise_about_the_rectangle(quarter: int, expected: tuple[float, float]) -> None:
    # the point (3, 1) of a 30 x 20 blank
    assert Lie(quarter).at((3, 1), 30, 20) == expected
