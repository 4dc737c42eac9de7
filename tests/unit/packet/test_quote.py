"""The quote as it is handed over: one page whatever the job, sums that add up as printed, a sheet that is safe."""

from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from chimney import chimney
from lapwright.job import Job, run
from lapwright.packet.quote import quote_csv, quote_pdf, quote_record
from lapwright.packet.record import to_json
from lapwright.shop.price_list import Rates, packaged
from lapwright.site.model import Opening, Shop, Site, Stock
from lapwright.site.read import read_job
from pdf_reading import pages

EXAMPLES = Path(__file__).parents[3] / "examples"
PAPERS = ("us-letter", "a4")
LONG = "The long barn behind the old brick kiln on the north side of the orchard, roof B"
OURS = Rates("Spring prices", packaged().rows, frozenset(packaged().rows))


@cache
def job(case: str = "kiln-shed") -> Job:
    return run(read_job((EXAMPLES / case / "job.toml").read_text(encoding="utf-8"), "job.toml"))


def row_of(count: int) -> Site:
    """A long roof with so many openings of four kinds in a row."""
    site = job().site
    kinds = ("masonry-chimney", "framed-chimney", "curb", "skylight")

    def nth(i: int) -> Opening:
        plumb = i % 4 < 2
        return replace(
            site.openings[0], name=f"stack {i + 1}", left=30 + 90.0 * i, kind=kinds[i % 4],  # type: ignore[arg-type]
            face="plumb" if plumb else "square", height=52.0 if plumb else 12.0,
        )  # fmt: skip

    roof = replace(site.roof, eave=90.0 * count + 60, slope=300.0)
    return replace(site, roof=roof, openings=tuple(nth(i) for i in range(count)))


def printed(pdf: bytes) -> str:
    (page,) = pages(pdf)
    text: str = page.get_textpage().get_text_range()
    return text.replace("\r\n", "\n")


HARD = {
    "no opening": lambda: replace(job().site, openings=()),
    "twelve openings": lambda: row_of(12),
    "a long name in mm": lambda: replace(job().site, name=LONG, units="mm"),
    "everything at once": lambda: replace(
        row_of(12), name=LONG, units="mm", shop=Shop(currency="CURRENCY", tax=19.5, labour_rate=999.99),
        stock=tuple(Stock(f"row {i}", "steel-24", 48.0, 120.0, price=1e5) for i in range(9)),
    ),
    "one that is stopped": lambda: job("must-stop").site,
    "one without a detail": lambda: job("must-stop-low-curb").site,
}  # fmt: skip


@pytest.mark.parametrize("case", HARD)
def test_the_quote_is_one_page_and_keeps_its_last_line_on_both_papers(case: str) -> None:
    hard = run(HARD[case]())
    for paper in PAPERS:
        said = printed(quote_pdf(hard, paper))  # type: ignore[arg-type]
        assert "halves up." in said.replace("\n", " ")
        assert f"{hard.price.total:,.2f}" in said


@pytest.mark.parametrize("case", HARD)
def test_no_word_of_the_page_lies_outside_the_field_or_under_the_footer(case: str) -> None:
    (page,) = pages(quote_pdf(run(HARD[case]()), "a4"))
    text = page.get_textpage()
    width, height = page.get_size()
    boxes = [text.get_rect(i) for i in range(text.count_rects())]
    foot = min(low for _, low, _, _ in boxes)
    assert all(left > 0.5 * 72 and right < width - 0.5 * 72 for left, low, right, _ in boxes if low > foot)
    assert foot > 0.4 * 72 and max(high for *_, high in boxes) < height - 0.3 * 72


def test_the_printed_amounts_add_up_to_the_printed_sums() -> None:
    quote, lines = job().price, quote_record(job())["lines"]
    said = printed(quote_pdf(job(), "us-letter"))
    amounts = [Decimal(str(x["amount"])) for x in lines]
    assert all(f"{a:,.2f}" in said for a in amounts)
    assert sum(amounts) == quote.materials + quote.labour
    assert quote.subtotal + quote.markup + quote.tax == quote.total
    for x in lines:  # quantity times price for one, as printed, is the amount as printed
        exact = Decimal(str(x["quantity"])) * Decimal(str(x["each"]))
        assert abs(exact - Decimal(str(x["amount"]))) <= Decimal("0.005")


def test_date_and_validity_are_left_blank() -> None:
    said = printed(quote_pdf(job(), "us-letter"))
    assert re.search(r"^for\s+date\s+valid until\s+signed", said, re.MULTILINE)
    assert not re.search(r"\b(19|20)\d\d\b", said)


def test_invented_rates_are_owned_up_to_and_ones_own_are_named() -> None:
    assert "invented prices" in printed(quote_pdf(job(), "us-letter"))
    mine = printed(quote_pdf(run(job().site, OURS), "us-letter"))
    assert "invented" not in mine
    assert "Spring prices" in mine
    some = replace(OURS, own=frozenset({"prices.tape"}))
    mixed = printed(quote_pdf(run(job().site, some), "us-letter")).replace("\n", " ")
    count = len(job().price.rates)
    assert f"{count - 1} of the {count} prices" in mixed and "Spring prices" in mixed


def test_a_stopped_job_is_stamped_on_its_quote() -> None:
    assert printed(quote_pdf(job("must-stop"), "us-letter")).count("DO NOT CUT") >= 2
    assert "DO NOT CUT" not in printed(quote_pdf(job(), "us-letter"))


def test_an_opening_without_a_detail_is_named_as_not_priced() -> None:
    low = job("must-stop-low-curb")
    said = printed(quote_pdf(low, "us-letter")).replace("\n", " ")
    assert "nothing of it is priced" in said
    assert low.site.openings[0].name in said


def test_the_same_job_gives_the_same_bytes() -> None:
    assert quote_pdf(job(), "a4") == quote_pdf(run(job().site), "a4")
    assert quote_csv(job()) == quote_csv(run(job().site))


def test_the_sheet_holds_the_lines_and_the_sums_as_plain_decimals() -> None:
    rows = list(csv.reader(io.StringIO(quote_csv(job()).decode("utf-8"), newline="")))
    assert rows[0] == ["kind", "item", "quantity", "unit", "each_$", "amount_$"]
    assert all(re.fullmatch(r"\d+(\.\d+)?", row[5]) for row in rows[1:])
    lines = [row for row in rows[1:] if row[0] != "sum"]
    assert sum(Decimal(r[5]) for r in lines) == job().price.materials + job().price.labour
    assert rows[-1][5] == f"{job().price.total:f}".rstrip("0").rstrip(".")


@pytest.mark.parametrize("name", ["=1+1", "+1", "@SUM(A1)", "3/4", "-2"])
def test_no_name_in_the_sheet_is_run_as_a_formula_or_read_as_a_date(name: str) -> None:
    site = replace(chimney(), shop=Shop(currency=name), stock=(Stock(name, "steel-24", 48.0, 120.0, price=9.0),))
    opening = replace(site.openings[0], name=name)
    made = run(replace(site, openings=(opening,), name=name))
    from lapwright.packet.sheets import takeoff_csv

    for sheet in (quote_csv(made), takeoff_csv(made)):
        for row in csv.reader(io.StringIO(sheet.decode("utf-8"), newline="")):
            for cell in row:
                number = re.fullmatch(r"\d+(\.\d+)?", cell)
                assert number or not re.match(r"\s*[=+\-@]|\s*\d+\s*[/-]\s*\d+\s*$", cell), cell


def test_plan_json_says_what_the_quote_says_and_which_rates_stood() -> None:
    told = json.loads(to_json(run(job().site, replace(OURS, own=frozenset({"prices.screw"})))))["price"]
    assert told["total"] == float(job().price.total)
    assert told["rates"]["name"] == "Spring prices"
    own = {row["rate"]: row["own"] for row in told["rates"]["rows"]}
    assert own["prices.screw"] and not own["prices.tape"]
    assert told["percent"] == {"waste": 10.0, "markup": 20.0, "tax": 0.0}
    assert {"rate": "metals.steel-24", "value": 1.65, "per": "lb", "own": False} in told["rates"]["rows"]


def test_the_takeoff_of_plan_json_has_its_hours_in_rows_that_start_with_labour() -> None:
    hours = [row for row in json.loads(to_json(job()))["takeoff"] if row["unit"] == "h"]
    assert len(hours) > 10
    assert all(row["item"].startswith("labour") for row in hours)
