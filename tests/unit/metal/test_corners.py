"""Corners where a sheet must be cut: angles round a vertex that do not make 360, tabs, patches, plates.

General law: metal laid flat has 360 degrees round every point. A vertex of the folded piece whose angles come to
anything else cannot lie inside the sheet: a cut has to reach it.
"""

from __future__ import annotations

import math

import pytest
from shapely import LineString, Point, Polygon

from chimney import changed, chimney, worked
from lapwright.geom.flat import signed_area
from lapwright.geom.space import Point as Point3
from lapwright.geom.space import dot, norm, sub
from lapwright.metal.corner import relieve
from lapwright.metal.develop import develop
from lapwright.metal.model import Body
from lapwright.site.model import Site

RISES = [0.25, 1.0, 3.0, 7.0, 12.0, 18.0]
FACES = ["plumb", "square"]


def bodies(site: Site) -> dict[str, Body]:
    return {k: p.body for k, p in worked(site)[1].items() if p.body is not None}


def angle(a: Point3, at: Point3, b: Point3) -> float:
    """Angle at a corner of a face, 0 to 180. [deg]"""
    p, q = sub(a, at), sub(b, at)
    return math.degrees(math.acos(max(-1.0, min(1.0, dot(p, q) / norm(p) / norm(q)))))


# --- the wall's corners: 270 of roof and two walls --------------------------------------------------


@pytest.mark.parametrize("face", FACES)
def test_the_pan_is_cut_to_the_back_corner_because_450_degrees_meet_there(face: str) -> None:
    # Base outside the opening 270, tongue 90, tab at least 90: 450 and more. The cut reaches the corner: the point of
    # the blank where base and tongue begin to part, (92, near tangent line), carries the stop hole.
    blank = worked(chimney(face))[1]["1-back-pan"].blank
    assert blank is not None
    rim = Polygon(blank.outline).exterior
    for hole in blank.holes:
        # From the hole a run of cuts leads out to the rim without a break.
        at = Polygon(hole).centroid
        left = [LineString(c) for c in blank.cuts]
        while at.distance(rim) > 1e-6:
            cut = next(c for c in left if c.distance(at) < 1e-4)
            left.remove(cut)
            at = max((Point(p) for p in cut.coords), key=at.distance)


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("rise", RISES)
def test_a_vertex_whose_angles_do_not_make_360_forces_a_cut(rise: float, face: str) -> None:
    # The patch round a wall corner: the roof needs 270, the end wall 90, the side wall 90 + lean at the back and
    # 90 - lean in front: 450 +- lean. The patch's own metal round that corner must come to less than 360, its two
    # feet parted; were it laid out whole it would overlap itself.
    lean = math.degrees(math.atan(rise / 12)) if face == "plumb" else 0.0
    for wall, sign in (("back", 1), ("front", -1)):
        needed = 270 + 90 + 90 + sign * lean
        assert needed != pytest.approx(360, abs=1)
        body = bodies(changed(chimney(face), rise=rise))[f"1-corner-patch-{wall}-left"]
        flat = {r.face: Polygon(r.ring) for r in develop(body).regions}
        if wall == "back":
            assert flat["end foot"].distance(flat["side foot"]) > 0
        else:
            # Before a raised apron the corner stands on its flange: nothing lies beside it to set a foot on.
            assert "side foot" not in flat
        names = list(flat)
        for i, a in enumerate(names):
            for b in names[i + 1 :]:
                assert flat[a].intersection(flat[b]).area < 1e-9, (wall, a, b)


@pytest.mark.parametrize(("face", "wall", "left"), [("plumb", "back", 71.872), ("square", "back", 87.0)])
def test_each_foot_of_a_patch_gives_up_half_of_what_is_too_much(face: str, wall: str, left: float) -> None:
    # Plumb back: end wall 90 and side wall 120.2564 leave 360 - 210.2564 = 149.7436 for two feet: 74.8718 each, less
    # 3 so that the slit opens: 71.8718. Square: (360 - 180) / 2 - 3 = 87.
    body = bodies(chimney(face))[f"1-corner-patch-{wall}-left"]
    for name in ("end foot", "side foot"):
        begin, tip, far, inner = body.face(name).corners
        square = angle(tip, begin, inner)
        assert min(square, 180 - square) == pytest.approx(left, abs=0.01) or angle(begin, tip, far) == pytest.approx(
            left, abs=0.01
        )


def test_patches_are_2_by_2_and_stand_at_all_four_corners() -> None:
    _, metal = worked(chimney("square"))
    patches = [p for k, p in metal.items() if "corner-patch" in k]
    assert sorted(p.id for p in patches) == [
        "1-corner-patch-back-left",
        "1-corner-patch-back-right",
        "1-corner-patch-front-left",
        "1-corner-patch-front-right",
    ]
    for p in patches:
        assert p.body is not None
        wall = p.body.face("end wall").corners
        assert max(q[2] for q in wall) - min(q[2] for q in wall) == pytest.approx(1.0)


# --- tabs ---------------------------------------------------------------------------------------------


def test_the_pans_tab_folds_straight_down_the_side_wall() -> None:
    # Folded, the tab lies in the plane of the side wall, 2 t off it, whatever the wall's lean.
    for face in FACES:
        tab = bodies(chimney(face))["1-back-pan"].face("tab left").corners
        assert {round(p[0], 9) for p in tab} == {91.949}


def test_on_a_plumb_wall_the_side_walls_tab_is_cut_along_its_base_and_leaves_a_hole_when_folded() -> None:
    # The base runs on past the back face, so in the flat the tab's foot is cut along it: up the wall's edge it climbs
    # 0.583333 per inch out. It begins at 0.0765 / 0.863779 - 0.051 / 0.863779 x 0.503871 = 0.058815, has
    # climbed 0.583333 x 0.096143 = 0.056083 at the bend's end, and 0.583333 x (1 - 0.051) = 0.553583 more at its tip:
    # 0.668481 up the wall, 0.668481 x 0.863779 = 0.5774 off the roof.
    tab = bodies(chimney())["1-side-wall-left"].face("tab").corners
    tip = min((p for p in tab if p[0] > 92.9), key=lambda p: p[2])
    assert tip[2] == pytest.approx(0.5774, abs=1e-4)


def test_on_a_square_wall_the_same_tab_stands_off_only_by_the_bend() -> None:
    # Setback of the base's bend: 0.0765, level all along.
    tab = bodies(chimney("square"))["1-side-wall-left"].face("tab").corners
    assert {round(p[2], 9) for p in tab if p[2] < 1} == {0.0765}


def test_a_relieved_corner_leaves_both_bends_their_own_metal() -> None:
    # Foot along x, side along y, setbacks 2 and 1: the flats keep x > 1 beside the side bend and y > 2 above
    # the foot.
    r = relieve((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), 2.0, 1.0)
    assert (r.p0, r.p1, r.p2) == ((1.0, 0.0, 0.0), (1.0, 2.0, 0.0), (0.0, 2.0, 0.0))
    assert r.rise == 2.0


def test_a_leaning_corner_is_relieved_square_to_its_foot() -> None:
    # Side at 60 degrees: sin 0.866025, cos 0.5. P2 lies 2 / 0.866025 = 2.309401 up the side: (1.154701, 2).
    # P1 beside it by 1 / 0.866025 = 1.154701: (2.309401, 2); P0 below it on the foot: (2.309401, 0).
    side = (0.5, math.sqrt(3) / 2, 0.0)
    r = relieve((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), side, 2.0, 1.0)
    assert r.p2 == pytest.approx((1.154701, 2.0, 0.0), abs=1e-6)
    assert r.p1 == pytest.approx((2.309401, 2.0, 0.0), abs=1e-6)
    assert r.p0 == pytest.approx((2.309401, 0.0, 0.0), abs=1e-6)
    # How far P1 lies up the side line: 2.309401 + 1.154701 x 0.5.
    assert r.rise == pytest.approx(2.886751, abs=1e-6)


# --- no blank overlaps itself ---------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["masonry-chimney", "framed-chimney", "curb", "skylight"])
@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("rise", RISES)
def test_no_blank_overlaps_itself(rise: float, face: str, kind: str) -> None:
    for name, body in bodies(changed(chimney(face), rise=rise, kind=kind)).items():
        made = develop(body)
        assert Polygon(made.blank.outline).is_valid, name
        # Repeated corners are no crossing: buffer(0) drops them, and no area goes with them.
        flats = [(r.face, Polygon(r.ring).buffer(0)) for r in made.regions]
        for i, (a, one) in enumerate(flats):
            assert one.area == pytest.approx(signed_area(made.regions[i].ring), abs=1e-6), (name, a)
            for b, other in flats[i + 1 :]:
                assert one.intersection(other).area < 1e-6, (name, a, b)
