"""A job's sheets: every blank once, apart, on the metal; drawn and written as DXF."""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from math import dist
from pathlib import Path

import pytest
from ezdxf.filemanagement import read
from shapely import STRtree, unary_union
from shapely.geometry import LineString, Polygon

from lapwright.draw.display import Circle, Display
from lapwright.draw.dxf_sheet import sheet_to_dxf
from lapwright.draw.nest import cut_rows, draw_sheet
from lapwright.draw.svg import to_svg
from lapwright.job import Job
from lapwright.metal.model import Blank, Piece
from lapwright.shop.nest.job import JobNest, JobSheet, Ways, nest_job
from lapwright.shop.nest.model import Stock
from lapwright.shop.nest.rows import Form, Row, Shelf
from lapwright.site.read import read_job
from lapwright.units import read_length
from lapwright.words import Speaker

EXAMPLES = Path(__file__).parents[3] / "examples"
QUICK = 60_000


@cache
def job(name: str) -> Job:
    path = EXAMPLES / name / "job.toml"
    return Job(read_job(path.read_bytes(), path.name))


COIL = Shelf((Row(Stock("coil", 48.0, 1200.0, None, None, by_length=True), "coil", False),))


@cache
def nested(name: str, guillotine: bool) -> JobNest:
    return on(job(name).pieces, [COIL], guillotine)


def on(pieces: Sequence[Piece], shelves: Sequence[Shelf], guillotine: bool = True, turn: bool = True) -> JobNest:
    metals = {p.metal for p in pieces}
    return nest_job(pieces, dict.fromkeys(metals, shelves), Ways(guillotine, turn, QUICK))


def sheet_of(width: float, height: float, count: int | None = 1, form: Form = "sheet", name: str = "") -> Row:
    return Row(Stock(name or form, width, height, count, None, form in ("roll", "coil")), form, form != "coil")


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


def test_a_blank_wider_than_the_coil_either_way_lies_aslant() -> None:
    # the right half of the cider barn's cricket is 49.4 x 56.2, and narrower than 48 across its narrow way
    answer = nested("cider-barn", True)
    (aslant,) = [x for sheet in answer.sheets for x in sheet.lying if x.lean.angle_deg]
    assert (aslant.id, answer.missing) == ("1-cricket-right", ())
    own = next(p for p in job("cider-barn").pieces if p.id == "1-cricket-right").blank
    assert min(own.width, own.height) > 48
    a, b = Polygon(own.outline), Polygon(aslant.blank.outline)
    assert (b.area, b.length) == (pytest.approx(a.area), pytest.approx(a.length))
    assert aslant.blank.outline == tuple(aslant.lean.at(p) for p in own.outline)


def test_a_blank_wider_than_the_stock_every_way_is_said_to_be_missing() -> None:
    answer = on([piece("a", 50, 60), piece("b", 20, 60)], [COIL])
    assert (answer.missing, answer.short) == ((("steel-24", "a", 1),), ())


def test_pairs_are_laid_where_that_saves() -> None:
    # two triangles of 40 x 30 on a 48 coil: alone 30 + 30 or 40 + 40 long, paired 30
    triangle = piece("tri", 40, 30, 2, [(0, 0), (40, 0), (0, 30)])
    paired, sheared = (on([triangle], [COIL], g) for g in (False, True))
    assert [s.used_height for s in paired.sheets] == [pytest.approx(30)]
    assert [s.used_height for s in sheared.sheets] == [pytest.approx(60)]
    a, b = (Polygon([x.at(p) for p in x.blank.outline]) for x in paired.sheets[0].lying)
    assert a.union(b).area == pytest.approx(1200)


def test_shelf_after_shelf_is_turned_to_and_what_is_short_is_named() -> None:
    # an offcut of 30 x 35 takes one of 20 x 30, the only sheet the next; the third is bought
    shelves = [Shelf((sheet_of(30, 35, 1, "offcut"),)), Shelf((sheet_of(24, 48),)), COIL]
    answer = on([piece("a", 20, 30), piece("b", 20, 30), piece("c", 20, 30)], shelves)
    assert [(s.n, s.of, s.row.form) for s in answer.sheets] == [(1, 3, "offcut"), (2, 3, "sheet"), (3, 3, "coil")]
    assert (answer.short, answer.missing) == ((("steel-24", "c", 1),), ())


def test_a_strip_of_a_trims_girth_is_cut_in_one_dimension() -> None:
    # girth 4: 70 + 50 and 50 + 60 from bars of 120; the 6 wide piece is left to the coil
    trims = [piece("a", 70, 4), piece("b", 50, 4, 2), piece("c", 60, 4), piece("d", 60, 6)]
    strips = Shelf((sheet_of(4, 120, 5),), to_length=True)
    answer = on(trims, [strips, COIL])
    laid = [(s.row.form, sorted(x.id for x in s.lying), s.used_height) for s in answer.sheets]
    assert laid == [("sheet", ["a", "b"], 120), ("sheet", ["b", "c"], 110), ("coil", ["d"], 60)]
    assert [x.corners() for x in answer.sheets[1].lying] == [((0, 0), (4, 60)), ((0, 60), (4, 110))]


def test_a_finish_with_a_direction_has_every_length_along_the_stock() -> None:
    answer = on([piece("a", 30, 10, 3)], [COIL], turn=False)
    assert {lying.lie.quarter % 2 for lying in answer.sheets[0].lying} == {1}
    # three of 10 side by side on 48
    assert answer.sheets[0].used_height == 30


def test_a_length_wider_than_the_stock_goes_nowhere_where_nothing_may_turn() -> None:
    wide = [piece("a", 30, 50)]
    assert on(wide, [COIL]).missing == ()
    assert on(wide, [COIL], turn=False).missing == (("steel-24", "a", 1),)


def test_what_a_sheet_comes_to_is_the_whole_of_it_and_of_a_roll_what_is_used() -> None:
    # 24 x 48 holds one of 20 x 30: 600 of 1152; on a 48 roll 20 are used: 600 of 960
    shelves = [Shelf((sheet_of(24, 48),)), Shelf((sheet_of(48, 600, 1, "roll"),))]
    on_sheet, on_roll = on([piece("a", 20, 30, 2)], shelves).sheets
    assert (on_sheet.taken, on_sheet.share) == (48, pytest.approx(600 / 1152))
    assert (on_roll.taken, on_roll.share) == (20, pytest.approx(600 / 960))
    # beyond the blank 24 x 18; beside it 4 x 30 is kept as well
    assert [(o.width, o.height) for o in on_sheet.offcuts()] == [(24, 18), (4, 30)]
    assert [(o.width, o.height) for o in on_roll.offcuts()] == [(18, 20)]


def sheets() -> list[tuple[str, JobSheet]]:
    found = [(name, g) for name, g in (("kiln-shed", True), ("malt-house", False), ("weir-cottage", True))]
    return [(f"{name}-{s.metal}", s) for name, g in found for s in nested(name, g).sheets]


def heaped(count: int) -> JobSheet:
    """One roll with everything of `count` openings: pans and sides, strips, cleats, patches and closures."""
    sizes = (
        (38.4, 27.5, 1),
        (30.1, 12.4, 2),
        (25.5, 14.3, 1),
        (29.0, 2.0, 2),
        (10.3, 2.7, 3),
        (1.9, 2.4, 4),
        (3.0, 3.0, 2),
    )
    cut = [piece(f"{n}-{k}", w + 0.25 * (n % 7), h, q) for n in range(count) for k, (w, h, q) in enumerate(sizes)]
    roll = Shelf((Row(Stock("coil", 48.0, 12000.0, None, None, by_length=True), "coil", False),))
    (sheet,) = on(cut, [roll]).sheets
    return sheet


def numbers(drawing: Display) -> tuple[set[str], Counter[str]]:
    """The numbers in balls, and the others."""
    balls = [m.centre for m in drawing.marks if isinstance(m, Circle) and m.layer == "balloon"]
    found = [t for t in drawing.texts() if t.text.isdigit()]
    in_ball = {t.text for t in found if any(dist(t.at, ball) < 1 for ball in balls)}
    return in_ball, Counter(t.text for t in found if not any(dist(t.at, ball) < 1 for ball in balls))


def assert_readable(drawing: Display) -> None:
    boxes = [Polygon(t.box()) for t in drawing.texts()]
    assert min(t.size for t in drawing.texts()) >= 8
    for i, box in enumerate(boxes):
        x0, y0, x1, y1 = box.bounds
        assert min(x0, y0) >= 0 and x1 <= drawing.width and y1 <= drawing.height
        assert all(box.intersection(other).area < 0.5 for other in boxes[:i]), drawing.texts()[i].text


@pytest.mark.parametrize(("_name", "sheet"), sheets(), ids=lambda v: v if isinstance(v, str) else "")
def test_a_cutting_plan_is_readable(_name: str, sheet: JobSheet) -> None:
    speaker = Speaker("in")
    (drawing,) = draw_sheet(1, sheet, speaker)
    assert_readable(drawing)
    # a ball on every cut, its number in it; a plain number on every blank, on each run that shows it
    on_cuts, on_blanks = numbers(drawing)
    assert sheet.plan is not None
    assert on_cuts == {str(c.n) for c in sheet.plan.cuts}
    assert Counter(str(lying.number) for lying in sheet.lying) <= on_blanks
    assert len(cut_rows(sheet, speaker)) == len(sheet.plan.cuts)
    assert to_svg(drawing) == to_svg(draw_sheet(1, sheet, speaker)[0])


@pytest.mark.parametrize("count", [4, 12, 60])
def test_a_long_roll_is_drawn_in_parts_that_can_be_read(count: int) -> None:
    sheet = heaped(count)
    parts = draw_sheet(3, sheet, Speaker("in"))
    # 15 blanks for each opening, and no drawing lists more than some thirty
    assert len(parts) >= count * 15 / 40
    for n, drawing in enumerate(parts, 1):
        assert drawing.title.endswith(f", part {n} of {len(parts)}")
        assert_readable(drawing)
    said = [numbers(drawing) for drawing in parts]
    assert sheet.plan is not None
    assert set().union(*(cuts for cuts, _ in said)) == {str(c.n) for c in sheet.plan.cuts}
    blanks = sum((found for _, found in said), Counter[str]())
    assert Counter(str(lying.number) for lying in sheet.lying) <= blanks


def test_the_parts_of_a_roll_follow_each_other_and_list_every_blank_once() -> None:
    sheet = heaped(12)
    parts = draw_sheet(1, sheet, Speaker("in"))
    spans, listed = [], Counter[str]()
    for drawing in parts:
        words = [t.text for t in drawing.texts()]
        (stretch,) = (re.search(r"This part: (.+) to (.+) along", w) for w in words if w.startswith("This part"))
        assert stretch is not None
        spans.append(stretch.groups())
        # "12 3-0 (2) 38-7/16" x 27-1/2"": number, id, how many; what began on the part before says so
        for row in (re.match(r"(\d+) (\S+) (?:\((\d+)\) )?.* x [^,]*$", w) for w in words):
            if row:
                listed[row[2]] += int(row[3] or 1)
    assert spans[0][0] == '0"' and all(a[1] == b[0] for a, b in pairwise(spans))
    assert read_length(spans[-1][1], "in") == pytest.approx(sheet.used_height, abs=1 / 32)
    assert listed == Counter(lying.id for lying in sheet.lying)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_sheet_as_dxf_is_true_to_size_and_clean(unit: str) -> None:
    sheet = nested("kiln-shed", True).sheets[0]
    data = sheet_to_dxf(sheet, unit)  # type: ignore[arg-type]
    document = read(io.StringIO(data.decode("utf-8")))
    audit = document.audit()
    assert [e.message for e in audit.errors] == [] and [f.message for f in audit.fixes] == []
    k = 25.4 if unit == "mm" else 1.0
    rings = document.modelspace().query("LWPOLYLINE[layer=='OUTLINE']")
    areas = sum(Polygon([(x, y) for x, y, *_ in ring.get_points()]).area for ring in rings)
    assert all(ring.closed for ring in rings)
    assert areas == pytest.approx(sum(Polygon(x.blank.outline).area for x in sheet.lying) * k**2)
    assert not document.layers.get("OUTLINE").dxf.plot
    bends = document.modelspace().query("LINE[layer=='BEND_UP' | layer=='BEND_DOWN']")
    assert len(bends) == sum(len(lying.bends) for lying in sheet.lying)
    assert data == sheet_to_dxf(sheet, unit)  # type: ignore[arg-type]


def stretches(data: bytes) -> list[LineString]:
    """Every straight stretch on the CUT layer of a cutting file."""
    space = read(io.StringIO(data.decode("ascii"))).modelspace()
    out = [LineString([e.dxf.start.vec2, e.dxf.end.vec2]) for e in space.query("LINE[layer=='CUT']")]
    for e in space.query("LWPOLYLINE[layer=='CUT']"):
        points = [(x, y) for x, y, *_ in e.get_points()]
        out += [LineString(pair) for pair in pairwise([*points, points[0]])]
    return out


@pytest.mark.parametrize(("name", "guillotine"), [("kiln-shed", True), ("malt-house", False), ("weir-cottage", True)])
def test_no_two_lines_to_cut_share_a_stretch_and_every_edge_is_cut(name: str, guillotine: bool) -> None:
    for sheet in nested(name, guillotine).sheets:
        cut = stretches(sheet_to_dxf(sheet, "in"))
        tree = STRtree(cut)
        for i, one in enumerate(cut):
            strip = one.buffer(1e-6, cap_style="flat")
            for j in tree.query(strip):
                assert j >= i or cut[j].intersection(strip).length < 0.001
        width, end = sheet.stock.width, sheet.taken
        edge = LineString([(0, end), (0, 0), (width, 0), (width, end)])
        covered = unary_union([*cut, edge]).buffer(0.0005)
        for lying in sheet.lying:
            assert Polygon([lying.at(p) for p in lying.blank.outline]).exterior.difference(covered).length < 0.001


def test_an_edge_that_two_blanks_share_is_cut_once_and_the_stocks_own_not_at_all() -> None:
    # two of 20 x 30 side by side on 48 x 48: their seam at 20, the far side at 40, and one line across both at 30
    (sheet,) = on([piece("a", 20, 30, 2)], [Shelf((sheet_of(48, 48),))], turn=False).sheets
    lines = {
        tuple(sorted((round(x, 6), round(y, 6)) for x, y in s.coords)) for s in stretches(sheet_to_dxf(sheet, "in"))
    }
    assert {x.corners() for x in sheet.lying} == {((0, 0), (30, 20)), ((0, 20), (30, 40))}
    assert lines == {((0, 20), (30, 20)), ((0, 40), (30, 40)), ((30, 0), (30, 40))}
    # on a roll its end is no edge yet: 20 along, cut across under both
    (roll,) = on([piece("a", 20, 24, 2)], [COIL], turn=True).sheets
    ends = [s for s in stretches(sheet_to_dxf(roll, "in")) if s.bounds[1] == s.bounds[3] == roll.used_height]
    assert [s.length for s in ends] == [48]
