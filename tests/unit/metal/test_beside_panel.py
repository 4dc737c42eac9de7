"""Side and lower panels, cut round the opening and turned up against it."""

from __future__ import annotations

import pytest
from shapely import Polygon, box

from chimney import changed, chimney, worked
from lapwright.metal.model import RoofPanel
from lapwright.site.model import Site


def panel(site: Site, id_: str) -> RoofPanel:
    found = worked(site)[1][id_]
    assert isinstance(found, RoofPanel)
    return found


def test_a_strip_the_opening_covers_is_a_lower_panel_and_its_neighbours_are_side_panels() -> None:
    _, metal = worked(chimney())
    roles = {p.id: p.role for p in metal.values() if isinstance(p, RoofPanel) and p.opening}
    assert roles == {
        "panel-6-side": "side",
        "panel-6-upper": "upper",
        "panel-7-lower": "lower",
        "panel-7-upper": "upper",
        "panel-8-side": "side",
        "panel-8-upper": "upper",
    }


def test_the_side_panel_is_its_strip_less_the_opening() -> None:
    # 18 x 109, less the chimney's 92 to 96 from 69 up: 18 x 109 - 4 x 40.
    made = panel(chimney(), "panel-6-side")
    shape = Polygon(made.outline)
    assert shape.area == pytest.approx(18 * 109 - 4 * 40)
    assert shape.intersection(box(92, 69, 118, 103)).area == 0


def test_the_side_panel_turns_up_1_against_the_wall_as_far_as_the_back_face() -> None:
    made = panel(chimney(), "panel-6-side")
    assert made.body is not None
    turned = made.body.face("turn-up at the left side").corners
    assert {p[0] for p in turned} == {92.0}
    assert (min(p[1] for p in turned), max(p[1] for p in turned)) == (69.0, 103.0)
    assert (min(p[2] for p in turned), max(p[2] for p in turned)) == (0.0, 1.0)


@pytest.mark.parametrize(("face", "angle"), [("plumb", 59.7436), ("square", 90.0)])
def test_the_dam_leans_with_the_downslope_face(face: str, angle: float) -> None:
    bend = next(b for b in panel(chimney(face), "panel-7-lower").bends if b.id == "flat/turned-up end")
    assert (angle, "up") == (pytest.approx(bend.angle_deg, abs=1e-4), bend.way)


def test_at_the_wall_corner_dam_and_turn_up_give_each_other_room() -> None:
    # Both want the corner at 92, 69: each is mitred, the turn-up at 45 degrees, so nothing is wanted twice.
    made = panel(chimney("square"), "panel-6-side")
    assert made.body is not None
    dam, turned = made.body.face("turned-up end").corners, made.body.face("turn-up at the left side").corners
    assert min(p[0] for p in dam if p[2] > 0.5) == pytest.approx(92.0 + 1.0)
    assert min(p[1] for p in turned if p[2] > 0.5) == pytest.approx(69.0 + 1.0)


def test_a_panel_in_the_side_channel_runs_on_flat_past_the_back_face() -> None:
    # Opening from 80: the strip 60 to 78 lies wholly beside it.
    made = panel(changed(chimney(), left=80.0), "panel-5-side")
    assert set(made.outline) >= {(60.0, 109.0), (78.0, 109.0)}
    assert [b.id for b in made.bends] == ["flat/eave hem"]


def test_a_rib_in_the_side_channel_loses_its_legs_from_the_pan_up() -> None:
    # From the side panel's end, 109, down past the pan's leg at 103 - 7 by 1: 95.
    for id_ in ("panel-5-side", "panel-6-side"):
        notch = next(n for n in panel(changed(chimney(), left=80.0), id_).notches if n.cut == "leg-off")
        assert (notch.rib, notch.from_y, notch.to_y) == (78.0, 109.0, 95.0)


def test_the_eave_hem_is_1_and_keeps_clear_of_the_ribs() -> None:
    made = panel(chimney(), "panel-7-lower")
    assert made.body is not None
    flap = made.body.face("eave hem").corners
    # 96 + 5/16 + 1/8 to 114 - 5/16 - 1/8.
    assert (min(p[0] for p in flap), max(p[0] for p in flap)) == pytest.approx((96.4375, 113.5625))
    assert max(p[1] for p in flap) - min(p[1] for p in flap) == pytest.approx(1.0)


def test_through_panels_run_from_eave_to_ridge_and_only_the_edges_are_worked() -> None:
    _, metal = worked(chimney())
    through = [p for p in metal.values() if isinstance(p, RoofPanel) and p.role == "through"]
    assert {p.length for p in through} == {198.0}
    # 17 strips, three of them in the bay.
    assert len(through) == 14
    assert [p.id for p in through if p.blank is not None] == ["panel-1", "panel-17"]
