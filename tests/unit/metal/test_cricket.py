"""A cricket's two halves: edges at their true lengths in the flat, both halves folding onto the same lines.

The three edges of a half's plane do not reach the plane's corners: bends stop short there. In the flat their
lines are drawn on until they cross; the triangle between the crossings has to be the true one.
"""

from __future__ import annotations

import math

import pytest
from shapely import Polygon

from crickets import EDGES, bench, ends, joint, malt_house, mould, parts, triangle
from lapwright.geom.space import Point
from lapwright.metal.cricket import CLEAR, FOLD_OVER, half_cricket, half_lap, true_edges
from lapwright.metal.develop import develop, fold
from lapwright.metal.work import HANDS, Hand, Work

TRUE, TOGETHER = 1e-6, 1e-3

CASES: dict[str, dict[str, object]] = {
    "malt house": {},
    "square curb": {"face": "square", "kind": "curb", "rise": 5.0},
    "flatter planes": {"cross_slope": 3.0, "rise": 8.0},
    "steeper planes": {"cross_slope": 9.0, "rise": 4.0, "slope": 500.0},
    "falling ridge": {"ridge_slope": -2.0},
    "falling ridge, square": {"ridge_slope": -3.0, "face": "square", "rise": 9.0},
    "steeply falling ridge": {"ridge_slope": -6.0, "ridge_leg": 2.0, "rise": 5.0},
    "shallow corner": {"cross_slope": 2.5, "rise": 12.0, "face": "plumb"},
    "short reach": {"upstand": 4.0, "ridge_lap": 8.0, "cross_slope": 12.0, "face": "square", "rise": 10.0},
}


@pytest.fixture(params=CASES, scope="module")
def work(request: pytest.FixtureRequest) -> Work:
    made = bench(malt_house(**CASES[request.param]))
    assert made.detail.method == "cricket"
    return made


# --- the edges in the flat ------------------------------------------------------------------------------


@pytest.mark.parametrize("hand", HANDS)
def test_the_planes_edges_in_the_flat_are_the_true_ones(work: Work, hand: Hand) -> None:
    body = half_cricket(work, hand)
    at = triangle(body, develop(body))
    assert work.detail.cricket is not None
    got = {
        "valley": math.dist(at["corner"], at["head"]),
        "wall": math.dist(at["corner"], at["foot"]),
        "ridge": math.dist(at["foot"], at["head"]),
    }
    assert got == pytest.approx(true_edges(work.detail.cricket), abs=TRUE)


@pytest.mark.parametrize("hand", HANDS)
def test_both_sides_of_an_edge_are_as_long_as_each_other(work: Work, hand: Hand) -> None:
    body = half_cricket(work, hand)
    flat = develop(body)
    for name, (parent, child) in EDGES.items():
        j = joint(body, name)
        on_parent = math.dist(*(mould(body, flat, parent, p) for p in j.edge))
        on_child = math.dist(*(mould(body, flat, child, p) for p in j.child_edge))
        assert on_parent == pytest.approx(on_child, abs=TRUE), name


@pytest.mark.parametrize("hand", HANDS)
def test_an_edge_and_what_its_ends_stop_short_is_the_true_length(work: Work, hand: Hand) -> None:
    # At a corner between two bends each stops (both setbacks + CLEAR) / sin(its angle) short; the ridge leg stops
    # further short at its head, where its end, square to the ridge, would run into the flange.
    c = work.detail.cricket
    assert c is not None
    body = half_cricket(work, hand)
    flat = develop(body)
    true = true_edges(c)
    a = {k: _angle(true, *v) for k, v in {"corner": ("valley", "wall", "ridge"), "foot": ("wall", "ridge", "valley"),
                                          "head": ("valley", "ridge", "wall")}.items()}  # fmt: skip
    back = {n: work.setback(joint(body, n).angle_deg) for n in EDGES}
    short = {
        "corner": (back["valley"] + back["wall"] + CLEAR) / math.sin(a["corner"]),
        "foot": (back["wall"] + back["ridge"] + CLEAR) / math.sin(a["foot"]),
        "head": (back["valley"] + back["ridge"] + CLEAR) / math.sin(a["head"]),
    }
    assert a["foot"] <= math.pi / 2 + 1e-12
    lean = c.valley_angle + a["head"] - math.pi / 2
    leg = max(short["head"], (work.measures.ridge_leg + FOLD_OVER) * math.tan(max(0.0, lean)) + 2 * CLEAR)
    got = {n: math.dist(*(mould(body, flat, "plane", p) for p in ends(body, n))) for n in EDGES}
    assert got["valley"] + short["corner"] + short["head"] == pytest.approx(true["valley"], abs=TRUE)
    assert got["wall"] + short["corner"] + short["foot"] == pytest.approx(true["wall"], abs=TRUE)
    assert got["ridge"] + short["foot"] + leg == pytest.approx(true["ridge"], abs=TRUE)


def _angle(true: dict[str, float], one: str, other: str, across: str) -> float:
    a, b, c = true[one], true[other], true[across]
    return math.acos((a * a + b * b - c * c) / (2 * a * b))


@pytest.mark.parametrize("hand", HANDS)
def test_a_half_lies_flat_without_covering_itself(work: Work, hand: Hand) -> None:
    flat = develop(half_cricket(work, hand))
    sheet = Polygon(flat.blank.outline)
    assert sheet.is_valid
    assert all(p.is_valid for p in parts(flat))
    # Flats and bends side by side: as much metal as the outline holds, so no two share any.
    assert sum(p.area for p in parts(flat)) == pytest.approx(sheet.area, abs=TRUE)


# --- both halves folded -----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def folded(work: Work) -> dict[str, dict[str, tuple[Point, ...]]]:
    """Every mould-line corner of both halves, folded from the flat numbers alone."""
    return {hand: fold(develop(half_cricket(work, hand))) for hand in HANDS}


Folded = dict[str, dict[str, tuple[Point, ...]]]


def test_the_ridge_legs_stand_back_to_back_in_one_plane(work: Work, folded: Folded) -> None:
    middle = work.opening.left + work.opening.width / 2
    left, right = (sorted(folded[h]["ridge leg"]) for h in HANDS)
    assert all(abs(p[0] - middle) < TOGETHER for p in (*left, *right))
    spots = [sorted((p[1], p[2]) for p in side) for side in (left, right)]
    for ours, theirs in zip(*spots, strict=True):
        assert math.dist(ours, theirs) < TOGETHER


def test_a_ridge_leg_stands_square_to_the_ridge(work: Work, folded: Folded) -> None:
    c = work.detail.cricket
    assert c is not None
    for hand in HANDS:
        foot, head, over_head, over_foot = _leg(folded[hand]["ridge leg"], c.ridge_foot, c.ridge_head)
        for low, high in ((foot, over_foot), (head, over_head)):
            assert math.dist(low, high) == pytest.approx(work.measures.ridge_leg, abs=TOGETHER)
            along = sum((b - a) * (q - p) for a, b, p, q in zip(foot, head, low, high, strict=True))
            assert along == pytest.approx(0.0, abs=TOGETHER)


def _leg(corners: tuple[Point, ...], foot: Point, head: Point) -> list[Point]:
    """The leg's corners: on the ridge from foot to head, then over it from head to foot."""
    low = sorted((p for p in corners if _off_line(p, foot, head) < TOGETHER), key=lambda p: p[1])
    high = sorted((p for p in corners if _off_line(p, foot, head) >= TOGETHER), key=lambda p: p[1], reverse=True)
    return [*low, *high]


def test_the_planes_meet_along_the_ridge(work: Work, folded: Folded) -> None:
    c = work.detail.cricket
    assert c is not None
    for hand in HANDS:
        body = half_cricket(work, hand)
        corners = body.face("plane").corners
        for p in ends(body, "ridge"):
            q = folded[hand]["plane"][corners.index(p)]
            assert _off_line(q, c.ridge_foot, c.ridge_head) < TOGETHER


def _off_line(p: Point, a: Point, b: Point) -> float:
    run = [y - x for x, y in zip(a, b, strict=True)]
    d = [y - x for x, y in zip(a, p, strict=True)]
    long = math.hypot(*run)
    along = sum(x * y for x, y in zip(run, d, strict=True)) / long
    return math.sqrt(max(0.0, math.hypot(*d) ** 2 - along**2))


def test_the_flanges_lap_over_the_middle_on_the_roof(work: Work, folded: Folded) -> None:
    middle, lap = work.opening.left + work.opening.width / 2, work.measures.ridge_lap
    left, right = folded["left"]["flange"], folded["right"]["flange"]
    assert all(abs(p[2]) < TOGETHER for p in (*left, *right))
    assert max(p[0] for p in left) == pytest.approx(middle + lap / 2, abs=TOGETHER)
    assert min(p[0] for p in right) == pytest.approx(middle - lap / 2, abs=TOGETHER)


def test_the_upstands_lap_in_the_back_face(work: Work, folded: Folded) -> None:
    face, middle = work.walls.back(), work.opening.left + work.opening.width / 2
    left, right = folded["left"]["upstand"], folded["right"]["upstand"]
    assert all(abs(face.height(p)) < TOGETHER for p in (*left, *right))
    assert max(p[0] for p in left) == pytest.approx(middle + half_lap(work), abs=TOGETHER)
    assert min(p[0] for p in right) == pytest.approx(middle - half_lap(work), abs=TOGETHER)
    # The crest is level where both stand, as high above the ridge as the upstand is.
    assert work.detail.cricket is not None
    crest = work.detail.cricket.wall_rise + work.pan.upstand
    assert max(p[2] for p in left) == pytest.approx(crest, abs=TOGETHER)
    assert max(p[2] for p in right) == pytest.approx(crest, abs=TOGETHER)


def test_past_the_ridge_an_upstands_foot_stays_above_the_other_halfs_plane(work: Work, folded: Folded) -> None:
    middle, c = work.opening.left + work.opening.width / 2, work.detail.cricket
    assert c is not None
    past = [p for p in folded["left"]["upstand"] if p[0] > middle + TOGETHER]
    assert past and min(p[2] for p in past) > c.ridge_foot[2]


# --- what differs between the halves ----------------------------------------------------------------------


def test_only_the_right_half_folds_over_the_ridge() -> None:
    names = {hand: [f.name for f in half_cricket(bench(malt_house()), hand).faces] for hand in HANDS}
    assert "fold over" in names["right"]
    assert sorted(names["right"]) == sorted([*names["left"], "fold over"])


def test_the_right_blank_mirrors_the_left_but_for_the_fold() -> None:
    # Same rooms on both sides (142.5 - 136.5 and 190.5 - 184.5), so the halves are alike: area differs by the fold's.
    work = bench(malt_house())
    left, right = (develop(half_cricket(work, hand)) for hand in HANDS)
    fold_over = next(r for r in right.regions if r.face == "fold over")
    bend = next(z for z in right.zones if z.child == "fold over")
    more = Polygon(fold_over.ring).area + Polygon([*bend.near, *bend.far[::-1]]).area
    legs = [Polygon(next(r for r in f.regions if r.face == "ridge leg").ring).area for f in (left, right)]
    assert right.blank.area - left.blank.area == pytest.approx(more + legs[1] - legs[0], abs=TRUE)


def test_a_steep_foot_is_let_climb_half_the_upstand_and_no_more() -> None:
    # Square face at 10:12, planes 12:12: to the inch across the wall edge climbs 1 / cos(39.8056) = 1.30171. Half of
    # 4 is reached after 2 / 1.30171 = 1.53644, less than half the lap of 8 asked.
    work = bench(malt_house(**CASES["short reach"]))
    assert half_lap(work) == pytest.approx(1.53644, abs=1e-5)
    assert half_lap(bench(malt_house())) == pytest.approx(1.5)
