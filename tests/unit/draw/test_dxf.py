"""DXF: re-reads clean, true size, right layers, same bytes."""

from __future__ import annotations

import io
import math
from typing import Any

import pytest
from ezdxf.filemanagement import read

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


def test_the_id_stands_on_its_own_layer(pan: Piece) -> None:
    space = reread(blank_to_dxf(pan.id, pan.blank, pan.bends, "in")).modelspace()
    assert [t.dxf.text for t in space.query("TEXT[layer=='TEXT']")] == ["BP"]


def test_the_same_blank_gives_the_same_bytes(pan: Piece) -> None:
    first = blank_to_dxf(pan.id, pan.blank, pan.bends, "mm")
    assert blank_to_dxf(pan.id, pan.blank, pan.bends, "mm") == first
