"""The order of folds on paper and in motion."""

from __future__ import annotations

import functools
import itertools
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from lapwright.draw.bending import draw_order
from lapwright.draw.crowd import touch
from lapwright.draw.display import SMALLEST_TEXT, Display, reach
from lapwright.draw.fold_svg import fold_animation
from lapwright.draw.svg import to_svg
from lapwright.geom.space import distance
from lapwright.job import run
from lapwright.metal.develop import develop, places
from lapwright.metal.model import Piece
from lapwright.shop.bending.order import bend_order
from lapwright.shop.bending.partial import places_at
from lapwright.shop.bending.tools import default_kit, kits
from lapwright.site.read import read_job
from lapwright.words import Speaker
from trims import STEEL, piece_of, trim

EXAMPLES = Path(__file__).parents[3] / "examples"
SVG = "{http://www.w3.org/2000/svg}"


@functools.cache
def pieces(name: str) -> tuple[Piece, ...]:
    job = run(read_job((EXAMPLES / name / "job.toml").read_bytes(), name))
    return tuple(p for p in job.pieces if p.is_metal and p.bends)


def ordered(piece: Piece, unit: str = "in") -> Display:
    return draw_order(piece, bend_order(piece, default_kit()), Speaker(unit))


@pytest.mark.parametrize("name", ["kiln-shed", "weir-cottage", "orchard-studio"])
def test_no_words_lie_on_one_another_and_none_leave_the_sheet(name: str) -> None:
    for piece in pieces(name):
        display = ordered(piece)
        for a, b in itertools.combinations(display.texts(), 2):
            assert not touch(a.box(), b.box()), f"{piece.id}: {a.text} on {b.text}"
        for text in display.texts():
            assert text.size >= SMALLEST_TEXT
            assert all(0 <= x <= display.width and 0 <= y <= display.height for x, y in text.box()), text.text


def test_no_line_of_a_picture_crosses_its_words() -> None:
    for piece in pieces("weir-cottage"):
        display = ordered(piece)
        for mark in display.marks:
            if mark.layer in ("after", "before", "tool", "blank", "line-now", "arrow"):
                xs, ys = zip(*reach(mark), strict=True)
                x0, x1, y0, y1 = min(xs), max(xs), min(ys), max(ys)
                for text in display.texts():
                    (u0, v0), _, (u1, v1), _ = text.box()
                    assert x1 < u0 or u1 < x0 or y1 < v0 or v1 < y0, f"{piece.id}: {mark} over {text.text}"


def test_a_picture_has_the_numbers_of_its_bends_on_the_blank() -> None:
    # Eleven operations of eight bends: three hems stand twice, folded and closed, and the numbers never go back.
    piece = next(p for p in pieces("kiln-shed") if p.kind == "back-pan")
    plan = bend_order(piece, default_kit())
    numbers = {b.id: str(b.order) for b in piece.bends}
    firsts = [t.text.split()[0] for t in ordered(piece).texts() if t.bold and t.text[0].isdigit()]
    assert firsts == ["+".join(numbers[b] for b in o.bends) for o in plan.operations]
    assert len(firsts) == 11
    assert [int(n) for n in dict.fromkeys(firsts)] == [1, 2, 3, 4, 5, 6, 7, 8]


def test_a_plan_that_cannot_be_names_the_bend_and_what_helps() -> None:
    piece = piece_of(trim([2, 2], [140]))
    display = draw_order(piece, bend_order(piece, kits()["straight-only"]), Speaker())
    said = " ".join(t.text for t in display.texts())
    assert "f0/f1: it turns farther than the beam's nose lets the leaf go" in said
    assert "less angle" in said


def test_a_section_ends_where_the_fold_is_made() -> None:
    # 2 held, 1 folded up square: the heavy line's last point stands over the fold, as high as the flange is long.
    piece = piece_of(trim([2, 1], [90]))
    display = draw_order(piece, bend_order(piece, default_kit()), Speaker())
    (after,) = display.on("after")
    (before,) = display.on("before")
    fold_x = before.points[-1][0] - (after.points[-1][1] - before.points[-1][1])  # type: ignore[union-attr]
    assert after.points[-1][0] == pytest.approx(fold_x, abs=0.01)  # type: ignore[union-attr]


def test_folded_all_the_way_the_blank_lies_where_the_piece_does() -> None:
    for piece in pieces("weir-cottage"):
        assert piece.body is not None
        flat = develop(piece.body)
        whole = places(flat)
        mine = places_at(flat, [b.angle_deg for b in flat.bends], flat.root)
        for face, frame in whole.items():
            assert distance(frame.origin, mine[face].origin) < 1e-9
            assert distance(frame.ex, mine[face].ex) < 1e-9


def test_not_folded_at_all_the_blank_lies_flat() -> None:
    flat = develop(trim([2, 1, 3], [90, -45]))
    for frame in places_at(flat, [0.0, 0.0]).values():
        assert frame.origin == (0.0, 0.0, 0.0)


def test_half_way_up_a_flange_stands_at_half_its_angle() -> None:
    # Turned 45 of 90: a point 1 out from the far tangent line stands r + t, less (r + t) cos 45, plus sin 45, high.
    flat = develop(trim([2, 1], [90]))
    zone = flat.zones[0]
    frame = places_at(flat, [45.0])[zone.child]
    out = (zone.far[0][0] - zone.near[0][0], zone.far[0][1] - zone.near[0][1])
    k = zone.metal / 2  # half of the bend's metal is still flat, with the flange
    tip = (zone.far[0][0] + out[0] / zone.metal, zone.far[0][1] + out[1] / zone.metal)
    high = 3 * STEEL * (1 - 0.5**0.5) + (1 + k) * 0.5**0.5
    assert frame.space(tip)[2] == pytest.approx(high, abs=1e-9)


@pytest.mark.parametrize("kind", ["back-pan", "cricket", "offset-cleat"])
def test_the_moving_picture_is_one_file_without_a_script(kind: str) -> None:
    piece = next(p for p in (*pieces("weir-cottage"), *pieces("kiln-shed")) if p.kind == kind)
    plan = bend_order(piece, default_kit())
    text = fold_animation(piece, plan, Speaker())
    root = ET.fromstring(text)
    assert not list(root.iter(f"{SVG}script"))
    assert "http" not in re.sub(r'xmlns="[^"]*"', "", text)
    groups = list(root.iter(f"{SVG}g"))
    assert [g.get("visibility") for g in groups] == ["hidden"] * (len(groups) - 1) + ["visible"]
    drawn = {p.get("id") for p in root.iter(f"{SVG}polygon")}
    assert {u.get("href", "")[1:] for u in root.iter(f"{SVG}use")} == drawn
    assert fold_animation(piece, plan, Speaker()) == text


def test_at_every_moment_one_picture_is_shown() -> None:
    piece = piece_of(trim([2, 1, 3], [90, -45]))
    root = ET.fromstring(fold_animation(piece, bend_order(piece, default_kit()), Speaker()))
    rows = [(a.get("keyTimes", "").split(";"), a.get("values", "").split(";")) for a in root.iter(f"{SVG}animate")]
    for share in (0.0, 0.1, 0.33, 0.5, 0.77, 0.99):
        shown = [[v for t, v in zip(times, values, strict=True) if float(t) <= share][-1] for times, values in rows]
        assert shown.count("visible") == 1


def test_it_prints() -> None:
    assert to_svg(ordered(pieces("kiln-shed")[0])).startswith("<svg")
