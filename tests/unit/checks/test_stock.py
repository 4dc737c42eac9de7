"""The narrowest strip that holds a shape, against shapes worked by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright.checks.stock import narrowest
from lapwright.geom.space import Flat


def turned(points: list[Flat], angle: float) -> list[Flat]:
    c, s = math.cos(angle), math.sin(angle)
    return [(c * x - s * y, s * x + c * y) for x, y in points]


def test_a_square_on_its_corner_is_as_wide_as_its_side() -> None:
    # Corners 1 from the centre: side sqrt 2, though it is 2 across as it lies.
    assert narrowest([(1, 0), (0, 1), (-1, 0), (0, -1)]) == pytest.approx(math.sqrt(2))


def test_a_triangle_is_as_wide_as_its_least_height() -> None:
    # 3-4-5: heights 4, 3 and 12/5.
    assert narrowest([(0, 0), (3, 0), (0, 4)]) == pytest.approx(2.4)


def test_a_bite_out_of_the_side_makes_a_blank_no_narrower() -> None:
    u_shape: list[Flat] = [(0, 0), (10, 0), (10, 6), (7, 6), (7, 2), (3, 2), (3, 6), (0, 6)]
    assert narrowest(u_shape) == pytest.approx(6.0)


@given(st.floats(1, 60), st.floats(1, 60), st.floats(0, 2 * math.pi))
def test_turning_a_rectangle_does_not_change_its_width(a: float, b: float, angle: float) -> None:
    box: list[Flat] = [(0, 0), (a, 0), (a, b), (0, b)]
    assert narrowest(turned(box, angle)) == pytest.approx(min(a, b), abs=1e-6)
