"""Cutting to length: hand-worked bars, prices, leftovers, and the open triplets."""

from __future__ import annotations

from pathlib import Path

import pytest

from lapwright.shop.cut1d.cut import cut
from lapwright.shop.cut1d.model import Bar, Length

TRIPLETS = Path(__file__).parents[2] / "data" / "cut1d" / "binpack5.txt"


def test_three_gutters_from_ten_foot_lengths() -> None:
    # 66 + 54, 78 + 42, 30: two full bars and a third with 90 left
    parts = [Length(str(x), x) for x in (66, 54, 78, 42, 30)]
    answer = cut(parts, [Bar("gutter", 120)])
    assert [(b.pieces, b.left) for b in answer.bars] == [(("78", "42"), 0), (("66", "54"), 0), (("30",), 90)]
    assert (answer.bound_of, answer.value, answer.bound, answer.proved) == ("bars", 3, 3, True)


def test_first_fit_would_take_one_bar_more() -> None:
    # 60 50 40 30 30 30 on 120: 60 + 30 + 30, 50 + 40 + 30, both full. Longest first into the fullest bar: 60 + 50,
    # 40 + 30 + 30, 30: three.
    parts = [Length("a", 60), Length("b", 50), Length("c", 40), Length("d", 30, 3)]
    answer = cut(parts, [Bar("bar", 120)])
    assert (answer.value, answer.proved) == (2, True)


def test_a_bound_above_the_area_is_proved() -> None:
    # Three of 61 from 120: one a bar, though 183 would go into two
    answer = cut([Length("a", 61, 3)], [Bar("bar", 120)])
    assert (answer.value, answer.bound, answer.proved) == (3, 3, True)


def test_the_mix_of_lengths_that_costs_least_is_bought() -> None:
    # 2 x 100 and 2 x 60. Four bars of 120 at 10 cost 40 or, 60 + 60 together, three cost 30.
    # One 240 at 19 takes 100 + 60 + 60 (20 left), one 120 the other 100: 29. Two 240: 38.
    parts = [Length("long", 100, 2), Length("short", 60, 2)]
    answer = cut(parts, [Bar("ten", 120, None, 10.0), Bar("twenty", 240, None, 19.0)])
    assert (answer.bound_of, answer.value, answer.proved) == ("price", 29.0, True)
    assert sorted(b.stock.id for b in answer.bars) == ["ten", "twenty"]


def test_an_offcut_at_no_price_is_used_up_first() -> None:
    answer = cut([Length("a", 50, 3)], [Bar("bar", 120, None, 10.0), Bar("offcut", 55, 1, 0.0)])
    assert (answer.value, answer.proved) == (10.0, True)
    assert sorted(b.stock.id for b in answer.bars) == ["bar", "offcut"]


def test_one_long_leftover_is_better_than_two_short_ones() -> None:
    # 40 40 40 40 40 30 on 120 asks two bars (230 of 240): 3 x 40 full and 10 left, not 5 and 5 or 40 + 40 + 30
    answer = cut([Length("a", 40, 5), Length("b", 30)], [Bar("bar", 120)])
    assert sorted(b.left for b in answer.bars) == [0, 10]
    # 30 30 50 50 on 100 asks two: 50 + 50 full leaves 40 in one piece, not 20 and 20
    answer = cut([Length("a", 50, 2), Length("b", 30, 2)], [Bar("bar", 100)])
    assert sorted(b.left for b in answer.bars) == [0, 40]


def test_what_no_bar_is_long_enough_for_is_said() -> None:
    answer = cut([Length("a", 121), Length("b", 50)], [Bar("bar", 120)])
    assert (answer.unplaced, answer.proved) == ((("a", 1),), False)
    assert [b.pieces for b in answer.bars] == [("b",)]


def test_too_few_bars_cut_what_they_can() -> None:
    answer = cut([Length("a", 70, 3)], [Bar("bar", 120, 2)])
    assert (len(answer.bars), answer.unplaced) == (2, (("a", 1),))


def test_all_the_bars_there_are_can_be_needed_in_just_the_right_way() -> None:
    # 65 + 55, 75 + 45 from two 120s, 80 from the 80: longest first puts 80 into a 120 and gets stuck
    parts = [Length(str(x), x) for x in (80, 75, 65, 55, 45)]
    answer = cut(parts, [Bar("ten", 120, 2), Bar("eighty", 80, 1)])
    assert answer.unplaced == ()


def instances() -> list[tuple[str, float, int, list[float]]]:
    lines = TRIPLETS.read_text().split("\n")
    out, at = [], 1
    for _ in range(int(lines[0])):
        whole, count, best = lines[at + 1].split()
        sizes = [float(x) for x in lines[at + 2 : at + 2 + int(count)]]
        out.append((lines[at].strip(), float(whole), int(best), sizes))
        at += 2 + int(count)
    return out


@pytest.mark.parametrize("instance", instances(), ids=lambda i: i[0])
def test_the_open_triplets_are_solved_and_proved(instance: tuple[str, float, int, list[float]]) -> None:
    # Falkenauer (1996), best known 20 bars, three pieces in each with nothing left
    _, whole, best, sizes = instance
    answer = cut([Length(str(i), x) for i, x in enumerate(sizes)], [Bar("bar", whole)])
    assert (answer.value, answer.proved) == (best, True)
    assert max(b.left for b in answer.bars) == 0
