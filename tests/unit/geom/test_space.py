"""Points, planes and frames in space."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright.geom.space import Frame, Plane, X, Y, Z, add, cross, distance, dot, meet, norm, plane, sub, unit

points = st.tuples(*[st.floats(-50, 50)] * 3)


def test_three_planes_meet_where_their_equations_say() -> None:
    # x = 2, y = 3, and x + y + z = 10 give z = 5.
    a, b = Plane((2.0, 0.0, 0.0), X), Plane((0.0, 3.0, 0.0), Y)
    c = plane((10.0, 0.0, 0.0), (1.0, 1.0, 1.0))
    assert meet(a, b, c) == pytest.approx((2.0, 3.0, 5.0))


def test_planes_without_a_common_point_are_refused() -> None:
    with pytest.raises(ValueError, match="without a common point"):
        meet(Plane((0.0, 0.0, 0.0), X), Plane((1.0, 0.0, 0.0), X), Plane((0.0, 0.0, 0.0), Z))


def test_a_vector_without_length_has_no_direction() -> None:
    with pytest.raises(ValueError, match="no direction"):
        unit((0.0, 0.0, 0.0))


def test_an_offset_plane_lies_that_far_along_the_normal() -> None:
    # Normal (0, 3, 4) / 5; 10 along it from the origin is (0, 6, 8).
    moved = plane((0.0, 0.0, 0.0), (0.0, 3.0, 4.0)).offset(10.0)
    assert moved.point == pytest.approx((0.0, 6.0, 8.0))
    assert moved.height((0.0, 0.0, 0.0)) == pytest.approx(-10.0)


def test_x_by_y_is_z() -> None:
    assert cross(X, Y) == Z
    assert Frame((0.0, 0.0, 0.0), X, Y).ez == Z


@given(points, points)
def test_the_vector_product_is_square_to_both(a: tuple[float, float, float], b: tuple[float, float, float]) -> None:
    c = cross(a, b)
    assert dot(a, c) == pytest.approx(0.0, abs=1e-6)
    assert dot(b, c) == pytest.approx(0.0, abs=1e-6)
    assert norm(c) ** 2 + dot(a, b) ** 2 == pytest.approx(dot(a, a) * dot(b, b), rel=1e-6, abs=1e-6)


@given(points, st.floats(-math.pi, math.pi), points)
def test_a_frame_gives_a_point_back(
    origin: tuple[float, float, float], angle: float, p: tuple[float, float, float]
) -> None:
    frame = Frame(origin, (math.cos(angle), math.sin(angle), 0.0), (-math.sin(angle), math.cos(angle), 0.0))
    u, v = frame.flat(p)
    height = dot(sub(p, origin), frame.ez)
    assert distance(frame.space((u, v), height), p) == pytest.approx(0.0, abs=1e-9)
    assert distance(add(origin, p), origin) == pytest.approx(norm(p))
