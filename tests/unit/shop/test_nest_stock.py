"""Which stock is taken: price first, then metal; offcuts, limits, coil by the length, what finds no place."""

from __future__ import annotations

import pytest

from lapwright.shop.nest.check import faults
from lapwright.shop.nest.model import Part, Stock
from lapwright.shop.nest.nest import nest

BOTH = pytest.mark.parametrize("guillotine", [False, True])


@BOTH
def test_the_cheaper_of_two_sheets_that_hold_everything_is_taken(guillotine: bool) -> None:
    parts = (Part("a", 20, 30, 2),)
    stock = (Stock("large", 48, 120, None, 90.0), Stock("small", 48, 36, None, 30.0))
    answer = nest(parts, stock, guillotine)
    assert [s.stock.id for s in answer.sheets] == ["small"]
    assert (answer.value, answer.bound, answer.proved) == (30.0, 30.0, True)


@BOTH
def test_two_small_sheets_beat_a_dear_large_one(guillotine: bool) -> None:
    # Four of 20 x 30: two on each small sheet, 2 x 30 = 60 against 90
    parts = (Part("a", 20, 30, 4),)
    stock = (Stock("large", 48, 120, None, 90.0), Stock("small", 48, 36, None, 30.0))
    answer = nest(parts, stock, guillotine)
    assert ([s.stock.id for s in answer.sheets], answer.value) == (["small", "small"], 60.0)
    assert faults(answer, parts, stock, guillotine) == ()


@BOTH
def test_an_offcut_that_costs_nothing_goes_first(guillotine: bool) -> None:
    # The offcut holds one 20 x 30; the other two take one sheet
    parts = (Part("a", 20, 30, 3),)
    stock = (Stock("sheet", 48, 36, None, 30.0), Stock("offcut", 22, 32, 1, 0.0))
    answer = nest(parts, stock, guillotine)
    assert sorted(s.stock.id for s in answer.sheets) == ["offcut", "sheet"]
    # two sheets' worth of area for 30 is no less than one sheet: the offcut alone is too small
    assert (answer.value, answer.bound, answer.proved) == (30.0, 30.0, True)
    assert faults(answer, parts, stock, guillotine) == ()


@BOTH
def test_coil_by_the_length_is_paid_as_far_as_it_is_used(guillotine: bool) -> None:
    # 100 ft of 48 in coil at 1200: 1 a inch. Four of 24 x 10 in two rows: 20 in, 20.
    parts = (Part("a", 24, 10, 4),)
    stock = (Stock("coil", 48, 1200, 1, 1200.0, by_length=True),)
    answer = nest(parts, stock, guillotine)
    assert (answer.bound_of, answer.value, answer.proved) == ("used_height", 20.0, True)


@BOTH
def test_what_the_stock_has_no_room_for_is_said(guillotine: bool) -> None:
    parts = (Part("a", 10, 10, 5), Part("huge", 90, 90, 1, True))
    stock = (Stock("sheet", 20, 20, 1),)
    answer = nest(parts, stock, guillotine)
    assert answer.unplaced == (("a", 1), ("huge", 1))
    assert not answer.proved
    assert faults(answer, parts, stock, guillotine) == ()


@BOTH
def test_sheets_are_counted_where_no_price_is_named(guillotine: bool) -> None:
    # Five of 6 x 6 on 10 x 10: one on each, though the area of two would do
    answer = nest((Part("a", 6, 6, 5),), (Stock("sheet", 10, 10),), guillotine)
    assert (answer.bound_of, answer.value, answer.bound, answer.proved) == ("sheets", 5, 5, True)


def test_no_stock_at_all_places_nothing() -> None:
    answer = nest((Part("a", 6, 6, 5),), (Stock("sheet", 10, 10, 0),))
    assert (answer.sheets, answer.unplaced, answer.proved) == ((), (("a", 5),), False)
