"""Labels pushed apart: never closer than asked, never out of the margin, never further than need be."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright.draw.spread import holds, spread

wanted = st.lists(st.floats(0, 400), min_size=1, max_size=40).map(sorted)


def test_two_labels_on_one_spot_part_evenly() -> None:
    # both want 20, pitch 10: 5 either side
    assert spread([20.0, 20.0], 10.0, 0.0, 100.0) == pytest.approx([15.0, 25.0])


def test_labels_at_the_end_of_the_margin_move_inward() -> None:
    # the last may stand at 100, so the others stand at 90 and 80
    assert spread([98.0, 99.0, 100.0], 10.0, 0.0, 100.0) == pytest.approx([80.0, 90.0, 100.0])


def test_labels_with_room_stay_where_they_are() -> None:
    assert spread([5.0, 40.0, 80.0], 10.0, 0.0, 100.0) == [5.0, 40.0, 80.0]


def test_too_many_labels_are_refused() -> None:
    # 11 labels need 10 pitches of 10 = 100; 12 need 110
    assert holds(11, 10.0, 0.0, 100.0)
    assert not holds(12, 10.0, 0.0, 100.0)
    with pytest.raises(ValueError, match="12 labels"):
        spread([1.0] * 12, 10.0, 0.0, 100.0)


@given(wanted)
def test_spread_labels_keep_order_pitch_and_margin(places: list[float]) -> None:
    out = spread(places, 10.0, 0.0, 400.0)
    assert all(b - a >= 10.0 - 1e-9 for a, b in pairwise(out))
    assert out[0] >= -1e-9 and out[-1] <= 400.0 + 1e-9


@given(wanted)
def test_spreading_twice_changes_nothing(places: list[float]) -> None:
    once = spread(places, 10.0, 0.0, 400.0)
    assert spread(once, 10.0, 0.0, 400.0) == pytest.approx(once)
