"""Bounds: hand-worked, and each counting function held against every row of a small width."""

from __future__ import annotations

import pytest

from lapwright.shop.nest.bounds import counts, fewest_sheets, lowest_cost, lowest_height
from lapwright.shop.nest.grid import Box, Kind


def rows(width: int, least: int = 1) -> list[tuple[int, ...]]:
    """Every row of lengths that fits a width, longest last."""
    out: list[tuple[int, ...]] = [()]
    for length in range(least, width + 1):
        out += [(length, *row) for row in rows(width - length, length)]
    return out


@pytest.mark.parametrize("width", range(1, 15))
def test_no_row_that_fits_counts_more_than_the_width(width: int) -> None:
    every = rows(width)
    for count, whole in counts(width, range(1, width + 1)):
        assert max(sum(count(x) for x in row) for row in every) <= whole


def test_wide_parts_stand_on_one_another() -> None:
    # Three of 6 x 5 on 10: no two side by side, 15 high; their area says 9
    assert lowest_height(10, (Kind(6, 5, False, 3),)) == 15


def test_a_part_that_may_turn_counts_the_way_that_asks_less() -> None:
    # 6 x 5 may lie 5 wide: two side by side, so three take 12 at least one way; area alone says 9, no more is claimed
    assert 9 <= lowest_height(10, (Kind(5, 6, True, 3),)) <= 12


def test_heights_come_in_whole_shares() -> None:
    # Four of 6 wide, 4 high on 7 wide ask 16; with 13 of area over 7 the next whole height of 4 counts
    assert lowest_height(13, (Kind(6, 4, False, 5),)) == 12  # 120 / 13 = 9.2, then up to a multiple of 4


def test_five_squares_of_six_ask_five_sheets_of_ten() -> None:
    assert fewest_sheets(Box(10, 10, 9, 1.0), (Kind(6, 6, False, 5),)) == 5


def test_the_cheapest_mix_of_whole_sheets_bounds_the_price() -> None:
    # Area 250: large 100 for 10, small 60 for 7. 2 large and 1 small hold 260 for 27; 3 large 300 for 30.
    kinds = (Kind(5, 5, False, 10),)
    boxes = (Box(10, 10, 99, 10.0), Box(10, 6, 99, 7.0))
    assert lowest_cost(boxes, kinds) == 27.0


def test_a_part_that_only_the_dear_sheet_holds_asks_for_it() -> None:
    boxes = (Box(10, 10, 9, 1.0), Box(20, 20, 9, 50.0))
    assert lowest_cost(boxes, (Kind(15, 1, False, 1),)) == 50.0
