"""The quote: the takeoff turned into money, and the sums under it.

    materials  each line as counted, without its waste
    waste      what is bought over that
    labour     hours at the job's rate for an hour
    subtotal = materials + waste + labour;  markup on it;  tax on both;  total

Quantities are rounded to a hundredth and prices for one to a ten-thousandth, in the units the job prints; each line,
the markup and the tax are rounded to a hundredth, halves up (away from nought). What is printed is what is multiplied
and added, so a reader with a pencil gets the same total.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from lapwright.shop.model import TakeoffLine
from lapwright.shop.price_list import IN_A, Rates, per
from lapwright.site.model import Shop, Site

CENT, NOTHING = Decimal("0.01"), Decimal("0.00")
ONE = Decimal("0.0001")

LABOUR = "labour"

METRIC = {"ft": "m", "sqft": "sqm", "lb": "kg"}
"""What a job in mm counts by instead; the factors are price_list.IN_A."""


@dataclass(frozen=True, slots=True)
class QuoteLine:
    """One line of the quote, alike lines of the takeoff together. item: a key of words/ with its values.

    quantity: without waste, in `unit`, the job's own. each, amount: for one, for all. waste: for the rest. [money]
    rate: the row that prices it, "labour" for the job's rate for an hour, "stock" where the job names the price.
    """

    kind: Literal["material", "labour"]
    item: str
    values: Mapping[str, float | int | str]
    quantity: float
    unit: str
    each: Decimal
    amount: Decimal
    waste: Decimal
    rate: str


@dataclass(frozen=True, slots=True)
class RateUsed:
    """A price or time that stood in this job: its row, its value for one of `per`, and whether it is the shop's."""

    key: str
    value: float
    per: str
    own: bool


@dataclass(frozen=True, slots=True)
class Quote:
    """What the job costs. Money is exact to the hundredth; shares are percentages of the sum above them. [%]"""

    lines: tuple[QuoteLine, ...]
    materials: Decimal
    waste: Decimal
    labour: Decimal
    subtotal: Decimal
    markup: Decimal
    tax: Decimal
    total: Decimal
    shop: Shop
    rates_name: str
    rates: tuple[RateUsed, ...]

    @property
    def packaged(self) -> int:
        """How many of the rates that stood are the packaged ones."""
        return sum(not r.own for r in self.rates)


def price(site: Site, takeoff: Sequence[TakeoffLine], rates: Rates, times: Iterable[str] = ()) -> Quote:
    """Turn a takeoff into money.

    Args:
        site: Its shop's rate for an hour, markup and tax [money/h], [%]; the units that are printed.
        takeoff: Every line; those without a rate or a price of their own cost nothing by themselves.
        rates: The prices that stand.
        times: Rows of the rates that made the hours, to be named beside the prices.
    """
    heaps: dict[tuple[str, str], list[TakeoffLine]] = {}
    for t in takeoff:
        if t.rate or t.price is not None:
            heaps.setdefault(_heap(t), []).append(t)
    lines = tuple(_line(site, item, alike, rates) for (_, item), alike in heaps.items())
    materials = sum((q.amount for q in lines if q.kind == "material"), NOTHING)
    labour = sum((q.amount for q in lines if q.kind == LABOUR), NOTHING)
    waste = sum((q.waste for q in lines), NOTHING)
    shop, subtotal = site.shop, materials + waste + labour
    markup = _cents(subtotal * _exact(shop.markup) / 100)
    tax = _cents((subtotal + markup) * _exact(shop.tax) / 100)
    used = dict.fromkeys((*(q.rate for q in lines if q.rate in rates.rows), *times))
    stood = tuple(RateUsed(key, rates[key], per(key), key in rates.own) for key in used)
    total = subtotal + markup + tax
    return Quote(lines, materials, waste, labour, subtotal, markup, tax, total, shop, rates.name, stood)


def _heap(t: TakeoffLine) -> tuple[str, str]:
    """Lines that are one line of the quote, and its item: all screws, all work on side panels, stock of one metal."""
    if t.price is not None:
        return str(t.values["metal"]), "price.item.stock"
    if t.rate == LABOUR:
        work = t.values.get("work")
        bench = t.item.replace("shop.item.labour", "price.item.bench")
        return (str(work), "price.item.work") if work else (bench, bench)
    return (t.rate, t.item) if t.rate.startswith("metals.") else (t.rate, f"price.item.{t.rate.partition('.')[2]}")


def _line(site: Site, item: str, alike: Sequence[TakeoffLine], rates: Rates) -> QuoteLine:
    first = alike[0]
    if first.price is not None:
        amount = sum((_cents(_exact(t.price or 0.0)) for t in alike), NOTHING)
        return QuoteLine("material", item, first.values, 1.0, "lot", amount, amount, NOTHING, "stock")
    metric = site.units == "mm" and first.unit in METRIC
    unit, factor = (METRIC[first.unit], IN_A[first.unit]) if metric else (first.unit, 1.0)
    counted = _cents(_exact(factor * sum(t.quantity - t.spare for t in alike)))
    spare = _cents(_exact(factor * sum(t.spare for t in alike)))
    labour = first.rate == LABOUR
    each = _exact((site.shop.labour_rate if labour else rates[first.rate]) / factor).quantize(ONE, ROUND_HALF_UP)
    kind: Literal["material", "labour"] = "labour" if labour else "material"
    return QuoteLine(
        kind, item, first.values, float(counted), unit, each, _cents(counted * each), _cents(spare * each), first.rate
    )


def _exact(value: float) -> Decimal:
    """A number as it is typed: 0.12 is twelve hundredths, not the nearest float."""
    return Decimal(repr(float(value)))


def _cents(money: Decimal) -> Decimal:
    """To the hundredth, halves away from nought.

    >>> _cents(Decimal("0.125"))
    Decimal('0.13')
    """
    return money.quantize(CENT, ROUND_HALF_UP)
