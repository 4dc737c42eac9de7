"""The quote: the takeoff turned into money, and the sums under it.

    materials  each line as counted, without its waste
    waste      what is bought over that
    labour     hours at the job's rate for an hour
    subtotal = materials + waste + labour;  markup on it;  tax on both;  total

Each line, the markup and the tax are rounded to a hundredth, halves up (away from nought), and what is printed is
what is added, so a reader with a pencil gets the same total.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from lapwright.shop.model import TakeoffLine
from lapwright.shop.price_list import Rates, per
from lapwright.site.model import Shop

CENT, NOTHING = Decimal("0.01"), Decimal("0.00")
PLACES = 4
"""Decimals of a quantity that count, so that the last bit of a float moves no cent."""

LABOUR = "labour"


@dataclass(frozen=True, slots=True)
class QuoteLine:
    """One line of the quote, alike lines of the takeoff together. item: a key of words/ with its values.

    quantity: without waste, in `unit`. each: for one. amount: for all. waste: for what is bought over it. [money]
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


def price(shop: Shop, takeoff: Sequence[TakeoffLine], rates: Rates, times: Iterable[str] = ()) -> Quote:
    """Turn a takeoff into money.

    Args:
        shop: The rate for an hour, markup and tax. [money/h], [%]
        takeoff: Every line; those without a rate or a price of their own cost nothing by themselves.
        rates: The prices that stand.
        times: Rows of the rates that made the hours, to be named beside the prices.
    """
    heaps: dict[tuple[str, str], list[TakeoffLine]] = {}
    for t in takeoff:
        if t.rate or t.price is not None:
            heaps.setdefault(_heap(t), []).append(t)
    lines = tuple(_line(shop, item, alike, rates) for (_, item), alike in heaps.items())
    materials = sum((q.amount for q in lines if q.kind == "material"), NOTHING)
    labour = sum((q.amount for q in lines if q.kind == LABOUR), NOTHING)
    waste = sum((q.waste for q in lines), NOTHING)
    subtotal = materials + waste + labour
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
        return (str(work), "price.item.work") if work else (t.item, t.item)
    return (t.rate, t.item) if t.rate.startswith("metals.") else (t.rate, f"price.item.{t.rate.partition('.')[2]}")


def _line(shop: Shop, item: str, alike: Sequence[TakeoffLine], rates: Rates) -> QuoteLine:
    first = alike[0]
    if first.price is not None:
        amount = sum((_cents(_exact(t.price or 0.0)) for t in alike), NOTHING)
        return QuoteLine("material", item, first.values, 1.0, "lot", amount, amount, NOTHING, "stock")
    counted = _quantity(sum(t.quantity - t.spare for t in alike))
    spare = _quantity(sum(t.spare for t in alike))
    labour = first.rate == LABOUR
    each = _exact(shop.labour_rate if labour else rates[first.rate])
    amount, waste = _cents(counted * each), _cents(spare * each)
    kind: Literal["material", "labour"] = "labour" if labour else "material"
    return QuoteLine(kind, item, first.values, float(counted), first.unit, each, amount, waste, first.rate)


def _quantity(value: float) -> Decimal:
    return _exact(round(value, PLACES))


def _exact(value: float) -> Decimal:
    """A number as it is typed: 0.12 is twelve hundredths, not the nearest float."""
    return Decimal(repr(float(value)))


def _cents(money: Decimal) -> Decimal:
    """Money to the hundredth, halves away from nought.

    >>> _cents(Decimal("0.125"))
    Decimal('0.13')
    """
    return money.quantize(CENT, ROUND_HALF_UP)
