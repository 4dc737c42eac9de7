"""Panels above the opening: the turning edge, its slit, hems at acute ends, legs cut back."""

from __future__ import annotations

import math

import pytest
from shapely import LineString, Polygon

from chimney import changed, chimney, worked
from lapwright.metal.develop import develop
from lapwright.metal.model import RoofPanel
from lapwright.metal.panel import edge_at, edge_line, vertex_angles
from lapwright.metal.work import Work, at_bench
from lapwright.site.model import Site

Flat = tuple[float, float]


def panel(site: Site, id_: str) -> RoofPanel:
    found = worked(site)[1][id_]
    assert isinstance(found, RoofPanel)
    return found


def bench(site: Site) -> Work:
    job, _ = worked(site)
    return at_bench(job.site, job.detail.openings[0])


def corner_angle(before: Flat, at: Flat, after: Flat) -> float:
    """Angle of metal at a corner of a ring that runs with the metal on its left. [deg]"""
    a = (before[0] - at[0], before[1] - at[1])
    b = (after[0] - at[0], after[1] - at[1])
    return math.degrees(math.atan2(b[0] * a[1] - b[1] * a[0], a[0] * b[0] + a[1] * b[1])) % 360


def test_the_222_9_degree_vertex_of_the_worked_case() -> None:
    # The cleat line falls 13 over 14: atan(13/14) = 42.8789. The panel's metal there opens to 180 + 42.8789.
    assert vertex_angles(bench(chimney())) == pytest.approx([222.8789, 222.8789], abs=1e-4)
    # Seen again on the panel itself, between rib 78 and rib 96: corners at 78.4375, 92.4909 and 95.5625.
    ring = panel(chimney(), "panel-6-upper").outline
    k = next(i for i, p in enumerate(ring) if abs(p[0] - 92.4909) < 1e-3)
    assert corner_angle(ring[k - 1], ring[k], ring[k + 1]) == pytest.approx(222.8789, abs=1e-3)


@pytest.mark.parametrize("face", ["plumb", "square"])
def test_the_hem_is_slit_on_the_bisector_of_the_vertex(face: str) -> None:
    made = panel(chimney(face), "panel-6-upper")
    assert made.blank is not None
    (slit,) = made.blank.cuts
    # The bisector of a 42.8789 turn leans 21.4395 from square to the level run: tan = 0.392690.
    (u0, v0), (u1, v1) = sorted(slit, key=lambda p: p[1])
    assert (u0 - u1) / (v1 - v0) == pytest.approx(0.392690, abs=1e-6)
    # On it lies the finished edge's vertex: u 92.4909 - 78, v 110.75 - 97.2942 = 13.4558.
    assert LineString(slit).distance(Polygon([(14.4909, 13.4558)] * 3).centroid) < 1e-3


def test_the_slit_ends_at_the_fold_line_and_goes_no_further() -> None:
    # The fold of an open hem begins 2 t = 0.051 inside the edge; there the slit ends, short of the panel's flat:
    # 13.4558 + 0.051.
    made = panel(chimney(), "panel-6-upper")
    assert made.blank is not None
    assert max(v for _, v in made.blank.cuts[0]) == pytest.approx(13.5068, abs=1e-4)


def test_the_hems_of_a_straight_edge_need_no_slit() -> None:
    made = panel(chimney(), "panel-7-upper")
    assert made.blank is not None
    assert (made.blank.cuts, [b.kind for b in made.bends]) == ((), ["open-hem"])


def test_the_hem_is_trimmed_at_its_acute_end_so_that_it_lies_along_the_rib() -> None:
    made = panel(chimney(), "panel-6-upper")
    assert made.body is not None
    flap = made.body.face("hem 1").corners
    # Folded under, the flap's end runs straight up the roof at 78 + 5/16 + 1/8, and none of it lies nearer the rib.
    ends = sorted(flap, key=lambda p: p[0])[:2]
    assert tuple(p[0] for p in ends) == pytest.approx((78.4375, 78.4375), abs=5e-3)
    assert min(p[0] for p in flap) > 78.4375 - 5e-3
    # Untrimmed it would have reached 1 x sin 42.8789 = 0.68 under the rib.


def test_folded_hems_leave_a_bare_wedge_at_the_vertex_and_do_not_overlap_in_the_flat() -> None:
    made = panel(chimney(), "panel-6-upper")
    assert made.body is not None
    one, two = (Polygon([(p[0], p[1]) for p in made.body.face(f"hem {k}").corners]) for k in (1, 2))
    assert one.distance(two) < 0.05
    # In the flat they share the slit, no more.
    flat = {r.face: Polygon(r.ring) for r in develop(made.body).regions}
    assert flat["hem 1"].intersection(flat["hem 2"]).area < 1e-9
    # Folded, both ends lean away from the vertex by 1.004147 tan 21.4395 = 0.39432. With d = (0.73280, 0.68046) along
    # the slanted run, its tip lies at (-0.68046, 0.73280) - 0.39432 d = (-0.9694, 0.4645) from the vertex, the level
    # one's at (0.3943, 1): 1.465 of bare panel between them, which the backing plate, 3 wide, has to cover.
    tips = (made.body.face("hem 1").corners[3], made.body.face("hem 2").corners[2])
    assert math.dist(*tips) == pytest.approx(1.465, abs=1e-3)


def test_the_finished_edge_runs_parallel_to_the_cleat_line_lip_and_slack_below() -> None:
    work = bench(chimney())
    edge, line = LineString(edge_line(work)), LineString(work.detail.cleat_line)
    for x in (79.0, 85.0, 91.0, 100.0, 112.0, 120.0, 130.0):
        here = LineString([(x, edge_at(edge_line(work), x))] * 2)
        assert here.distance(line) == pytest.approx(1.25, abs=1e-9)
    assert edge.distance(line) == pytest.approx(1.25, abs=1e-9)


def test_the_panel_is_as_wide_as_its_strip() -> None:
    for id_ in ("panel-6-upper", "panel-7-upper", "panel-8-upper"):
        made = panel(chimney(), id_)
        assert made.blank is not None
        assert (made.width, made.blank.width) == pytest.approx((18.0, 18.0), abs=1e-9)


def test_legs_are_cut_back_an_eighth_past_the_hem() -> None:
    cuts = {(n.rib, n.cut): (n.from_y, n.to_y) for n in panel(chimney(), "panel-6-upper").notches}
    # Level run, at rib 96: 110.75 to 110.75 + 1 + 1/8. Slanted, at rib 78: 1.125 / cos 42.8789 = 1.535220 above
    # 97.2942.
    assert cuts[96.0, "leg-back"] == pytest.approx((111.875, 110.75), abs=1e-4)
    assert cuts[78.0, "leg-back"] == pytest.approx((98.8294, 97.2942), abs=1e-4)


@pytest.mark.parametrize(("lay", "rib"), [("left-to-right", 96.0), ("right-to-left", 78.0)])
def test_the_nailing_flange_comes_off_the_leading_leg_over_the_pan(lay: str, rib: float) -> None:
    off = [n for n in panel(changed(chimney(), lay=lay), "panel-6-upper").notches if n.cut == "flange-off"]
    assert [n.rib for n in off] == [rib]
    # As far as the pan reaches: 115.
    assert off[0].from_y == 115.0


def test_panels_held_by_clips_have_no_nailing_flange_to_take_off() -> None:
    made = panel(changed(chimney(), seam="double-fold", fixing="clip"), "panel-6-upper")
    assert "flange-off" not in {n.cut for n in made.notches}


def test_no_notch_ever_reaches_into_the_flat_of_a_panel() -> None:
    _, metal = worked(chimney())
    for made in metal.values():
        if isinstance(made, RoofPanel):
            left, right = min(p[0] for p in made.outline), max(p[0] for p in made.outline)
            assert {n.rib for n in made.notches} <= {left, right}
