"""The quote, worked on paper: alike lines together, waste apart, markup and tax on what stands above them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from hand_made import hand_made, site
from lapwright.shop.model import TakeoffLine
from lapwright.shop.price import Quote, price
from lapwright.shop.price_list import Rates, packaged
from lapwright.site.model import Shop, Site

SHOP = Shop(labour_rate=60.0, waste=10.0, markup=20.0, tax=7.25)


def line(use: str, quantity: float, unit: str, rate: str, spare: float = 0.0, **more: Any) -> TakeoffLine:
    return TakeoffLine(f"shop.item.{use}", quantity, unit, "shop.basis.made", dict(more), rate, spare)


TAKEOFF = (
    line("screws-cleats", 10, "each", "prices.screw"),
    line("tape-cleats", 3.3, "ft", ""),
    line("screws-pans", 15, "each", "prices.screw"),
    line("membrane", 22.0, "sqft", "prices.membrane", 2.0),
    line("labour-step", 1.0, "h", "labour", n=3, work="shop.work.apron"),
    line("labour-step", 0.5, "h", "labour", n=7, work="shop.work.apron"),
)


def quoted(takeoff: tuple[TakeoffLine, ...] = TAKEOFF, shop: Shop = SHOP, **rates: float) -> Quote:
    stood = packaged()
    given = {f"prices.{name.replace('_', '-')}": value for name, value in rates.items()}
    mine = Rates("ours", {**stood.rows, **given}, frozenset(given))
    return price(replace(site(), shop=shop), takeoff, mine, ("times.mark",))


def test_the_sums_are_those_worked_by_hand() -> None:
    q = quoted(screw=0.12, membrane=1.35)
    # 25 screws x 0.12 = 3.00; 20 sq ft x 1.35 = 27.00 and 2 more as waste, 2.70; 1.5 h x 60 = 90.00
    assert [(str(x.amount), x.quantity) for x in q.lines] == [("3.00", 25.0), ("27.00", 20.0), ("90.00", 1.5)]
    assert (q.materials, q.waste, q.labour) == (Decimal("30.00"), Decimal("2.70"), Decimal("90.00"))
    assert q.subtotal == Decimal("122.70")
    # 20 % of 122.70 = 24.54; 7.25 % of 147.24 = 10.6749, to 10.67
    assert (q.markup, q.tax, q.total) == (Decimal("24.54"), Decimal("10.67"), Decimal("157.91"))


@pytest.mark.parametrize(
    ("each", "amount"), [(0.125, "0.13"), (0.135, "0.14"), (0.1249, "0.12"), (1.005, "1.01"), (2.675, "2.68")]
)
def test_a_half_goes_up_whatever_a_float_makes_of_it(each: float, amount: str) -> None:
    # 1.005 and 2.675 lie below the half as floats
    assert str(quoted((line("screws-pans", 1, "each", "prices.screw"),), screw=each).lines[0].amount) == amount


def test_stock_that_the_job_prices_costs_that_and_not_its_weight() -> None:
    sheets = replace(line("flat-sheet", 2, "each", "", metal="metals.steel-24", width=48.0, length=120.0), price=71.5)
    one = quoted((sheets, sheets)).lines
    assert [(str(x.amount), x.rate, x.item) for x in one] == [("143.00", "stock", "price.item.stock")]


def test_the_rates_that_stood_are_named_and_whose_they_are() -> None:
    q = quoted(screw=0.2)
    assert {r.key: (r.value, r.per, r.own) for r in q.rates} == {
        "prices.screw": (0.2, "each", True),
        "prices.membrane": (packaged()["prices.membrane"], "sqft", False),
        "times.mark": (1.0, "each", False),
    }
    assert q.packaged == 2


def test_a_job_in_mm_is_priced_by_the_metre_and_the_kilogram() -> None:
    metric: Site = replace(site("mm"), shop=SHOP)
    coil, strips = line("panel-weight", 100.0, "lb", "metals.steel-24"), TAKEOFF[3]
    takeoff = (coil, replace(strips, spare=0.0))
    steel, membrane = price(metric, takeoff, packaged()).lines
    # 100 lb = 45.359237 kg, 45.36; 1.65 a pound / 0.45359237 = 3.6376 a kilogram: 165.00
    assert (steel.quantity, steel.unit, str(steel.each), str(steel.amount)) == (45.36, "kg", "3.6376", "165.00")
    # 22 sq ft = 2.04387 m2, 2.04; 1.35 / 0.09290304 = 14.5313: 29.64
    assert (membrane.quantity, membrane.unit, str(membrane.amount)) == (2.04, "sqm", "29.64")


def test_the_hand_made_job_is_priced_line_by_line() -> None:
    # docs/takeoff.md and test_takeoff.py count; 7.975 lb x 1.65 = 13.17 (7.98 lb); coil 21.777 / 1.1 = 19.80 lb,
    # 32.67, and 1.98 lb of waste, 3.27; a tube 9.50, a roll 17; 22 screws x 0.12 = 2.64; 32 rivets x 0.16 = 5.12
    q = hand_made().price
    assert [str(x.amount) for x in q.lines] == ["13.17", "32.67", "9.50", "17.00", "2.64", "5.12"]
    assert (q.materials, q.waste, q.labour) == (Decimal("80.10"), Decimal("3.27"), Decimal("0.00"))
    # 83.37 and 20 %, 16.67 (16.674)
    assert q.total == Decimal("100.04")


def test_nothing_to_buy_costs_nothing() -> None:
    assert quoted(()).total == Decimal("0.00")
