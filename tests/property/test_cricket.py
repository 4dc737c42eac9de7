"""Random crickets: any width, pitch, cross slope and ridge slope that a job may ask, plumb and square faces.

LAPWRIGHT_CRICKETS=5000 in the environment runs as many of each.
"""

from __future__ import annotations

import math
import os
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon
from strategies import lengths

from crickets import EDGES, bench, ends, joint, malt_house, mould, parts, triangle
from lapwright.detail.choose import STEEPEST_WALL_EDGE
from lapwright.detail.cricket import wall_slant
from lapwright.detail.framing import framing_of
from lapwright.metal.cricket import half_cricket, half_lap, one_piece_angles, true_edges
from lapwright.metal.develop import develop, fold
from lapwright.metal.work import HANDS, Work
from lapwright.tables import metals

HOW_MANY = int(os.environ.get("LAPWRIGHT_CRICKETS", "150"))
TRUE, TOGETHER = 1e-6, 1e-3


@st.composite
def crickets(draw: st.DrawFn) -> Work:
    """A cricket on a roof with room for it; only those too steep for an upstand are left out."""
    width = draw(lengths(12, 96))
    face = draw(st.sampled_from(["plumb", "square"]))
    given_: dict[str, Any] = {
        "rise": draw(st.floats(0.5, 24, allow_subnormal=False)),
        "cross_slope": draw(st.none() | st.floats(1, 24)),
        "ridge_slope": draw(st.just(0.0) | st.floats(-6, 0, allow_subnormal=False)),
        "width": width,
        "left": 60 + draw(lengths(0, 24)),
        "face": face,
        "kind": draw(st.sampled_from(["masonry-chimney", "framed-chimney", "curb", "skylight"])),
        "coverage": draw(st.sampled_from([12.0, 16.0, 18.0, 24.0])),
        "first_rib": draw(lengths(0, 11)),
        "seam": draw(st.sampled_from(["snap", "double-fold"])),
        "metal": draw(st.sampled_from(["steel-24", "copper-16", "aluminium-040", "zinc-08"])),
        "ridge_leg": draw(st.sampled_from([0.5, 1.0, 2.0])),
        "height": 20000.0,
        "slope": 20000.0,
        "eave": width + 220.0,
        "side_clear": 6.0,
    }
    return bench(malt_house(**given_))


def drawn(work: Work) -> bool:
    """Is it a cricket? Left out: too steep along the wall, too short a ridge, ribs too near for a flange."""
    if work.detail.why == "cricket.steep":
        assert work.detail.cricket is None or wall_slant(work.detail.cricket) > STEEPEST_WALL_EDGE
    left_out = ("cricket.steep", "cricket.small", "side.flange-least")
    assert work.detail.method == "cricket" or work.detail.why in left_out
    return work.detail.method == "cricket"


@settings(max_examples=HOW_MANY)
@given(crickets())
def test_the_edges_of_a_half_in_the_flat_are_the_true_ones(work: Work) -> None:
    if not drawn(work):
        return
    assert work.detail.cricket is not None
    true = true_edges(work.detail.cricket)
    for hand in HANDS:
        body = half_cricket(work, hand)
        flat = develop(body)
        at = triangle(body, flat)
        pairs = {"valley": ("corner", "head"), "wall": ("corner", "foot"), "ridge": ("foot", "head")}
        got = {name: math.dist(at[a], at[b]) for name, (a, b) in pairs.items()}
        assert got == pytest.approx(true, abs=TRUE, rel=1e-9)
        for name, (parent, child) in EDGES.items():
            j = joint(body, name)
            one = math.dist(*(mould(body, flat, parent, p) for p in j.edge))
            other = math.dist(*(mould(body, flat, child, p) for p in j.child_edge))
            assert one == pytest.approx(other, abs=TRUE)
            assert 0 < one < true[name]


@settings(max_examples=HOW_MANY)
@given(crickets())
def test_a_half_lies_flat_without_covering_itself(work: Work) -> None:
    if not drawn(work):
        return
    for hand in HANDS:
        flat = develop(half_cricket(work, hand))
        sheet = Polygon(flat.blank.outline)
        assert sheet.is_valid
        assert all(p.is_valid for p in parts(flat))
        assert sum(p.area for p in parts(flat)) == pytest.approx(sheet.area, rel=1e-9)


@settings(max_examples=HOW_MANY)
@given(crickets())
def test_folded_halves_meet_along_the_ridge_and_lap_on_roof_and_wall(work: Work) -> None:
    if not drawn(work):
        return
    middle = work.opening.left + work.opening.width / 2
    wall, lap = work.walls.back(), half_lap(work)
    got = {hand: fold(develop(half_cricket(work, hand))) for hand in HANDS}
    legs = [sorted((p[1], p[2]) for p in got[hand]["ridge leg"]) for hand in HANDS]
    for a, b in zip(*legs, strict=True):
        assert math.dist(a, b) < TOGETHER
    for hand, sign in zip(HANDS, (1, -1), strict=True):
        assert all(abs(p[0] - middle) < TOGETHER for p in got[hand]["ridge leg"])
        assert all(abs(p[2]) < TOGETHER for p in got[hand]["flange"])
        assert all(abs(wall.height(p)) < TOGETHER for p in got[hand]["upstand"])
        reach = {name: max(sign * (p[0] - middle) for p in got[hand][name]) for name in ("flange", "upstand")}
        assert reach == pytest.approx({"flange": work.measures.ridge_lap / 2, "upstand": lap}, abs=TOGETHER)
    # The planes' edges along the ridge are one line, the left half's in the right half's mirror.
    left, right = (half_cricket(work, hand) for hand in HANDS)
    runs = [sorted(ends(half, "ridge"), key=lambda p: p[1]) for half in (left, right)]
    for p, q in zip(*runs, strict=True):
        assert math.dist(p, (2 * middle - q[0], q[1], q[2])) < TOGETHER


@settings(max_examples=HOW_MANY)
@given(crickets())
def test_one_sheet_would_need_more_than_it_has_round_the_ridges_head(work: Work) -> None:
    if not drawn(work):
        return
    c = work.detail.cricket
    assert c is not None
    around = one_piece_angles(c)
    assert around > 360.0
    rise = work.site.roof.rise / 12
    if c.ridge_slope == 0.0 and abs(c.cross_slope - rise) < 1e-12 and work.opening.face == "plumb":
        assert around == pytest.approx(4 * math.degrees(c.valley_angle) + 180, abs=1e-6)


@settings(max_examples=HOW_MANY)
@given(crickets())
def test_the_framing_is_that_of_the_planes(work: Work) -> None:
    c = work.detail.cricket
    if c is None:
        return
    f = framing_of(c, "curb")
    assert sum(f.sheathing_deg) == pytest.approx(180.0)
    assert 0 < f.valley_plumb_deg < f.foot_tilt_deg + 1e-9
    # Backing on the cricket's side and on the roof's add up to the valley's bend. On the roof's side DD is its rest.
    r1 = math.radians(f.valley_plumb_deg)
    roof_side = math.degrees(math.atan(math.sin(r1) * math.tan(math.radians(f.cheek_deg))))
    if c.ridge_slope == 0.0:
        assert f.backing_deg + roof_side == pytest.approx(c.valley_bend_deg, abs=1e-6)
    lengths_ = [j.length for j in f.jacks]
    assert lengths_ == sorted(lengths_, reverse=True)


def test_every_metal_named_here_is_a_row() -> None:
    assert {"steel-24", "copper-16", "aluminium-040", "zinc-08"} <= set(metals())
