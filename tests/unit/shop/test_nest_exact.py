"""Proved nests: hand-worked ones, the two kinds of cut against each other, and what cannot be proved."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_nest import least_by_trying

from lapwright.shop.nest.check import faults
from lapwright.shop.nest.exact import NotExact, prover
from lapwright.shop.nest.exact_free import prove_free
from lapwright.shop.nest.exact_straight import prove_straight
from lapwright.shop.nest.grid import Box, Kind
from lapwright.shop.nest.model import Nest, Part, Stock
from lapwright.shop.nest.nest import nest
from lapwright.shop.nest.sheets import Plan
from lapwright.shop.nest.strip import top_of

LITTLE = 3_000
"""So little work that the heuristics often miss the best."""


def proved(parts: list[Part], stock: list[Stock], guillotine: bool) -> Nest:
    answer = nest(parts, stock, guillotine, LITTLE, prove=prover(guillotine))
    assert faults(answer, parts, stock, guillotine) == ()
    assert answer.proved
    return answer


def test_a_pinwheel_is_lower_by_free_cuts_than_by_straight_ones() -> None:
    # four of 1 x 2 round one of 1 x 1 fill 3 x 3; no straight cut parts them, so a shear needs a fourth row
    parts = [Part("flat", 2, 1, 2), Part("tall", 1, 2, 2), Part("middle", 1, 1)]
    roll = [Stock("roll", 3, 100)]
    assert [proved(parts, roll, guillotine).value for guillotine in (False, True)] == [3, 4]


@pytest.mark.parametrize("guillotine", [False, True])
def test_the_cheapest_sheets_are_found(guillotine: bool) -> None:
    # three of 10 x 10: on a they lie one to a sheet (3 x 4), on b two (2 x 7); one b and one a cost 11
    stock = [Stock("a", 10, 12, None, 4.0), Stock("b", 10, 20, None, 7.0)]
    answer = proved([Part("p", 10, 10, 3)], stock, guillotine)
    assert (answer.value, answer.bound_of) == (11.0, "price")


@pytest.mark.parametrize("guillotine", [False, True])
def test_sheets_alike_are_counted(guillotine: bool) -> None:
    # five of 6 x 6 on 12 x 10: two to a sheet
    answer = proved([Part("p", 6, 6, 5)], [Stock("a", 12, 10)], guillotine)
    assert (answer.value, answer.bound_of, len(answer.sheets)) == (3, "sheets", 3)


def test_straight_cuts_leave_out_the_least_where_the_stock_is_too_little() -> None:
    # one sheet of 10 x 10 takes 10 x 6 and 10 x 4, never 10 x 6 and 10 x 5
    parts = [Part("a", 10, 6), Part("b", 10, 5), Part("c", 10, 4)]
    answer = nest(parts, [Stock("s", 10, 10, 1)], True, LITTLE, prove=prover(True))
    assert (answer.unplaced, answer.proved) == ((("b", 1),), False)


def poor(kinds: Sequence[Kind], boxes: Sequence[Box]) -> Plan:
    """A plan that any search beats: one rectangle on the other, on the first row of the stock."""
    spots, y = [], 0
    for n, kind in enumerate(kinds):
        for _ in range(kind.count):
            spots.append((n, 0, y, kind.width, kind.height))
            y += kind.height
    return Plan([(0, tuple(spots))], [0] * len(kinds), 0, 0.0)


def alike(rows: Sequence[tuple[int, int]]) -> list[Kind]:
    return [Kind(w, h, False, n) for (w, h), n in Counter(rows).items()]


few = st.lists(st.tuples(st.integers(1, 4), st.integers(1, 4)), min_size=1, max_size=4)


@settings(max_examples=40)
@given(few, st.integers(4, 6))
def test_a_poor_strip_becomes_as_low_as_every_order_of_dropping_finds(
    rows: list[tuple[int, int]], width: int
) -> None:
    kinds, boxes = alike(rows), [Box(width, 1000, 1, 1.0)]
    for prove in (prove_straight, prove_free):
        plan = prove(poor(kinds, boxes), boxes, kinds)
        # four rectangles or fewer make no pinwheel
        least = least_by_trying(rows, width)
        assert (top_of(plan.sheets[0][1]), plan.low) == (least, least)


def shared_out(rows: list[tuple[int, int]]) -> Iterator[list[list[tuple[int, int]]]]:
    """Every way to part a list into heaps."""
    if not rows:
        yield []
        return
    for heaps in shared_out(rows[1:]):
        yield [[rows[0]], *heaps]
        for i, heap in enumerate(heaps):
            yield [*heaps[:i], [rows[0], *heap], *heaps[i + 1 :]]


def cheapest_by_trying(rows: list[tuple[int, int]], boxes: Sequence[Box]) -> float:
    def of(heap: list[tuple[int, int]]) -> float:
        wide = max(w for w, _ in heap)
        return min(
            (b.cost for b in boxes if wide <= b.width and least_by_trying(heap, b.width) <= b.height), default=1e9
        )

    return min(sum(of(heap) for heap in heaps) for heaps in shared_out(rows))


@settings(max_examples=25)
@given(few, st.integers(1, 9), st.integers(1, 9))
def test_a_poor_plan_becomes_as_cheap_as_every_way_to_share_out_finds(
    rows: list[tuple[int, int]], one: int, two: int
) -> None:
    kinds = alike(rows)
    boxes = [Box(4, 20, 4, 50.0), Box(5, 4, 4, float(one)), Box(4, 6, 4, float(two))]
    for prove in (prove_straight, prove_free):
        plan = prove(poor(kinds, boxes), boxes, kinds)
        assert (plan.cost(boxes), plan.least) == (pytest.approx(cheapest_by_trying(rows, boxes)),) * 2


sizes = st.tuples(st.integers(2, 12), st.integers(2, 14), st.booleans())


@settings(max_examples=25)
@given(st.lists(sizes, min_size=5, max_size=7), st.integers(12, 20))
def test_no_heuristic_beats_a_proof_and_no_shear_beats_free_cuts(
    rows: list[tuple[int, int, bool]], width: int
) -> None:
    parts = [Part(f"p{i}", w, h, 1, turn) for i, (w, h, turn) in enumerate(rows)]
    roll = [Stock("roll", width, 1000)]
    free, straight = (proved(parts, roll, g).value for g in (False, True))
    assert free <= straight
    for guillotine, least in ((False, free), (True, straight)):
        assert nest(parts, roll, guillotine, LITTLE).value >= least
        assert nest(parts, roll, guillotine, LITTLE).bound <= least


def test_the_same_list_is_proved_the_same_way() -> None:
    parts = [Part(f"p{i}", 3 + i * 7 % 11, 4 + i * 5 % 13, 1, i % 2 == 0) for i in range(9)]
    stock = [Stock("a", 20, 30, 2, 5.0), Stock("b", 24, 40, None, 8.5)]
    for guillotine in (False, True):
        assert proved(parts, stock, guillotine) == proved(parts, stock, guillotine)


def test_too_many_pieces_are_refused_with_their_number() -> None:
    with pytest.raises(NotExact) as refused:
        nest([Part("p", 3, 4, 13)], [Stock("roll", 7, 100)], True, LITTLE, prove=prover(True))
    assert (refused.value.key, refused.value.values) == ("nest.exact_pieces", {"given": 13, "most": 12})


def test_sizes_without_a_common_step_are_refused() -> None:
    parts = [Part("a", 1000.0000001, 2000.123457), Part("b", 700.7654321, 1234.5678), Part("c", 800, 3000.3)]
    with pytest.raises(NotExact) as refused:
        nest(parts, [Stock("roll", 1500, 100_000)], False, LITTLE, prove=prover(False))
    assert refused.value.key == "nest.exact_step"


def test_without_the_solver_free_cuts_say_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "ortools.sat.python", None)
    parts = [Part("flat", 2, 1, 2), Part("tall", 1, 2, 2), Part("big", 3, 3, 2), Part("odd", 2, 2, 3)]
    with pytest.raises(NotExact) as refused:
        nest(parts, [Stock("sheet", 5, 5)], False, 10, prove=prover(False))
    assert refused.value.key == "nest.exact_missing"
