"""DXF: re-reads clean, true size, right layers, same bytes."""

from __future__ import annotations

import io
import math
from itertools import combinations
from typing import Any

import pytest
from ezdxf.filemanagement import read
from ezdxf.lldxf.encoding import decode_dxf_unicode
from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon, box

from lapwright.draw.dxf import blank_to_dxf
from lapwright.metal.model import Blank, Piece, RoofPanel


def reread(data: bytes) -> Any:
    document = read(io.StringIO(data.decode("utf-8")))
    audit = document.audit()
    assert [e.message for e in audit.errors] == [] and [f.message for f in audit.fixes] == []
    return document


def blank_of(item: Piece | RoofPanel) -> Blank:
    assert item.blank is not None
    return item.blank


def near(expected: float) -> Any:
    return pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize(("unit", "code", "k"), [("in", 1, 1.0), ("mm", 4, 25.4)])
def test_outline_is_closed_and_true_to_size(item: Piece | RoofPanel, unit: Any, code: int, k: float) -> None:
    blank = blank_of(item)
    document = reread(blank_to_dxf(item.id, blank, item.bends, unit))
    assert document.header["$INSUNITS"] == code
    assert document.header["$MEASUREMENT"] == (0 if unit == "in" else 1)
    outline = document.modelspace().query("LWPOLYLINE[layer=='CUT']")[0]
    assert outline.closed
    points = [(p[0], p[1]) for p in outline.get_points()]
    assert len(points) == len(blank.outline)
    for got, want in zip(points, blank.outline, strict=True):
        assert got == (near(want[0] * k), near(want[1] * k))
    assert max(p[0] for p in points) == near(blank.width * k) and min(p[0] for p in points) == near(0)
    assert max(p[1] for p in points) == near(blank.height * k) and min(p[1] for p in points) == near(0)


def test_bends_lie_on_the_layer_of_their_way_at_their_length(item: Piece | RoofPanel) -> None:
    space = reread(blank_to_dxf(item.id, blank_of(item), item.bends, "in")).modelspace()
    for way in ("up", "down"):
        lines = space.query(f"LINE[layer=='BEND_{way.upper()}']")
        got = sorted(math.dist(e.dxf.start.vec2, e.dxf.end.vec2) for e in lines)
        want = sorted(math.dist(b.start, b.end) for b in item.bends if b.way == way)
        assert got == [near(w) for w in want]


def test_slits_are_lines_and_stop_holes_circles_on_the_cut_layer(slit: Piece) -> None:
    # slits: 14 - 8 = 6 long, and sqrt 2 at 45 degrees, twice; holes 1/8 across at (4, 7) and (36, 7)
    space = reread(blank_to_dxf(slit.id, slit.blank, slit.bends, "in")).modelspace()
    lines = space.query("LINE[layer=='CUT']")
    assert sorted(math.dist(e.dxf.start.vec2, e.dxf.end.vec2) for e in lines) == [
        near(math.sqrt(2)), near(math.sqrt(2)), near(6), near(6),
    ]  # fmt: skip
    circles = space.query("CIRCLE[layer=='CUT']")
    assert [(c.dxf.center.x, c.dxf.center.y) for c in circles] == [(near(4), near(7)), (near(36), near(7))]
    assert [c.dxf.radius for c in circles] == [near(1 / 16), near(1 / 16)]


def test_a_hole_that_is_not_round_is_a_closed_line(patch: Piece) -> None:
    ring = ((0.5, 0.5), (1.5, 0.5), (1.5, 1.0), (0.5, 1.0))
    blank = Blank(patch.blank.outline, (), (ring,), 3.5, 2, 2)
    space = reread(blank_to_dxf("x", blank, (), "in")).modelspace()
    assert [e.closed for e in space.query("LWPOLYLINE[layer=='CUT']")] == [True, True]
    assert len(space.query("CIRCLE")) == 0


def test_a_drill_point_stands_in_the_middle_of_every_round_hole(slit: Piece) -> None:
    space = reread(blank_to_dxf(slit.id, slit.blank, slit.bends, "mm")).modelspace()
    points = [(p.dxf.location.x, p.dxf.location.y) for p in space.query("POINT[layer=='MARK']")]
    assert points == [(near(4 * 25.4), near(7 * 25.4)), (near(36 * 25.4), near(7 * 25.4))]


def test_id_and_order_of_bends_stand_on_the_text_layer(pan: Piece) -> None:
    space = reread(blank_to_dxf(pan.id, pan.blank, pan.bends, "in")).modelspace()
    said = [t.dxf.text.replace("%%d", "°") for t in space.query("TEXT[layer=='TEXT']")]
    assert said == [
        "1 DOWN 180.0° closed hem", "2 DOWN 180.0° closed hem", "3 UP 180.0° closed hem", "4 UP 87.5°",
        "5 UP 87.5°", "6 DOWN 90.0°", "7 DOWN 90.0°", "8 UP 120.3°", "BP",
    ]  # fmt: skip


def test_a_scribed_line_is_a_mark_and_named(pan: Piece) -> None:
    mark = ((2.0, 12.0), (10.0, 20.0))
    space = reread(blank_to_dxf(pan.id, pan.blank, pan.bends, "in", [mark])).modelspace()
    lines = [(e.dxf.start.vec2, e.dxf.end.vec2) for e in space.query("LINE[layer=='MARK']")]
    assert lines == [((2.0, 12.0), (10.0, 20.0))]
    assert "cleat line" in [t.dxf.text for t in space.query("TEXT")]


def test_no_words_cross_a_line_or_other_words(item: Piece | RoofPanel) -> None:
    # By another library: a box as long as its letters are high, each, touches no line and no other box.
    space = reread(blank_to_dxf(item.id, blank_of(item), item.bends, "in")).modelspace()
    boxes = [text_box(t) for t in space.query("TEXT")]
    lines = [LineString([e.dxf.start.vec2, e.dxf.end.vec2]) for e in space.query("LINE")]
    lines += [Polygon([p[:2] for p in e.get_points()]).exterior for e in space.query("LWPOLYLINE")]
    assert len(boxes) == len(item.bends) + 1
    assert not any(a.intersects(b) for a, b in combinations(boxes, 2))
    assert not any(b.intersects(line) for b in boxes for line in lines)


def text_box(said: Any) -> Polygon:
    letters, tall = len(said.dxf.text.replace("%%d", "°")), said.dxf.height
    (x, y), turned = said.dxf.align_point.vec2, said.dxf.get("rotation", 0.0)
    half = letters * tall / 2
    return rotate(box(x - half, y - tall / 2, x + half, y + tall / 2), turned, origin=(x, y))


def test_release_2000_is_written_without_a_letter_that_it_does_not_know(pan: Piece) -> None:
    data = blank_to_dxf("Ünter 3°", pan.blank, pan.bends, "in")
    assert data.isascii() and b"AC1015" in data
    assert "Ünter 3%%d" in [decode_dxf_unicode(t.dxf.text) for t in reread(data).modelspace().query("TEXT")]


def test_the_same_blank_gives_the_same_bytes(pan: Piece) -> None:
    first = blank_to_dxf(pan.id, pan.blank, pan.bends, "mm")
    assert blank_to_dxf(pan.id, pan.blank, pan.bends, "mm") == first
