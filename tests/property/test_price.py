"""Whatever a shop asks for its work, the quote adds up; more waste never costs less; units change nothing."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lapwright.job import Job, run
from lapwright.shop.hours import labour_lines
from lapwright.shop.price import Quote, price
from lapwright.shop.price_list import Rates, packaged
from lapwright.shop.takeoff import take_off
from lapwright.site.model import Shop
from lapwright.site.read import read_job

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/job.toml"))
CASES = [p.parent.name for p in EXAMPLES]
MONEY = st.integers(0, 200_000).map(lambda cents: cents / 100)
SHARES = st.integers(0, 10_000).map(lambda hundredths: hundredths / 100)


@cache
def job(case: str) -> Job:
    (path,) = (p for p in EXAMPLES if p.parent.name == case)
    return run(read_job(path.read_text(encoding="utf-8"), path.name))


def quoted(case: str, shop: Shop, rates: Rates | None = None) -> Quote:
    """The quote for another shop, without planning the roof again."""
    j, stood = job(case), rates or packaged()
    site = replace(j.site, shop=shop)
    lines = take_off(site, j.layout, j.detail, j.pieces, j.panels, (), stood)
    return price(site, (*lines, *labour_lines(site, j.pieces, j.panels, j.works, stood)), stood)


@st.composite
def shops(draw: st.DrawFn) -> Shop:
    """Any legal rate, waste, markup and tax."""
    return Shop(labour_rate=draw(MONEY) / 2, waste=draw(SHARES), markup=3 * draw(SHARES), tax=draw(SHARES) / 2)


@st.composite
def rates(draw: st.DrawFn) -> Rates:
    """Any legal prices and times."""
    rows = {key: draw(MONEY) if key.startswith(("prices", "metals")) else v for key, v in packaged().rows.items()}
    return Rates("", rows, frozenset(rows))


@given(st.sampled_from(CASES), shops(), rates())
@settings(max_examples=40)
def test_the_totals_add_up_to_the_hundredth(case: str, shop: Shop, mine: Rates) -> None:
    q = quoted(case, shop, mine)
    assert sum((x.amount for x in q.lines), Decimal(0)) + sum((x.waste for x in q.lines), Decimal(0)) == q.subtotal
    assert q.materials + q.waste + q.labour == q.subtotal
    assert q.subtotal + q.markup + q.tax == q.total
    assert all(m == m.quantize(Decimal("0.01")) for m in (q.subtotal, q.markup, q.tax, q.total))
    half = Decimal("0.005")
    assert abs(q.markup - q.subtotal * Decimal(repr(shop.markup)) / 100) <= half
    assert abs(q.tax - (q.subtotal + q.markup) * Decimal(repr(shop.tax)) / 100) <= half
    for x in q.lines:
        assert abs(x.amount - Decimal(repr(x.quantity)) * x.each) <= half


@given(st.sampled_from(CASES), shops(), st.lists(SHARES, min_size=2, max_size=4, unique=True))
@settings(max_examples=30)
def test_more_waste_never_costs_less(case: str, shop: Shop, wastes: list[float]) -> None:
    quotes = [quoted(case, replace(shop, waste=w)) for w in sorted(wastes)]
    for less, more in pairwise(quotes):
        assert less.waste <= more.waste and less.total <= more.total
        # a tube begun without waste is no waste: the lines themselves stay
        assert less.materials == more.materials


@pytest.mark.parametrize("case", CASES)
def test_no_waste_is_no_waste(case: str) -> None:
    assert quoted(case, Shop(waste=0.0)).waste == Decimal("0.00")


@pytest.mark.parametrize("case", CASES)
def test_the_unit_of_the_job_changes_neither_takeoff_nor_price(case: str) -> None:
    inch, metric = (run(replace(job(case).site, units=unit)) for unit in ("in", "mm"))
    assert inch.takeoff == metric.takeoff
    # Quantities and their waste are rounded as they are printed: half a hundredth of a pound, kilogram, square
    # foot or square metre each, with markup.
    pairs = zip(inch.price.lines, metric.price.lines, strict=True)
    off = sum(Decimal("0.03") * max(a.each, b.each) for a, b in pairs)
    assert abs(inch.price.total - metric.price.total) <= off
    assert inch.price.labour == metric.price.labour


@pytest.mark.parametrize("case", CASES)
def test_every_run_and_fixing_of_the_takeoff_is_done_in_one_step(case: str) -> None:
    j = job(case)
    counted = {line.item.removeprefix("shop.item."): line.quantity for line in j.takeoff}
    runs = sum(q for use, q in counted.items() if use.startswith(("bead-", "tape-")))
    screws = sum(q for use, q in counted.items() if use.startswith("screws-") or use in ("wedges", "clip-screws"))
    done: dict[str, float] = {}
    for work in j.works:
        for key, count in work.counts.items():
            done[key] = done.get(key, 0.0) + count
    assert done.get("times.seam", 0.0) == pytest.approx(runs)
    assert done.get("times.screw", 0.0) == screws
    assert done.get("times.clip", 0.0) == counted.get("clips", 0.0)
    joined = {kind: sum(counted.get(use, 0.0) for use in (kind, f"{kind}-pipes")) for kind in ("rivets", "solder")}
    assert done.get("times.rivet", 0.0) == joined["rivets"]
    assert done.get("times.solder", 0.0) == pytest.approx(joined["solder"])
    assert done.get("times.set", 0.0) == sum(p.quantity for p in j.pieces)
    assert done.get("times.mark", 0.0) == sum(len(s.marks) for s in j.steps)


@given(st.sampled_from(CASES), st.sampled_from(sorted(packaged().rows)), st.integers(1, 20))
@settings(max_examples=40)
def test_a_dearer_row_never_makes_a_roof_cheaper(case: str, key: str, more: int) -> None:
    rows = {**packaged().rows, key: packaged()[key] + more}
    assert quoted(case, Shop()).total <= quoted(case, Shop(), Rates("", rows)).total
