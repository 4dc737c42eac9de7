"""A polygon in bands: nothing lost, nothing twice, each rim's pieces named by the side they lie on."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon
from shapely.ops import unary_union

from lapwright.geom.bands import CUT, cut_in_bands
from lapwright.geom.flat import signed_area


def star(seed: int, corners: int) -> list[tuple[float, float]]:
    """A simple polygon round (150, 100), on eighths of an inch."""
    rng = random.Random(seed)
    angles = sorted(rng.uniform(0, 2 * math.pi) for _ in range(corners))
    points = [(150 + rng.uniform(20, 140) * math.cos(a), 100 + rng.uniform(20, 95) * math.sin(a)) for a in angles]
    return [(round(x * 8) / 8, round(y * 8) / 8) for x, y in points]


def test_a_notch_parts_a_band_in_two_and_joins_it_again() -> None:
    # A square of 40 with a slot 10 <= y <= 20 from its right side in to x = 15. Band 20..40 has two parts:
    # 20 x 10 below the slot and 20 x 20 above it; band 0..20 has one: 20 x 40 less 5 x 10.
    slot = [(40.0, 10.0), (15.0, 10.0), (15.0, 20.0), (40.0, 20.0)]
    ring = [(0.0, 0.0), (40.0, 0.0), *slot, (40.0, 40.0), (0.0, 40.0)]
    parts = cut_in_bands(ring, (0.0, 20.0, 40.0))
    assert [(p.band, signed_area(p.ring)) for p in parts] == [(0, 750.0), (1, 200.0), (1, 400.0)]


def test_the_pieces_of_a_rim_know_their_side() -> None:
    # A right triangle cut at x = 6 of 12: the left part has the foot (side 0), the cut, and two pieces of others.
    ring = [(0.0, 0.0), (12.0, 0.0), (0.0, 12.0)]
    left, right = cut_in_bands(ring, (0.0, 6.0, 12.0))
    assert left.rim == (
        ((0.0, 0.0), (6.0, 0.0), 0), ((6.0, 0.0), (6.0, 6.0), CUT),
        ((6.0, 6.0), (0.0, 12.0), 1), ((0.0, 12.0), (0.0, 0.0), 2),
    )  # fmt: skip
    assert [side for _, _, side in right.rim] == [0, 1, CUT]


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 10**6), st.integers(3, 14), st.floats(8, 36), st.floats(0, 8))
def test_bands_of_any_polygon_fill_it_and_share_nothing(seed: int, corners: int, wide: float, first: float) -> None:
    ring = star(seed, corners)
    shape = Polygon(ring)
    if not shape.is_valid or shape.area < 1 or not shape.exterior.is_simple:
        return
    if signed_area(ring) < 0:
        ring.reverse()
    lines = [0.0, *(first + k * wide for k in range(1, 40) if first + k * wide < 300), 300.0]
    parts = cut_in_bands(ring, lines)
    assert sum(signed_area(p.ring) for p in parts) == pytest.approx(shape.area, abs=1e-6 * shape.area + 1e-4)
    shapes = [Polygon(p.ring) for p in parts]
    assert all(s.is_valid for s in shapes)
    assert unary_union(shapes).symmetric_difference(shape).area == pytest.approx(0.0, abs=1e-3)
    for part in parts:
        assert all(lines[part.band] - 1e-6 <= x <= lines[part.band + 1] + 1e-6 for x, _ in part.ring)
