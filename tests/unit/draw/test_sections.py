"""Sections: figures against hand numbers, layers in the order of their laps, every sheet legible."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from shapely.geometry import Polygon

from chimney import changed, chimney
from lapwright.draw.corner_metal import Corner, corner_of, opening_under, patch_reach, tab_foot, tab_width
from lapwright.draw.display import Display
from lapwright.draw.layers import place_all
from lapwright.draw.section import KEYS, draw_sections
from lapwright.draw.section_across import plan_ribs, plan_side
from lapwright.draw.section_plan import Plan
from lapwright.draw.section_up import plan_apron, plan_upslope
from lapwright.draw.stage import DECK_STEP, fit_stage
from lapwright.job import Job, run
from lapwright.site.model import Site
from lapwright.site.read import read_job
from lapwright.words import Speaker

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*/job.toml"))
T = 0.0255


def sheets(job: Job, opening: int = 0) -> dict[str, Display]:
    return draw_sections(job.site, job.layout, job.detail, job.pieces, job.panels, opening, Speaker(job.site.units))


def plans(site: Site) -> dict[str, Plan]:
    job = run(site)
    work, placed = place_all(job.site, job.layout, job.detail, job.pieces, job.panels, 0)
    out = {
        "upslope": plan_upslope(work, placed, job.detail),
        "side": plan_side(work, placed, job.detail),
        "apron": plan_apron(work, placed, job.detail),
    }
    return out | {f"rib {n}": p for n, p in enumerate(plan_ribs(work, placed, job.detail))}


def figures(plan: Plan) -> dict[str, float]:
    every = [*plan.figures, *(f for c in plan.close_ups for f in c.figures)]
    return {f.key.rsplit(".", 1)[1]: f.value for f in every}


def near(plan: Plan, kind: str, face: str) -> list[tuple[float, float]]:
    """Ends of a face's cut, before its layer was moved."""
    (layer,) = [one for one in plan.layers if (one.part.role or one.part.kind) == kind]
    return sorted(layer.mould[face])


# --- figures ------------------------------------------------------------------------------------


@pytest.mark.parametrize("face", ["plumb", "square"])
def test_the_upslope_section_measures_what_the_pan_is_built_to(face: str) -> None:
    plan = plans(chimney(face))["upslope"]
    # 7:12: extent 12, setback 9, headlap 12 - 9; upstand 8 and cover 4 square to the roof; cleat 1 1/2, 1/4,
    # 1; hem 1; the finished edge lies lip + slack = 1 1/4 below the cleat line, so 1/4 past the lip.
    wanted = {
        "setback": 9.0, "headlap": 3.0, "extent": 12.0, "upstand": 8.0, "cover": 4.0,
        "lip": 1.0, "slack": 0.25, "hem": 1.0, "base": 1.5, "web": 0.25,
    }  # fmt: skip
    assert figures(plan) == pytest.approx(wanted, abs=1e-9)


def test_the_tongue_leans_with_a_plumb_wall_and_stands_square_on_a_square_one() -> None:
    # tan(theta) = 7/12: 8 high leans 4 2/3 upslope; the fold stands 2 t off the face, 2 t / cos(theta) on the roof.
    cosine = 12 / math.hypot(7, 12)
    foot = 103 + 2 * T / cosine
    assert near(plans(chimney("plumb"))["upslope"], "back-pan", "tongue") == [
        pytest.approx((foot, 0.0)),
        pytest.approx((foot + 8 * 7 / 12, 8.0)),
    ]
    assert near(plans(chimney("square"))["upslope"], "back-pan", "tongue") == [
        pytest.approx((103 + 2 * T, 0.0)),
        pytest.approx((103 + 2 * T, 8.0)),
    ]


def test_the_side_section_measures_the_flashing_and_the_room_beside_it() -> None:
    # Room 14 from rib to face; flange 4, hem 1/2, upstand 8, cover 4; hook strip 1 1/2; rib 1 3/4.
    wanted = {"flange": 4.0, "clear": 14.0, "upstand": 8.0, "cover": 4.0, "rib": 1.75, "hem": 0.5, "strip": 1.5}
    assert figures(plans(chimney())["side"]) == pytest.approx(wanted, abs=1e-9)


def test_a_raised_apron_lies_at_rib_height_and_a_flat_one_on_the_panel() -> None:
    raised = plans(chimney())["apron"]
    # Snap ribs: the flange lies 1 3/4 up; its foot leans 1 3/4 x 7/12 upslope with the wall.
    assert near(raised, "apron", "flange") == [(63.0, 1.75), pytest.approx((69 + 1.75 * 7 / 12, 1.75))]
    assert any(one.part.kind == "closure" for one in raised.layers)
    flat = plans(changed(chimney(), seam="double-fold"))["apron"]
    assert near(flat, "apron", "flange") == [(63.0, 0.0), (69.0, 0.0)]
    assert not any(one.part.kind == "closure" for one in flat.layers)
    for plan in (raised, flat):
        wanted = {"flange": 6.0, "upstand": 8.0, "cover": 4.0, "hem": 0.5, "strip": 1.5}
        assert figures(plan) == pytest.approx(wanted, abs=1e-9)


def test_both_bay_ribs_are_cut_half_way_down_their_notch() -> None:
    found = plans(chimney())
    # Notch from 109 down to 97.2942 (the finished edge on the rib): half way 103.1471.
    for n in (0, 1):
        plan = found[f"rib {n}"]
        assert plan.view.cut.origin[1] == pytest.approx(103.1471, abs=1e-4)
        # Turn-up: rib 1 3/4 less 1/4, leant 2 1/2 degrees: 1 1/2 cos(2.5).
        wanted = {"turn_up": 1.5 * math.cos(math.radians(2.5)), "gap": 0.125}
        assert figures(plan) == pytest.approx(wanted, abs=1e-9)


def test_a_notch_takes_the_lock_off_one_side_panel_and_the_outer_leg_off_the_other() -> None:
    found = plans(chimney())
    for n, points in ((0, 2), (1, 2)):
        (side,) = [one for one in found[f"rib {n}"].layers if one.part.role == "side"]
        legs = [t for t in side.traces if t.face == "flat/leg"]
        # Only the wall at the panel's own flat is left: foot and head.
        assert [len(t.points) for t in legs] == [points]
        assert [len(t.points) for t in side.lost] == [4 if n == 0 else 5]
    (whole,) = [one for one in plans(chimney())["side"].layers if one.part.role == "side"]
    assert whole.lost == ()


# --- layers -------------------------------------------------------------------------------------


def test_layers_are_drawn_apart_in_the_order_of_their_laps() -> None:
    job = run(chimney())
    laps = {(lap.over, lap.under) for lap in job.detail.laps}
    for key, plan in plans(chimney()).items():
        for over in plan.layers:
            for under in plan.layers:
                if (over.id, under.id) in laps:
                    assert (over.deck, over.wall) >= (under.deck, 0), (key, over.id, under.id)


def test_a_hooked_panel_stays_with_its_cleat_and_the_pan_lies_under_both() -> None:
    ranks = {one.part.role or one.part.kind: (one.deck, one.wall) for one in plans(chimney())["upslope"].layers}
    # On the deck: membrane, pan, cleat with the hooked panel. On the wall: membrane, tongue, counterflashing.
    assert ranks["membrane"] == (1, 1)
    assert ranks["back-pan"] == (2, 2)
    assert ranks["offset-cleat"][0] == ranks["upper"][0] == 3
    assert ranks["counterflashing"] == (2, 3)


def test_shapes_stay_true_and_layers_move_by_whole_steps() -> None:
    plan = plans(chimney())["upslope"]
    stage = fit_stage(plan.view, plan.layers, (0.0, 0.0, 480.0, 400.0))
    assert 144.0 / stage.scale == pytest.approx(round(144.0 / stage.scale))
    pan = next(one for one in plan.layers if one.part.kind == "back-pan")
    cleat = next(one for one in plan.layers if one.part.kind == "offset-cleat")
    a, b = pan.mould["base"]
    assert math.dist(stage.mould(pan, a), stage.mould(pan, b)) == pytest.approx(stage.scale * math.dist(a, b))
    # One rank between them: one step straight up the plumb wall.
    dx, dy = (p - q for p, q in zip(stage.apart(cleat), stage.apart(pan), strict=True))
    assert (dx, dy) == pytest.approx((0.0, DECK_STEP / math.cos(math.atan2(7, 12))), abs=1e-9)


# --- the corner ---------------------------------------------------------------------------------


def corner(site: Site) -> Corner:
    job = run(site)
    work, placed = place_all(job.site, job.layout, job.detail, job.pieces, job.panels, 0)
    found = corner_of(work, placed)
    assert found is not None
    return found


@pytest.mark.parametrize("face", ["plumb", "square"])
def test_what_stays_open_under_the_tab_is_measured_from_the_metal(face: str) -> None:
    theta = math.atan2(7, 12) if face == "plumb" else 0.0
    r, metal = 2 * T, 0.09614
    # The fold's tangent lies (r + t) tan((90 + theta) / 2) up the corner; the tab's foot starts there, runs
    # through the corner's bend and climbs at 45 degrees for tab - r: last. Out by the tab it is tab sin(theta) more.
    rise = (r + T) * math.tan(math.radians(45) + theta / 2)
    last = rise + metal + (0.5 - r)
    here = corner(chimney(face))
    foot, tip = tab_foot(here)
    assert foot[1] == pytest.approx(rise * math.cos(theta), abs=1e-5)
    assert tip[1] == pytest.approx(last * math.cos(theta) + 0.5 * math.sin(theta), abs=1e-4)
    assert tab_width(here) == pytest.approx(0.5)
    assert opening_under(here)[1:3] == (foot, tip)
    # The patch goes 1 up the corner, from one sheet higher.
    assert patch_reach(here) == pytest.approx(1 + (T - tip[1]) / math.cos(theta), abs=1e-6)


def test_on_a_steep_roof_the_patch_grows_to_cover_the_hole_under_the_tab() -> None:
    # 16:12, theta 53.13: rise 0.0765 tan(71.565) = 0.2295, last 0.2295 + 0.0961 + 0.449 = 0.7746; off the pan
    # 0.7746 x 0.6 + 0.5 x 0.8 = 0.8648, up the wall 0.8648 / 0.6 = 1.4413. A patch of 4 goes up 2,
    # from one sheet (0.0255 / 0.6 = 0.0425) higher.
    # Asked for 2, the patch is made to cover the hole by 0.02, in eighths: (0.8648 + 0.02) / 0.6 = 1.4747, so 1 1/2.
    here = corner(changed(chimney(), rise=16.0, method="flat-pan"))
    assert tab_foot(here)[1][1] == pytest.approx(0.8648, abs=1e-3)
    assert patch_reach(here) == pytest.approx(1.5425 - 1.4413, abs=1e-3)
    wider = corner(changed(chimney(), rise=16.0, method="flat-pan", patch=4.0))
    assert patch_reach(wider) == pytest.approx(2.0425 - 1.4413, abs=1e-3)


# --- sheets -------------------------------------------------------------------------------------


def assert_legible(display: Display) -> None:
    boxes = [(t.text, Polygon(t.box())) for t in display.texts()]
    for i, (name, box) in enumerate(boxes):
        for other, there in boxes[:i]:
            assert box.intersection(there).area < 0.01, f"{name!r} lies on {other!r}: {display.title}"
    assert min(t.size for t in display.texts()) >= 8.0
    x0, y0, x1, y1 = display.extents()
    assert x0 >= 0 and y0 >= 0 and x1 <= display.width and y1 <= display.height, display.title


def assert_named(display: Display, plan: Plan, speaker: Speaker) -> None:
    texts = [t.text for t in display.texts()]
    for layer in plan.layers:
        bare = speaker.say(layer.placed.key)
        assert any(bare in t for t in texts), f"{bare} is not named: {display.title}"


def names_its_sheets(display: Display) -> None:
    """Every letter of the key stands once in a balloon, and the pipe's own pieces are all in the key."""
    said = [t.text for t in display.texts()]
    key = " ".join(said)
    letters = re.findall(r"\b([A-Z]): ", key)
    assert letters and [t for t in said if len(t) == 1] == letters
    assert all(f": {name}" in key for name in ("pipe", "solid deck", "sleeve", "storm collar", "base plate"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.parent.name)
def test_every_section_of_every_example_is_legible(path: Path) -> None:
    job = run(read_job(path.read_text(encoding="utf-8"), path.name))
    for n, detail in enumerate(job.detail.openings):
        drawn = sheets(job, n)
        if detail.method == "none":
            assert drawn == {}
            continue
        round_it = [k for k in KEYS if k != "rib" or detail.notches]
        assert list(drawn) == (round_it if detail.pipe is None else ["pipe"])
        if detail.pipe is not None:
            names_its_sheets(drawn["pipe"])
        for display in drawn.values():
            assert_legible(display)


@pytest.mark.parametrize(
    "case",
    [
        {},
        {"seam": "double-fold", "lay": "right-to-left", "rise": 3.0},
        {"kind": "curb", "face": "square", "height": 8.0, "rise": 4.0},
        {"kind": "framed-chimney", "rise": 12.0, "width": 14.0},
        {"kind": "skylight", "face": "square", "height": 10.0, "rise": 2.5, "method": "flat-pan"},
        {"rise": 16.0, "method": "flat-pan"},
        {"left": 6.0, "width": 20.0, "first_rib": 12.0},
    ],
    ids=str,
)
def test_every_sheet_is_legible_names_every_layer_and_gives_every_figure(case: dict[str, object]) -> None:
    site = changed(chimney(), **case)
    job, speaker = run(site), Speaker("in")
    drawn, planned = sheets(job), plans(site)
    for key, plan in planned.items():
        display = drawn[key.split()[0]]
        assert_legible(display)
        assert_named(display, plan, speaker)
        texts = [t.text for t in display.texts()]
        for f in (*plan.figures, *(f for c in plan.close_ups for f in c.figures)):
            assert speaker.say(f.key, value=f.value) in texts
    assert_legible(drawn["corner"])


def test_every_sheet_prints_its_scale() -> None:
    for key, display in sheets(run(chimney())).items():
        words = " ".join(t.text for t in display.texts())
        assert re.search(r"1 : \d", words), key


def test_the_same_job_draws_the_same_sheets() -> None:
    assert sheets(run(chimney())) == sheets(run(chimney()))
