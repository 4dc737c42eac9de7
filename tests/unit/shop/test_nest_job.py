"""A job's sheets: every blank once, apart, on the metal; drawn and written as DXF."""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Sequence
from functools import cache
from math import dist
from pathlib import Path

import pytest
from ezdxf.filemanagement import read
from shapely.geometry import Polygon

from lapwright.draw.display import Circle
from lapwright.draw.dxf_sheet import sheet_to_dxf
from lapwright.draw.nest import cut_rows, draw_sheet
from lapwright.draw.svg import to_svg
from lapwright.job import Job, run
from lapwright.metal.model import Blank, Piece
from lapwright.shop.nest.job import JobNest, JobSheet, nest_job
from lapwright.shop.nest.model import Stock
from lapwright.site.read import read_job
from lapwright.words import Speaker

EXAMPLES = Path(__file__).parents[3] / "examples"
QUICK = 60_000


@cache
def job(name: str) -> Job:
    path = EXAMPLES / name / "job.toml"
    return run(read_job(path.read_bytes(), path.name))


@cache
def nested(name: str, guillotine: bool) -> JobNest:
    return nest_job(job(name).pieces, guillotine=guillotine, effort=QUICK)


Ring = Sequence[tuple[float, float]]


def piece(key: str, width: float, height: float, quantity: int = 1, outline: Ring = ()) -> Piece:
    ring = tuple(outline) or ((0, 0), (width, 0), (width, height), (0, height))
    area = Polygon(ring).area
    blank = Blank(ring, (), (), area, width, height)
    return Piece(key, "apron", key, None, quantity, "steel-24", 0.025, blank, (), 1.0)


@pytest.mark.parametrize(
    ("name", "guillotine"),
    [("kiln-shed", True), ("malt-house", False), ("cider-barn", False), ("weir-cottage", True)],
)
def test_every_blank_lies_apart_on_its_sheet_as_often_as_it_is_made(name: str, guillotine: bool) -> None:
    answer = nested(name, guillotine)
    laid = Counter(lying.id for sheet in answer.sheets for lying in sheet.lying)
    missing = Counter({key: n for _, key, n in answer.missing})
    assert laid + missing == Counter({p.id: p.quantity for p in job(name).pieces if p.is_metal})
    for sheet in answer.sheets:
        shapes = [Polygon([lying.at(p) for p in lying.blank.outline]) for lying in sheet.lying]
        for i, shape in enumerate(shapes):
            x0, y0, x1, y1 = shape.bounds
            assert min(x0, y0) > -1e-6 and x1 < sheet.stock.width + 1e-6 and y1 < sheet.used_height + 1e-6
            assert all(shape.intersection(other).area < 1e-6 for other in shapes[:i])


def test_a_blank_wider_than_the_coil_both_ways_is_said_to_be_missing() -> None:
    # the right half of the cider barn's cricket is 49.4 x 56.2 on 48
    assert [(metal, key) for metal, key, _ in nested("cider-barn", True).missing] == [("zinc-08", "1-cricket-right")]


def test_pairs_are_laid_where_that_saves() -> None:
    # two triangles of 40 x 30 on a 48 coil: alone 30 + 30 or 40 + 40 long, paired 30
    triangle = piece("tri", 40, 30, 2, [(0, 0), (40, 0), (0, 30)])
    paired, sheared = (nest_job([triangle], guillotine=g, effort=QUICK) for g in (False, True))
    assert [s.used_height for s in paired.sheets] == [pytest.approx(30)]
    assert [s.used_height for s in sheared.sheets] == [pytest.approx(60)]
    a, b = (Polygon([x.at(p) for p in x.blank.outline]) for x in paired.sheets[0].lying)
    assert a.union(b).area == pytest.approx(1200)


def test_the_stock_that_is_listed_is_used_before_any_coil() -> None:
    stock = {"steel-24": (Stock("offcut", 30, 35, 1),)}
    answer = nest_job([piece("a", 20, 30), piece("b", 20, 30)], stock=stock, effort=QUICK)
    assert ([s.stock.id for s in answer.sheets], answer.missing) == (["offcut"], (("steel-24", "b", 1),))


def test_a_finish_with_a_direction_is_not_turned() -> None:
    answer = nest_job([piece("a", 30, 10, 3)], stock_width=40, turn=False, effort=QUICK)
    assert {lying.lie.quarter % 2 for lying in answer.sheets[0].lying} == {0}


def sheets() -> list[tuple[str, JobSheet]]:
    found = [(name, g) for name, g in (("kiln-shed", True), ("malt-house", False), ("weir-cottage", True))]
    return [(f"{name}-{s.metal}", s) for name, g in found for s in nested(name, g).sheets]


@pytest.mark.parametrize(("_name", "sheet"), sheets(), ids=lambda v: v if isinstance(v, str) else "")
def test_a_cutting_plan_is_readable(_name: str, sheet: JobSheet) -> None:
    speaker = Speaker("in")
    drawing = draw_sheet(sheet, speaker)
    boxes = [Polygon(t.box()) for t in drawing.texts()]
    for i, box in enumerate(boxes):
        x0, y0, x1, y1 = box.bounds
        assert min(x0, y0) >= 0 and x1 <= drawing.width and y1 <= drawing.height
        assert all(box.intersection(other).area < 0.5 for other in boxes[:i]), drawing.texts()[i].text
    # a ball on every cut, its number in it; a plain number on every blank, on each run that shows it
    balls = [m.centre for m in drawing.marks if isinstance(m, Circle) and m.layer == "balloon"]
    numbers = [t for t in drawing.texts() if t.text.isdigit()]
    on_cuts = {t.text for t in numbers if any(dist(t.at, ball) < 1 for ball in balls)}
    on_blanks = Counter(t.text for t in numbers if not any(dist(t.at, ball) < 1 for ball in balls))
    assert sheet.plan is not None
    assert on_cuts == {str(c.n) for c in sheet.plan.cuts}
    assert Counter(str(lying.number) for lying in sheet.lying) <= on_blanks
    assert len(cut_rows(sheet, speaker)) == len(sheet.plan.cuts)
    assert to_svg(drawing) == to_svg(draw_sheet(sheet, speaker))


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_sheet_as_dxf_is_true_to_size_and_clean(unit: str) -> None:
    sheet = nested("kiln-shed", True).sheets[0]
    data = sheet_to_dxf(sheet, unit)  # type: ignore[arg-type]
    document = read(io.StringIO(data.decode("utf-8")))
    audit = document.audit()
    assert [e.message for e in audit.errors] == [] and [f.message for f in audit.fixes] == []
    k = 25.4 if unit == "mm" else 1.0
    rings = document.modelspace().query("LWPOLYLINE[layer=='CUT']")
    areas = sum(Polygon([(x, y) for x, y, *_ in ring.get_points()]).area for ring in rings)
    # outlines less their holes would be the blanks' own area; here holes are rings or circles of their own
    outlines = sum(Polygon(lying.blank.outline).area for lying in sheet.lying)
    holes = sum(Polygon(h).area for lying in sheet.lying for h in lying.blank.holes)
    assert outlines * k**2 - 1e-3 <= areas <= (outlines + holes) * k**2 + 1e-3
    bends = document.modelspace().query("LINE[layer=='BEND_UP' | layer=='BEND_DOWN']")
    assert len(bends) == sum(len(lying.bends) for lying in sheet.lying)
    assert data == sheet_to_dxf(sheet, unit)  # type: ignore[arg-type]
