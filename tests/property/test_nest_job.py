"""Random jobs of blanks that are no rectangles, on the metal at hand and what is bought: always right."""

from __future__ import annotations

import os
from collections import Counter
from dataclasses import replace
from itertools import combinations
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from lapwright.metal.model import Blank, Piece
from lapwright.shop.cutting import bought, cutting_of
from lapwright.shop.nest.job import JobSheet
from lapwright.site.model import Shop, Stock
from lapwright.site.read import read_job

MANY = int(os.environ.get("LAPWRIGHT_RANDOM_JOBS", "60"))
LITTLE = 10_000
KILN = Path(__file__).parents[2] / "examples" / "kiln-shed" / "job.toml"
SITE = read_job(KILN.read_bytes(), "job.toml")
METALS = ("steel-24", "copper-20")

sixteenths = st.integers(16, 900).map(lambda n: n / 16)


@st.composite
def blanks(draw: st.DrawFn) -> Blank:
    """A rectangle, a triangle or a trapezoid, either way up."""
    w, h = draw(sixteenths), draw(sixteenths)
    cut = draw(st.sampled_from([0.0, 0.25, 0.5, 1.0])) * w
    ring = draw(
        st.sampled_from([
            ((0, 0), (w, 0), (w - cut, h), (0, h)),
            ((0, 0), (w - cut, 0), (w, h), (0, h)),
            ((0, h), (cut / 2, 0), (w - cut / 2, 0), (w, h)),
        ])
    )  # fmt: skip
    corners = tuple(p for i, p in enumerate(ring) if p != ring[i - 1])
    return Blank(corners, (), (), Polygon(corners).area, w, h)


@st.composite
def pieces(draw: st.DrawFn) -> tuple[Piece, ...]:
    rows = draw(st.lists(st.tuples(blanks(), st.integers(1, 3), st.sampled_from(METALS)), min_size=1, max_size=7))
    return tuple(
        Piece(f"p{i}", "apron", "p", "flue stack", n, metal, 0.025, blank, (), 1.0)
        for i, (blank, n, metal) in enumerate(rows)
    )


@st.composite
def stocks(draw: st.DrawFn) -> tuple[Stock, ...]:
    sides = st.sampled_from([12.0, 24.0, 36.0, 48.0, 60.0, 120.0])
    forms = st.sampled_from(["sheet", "roll", "offcut"])
    rows = draw(st.lists(st.tuples(st.sampled_from(METALS), sides, sides, forms, st.integers(1, 3)), max_size=3))
    return tuple(Stock(f"s{i}", m, w, length, form, n) for i, (m, w, length, form, n) in enumerate(rows))


def on_sheet(sheet: JobSheet) -> None:
    """No blank leaves its sheet or lies on another; offcuts are free of both."""
    room = box(0, 0, sheet.stock.width, sheet.taken).buffer(1e-6)
    shapes = [Polygon([x.at(p) for p in x.blank.outline]) for x in sheet.lying]
    assert all(room.contains(shape) for shape in shapes)
    assert all(a.intersection(b).area < 1e-4 for a, b in combinations(shapes, 2))
    for o in sheet.offcuts():
        left = box(o.x, o.y, o.x + o.width, o.y + o.height)
        assert room.contains(left) and all(left.intersection(shape).area < 1e-4 for shape in shapes)


@settings(max_examples=MANY)
@given(pieces(), stocks(), st.sampled_from(["shear", "snips"]), st.booleans())
def test_every_job_is_right(made: tuple[Piece, ...], stock: tuple[Stock, ...], cuts: str, turn: bool) -> None:
    site = replace(SITE, stock=stock, shop=Shop(cuts=cuts, turn=turn))  # type: ignore[arg-type]
    plan = cutting_of(site, made, LITTLE)
    laid = Counter((s.metal, x.id) for s in plan.sheets for x in s.lying)
    missing = Counter({(metal, key): n for metal, key, n in plan.missing})
    assert laid + missing == Counter({(p.metal, p.id): p.quantity for p in made})
    for sheet in plan.sheets:
        on_sheet(sheet)
        assert cuts == "snips" or sheet.plan is not None
        assert turn or all(x.lie.quarter % 2 == 1 for x in sheet.lying)
    used = Counter((s.metal, s.stock.id) for s in plan.sheets if s.row.at_hand)
    assert all(used[s.metal, s.name] <= s.quantity for s in stock)
    bought_short = Counter((s.metal, x.id) for s in plan.sheets if not s.row.at_hand for x in s.lying)
    listed = {s.metal for s in stock}
    assert {(m, key): n for m, key, n in plan.short} == {k: n for k, n in bought_short.items() if k[0] in listed}
    assert sum(b.quantity for b in bought(plan)) == len(plan.sheets)
    assert cutting_of(site, made, LITTLE) == plan
