"""Free cuts: hand-worked strips, the open sets' optima, turning."""

from __future__ import annotations

from pathlib import Path

import pytest

from lapwright.shop.nest.check import can_be_sheared, faults
from lapwright.shop.nest.model import Part, Stock
from lapwright.shop.nest.nest import nest

DATA = Path(__file__).parents[2] / "data" / "strip"
ROLL = 100_000.0


def instance(name: str) -> tuple[tuple[Part, ...], Stock, float]:
    """Parts that may turn, the roll, and the known least height."""
    rows = [line.split(",") for line in (DATA / f"{name}_items.csv").read_text().split()[1:]]
    _, width, height = (DATA / f"{name}_bins.csv").read_text().split()[1].split(",")
    parts = tuple(Part(i, float(w), float(h), 1, True) for i, w, h in rows)
    return parts, Stock("roll", float(width), ROLL), float(height)


def test_four_squares_lie_two_by_two() -> None:
    # 20 wide: two squares of 10 side by side, twice; area 400 / 20 = 20 high, so 20 is proved
    parts = (Part("a", 10, 10, 4),)
    answer = nest(parts, (Stock("roll", 20, ROLL),))
    assert (answer.bound_of, answer.bound, answer.value, answer.proved) == ("used_height", 20.0, 20.0, True)
    assert faults(answer, parts, (Stock("roll", 20, ROLL),)) == ()


def test_a_part_is_turned_only_where_it_may_be() -> None:
    # 30 x 10 goes on a 12 in roll only turned
    stock = (Stock("roll", 12, ROLL),)
    turned = nest((Part("a", 30, 10, 1, True),), stock)
    assert [(p.width, p.height, p.turned) for p in turned.sheets[0].placed] == [(10, 30, True)]
    fixed = nest((Part("a", 30, 10, 1, False),), stock)
    assert (fixed.sheets, fixed.unplaced) == ((), (("a", 1),))


def test_a_pinwheel_is_packed_by_free_cuts_and_by_no_shear() -> None:
    # Round a 1 x 1 in a 3 x 3: 2 x 1 below and above, 1 x 2 left and right. Straight cuts: a first cut at 1 or 2
    # leaves a 3 x 1 filled by 2 x 1 and 1 x 1, then 2 x 1, 1 x 2, 1 x 2 on 3 x 2, which no cut parts. So 4.
    parts = (Part("flat", 2, 1, 2), Part("upright", 1, 2, 2), Part("middle", 1, 1, 1))
    stock = (Stock("roll", 3, ROLL),)
    free, sheared = nest(parts, stock), nest(parts, stock, guillotine=True)
    assert (free.value, free.proved) == (3.0, True)
    assert not can_be_sheared(free.sheets[0].placed)
    assert (sheared.value, sheared.bound, sheared.proved) == (4.0, 4.0, True)
    assert faults(sheared, parts, stock, guillotine=True) == ()


@pytest.mark.parametrize("name", ["C1_1", "C1_2", "C3_2", "C5_1"])
def test_open_sets_reach_their_known_least_height(name: str) -> None:
    # Hopper and Turton (2001): each set was cut from one rectangle, so its height is the optimum
    parts, roll, height = instance(name)
    answer = nest(parts, (roll,))
    assert (answer.value, answer.proved) == (height, True)
    assert faults(answer, parts, (roll,)) == ()


def test_a_small_job_is_proved_where_area_proves_nothing() -> None:
    # Three 4 x 4 on 7: no two side by side, so 12 high; area says 48 / 7 = 7
    answer = nest((Part("a", 4, 4, 3, True),), (Stock("roll", 7, ROLL),))
    assert (answer.value, answer.bound, answer.proved) == (12.0, 12.0, True)
    # 5 x 3 twice and 3 x 5 twice on 8: a pinwheel round a hole of 2 x 2 is 8 high, and 60 / 8 = 7.5. No shear cuts
    # it: a row of both 3 x 5 is 5, then 3 + 3; or two columns, 5 and 3 wide, of 3 + 3 and 5 + 5. So 10 or 11: 10.
    parts, stock = (Part("a", 5, 3, 2), Part("b", 3, 5, 2)), (Stock("roll", 8, ROLL),)
    free, sheared = nest(parts, stock), nest(parts, stock, guillotine=True)
    assert (free.value, free.proved) == (8.0, True)
    assert (sheared.value, sheared.proved) == (10.0, True)


def test_lengths_in_sixteenths_and_in_millimetres_come_back_as_they_were() -> None:
    parts = (Part("a", 10.0625, 3.1875, 3), Part("b", 100 / 25.4, 50 / 25.4, 4))
    answer = nest(parts, (Stock("coil", 24, 1200),))
    sizes = {(p.id, p.width * 25.4, p.height) for p in answer.sheets[0].placed if p.id == "b"}
    assert {(p.width, p.height) for p in answer.sheets[0].placed if p.id == "a"} == {(10.0625, 3.1875)}
    assert {(key, round(w, 9), round(h * 25.4, 9)) for key, w, h in sizes} == {("b", 100.0, 50.0)}


def test_ten_of_100_mm_fit_a_sheet_of_a_metre() -> None:
    # 3.937... in ten times is 39.37... in: rounding may not lose the tenth
    answer = nest((Part("a", 100 / 25.4, 20 / 25.4, 10),), (Stock("sheet", 1000 / 25.4, 20 / 25.4, 1),))
    assert answer.unplaced == ()
