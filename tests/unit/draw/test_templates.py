"""Templates: where they are wanted, which are alike, how they tile; laid as they say, they give the blank back."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from shapely import unary_union
from shapely.geometry import LineString, Point, box
from shapely.geometry.base import BaseGeometry

from lapwright.draw.display import Circle, Display, Polyline
from lapwright.draw.template import draw_template, lying
from lapwright.draw.template_alike import Template, Use, templates_of
from lapwright.draw.template_places import FIELD, MARGIN, RIM, SetLine, Spot, fits, spots_of
from lapwright.draw.template_tiles import OVERLAP, tiles_of
from lapwright.job import Job
from lapwright.metal.model import Blank, Piece, RoofPanel
from lapwright.packet.drawings import cut_items
from lapwright.packet.templates import STEP
from lapwright.site.read import read_job
from lapwright.words import Speaker

Flat = tuple[float, float]
EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*/job.toml"))


def blank_of(*outline: Flat) -> Blank:
    return Blank(outline, (), (), 1.0, max(p[0] for p in outline), max(p[1] for p in outline))


def piece_of(blank: Blank, name: str = "x") -> Piece:
    return Piece(name, "x", "x", None, 1, "steel-24", 0.0255, blank, (), 1.0)


def sleeve() -> Piece:
    """A sleeve unrolled: 20 round, its upper end cut by a sloping roof: 5 + cos, 4 to 6 high."""
    curve = [(20.0 - k / 10, 5.0 + math.cos(math.pi * k / 100)) for k in range(201)]
    return piece_of(blank_of((0.0, 0.0), (20.0, 0.0), *curve), "sleeve")


def test_a_plain_rectangle_wants_no_template() -> None:
    assert spots_of(piece_of(blank_of((0, 0), (30, 0), (30, 2), (0, 2))), 0.5) == ()


def test_membrane_wants_none() -> None:
    cut = piece_of(blank_of((0, 0), (30, 0), (30, 9), (1, 9), (0, 8)))
    assert len(spots_of(cut, 0.5)) == 1
    assert spots_of(replace(cut, kind="membrane"), 0.5) == ()


def test_a_small_blank_is_shown_whole_with_a_rim_of_paper() -> None:
    (spot,) = spots_of(piece_of(blank_of((0, 0), (6, 0), (6, 3), (5, 4), (0, 4))), 0.5)
    assert spot.window == (-0.25, -0.25, 6.25, 4.25) and spot.is_whole
    assert (spot.upright, spot.level) == (SetLine("left", 0.0), SetLine("lower", 0.0))


def test_a_large_blank_has_its_cut_corners_alone() -> None:
    # 60 x 12 1/2, hem corners cut at 45 from (0, 1/2) to (1/2, 0) and mirrored: 3/4 of metal shown round both ends.
    ell = blank_of((0, 0.5), (0.5, 0), (59.5, 0), (60, 0.5), (60, 12.5), (0, 12.5))
    left, right = spots_of(piece_of(ell), 0.5)
    assert left.window == (-0.25, -0.25, 0.5 + 0.75, 0.5 + 0.75)
    assert right.window == (59.5 - 0.75, -0.25, 60.25, 1.25)
    assert (right.upright, right.level) == (SetLine("right", 0.0), SetLine("lower", 0.0))


def test_a_place_in_the_middle_is_laid_from_the_nearer_edges_in_whole_steps() -> None:
    # A slit from (22, 8) to (22, 9) on 60 x 30: window 21.25 to 22.75 and 7.25 to 9.75. 21.25 from the left and 37.25
    # from the right: left, and 1/4 inside the window at least: 21 1/2; 7.25 from below: 7 1/2.
    blank = replace(blank_of((0, 0), (60, 0), (60, 30), (0, 30)), cuts=(((22.0, 8.0), (22.0, 9.0)),))
    (spot,) = spots_of(piece_of(blank), 0.5)
    assert spot.window == (21.25, 7.25, 22.75, 9.75)
    assert (spot.upright, spot.level) == (SetLine("left", 21.5), SetLine("lower", 7.5))
    assert spot.cross == (21.5, 7.5)


def test_a_curve_has_one_window_as_long_as_itself() -> None:
    # all along the upper edge, from 3/4 below its lowest point (4) to the rim above its highest (6)
    (spot,) = spots_of(sleeve(), 0.5)
    assert spot.window == pytest.approx((-RIM, 4.0 - MARGIN, 20.0 + RIM, 6.0 + RIM))
    assert not fits(spot.window)


def test_a_window_larger_than_a_sheet_is_tiled() -> None:
    # 20.5 x 3: across 7 wide sheets that share 0.6 it takes 4 (19.9 / 6.4 = 3.1), turned up 7.8 high ones 3 (2.8).
    (template,) = templates_of(spots_of(sleeve(), 0.5))
    shape = lying(template.shape)
    assert shape.turned and shape.size == pytest.approx((3.0, 20.5))
    tiles = tiles_of(shape.size)
    assert [t.name for t in tiles] == ["A1", "A2", "A3"]
    # each (20.5 + 2 x 0.6) / 3 = 7.2333 long, the next begins 6.6333 further on
    assert [t.window[1] for t in tiles] == pytest.approx([0.0, 6.6333, 13.2667], abs=1e-4)
    assert [t.window[3] for t in tiles] == pytest.approx([7.2333, 13.8667, 20.5], abs=1e-4)


def test_tiles_are_lettered_across_and_numbered_up_and_cover_all() -> None:
    # 14 x 16: (14 - 0.6) / 6.4 = 2.1 and (16 - 0.6) / 7.2 = 2.1: three by three
    tiles = tiles_of((14.0, 16.0))
    assert [t.name for t in tiles] == ["A1", "B1", "C1", "A2", "B2", "C2", "A3", "B3", "C3"]
    whole = box(0, 0, 14, 16)
    for tile in tiles:
        whole = whole.difference(box(*tile.window))
        assert tile.window[2] - tile.window[0] <= FIELD[0] and tile.window[3] - tile.window[1] <= FIELD[1]
    assert whole.is_empty
    assert tiles[0].window[2] - tiles[1].window[0] == pytest.approx(OVERLAP)


def test_the_twenty_seventh_column_is_aa() -> None:
    assert [t.name for t in tiles_of((7.0 + 26 * 6.4, 1.0))][-2:] == ["Z1", "AA1"]


def test_neighbours_carry_the_same_crosses() -> None:
    # A1 and A2 share a strip 0.6 high; its crosses lie on its middle line, a fifth from either end: on A1
    # at 7.2333 - 0.3 = 6.9333 of its own height, on A2 at 0.3.
    (template,) = templates_of(spots_of(sleeve(), 0.5))
    one, two, three = draw_template("T1", template, ("what for",), Speaker("in"))
    assert [d.title for d in (one, two, three)] == ["T1 A1", "T1 A2", "T1 A3"]

    def crosses(sheet: Display) -> list[Flat]:
        (frame,) = (m for m in sheet.on("trim") if isinstance(m, Polyline))
        u0, v0 = frame.points[0]
        found = [m.centre for m in sheet.on("join") if isinstance(m, Circle)]
        return sorted(((x - u0) / 72, (y - v0) / 72) for x, y in found)

    low = [(0.6, 0.3), (2.4, 0.3)]
    high = [(0.6, 7.2333 - 0.3), (2.4, 7.2333 - 0.3)]
    assert [near(p) for p in crosses(one)] == high
    assert [near(p) for p in crosses(two)] == sorted([*low, *high])
    assert [near(p) for p in crosses(three)] == low
    assert "join A2" in [t.text for t in one.texts()]


def near(p: Flat) -> Flat:
    return pytest.approx(p, abs=1e-3)  # type: ignore[return-value]


def cut_corner(turned_over: bool, by: float = 0.0) -> Piece:
    """A strip 40 x 3 with one corner cut, on the left or mirrored on the right."""
    left = [(0, 0), (40, 0), (40, 3), (2 + by, 3), (0, 1)]
    mirrored = [(40 - u, v) for u, v in reversed(left)]
    return piece_of(blank_of(*(mirrored if turned_over else left)), "right" if turned_over else "left")


def test_a_mirrored_corner_is_the_same_template_face_down() -> None:
    spots = [s for p in (cut_corner(False), cut_corner(True)) for s in spots_of(p, 0.5)]
    (template,) = templates_of(spots)
    assert [(u.spot.item.id, u.over, u.spot.upright.edge) for u in template.uses] == [
        ("left", False, "left"), ("right", True, "right"),
    ]  # fmt: skip
    assert template.count == 2


def test_corners_cut_alike_are_found_whatever_part_of_an_inch_they_are() -> None:
    # windows 1/4 + 3/8 + 3/4 wide: half-way between hundredths, where rounding could go either way
    for k in range(1, 33):
        cut = k / 32
        outline = [(cut, 0), (40 - cut, 0), (40, 1), (40, 30), (0, 30), (0, 1)]
        (template,) = templates_of(spots_of(piece_of(blank_of(*outline)), 0.5))
        assert [u.over for u in template.uses] == [False, True], cut


def test_a_mirrored_blank_shown_whole_is_laid_to_the_opposite_edge() -> None:
    left = ((0, 0), (4, 0), (4, 3), (2, 3), (0, 1))
    right = tuple((4 - u, v) for u, v in reversed(left))
    (template,) = templates_of([s for b in (left, right) for s in spots_of(piece_of(blank_of(*b)), 0.5)])
    assert [(u.over, u.spot.upright.edge, u.spot.level.edge) for u in template.uses] == [
        (False, "left", "lower"), (True, "right", "lower"),
    ]  # fmt: skip


def test_a_corner_cut_a_hundredth_further_is_another_template() -> None:
    spots = [s for p in (cut_corner(False), cut_corner(True, 0.01)) for s in spots_of(p, 0.5)]
    assert len(templates_of(spots)) == 2


def job_of(path: Path) -> Job:
    return Job(read_job(path.read_text(encoding="utf-8"), path.name))


def laid(template: Template, use: Use, p: Flat) -> Flat:
    """Where a point of the paper comes to lie on a blank, by what is printed alone: lines, tips, face down or not."""
    shape, spot = template.shape, use.spot
    flips = [a * b for a, b in zip(shape.toward, spot.toward, strict=True)]
    assert (flips[0] * flips[1] < 0) == use.over
    return (
        spot.cross[0] + flips[0] * (p[0] - shape.cross[0]),
        spot.cross[1] + flips[1] * (p[1] - shape.cross[1]),
    )


def cut_lines(spot: Spot) -> BaseGeometry:
    blank = spot.blank
    rings = [blank.outline, *blank.holes]
    return unary_union([*(LineString([*r, r[0]]) for r in rings), *map(LineString, blank.cuts)])


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.parent.name)
def test_a_template_laid_as_it_says_gives_every_cut_of_the_blank(path: Path) -> None:
    # Every cut on the paper is a cut of the blank, and every corner of the blank lies under some paper.
    job = job_of(path)
    spots = [s for item in cut_items(job) for s in spots_of(item, STEP[job.site.units])]
    bare: dict[str, list[Flat]] = {}
    for template in templates_of(spots):
        assert template.shape.cuts
        for use in template.uses:
            metal = cut_lines(use.spot)
            ends = [laid(template, use, p) for line in template.shape.cuts for p in line]
            assert max(metal.distance(Point(p)) for p in ends) < 2e-3
            bare.setdefault(use.spot.item.id, []).extend(ends)
    for spot in spots:
        corners = [p for p in spot.blank.outline if not _own(spot.blank, p)]
        slits = [p for cut in spot.blank.cuts for p in cut]
        for p in (*corners, *slits):
            assert min(math.dist(p, q) for q in bare[spot.item.id]) < 2e-3, (spot.item.id, p)


def _own(blank: Blank, p: Flat) -> bool:
    return all(min(abs(x), abs(x - far)) < 1e-6 for x, far in zip(p, (blank.width, blank.height), strict=True))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.parent.name)
def test_every_template_of_an_example_fits_its_sheet(path: Path) -> None:
    job = job_of(path)
    items: list[Piece | RoofPanel] = list(cut_items(job))
    for template in templates_of(s for item in items for s in spots_of(item, STEP[job.site.units])):
        size = lying(template.shape).size
        for tile in tiles_of(size):
            u0, v0, u1, v1 = tile.window
            assert u1 - u0 <= FIELD[0] + 1e-9 and v1 - v0 <= FIELD[1] + 1e-9
        for a, b in pairwise(tiles_of(size)):
            assert a.name != b.name
