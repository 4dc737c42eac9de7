"""Nesting and cutting over random jobs: always valid, never under the bound, always the same."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from lapwright.shop.cut1d.cut import cut
from lapwright.shop.cut1d.model import Bar, Length
from lapwright.shop.nest.check import faults
from lapwright.shop.nest.cuts import cut_plan
from lapwright.shop.nest.model import Part, Stock
from lapwright.shop.nest.nest import nest

MANY = int(os.environ.get("LAPWRIGHT_RANDOM_JOBS", "200"))
SOME_WORK = 60_000

sixteenths = st.integers(4, 500).map(lambda n: n / 16)
amounts = st.one_of(st.none(), st.integers(0, 4))
sizes = st.one_of(sixteenths, st.integers(5, 900).map(lambda n: n / 25.4))


@st.composite
def part_lists(draw: st.DrawFn) -> tuple[Part, ...]:
    rows = draw(st.lists(st.tuples(sizes, sizes, st.integers(1, 5), st.booleans()), min_size=1, max_size=9))
    return tuple(Part(f"p{i}", *row) for i, row in enumerate(rows))


@st.composite
def stock_lists(draw: st.DrawFn) -> tuple[Stock, ...]:
    priced = draw(st.booleans())
    heights = st.sampled_from([20.0, 48.0, 120.0, 12_000.0])
    rows = draw(st.lists(st.tuples(st.integers(6, 60), heights, amounts, st.booleans()), min_size=1, max_size=3))
    prices = [draw(st.integers(0, 40)) * 2.5 if priced else None for _ in rows]
    both = enumerate(zip(rows, prices, strict=True))
    return tuple(Stock(f"s{i}", w, h, n, price, priced and by) for i, ((w, h, n, by), price) in both)


@settings(max_examples=MANY)
@given(part_lists(), stock_lists(), st.booleans())
def test_every_nest_is_right_and_no_lower_than_its_bound(
    parts: tuple[Part, ...], stock: tuple[Stock, ...], guillotine: bool
) -> None:
    answer = nest(parts, stock, guillotine, effort=SOME_WORK)
    assert faults(answer, parts, stock, guillotine) == ()
    assert answer.bound <= answer.value + 1e-6
    if guillotine:
        for sheet in answer.sheets:
            plan = cut_plan(sheet)
            assert plan is not None
            kept = sum(p.width * p.height for p in sheet.placed) + sum(o.width * o.height for o in plan.offcuts)
            # what is thinner than 1/64 stays on the part beside it
            edges = [sheet.stock.width, sheet.stock.height, *(p.width + p.height for p in sheet.placed)]
            slivers = sum(edges) / 64
            assert -1e-6 * kept < sheet.stock.width * sheet.stock.height - kept <= slivers + 1e-6 * kept


def least_by_trying(parts: list[tuple[int, int]], width: int) -> int:
    """The lowest strip by trying every order, each part dropped at every x: enough for a handful."""
    best = sum(h for _, h in parts)
    for order in set(permutations(parts)):
        stack = [((0,) * width, 0)]
        for w, h in order:
            stack = list({_drop(ground, x, w, h): None for ground, _ in stack for x in range(width - w + 1)})
        best = min(best, *(top for _, top in stack))
    return best


def _drop(ground: tuple[int, ...], x: int, w: int, h: int) -> tuple[tuple[int, ...], int]:
    top = max(ground[x : x + w]) + h
    new = (*ground[:x], *([top] * w), *ground[x + w :])
    return new, max(new)


@settings(max_examples=60)
@given(st.lists(st.tuples(st.integers(1, 4), st.integers(1, 4)), min_size=1, max_size=4), st.integers(4, 6))
def test_small_strips_are_as_low_as_every_order_of_dropping_finds(parts: list[tuple[int, int]], width: int) -> None:
    answer = nest([Part(f"p{i}", w, h) for i, (w, h) in enumerate(parts)], [Stock("roll", width, 1000)])
    assert answer.value == least_by_trying(parts, width)
    assert answer.proved
    sheared = nest([Part(f"p{i}", w, h) for i, (w, h) in enumerate(parts)], [Stock("roll", width, 1000)], True)
    # four rectangles or fewer make no pinwheel
    assert sheared.value == answer.value


def fewest_by_trying(lengths: tuple[int, ...], whole: int) -> int:
    """The fewest bars by sharing out pieces one after another, every way."""
    states = {()}
    for x in lengths:
        states = {
            tuple(sorted((*rooms[:i], rooms[i] - x, *rooms[i + 1 :])))
            for rooms in states for i in range(len(rooms)) if rooms[i] >= x
        } | {tuple(sorted((*rooms, whole - x))) for rooms in states}  # fmt: skip
    return min(len(rooms) for rooms in states)


@settings(max_examples=MANY)
@given(st.lists(st.integers(1, 20), min_size=1, max_size=8), st.integers(20, 30))
def test_bars_are_as_few_as_trying_every_way_finds(lengths: list[int], whole: int) -> None:
    answer = cut([Length(f"p{i}", x) for i, x in enumerate(lengths)], [Bar("bar", whole)])
    assert (answer.value, answer.proved) == (fewest_by_trying(tuple(lengths), whole), True)


@settings(max_examples=MANY)
@given(
    st.lists(st.tuples(sixteenths, st.integers(1, 6)), min_size=1, max_size=12),
    st.lists(st.tuples(st.integers(8, 60), amounts, st.integers(0, 50)), min_size=1, max_size=3),
)
def test_every_cutting_is_right_and_costs_no_less_than_its_bound(
    pieces: list[tuple[float, int]], bars: list[tuple[int, int | None, int]]
) -> None:
    parts = [Length(f"p{i}", *row) for i, row in enumerate(pieces)]
    stock = [Bar(f"b{i}", length, n, price / 4) for i, (length, n, price) in enumerate(bars)]
    answer = cut(parts, stock, effort=SOME_WORK)
    size = {p.id: p.length for p in parts}
    for bar in answer.bars:
        assert abs(sum(size[i] for i in bar.pieces) + bar.left - bar.stock.length) < 1e-6
        assert bar.left >= 0
    cut_out = Counter(i for bar in answer.bars for i in bar.pieces)
    missing = dict(answer.unplaced)
    assert all(cut_out[p.id] + missing.get(p.id, 0) == p.quantity for p in parts)
    used = Counter(bar.stock.id for bar in answer.bars)
    assert all(b.quantity is None or used[b.id] <= b.quantity for b in stock)
    assert answer.bound <= answer.value + 1e-6
    assert abs(answer.value - sum(bar.stock.price or 0 for bar in answer.bars)) < 1e-6


SCRIPT = """
from lapwright.shop.nest.model import Part, Stock
from lapwright.shop.nest.nest import nest
from lapwright.shop.cut1d.cut import cut
from lapwright.shop.cut1d.model import Bar, Length
parts = [Part(f"p{i}", 3 + i * 7 % 11, 4 + i * 5 % 13, 1 + i % 3, i % 2 == 0) for i in range(9)]
stock = [Stock("a", 24, 60, 2, 5.0), Stock("b", 30, 40, None, 4.5)]
for way in (False, True):
    print(nest(parts, stock, way, effort=200_000))
    print(nest(parts, [Stock("roll", 24, 9000)], way, effort=200_000))
print(cut([Length(f"p{i}", 5 + i * 17 % 31, 3) for i in range(9)], [Bar("a", 60, None, 3.0), Bar("b", 84, 3, 3.9)]))
"""


def test_the_same_lists_give_the_same_answer_whatever_the_hash_seed() -> None:
    outputs = {
        subprocess.run(
            [sys.executable, "-c", SCRIPT], capture_output=True, text=True, check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    }  # fmt: skip
    assert len(outputs) == 1
