"""The checker says no: every fault that a nest can have, planted by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from lapwright.shop.nest.check import can_be_sheared, faults
from lapwright.shop.nest.cuts import cut_plan
from lapwright.shop.nest.model import Nest, Part, Placed, Sheet, Stock

SHEET = Stock("sheet", 10, 10, 1)
PARTS = (Part("a", 6, 4, 1), Part("b", 6, 3, 1, True))
A, B = Placed("a", 0, 0, 6, 4), Placed("b", 6, 0, 3, 6, True)
GOOD = Nest((Sheet(SHEET, (A, B)),), (), 6.0, "used_height", False, 6.0)


def with_placed(*placed: Placed) -> Nest:
    return replace(GOOD, sheets=(Sheet(SHEET, placed),))


def test_a_right_nest_has_no_fault() -> None:
    assert faults(GOOD, PARTS, (SHEET,), guillotine=True) == ()


@pytest.mark.parametrize(
    ("nest", "says"),
    [
        (with_placed(A, replace(B, x=5.0)), "overlap"),
        (with_placed(A, replace(B, x=7.5)), "leaves"),
        (with_placed(A, replace(B, y=5.0)), "higher"),
        (with_placed(A), "b: 1 asked, 0 cut"),
        (with_placed(A, B, replace(B, y=6.0, height=3)), "b: 1 asked, 2 cut"),
        (with_placed(replace(A, width=4, height=6, turned=True), B), "a: 4 x 6 is no part"),
        (with_placed(replace(A, width=5.9), B), "no part"),
        (replace(GOOD, sheets=GOOD.sheets * 2), "2 used of 1"),
        (replace(GOOD, unplaced=(("a", 1),)), "1 said to be missing"),
        (replace(GOOD, sheets=(Sheet(replace(SHEET, id="other"), (A, B)),)), "no such stock"),
    ],
)  # fmt: skip
def test_each_planted_fault_is_found(nest: Nest, says: str) -> None:
    assert any(says in fault for fault in faults(nest, PARTS, (SHEET,)))


PINWHEEL = (
    Placed("a", 0, 0, 2, 1), Placed("b", 2, 0, 1, 2), Placed("c", 1, 2, 2, 1),
    Placed("d", 0, 1, 1, 2), Placed("e", 1, 1, 1, 1),
)  # fmt: skip


def test_a_pinwheel_cannot_be_sheared_and_without_one_arm_it_can() -> None:
    assert not can_be_sheared(PINWHEEL)
    assert can_be_sheared(PINWHEEL[1:])
    assert cut_plan(Sheet(Stock("s", 3, 3), PINWHEEL)) is None


def test_cuts_come_in_the_order_of_the_shear_and_offcuts_fill_the_rest() -> None:
    # 10 x 10 with 6 x 4 at the corner and 3 x 6 beside it: across at 6, along at 9, along at 6, across at 4.
    plan = cut_plan(GOOD.sheets[0])
    assert plan is not None
    assert [(c.way, c.at, c.start, c.end) for c in plan.cuts] == [
        ("across", 6, 0, 10), ("along", 9, 0, 6), ("along", 6, 0, 6), ("across", 4, 0, 6),
    ]  # fmt: skip
    # left: 10 x 4 above, 1 x 6 to the right, 6 x 2 over the first part; 40 + 6 + 12 = 100 - 24 - 18
    assert [(o.width, o.height) for o in plan.offcuts] == [(10, 4), (6, 2), (1, 6)]
