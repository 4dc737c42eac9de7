"""The leak audit on whole roofs: sound work passes, every way of spoiling it shows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from chimney import changed, chimney
from lapwright.checks.leaks import leaks
from lapwright.leaks.audit import Audit
from lapwright.leaks.search import Crossing
from lapwright.site.model import Opening, Panel, Roof, Site
from lapwright.site.sense import AT_CORNERS
from leaking import Case, cases_of, examples, found_by, found_in_the_metal
from sabotage import BEHIND, SABOTAGES, Bodies

KINDS = ("no-sealant", "no-tape", "reversed-lap", "short-hem", "pan-cut", "screw-in-water", "open-corner")
EVERY = pytest.mark.parametrize("case", examples(), ids=lambda c: c.name)
CORNERED = [c for c in examples() if c.d.opening.kind != "pipe"]
ROUND_CORNERS = pytest.mark.parametrize("case", CORNERED, ids=lambda c: c.name)
NEAR = 2.0


@cache
def worked() -> Case:
    """The chimney of the worked case, behind a flat pan."""
    (case,) = cases_of(changed(chimney(), method="flat-pan"))
    return case


def corners(case: Case, a: Audit, how: str) -> set[str]:
    """Which wall corners the weakest ways of one water are decided at; "elsewhere" for any other place."""
    o = case.d.opening
    found = set()
    for which, way in a.places():
        if which == how:
            x, y, _ = way.decided.at
            ends = [e for e, at in (("back", o.back), ("front", o.up)) if abs(y - at) < NEAR]
            hands = [h for h, at in (("left", o.left), ("right", o.right)) if abs(x - at) < NEAR]
            found.add(f"{ends[0]}-{hands[0]}" if ends and hands else "elsewhere")
    return found


def test_without_sealant_both_back_corners_of_the_standard_flat_pan_are_weakest() -> None:
    a = worked().as_feared("no-sealant")
    assert corners(worked(), a, "standing") == {"back-left", "back-right"}
    assert a.standing is not None
    assert a.standing.head == pytest.approx(0.0, abs=1e-9)


@EVERY
def test_without_sealant_both_back_corners_of_every_flat_pan_are_weakest(case: Case) -> None:
    if case.d.method != "flat-pan":
        pytest.skip("behind a cricket no water stands at the corners")
    a = case.as_feared("no-sealant")
    assert {"back-left", "back-right"} <= corners(case, a, "standing")
    assert a.standing is not None
    assert a.standing.head == pytest.approx(0.0, abs=1e-9)


def test_with_only_the_left_corner_kept_sealed_it_is_the_right_one() -> None:
    # Everything is left out but the patches, and of those all but the one at the upslope left corner.
    patches = {p.id for p in worked().parts if p.kind == "corner-patch" and p.where != "back-left"}
    bare = frozenset({"bead", "tape", "hem", "seam"} | patches)
    assert corners(worked(), worked().audit(without=bare), "standing") == {"back-right"}


def test_with_patches_and_sealant_no_back_corner_is_weakest() -> None:
    a = worked().sound
    for how in ("standing", "running"):
        assert not {"back-left", "back-right"} & corners(worked(), a, how)
    # What is: the headlap of the panels above, under standing and under running water.
    for way in (a.standing, a.running):
        assert way is not None
        assert way.decided.seam in ("1-back-pan>deck", "panel-8-upper>offset-cleat")


@pytest.mark.parametrize(("holds", "weakest"), [(1.0, True), (2.0, True), (3.0, False), (4.0, False)])
def test_whether_the_corner_is_weakest_hangs_on_what_a_patch_is_trusted_with(holds: float, weakest: bool) -> None:
    # Next to it stands the headlap, at about 2 1/2: a patch trusted with no more than a bead's 2 in is weaker.
    ratings = dict(worked().seals.ratings) | {"patch": holds}
    a = worked().audit(seals=replace(worked().seals, ratings=ratings))
    assert a.standing is not None
    assert ({"back-left", "back-right"} <= corners(worked(), a, "standing")) == weakest
    assert (a.standing.decided.how == "patch") == weakest
    assert (a.standing.head == pytest.approx(holds)) == weakest


def at_a_back_foot(case: Case, c: Crossing) -> bool:
    """Within 1/2 in of a back corner's foot, every way."""
    o, (x, y, z) = case.d.opening, c.at
    return min(abs(x - o.left), abs(x - o.right)) < 0.5 and abs(y - o.back) < 0.5 and abs(z) < 0.5


def over_the_side_wall(case: Case, a: Audit, near: bool) -> list[Crossing]:
    """Where the pan laps over the side-wall flashing, at the corners' feet or away from them."""
    lap = [c for c in a.crossings if c.seam.startswith(("1-back-pan>1-side", "1-cricket-")) and "side-wall" in c.seam]
    return [c for c in lap if at_a_back_foot(case, c) == near]


@ROUND_CORNERS
def test_a_bead_runs_up_to_the_reliefs_of_a_corner_and_only_the_patch_closes_those(case: Case) -> None:
    unpatched = case.audit(without=frozenset({"patch", "solder"}))
    patch = "solder" if "solder" in case.seals.laps.values() else "patch"
    for a, at_foot in ((case.sound, patch), (unpatched, "")):
        assert {c.how for c in over_the_side_wall(case, a, near=True)} == {at_foot}
        assert {c.how for c in over_the_side_wall(case, a, near=False)} == {"bead"}


@ROUND_CORNERS
@pytest.mark.parametrize("hand", ["left", "right"])
def test_a_patch_closes_its_own_corner_only(case: Case, hand: str) -> None:
    gone = next(p.id for p in case.parts if p.kind == "corner-patch" and p.where == f"back-{hand}")
    a, middle = case.audit(without=frozenset({gone})), case.d.opening.left + case.d.opening.width / 2
    feet = over_the_side_wall(case, a, near=True)
    assert {bool(c.how) for c in feet if (c.at[0] < middle) == (hand == "left")} == {False}
    assert {bool(c.how) for c in feet if (c.at[0] < middle) != (hand == "left")} == {True}


@EVERY
def test_with_its_beads_alive_but_no_patches_a_flat_pan_is_open_at_both_back_corners(case: Case) -> None:
    if case.d.method != "flat-pan":
        pytest.skip("behind a cricket no water stands at the corners")
    a = case.audit(without=frozenset({"patch", "solder"}))
    assert {"back-left", "back-right"} <= corners(case, a, "standing")
    assert a.standing is not None
    assert a.standing.head == pytest.approx(0.0, abs=1e-9)


@EVERY
def test_sound_work_raises_no_finding(case: Case) -> None:
    assert leaks(case.site, (case.sound,)) == ()


@pytest.mark.parametrize("method", ["flat-pan", "cricket"])
@pytest.mark.parametrize(("rise", "ribs"), [(2.0, 3.0), (7.0, 2.5), (12.0, 2.0), (18.0, 1.75), (24.0, 3.0)])
def test_tall_ribs_and_steep_slopes_raise_no_finding(rise: float, ribs: float, method: str) -> None:
    # On these the panels and a raised apron lie further apart than flat ones do: 3 in over a plumb 24:12 is 6.7.
    site = changed(chimney(), rise=rise, rib_height=ribs, method=method)
    for case in cases_of(site):
        assert leaks(site, (case.sound,)) == ()


def test_the_lip_of_a_steep_cleat_is_no_lap_against_the_flow() -> None:
    # The mitred end of its lip looks up the slope; it stands off the pan, and the panel above hooks on it.
    site = Site(
        "steep",
        "in",
        Roof(14.0, 238.0625, 256.875),
        Panel(20.4375, 2.5, "double-fold", "clip", 15.8125),
        openings=(Opening("shaft", "framed-chimney", 105.25, 72.4375, 26.1875, 21.75, 72.0, "square", "flat-pan"),),
    )
    assert [leaks(site, (case.sound,)) for case in cases_of(site)] == [()]


def test_on_the_lowest_roofs_laps_climb_too_little_and_a_longer_overrun_mends_it() -> None:
    # Beside the rib the panel above begins 2 1/4 up from the back face, the side panel ends 6 up from it: a lap of
    # 3 3/4, and 3.75 x sin 2.386 deg = .156. 14 up it climbs more than the cleats hold.
    site = Site(
        "low",
        "in",
        Roof(0.5, 231.1875, 192.5),
        Panel(23.0, 1.0, "single-fold", "clip", 14.5625),
        openings=(Opening("hatch", "curb", 111.3125, 37.75, 41.4375, 33.375, 24.0, "plumb", "cricket"),),
    )
    (short,), (long,) = (cases_of(changed(site, overrun=inches)) for inches in (6.0, 14.0))
    assert short.sound.running is not None and long.sound.running is not None
    assert short.sound.running.decided.seam == "panel-6-side>deck"
    assert short.sound.running.head == pytest.approx(0.156, abs=2e-3)
    assert {f.rule for f in leaks(short.site, (short.sound,))} == {"leak.way-in"}
    assert {f.rule for f in leaks(long.site, (long.sound,))} == {"leak.margin"}


@ROUND_CORNERS
def test_behind_a_cricket_no_water_stands(case: Case) -> None:
    assert (case.sound.level is None) == (case.d.method == "cricket")
    assert (case.sound.standing is None) == (case.d.method == "cricket")
    assert case.sound.running is not None


@EVERY
@pytest.mark.parametrize("where", ["", "left", "right"])
@pytest.mark.parametrize("what", KINDS)
def test_every_kind_of_deviation_is_found_on_every_roof(case: Case, what: str, where: str) -> None:
    if case.d.pipe is not None and what in AT_CORNERS:
        pytest.skip("a round pipe has no side wall and no corner: the job file refuses it")
    middle = case.d.opening.left + case.d.opening.width / 2
    notched = {"left" if n.rib < middle else "right" for n in case.d.notches}
    if what == "pan-cut" and where and where not in notched:
        pytest.skip("no notch is cut on that side: the bay ends at the roof's edge")
    assert found_by(case, case.as_feared(what, where)) != ""


@ROUND_CORNERS
def test_a_reversed_lap_stops_the_job_whatever_stands_behind_it(case: Case) -> None:
    found = leaks(case.site, (case.as_feared("reversed-lap"),))
    assert "leak.against-flow" in {f.rule for f in found if f.stops}


@ROUND_CORNERS
@pytest.mark.parametrize("what", ["no-sealant", "screw-in-water", "open-corner", "pan-cut"])
def test_open_metal_where_water_runs_stops_the_job(case: Case, what: str) -> None:
    found = leaks(case.site, (case.as_feared(what),))
    assert "leak.way-in" in {f.rule for f in found if f.stops}


@ROUND_CORNERS
@pytest.mark.parametrize("spoil", SABOTAGES, ids=lambda s: s.__name__)
def test_fresh_sabotage_in_the_metal_shows_as_a_finding_or_a_lower_margin(
    case: Case, spoil: Callable[[Case], Bodies]
) -> None:
    spoilt = spoil(case)
    assert dict(spoilt) != dict(case.bodies), "nothing was spoilt"
    assert found_by(case, case.audit(bodies=spoilt)) != ""


@ROUND_CORNERS
@pytest.mark.parametrize("spoil", BEHIND, ids=lambda s: s.__name__)
def test_sabotage_behind_another_line_shows_once_that_line_is_dead(
    case: Case, spoil: Callable[[Case], Bodies]
) -> None:
    spoilt = spoil(case)
    assert dict(spoilt) != dict(case.bodies), "nothing was spoilt"
    assert found_in_the_metal(case, case.audit(bodies=spoilt)) != ""


@EVERY
def test_the_same_work_audited_again_is_not_found_spoilt(case: Case) -> None:
    again = case.audit()
    assert found_in_the_metal(case, again) == ""
    assert again == case.sound


@EVERY
def test_more_sealing_never_lowers_and_less_never_raises_a_head(case: Case) -> None:
    for gone in ("bead", "tape", "hem", "patch", "seam"):
        fewer = case.audit(without=frozenset({gone}))
        both = case.audit(without=frozenset({gone, "bead"}))
        for how in ("standing", "running"):
            rows = [getattr(a, how) for a in (case.sound, fewer, both)]
            heads = [w.head for w in rows if w is not None]
            assert heads == sorted(heads, reverse=True)
