"""Apron, side walls, hook strips, counterflashing: what each kind of wall and roof makes of them."""

from __future__ import annotations

import pytest

from chimney import changed, chimney, worked
from lapwright.metal.model import Body
from lapwright.site.model import Site

Sized = tuple[float, float]


def body(site: Site, id_: str) -> Body:
    found = worked(site)[1][id_].body
    assert found is not None
    return found


def size(site: Site, id_: str) -> Sized:
    blank = worked(site)[1][id_].blank
    assert blank is not None
    return blank.width, blank.height


def xs(made: Body, face: str) -> Sized:
    values = [p[0] for p in made.face(face).corners]
    return min(values), max(values)


# --- apron ------------------------------------------------------------------------------------------


def test_snap_ribs_raise_the_apron_to_rib_height_and_close_its_ends_flush_with_the_faces() -> None:
    made = body(chimney(), "1-apron")
    assert {p[2] for p in made.face("flange").corners} == {1.75}
    assert xs(made, "closed end left") == pytest.approx((92.0, 92.0))
    assert xs(made, "closed end right") == pytest.approx((118.0, 118.0))


def test_folded_ribs_are_dressed_flat_and_let_the_flange_lie_down_and_run_5_past() -> None:
    made = body(changed(chimney(), seam="double-fold"), "1-apron")
    assert {p[2] for p in made.face("flange").corners} == {0.0}
    assert xs(made, "flange") == (87.0, 123.0)


def test_no_rib_in_the_downslope_face_leaves_a_snap_roofs_apron_flat() -> None:
    # Coverage 40: ribs 6, 46, 86, 126; none between 92 and 118. Right of it 126 - 118 = 8 leaves room for 5 past.
    made = body(changed(chimney(), coverage=40.0), "1-apron")
    assert {p[2] for p in made.face("flange").corners} == {0.0}
    assert xs(made, "flange")[1] == 123.0
    # Left, the rib at 86: 6 - 5/16 - 1/8 = 5.5625, still 5.
    assert xs(made, "flange")[0] == 87.0


def test_a_near_rib_cuts_the_flange_short() -> None:
    # Coverage 40, opening from 90: the rib at 86 stands 4 off: 4 - 7/16 = 3.5625 instead of 5.
    made = body(changed(chimney(), coverage=40.0, left=90.0), "1-apron")
    assert xs(made, "flange")[0] == 90.0 - 3.5625


# --- side walls -------------------------------------------------------------------------------------


def test_the_side_wall_laps_the_apron_by_4_and_runs_6_past_the_back_face() -> None:
    made = body(chimney(), "1-side-wall-left")
    ys = [p[1] for p in made.face("base").corners]
    assert (min(ys), max(ys)) == (65.0, 109.0)


def test_left_and_right_side_walls_are_each_others_mirror() -> None:
    _, metal = worked(chimney())
    left, right = metal["1-side-wall-left"], metal["1-side-wall-right"]
    assert left.blank is not None and right.blank is not None
    mirrored = sorted((round(u, 6), round(left.blank.height - v, 6)) for u, v in left.blank.outline)
    assert mirrored == sorted((round(u, 6), round(v, 6)) for u, v in right.blank.outline)


def test_the_upstand_of_a_plumb_wall_leans_and_a_square_ones_stands() -> None:
    for face, lean in (("plumb", 7 / 12), ("square", 0.0)):
        corners = body(chimney(face), "1-side-wall-left").face("upstand").corners
        head = max(p[1] for p in corners if abs(p[2] - 8) < 1e-9)
        # At 8 off the roof the back corner has moved 8 x 7/12 upslope.
        assert head - 103 == pytest.approx(8 * lean + 0.0255 * (1 + lean**2) ** 0.5, abs=1e-9)


def test_a_lower_curb_limits_the_upstand_to_itself() -> None:
    corners = body(changed(chimney("square"), height=5.0), "1-side-wall-left").face("upstand").corners
    assert max(p[2] for p in corners) == 5.0


# --- hook strips ------------------------------------------------------------------------------------


def test_a_hook_strip_lies_under_each_hem_and_stops_half_an_inch_inside_it() -> None:
    made = body(chimney(), "1-hook-strip-left")
    ys = [p[1] for p in made.face("base").corners]
    assert (min(ys), max(ys)) == (65.5, 108.5)
    # Fold 1/2 inside the flashing's edge at 91.9745 - 4 = 87.9745; base 1 1/2 from there.
    assert xs(made, "base") == pytest.approx((88.4745, 89.9745))


def test_the_hook_is_kicked_up_15_degrees() -> None:
    (bend,) = worked(chimney())[1]["1-hook-strip-apron"].bends
    assert (bend.way, bend.angle_deg) == ("up", pytest.approx(15.0, abs=1e-6))


# --- counterflashing --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "face", "pieces"),
    [
        ("masonry-chimney", "plumb", {"front", "left", "right", "back"}),
        ("framed-chimney", "plumb", {"front", "left", "right", "back"}),
        ("wall", "plumb", {"front", "left", "right", "back"}),
        ("skylight", "square", {"front", "left", "right", "back"}),
        ("curb", "plumb", {"front", "left", "right", "back"}),
        ("curb", "square", {"cap"}),
    ],
)
def test_each_kind_of_wall_has_its_counterflashing(kind: str, face: str, pieces: set[str]) -> None:
    _, metal = worked(changed(chimney(face), kind=kind))
    assert {k.rpartition("-")[2] for k in metal if "counterflashing" in k} == pieces


def test_in_masonry_it_is_stainless_and_elsewhere_the_flashings_metal() -> None:
    for kind, key in (("masonry-chimney", "stainless-24"), ("framed-chimney", "steel-24"), ("skylight", "steel-24")):
        assert body(changed(chimney(), kind=kind), "1-counterflashing-left").metal == key
    asked = changed(chimney(), counter_metal="copper-16")
    assert body(asked, "1-counterflashing-left").metal == "copper-16"


def test_it_covers_the_upstand_by_4_at_every_face() -> None:
    for wall in ("front", "left", "right", "back"):
        made = body(chimney(), f"1-counterflashing-{wall}")
        assert min(p[2] for p in made.face("face").corners) == pytest.approx(4.0)
        assert max(p[2] for p in made.face("face").corners) == pytest.approx(9.0)


def test_the_leg_goes_an_inch_and_a_quarter_into_the_reglet() -> None:
    made = body(chimney("square"), "1-counterflashing-left")
    assert xs(made, "leg") == pytest.approx((91.898, 93.148))


def test_a_skylights_counterflashing_reaches_its_frame() -> None:
    made = body(changed(chimney("square"), kind="skylight", height=10.0), "1-counterflashing-left")
    assert max(p[2] for p in made.face("face").corners) == pytest.approx(10.0)


def test_a_square_curbs_cap_covers_it_whole() -> None:
    # 4 t off each side: 26 + 0.204 by 34 + 0.204; skirts from 10 down to 8 - 4 = 4.
    made = body(changed(chimney("square"), kind="curb", height=10.0), "1-counterflashing-cap")
    lid = made.face("lid").corners
    assert max(p[0] for p in lid) - min(p[0] for p in lid) == pytest.approx(26.204)
    assert max(p[1] for p in lid) - min(p[1] for p in lid) == pytest.approx(34.204)
    assert min(p[2] for f in made.faces for p in f.corners if "hem" not in f.name) == pytest.approx(4.0)
    # Flat: lid, two skirts of 6 and their 1/2 hems, four deductions: bends down 0.005857, closed hems 0.010945.
    want = 26.204 + 2 * (6 - 0.005857) + 2 * (0.5 - 0.010945)
    assert size(changed(chimney("square"), kind="curb", height=10.0), "1-counterflashing-cap")[0] == pytest.approx(
        want, abs=1e-4
    )
