"""From inches to points, with and without a break."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright.draw.axis import broken, moved, plain


def test_a_plain_axis_is_one_scale() -> None:
    # 10 pt to the inch from 100: 7 in lies at 170
    axis = plain(0.0, 20.0, 100.0, 10.0)
    assert [axis(0.0), axis(7.0), axis(20.0)] == [100.0, 170.0, 200.0 + 100.0]


def test_a_break_takes_the_excess_out_of_the_longest_run_only() -> None:
    # 60 in at 10 pt = 600; 400 at hand, so 200 go. The run 5..55 shows 500 - 200 = 300, its ends keep 10 pt/in
    axis = broken(0.0, 60.0, [(0.0, 5.0), (5.0, 55.0)], 10.0, 400.0)
    assert axis is not None
    assert [axis(0.0), axis(5.0), axis(55.0), axis(60.0)] == pytest.approx([0.0, 50.0, 350.0, 400.0])
    assert axis.breaks == pytest.approx((200.0,))


def test_what_cannot_be_shortened_enough_is_not_broken() -> None:
    assert broken(0.0, 60.0, [(0.0, 5.0)], 10.0, 400.0) is None


def test_moving_an_axis_moves_its_breaks() -> None:
    axis = broken(0.0, 60.0, [(5.0, 55.0)], 10.0, 400.0)
    assert axis is not None and moved(axis, 7.0).breaks == pytest.approx((207.0,))
    assert moved(axis, 7.0)(60.0) == pytest.approx(407.0)


@given(st.lists(st.floats(0.5, 50), min_size=2, max_size=8), st.floats(5, 20))
def test_a_broken_axis_rises_all_the_way(runs: list[float], scale: float) -> None:
    stops = [0.0]
    for run in runs:
        stops.append(stops[-1] + run)
    axis = broken(0.0, stops[-1], list(pairwise(stops)), scale, 400.0)
    if axis is not None:
        places = [axis(s) for s in stops]
        assert places == sorted(places) and places[-1] <= 400.0 + 1e-6
