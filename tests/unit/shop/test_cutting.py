"""Which metal a job's blanks are cut from, and what it comes to."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from lapwright.job import Job
from lapwright.metal.model import Blank, Piece
from lapwright.shop.cutting import bought, cutting_of, findings_of
from lapwright.site.model import Shop, Site, Stock
from lapwright.site.read import read_job

KILN = Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml"
SITE = read_job(KILN.read_bytes(), "job.toml")


def piece(key: str, width: float, height: float, quantity: int = 1, metal: str = "steel-24") -> Piece:
    ring = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    blank = Blank(ring, (), (), width * height, width, height)
    return Piece(key, "apron", key, "flue stack", quantity, metal, 0.025, blank, (), 1.0)


def site(*stock: Stock, shop: Shop | None = None) -> Site:
    return replace(SITE, stock=stock, shop=shop or Shop())


def rows(where: Site, *pieces: Piece) -> list[tuple[str, str, int, float, float | None]]:
    return [(b.stock, b.form, b.quantity, b.length, b.price) for b in bought(cutting_of(where, pieces))]


def test_riveted_metal_comes_off_a_coil_and_soldered_metal_as_sheets() -> None:
    # 30 x 20 on 48: 20 of coil; of copper a sheet of 120 is bought whole
    assert rows(site(), piece("a", 30, 20)) == [("coil", "coil", 1, 20, None)]
    assert rows(site(), piece("a", 30, 20, metal="copper-20")) == [("sheet", "sheet", 1, 120, None)]


def test_what_no_sheet_holds_comes_off_the_coil() -> None:
    # 130 long is longer than a sheet
    copper = piece("a", 130, 20, metal="copper-20"), piece("b", 100, 47, metal="copper-20")
    assert rows(site(), *copper) == [("sheet", "sheet", 1, 120, None), ("coil", "coil", 1, 130, None)]


def test_coil_is_bought_instead_of_sheets_where_it_saves_a_sheet() -> None:
    # three of 70 x 40, one to a sheet of 120: 360 of sheets against 210 of coil; two of 100: 240 against 200
    assert rows(site(), piece("a", 70, 40, 3, "copper-20")) == [("coil", "coil", 1, 210, None)]
    assert rows(site(), piece("a", 100, 40, 2, "copper-20")) == [("sheet", "sheet", 2, 240, None)]


def test_offcuts_go_first_then_sheets_and_rolls_then_what_is_bought() -> None:
    at_hand = (
        Stock("roll", "steel-24", 24, 600, "roll", 1, 90.0),
        Stock("rest", "steel-24", 20, 30, "offcut", 1, 0.0),
    )
    # 20 x 30 fills the offcut; 24 x 60 takes a tenth of the roll and of its price; 40 x 40 goes on neither
    pieces = piece("a", 20, 30), piece("b", 60, 24), piece("c", 40, 40)
    assert rows(site(*at_hand), *pieces) == [
        ("rest", "offcut", 1, 30, 0.0), ("roll", "roll", 1, 60, pytest.approx(9.0)), ("coil", "coil", 1, 40, None),
    ]  # fmt: skip


def test_metal_of_another_kind_is_left_alone() -> None:
    zinc = Stock("zinc", "zinc-08", 48, 120)
    assert rows(site(zinc), piece("a", 30, 20)) == [("coil", "coil", 1, 20, None)]


def test_the_cheaper_stock_is_taken_where_every_row_has_its_price() -> None:
    dear, cheap = (Stock(n, "steel-24", 48, 120, "sheet", 1, p) for n, p in (("dear", 90.0), ("cheap", 60.0)))
    assert rows(site(dear, cheap), piece("a", 40, 40)) == [("cheap", "sheet", 1, 120, 60.0)]
    # without a price on every row the metal decides: 2400 against 5760
    small = Stock("small", "steel-24", 40, 60)
    assert rows(site(dear, small), piece("a", 40, 40)) == [("small", "sheet", 1, 60, None)]


def test_what_the_metal_at_hand_does_not_take_is_a_note() -> None:
    small = Stock("small", "steel-24", 20, 20)
    pieces = piece("a", 10, 10), piece("b", 30, 10, 2)
    (found,) = findings_of(cutting_of(site(small), pieces), pieces, True)
    assert (found.rule, found.level, found.where) == ("stock.at-hand", "note", "flue stack")
    assert found.values["pieces"] == "b (2)"


def test_what_may_not_turn_and_is_too_wide_stops_the_job() -> None:
    pieces = (piece("a", 30, 50),)
    fixed = site(shop=Shop(turn=False))
    (found,) = findings_of(cutting_of(fixed, pieces), pieces, False)
    assert (found.rule, found.level, found.values["pieces"]) == ("stock.lengthwise", "stop", "a")
    assert findings_of(cutting_of(site(), pieces), pieces, True) == ()


def test_a_job_is_nested_with_the_shops_own_way_to_cut() -> None:
    sheared = Job(replace(SITE, shop=Shop(cuts="shear"))).cutting
    assert all(sheet.plan is not None for sheet in sheared.sheets)
    # two triangles of 40 x 30 pair only under the snips: 30 of coil instead of 60
    ring = ((0.0, 0.0), (40.0, 0.0), (0.0, 30.0))
    triangle = replace(piece("a", 40, 30, 2), blank=Blank(ring, (), (), 600, 40, 30))
    assert [b.length for b in bought(cutting_of(site(), [triangle]))] == [pytest.approx(60)]
    free = site(shop=Shop(cuts="snips"))
    assert [b.length for b in bought(cutting_of(free, [triangle]))] == [pytest.approx(30)]


def test_more_work_takes_no_more_metal() -> None:
    little, much = (cutting_of(SITE, Job(SITE).pieces, effort) for effort in (5_000, 400_000))
    metal = [sum(b.length * b.width for b in bought(plan)) for plan in (little, much)]
    assert metal[1] <= metal[0]


def test_the_note_of_metal_to_buy_stands_among_the_jobs_findings() -> None:
    small = Job(replace(SITE, stock=(Stock("small", "steel-24", 20, 20),)))
    assert "stock.at-hand" in {f.rule for f in small.findings}
    assert "stock.at-hand" not in {f.rule for f in Job(SITE).findings}


def test_many_blanks_alike_are_paired_as_often_as_they_come() -> None:
    # five equal triangles of 40 x 30, as two pieces of three and two: two pairs and one alone, 30 each on 48
    ring = ((0.0, 0.0), (40.0, 0.0), (0.0, 30.0))
    blank = Blank(ring, (), (), 600, 40, 30)
    made = [replace(piece(key, 40, 30, n), blank=blank) for key, n in (("a", 3), ("b", 2))]
    plan = cutting_of(site(shop=Shop(cuts="snips")), made)
    assert [b.length for b in bought(plan)] == [pytest.approx(90)]
