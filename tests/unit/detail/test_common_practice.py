"""COMMON PRACTICE, NO SOURCE: what roofers do and no published page says. A user may change every number.

These tests hold the defaults to practice; nothing here is proof that a published rule is met.
"""

from __future__ import annotations

import pytest

from chimney import changed, chimney, worked
from lapwright.geom.space import distance, dot
from lapwright.layout.lay_out import lay_out
from lapwright.metal.model import Body
from lapwright.site.model import Defaults, Site


def body(site: Site, id_: str) -> Body:
    found = worked(site)[1][id_].body
    assert found is not None
    return found


def test_28_and_a_quarter_clear_between_rib_faces_gives_a_28_pan() -> None:
    # Snap ribs of face 5/16: coverage c gives c - 5/8 clear in a bay one panel wide. 28 1/4 + 5/8 = 28 7/8.
    site = changed(chimney(), coverage=28.875, width=14.0, left=99.0, first_rib=6.0)
    layout = lay_out(site)
    bay = layout.bays[0]
    # Ribs 6 + 28.875 k: 92.625 and 121.5.
    assert (bay.left, bay.right, bay.interrupted) == (92.625, 121.5, ())
    clear = (bay.right - 0.3125) - (bay.left + 0.3125)
    assert clear == 28.25
    pan = worked(site)[0].detail.openings[0].pan
    assert pan is not None
    assert pan.width == 28.0


def test_40_and_a_quarter_clear_gives_a_40_pan() -> None:
    # Folded ribs of face 1/4: 40 1/4 + 1/2 = 40 3/4 between two centres, as one panel of that coverage.
    site = changed(chimney(), coverage=40.75, seam="double-fold", width=20.0, left=95.0, first_rib=6.0)
    pan = worked(site)[0].detail.openings[0].pan
    # Ribs 6 + 40.75 k: 87.5 and 128.25.
    assert pan is not None
    assert (pan.left, pan.right, pan.width) == (87.875, 127.875, 40.0)


@pytest.mark.parametrize(
    ("rise", "snow", "extent"),
    [
        (6.0, False, 12.0),
        (12.0, False, 12.0),
        (5.9375, False, 18.0),
        (3.0, False, 18.0),
        (2.9375, False, 24.0),
        (12.0, True, 24.0),
    ],
)
def test_the_pan_runs_12_upslope_from_6_12_up_and_further_where_it_is_flatter(
    rise: float, snow: bool, extent: float
) -> None:
    pan = worked(changed(chimney(), rise=rise, snow=snow))[0].detail.openings[0].pan
    assert pan is not None
    assert pan.upslope == 103.0 + extent


def test_side_panels_overrun_the_back_face_by_6() -> None:
    _, metal = worked(chimney())
    for panel in ("panel-6-side", "panel-8-side"):
        assert max(p[1] for p in metal[panel].outline) == 103.0 + 6.0  # type: ignore[union-attr]


def test_the_upper_panels_hem_is_1() -> None:
    flap = body(chimney(), "panel-7-upper").face("hem 1").corners
    assert max(p[1] for p in flap) - min(p[1] for p in flap) == pytest.approx(1.0, abs=1e-9)


def test_the_side_walls_tab_is_1() -> None:
    made = body(chimney("square"), "1-side-wall-left")
    tab = made.face("tab").corners
    # From the mould corner at 92 - t to the tab's edge.
    assert max(p[0] for p in tab) - (92 - 0.0255) == pytest.approx(1.0, abs=1e-9)


def test_the_corner_tabs_are_half_an_inch() -> None:
    for face in ("plumb", "square"):
        made = body(chimney(face), "1-back-pan")
        out = made.face("tongue").corners
        normal_way = [dot(p, (0.0, 1.0, 0.0)) for p in made.face("tab left").corners]
        if face == "square":
            assert max(normal_way) - min(normal_way) == pytest.approx(0.5, abs=1e-9)
        # Along its head, square to the wall's edge, wherever the wall leans.
        head = sorted(made.face("tab left").corners, key=lambda p: -p[2])[:2]
        assert any(distance(head[0], q) < 1e-9 or distance(head[1], q) < 1e-9 for q in out)
        assert distance(*head) == pytest.approx(0.5, abs=1e-9)


def test_three_cleats_hold_the_panels_above_a_flat_pan() -> None:
    _, metal = worked(chimney())
    assert sorted(p for p in metal if "cleat" in p) == [f"1-offset-cleat-{k}" for k in (1, 2, 3)]


def test_every_other_default_is_the_trades() -> None:
    m = Defaults()
    assert (m.side_clear, m.gap, m.side_run, m.cleat_foot, m.setback) == (4.0, 0.125, 7.0, 4.0, 9.0)
    assert (m.upstand, m.apron_flange, m.side_flange, m.side_lap, m.side_past) == (8.0, 6.0, 4.0, 4.0, 6.0)
    assert (m.cleat_base, m.web, m.lip, m.slack, m.rib_stop) == (1.5, 0.25, 1.0, 0.25, 0.1875)
    assert (m.hem, m.turn_up, m.corner_cut, m.stop_hole, m.steepest) == (0.5, 1.0, 0.625, 0.125, 60.0)
    assert (m.cover, m.reglet, m.dress_flat, m.apron_past, m.return_over) == (4.0, 1.25, 7.0, 5.0, 1.0)
