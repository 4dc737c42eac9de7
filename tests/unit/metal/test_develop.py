"""Unfolding and folding on pieces simple enough to check on paper."""

from __future__ import annotations

import math

import pytest

from lapwright.metal.bend import deduction
from lapwright.metal.develop import bend_order, develop, fold
from lapwright.metal.model import Body
from lapwright.metal.sheet import NoSharedEdge, Sheet, Trim

T, R = 0.03, 0.06
# r = 2 t: K 0.4002575; allowance of 90: 1.570796 x (0.06 + 0.0120077) = 0.1131095. Setback up 0.09, down 0.06.
UP, DOWN = 0.18 - 0.1131095, 0.12 - 0.1131095


def angle_piece(way: str) -> Body:
    """An L 10 long: base 3, one leg of 2, up or down."""
    sheet = Sheet("steel-24", T, R)
    sheet.root("base", [(0, 0, 0), (10, 0, 0), (10, 3, 0), (0, 3, 0)], painted=(0, 0, 1))
    z = 2.0 if way == "up" else -2.0
    sheet.attach("base", "leg", [(0, 3, 0), (10, 3, 0), (10, 3, z), (0, 3, z)])
    return sheet.body((1, 0, 0))


@pytest.mark.parametrize(("way", "saved"), [("up", UP), ("down", DOWN)])
def test_an_angle_is_as_wide_as_its_two_legs_less_the_deduction(way: str, saved: float) -> None:
    made = develop(angle_piece(way))
    assert (made.blank.width, made.blank.height) == pytest.approx((10.0, 5.0 - saved), abs=1e-6)
    (bend,) = made.bends
    assert (bend.way, bend.angle_deg) == (way, pytest.approx(90.0))
    # The bend line lies in the middle of its metal: 3 - setback + half the allowance.
    back = 0.09 if way == "up" else 0.06
    assert bend.start[1] == pytest.approx(3 - back + 0.1131095 / 2, abs=1e-6)


@pytest.mark.parametrize("way", ["up", "down"])
def test_the_angle_folds_back_onto_itself(way: str) -> None:
    body = angle_piece(way)
    folded = fold(develop(body))
    for face in body.faces:
        for hand, ours in zip(face.corners, folded[face.name], strict=True):
            assert ours == pytest.approx(hand, abs=1e-9)


def test_folding_uses_the_flat_numbers_and_not_the_body() -> None:
    # Half the angle folds the leg half way: its edge, 2 from the mould line, comes to rise about 2 sin 45.
    from dataclasses import replace

    made = develop(angle_piece("up"))
    zone = made.zones[0]
    half = replace(made, zones=(replace(zone, angle_deg=45.0),))
    top = max(p[2] for p in fold(half)["leg"])
    assert top == pytest.approx(2 * math.sin(math.radians(45)), abs=0.1)
    assert top < 1.6


def test_a_wrong_allowance_does_not_fold_back() -> None:
    from dataclasses import replace

    made = develop(angle_piece("up"))
    wrong = replace(made, zones=(replace(made.zones[0], metal=made.zones[0].metal + 1 / 16),))
    assert max(p[2] for p in fold(wrong)["leg"]) == pytest.approx(2.0 - 1 / 16, abs=1e-6)


def test_a_box_with_corner_cuts_develops_into_a_cross() -> None:
    # Base 6 x 4, four sides of 1 that stop at the corners: 6 + 2 (1 - UP) by 4 + 2 (1 - UP), 12 corners of its cross.
    sheet = Sheet("steel-24", T, R)
    base = [(0.0, 0.0, 0.0), (6.0, 0.0, 0.0), (6.0, 4.0, 0.0), (0.0, 4.0, 0.0)]
    sheet.root("base", base, painted=(0, 0, 1))
    for k, name in enumerate(("a", "b", "c", "d")):
        p, q = base[k], base[(k + 1) % 4]
        sheet.attach("base", name, [p, q, (q[0], q[1], 1.0), (p[0], p[1], 1.0)])
    blank = develop(sheet.body((1, 0, 0))).blank
    assert (blank.width, blank.height) == pytest.approx((6 + 2 - 2 * UP, 4 + 2 - 2 * UP), abs=1e-6)


@pytest.mark.parametrize("way", ["up", "down"])
def test_a_closed_hem_adds_its_depth_less_what_the_fold_saves(way: str) -> None:
    # Mashed flat: 2 t - pi t / 2 = 0.06 - 0.0471239 saved.
    sheet = Sheet("steel-24", T, R)
    sheet.root("flat", [(0, 0, 0), (8, 0, 0), (8, 5, 0), (0, 5, 0)], painted=(0, 0, 1))
    sheet.hem("flat", "hem", ((0, 0, 0), (8, 0, 0)), 0.5, way)  # type: ignore[arg-type]
    made = develop(sheet.body((1, 0, 0)))
    assert made.blank.height == pytest.approx(5.5 - (0.06 - 0.0471239), abs=1e-6)
    assert made.bends[0].kind == "closed-hem"
    flap = fold(made)["hem"]
    # Folded up the flap's unpainted side ends two sheets above; folded down it lies against the sheet's own.
    assert {round(p[2], 9) for p in flap} == ({2 * T} if way == "up" else {0.0})


def test_a_hems_ends_lean_as_asked_in_the_flat() -> None:
    sheet = Sheet("steel-24", T, R)
    sheet.root("flat", [(0, 0, 0), (8, 0, 0), (8, 5, 0), (0, 5, 0)], painted=(0, 0, 1))
    lean = math.radians(30)
    sheet.hem("flat", "hem", ((0, 0, 0), (8, 0, 0)), 0.5, "down", start=Trim(lean), end=Trim(0.0))
    ring = develop(sheet.body((1, 0, 0))).blank.outline
    low = sorted(p[0] for p in ring if p[1] < 1e-6)
    # Shorter by (0.5 - 0.0128761) tan 30 at its free edge.
    assert low == pytest.approx([(0.5 - 0.0128761) * math.tan(lean), 8.0], abs=1e-6)


def test_a_hemmed_run_and_a_bare_one_that_go_nearly_straight_on_part_by_a_jog_and_no_spike() -> None:
    # The lower edge turns by atan(0.04 / 4) = 0.573 degrees at u = 4; only its right half is hemmed, over an open
    # fold of setback 0.06. The two inset lines would cross 0.06 / 0.01 = 6 off, outside the sheet.
    sheet = Sheet("steel-24", T, R)
    sheet.root("flat", [(0, 0.04, 0), (4, 0, 0), (8, 0, 0), (8, 5, 0), (0, 5, 0)], painted=(0, 0, 1))
    sheet.hem("flat", "hem", ((4, 0, 0), (8, 0, 0)), 0.5, "down", gap=2 * T)
    blank = develop(sheet.body((1, 0, 0))).blank
    assert (blank.width, blank.height) == pytest.approx((8.0, 5.5 - deduction(180, T, T)), abs=1e-6)


def test_hems_are_folded_first_and_outer_bends_before_inner_ones() -> None:
    sheet = Sheet("steel-24", T, R)
    sheet.root("base", [(0, 0, 0), (10, 0, 0), (10, 3, 0), (0, 3, 0)], painted=(0, 0, 1))
    sheet.attach("base", "wall", [(0, 3, 0), (10, 3, 0), (10, 3, 4), (0, 3, 4)])
    sheet.attach("wall", "lip", [(0, 3, 4), (10, 3, 4), (10, 4, 4), (0, 4, 4)])
    sheet.hem("base", "hem", ((0, 0, 0), (10, 0, 0)), 0.5, "down")
    assert bend_order(sheet.body((1, 0, 0))) == [3, 2, 1]


def test_a_stop_hole_lands_where_its_face_lands() -> None:
    sheet = Sheet("steel-24", T, R)
    sheet.root("base", [(0, 0, 0), (10, 0, 0), (10, 3, 0), (0, 3, 0)], painted=(0, 0, 1))
    sheet.attach("base", "leg", [(0, 3, 0), (10, 3, 0), (10, 3, 2), (0, 3, 2)])
    sheet.hole("leg", (4.0, 3.0, 1.0), 0.25)
    blank = develop(sheet.body((1, 0, 0))).blank
    (hole,) = blank.holes
    middle = (sum(p[0] for p in hole) / len(hole), sum(p[1] for p in hole) / len(hole))
    assert middle == pytest.approx((4.0, 3 + 1 - UP), abs=1e-6)
    # A polygon of at least 12 corners inside the 1/4 circle: area close to pi/4 x 1/16 = 0.0491.
    assert 10 * (5 - UP) - blank.area == pytest.approx(0.0491, abs=0.003)


def test_faces_that_share_no_edge_are_refused() -> None:
    sheet = Sheet("steel-24", T, R)
    sheet.root("base", [(0, 0, 0), (10, 0, 0), (10, 3, 0), (0, 3, 0)], painted=(0, 0, 1))
    with pytest.raises(NoSharedEdge, match="base and far share no edge"):
        sheet.attach("base", "far", [(0, 5, 0), (10, 5, 0), (10, 5, 2), (0, 5, 2)])


def test_deductions_used_here_are_the_ones_worked_by_hand() -> None:
    assert deduction(90, R, T, "up") == pytest.approx(UP, abs=1e-6)
    assert deduction(90, R, T, "down") == pytest.approx(DOWN, abs=1e-6)
