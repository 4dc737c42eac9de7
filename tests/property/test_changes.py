"""One thing changed at a time: exactly these blanks change, and all the others stay to the last digit.

The case is the worked chimney: plumb masonry, 26 wide in a bay from 78 to 132, ribs 96 and 114 cut, snap seam.
"""

from __future__ import annotations

import pytest

from chimney import changed, chimney, worked
from lapwright.metal.model import Blank, Piece, RoofPanel
from lapwright.site.model import Site

ENDS = {"1-apron", "1-back-pan", "1-counterflashing-front", "1-counterflashing-back"}
END_MEMBRANES = {"1-membrane-front", "1-membrane-back"}
SIDES = {"1-side-wall-left", "1-side-wall-right"}
SIDE_COUNTERS = {"1-counterflashing-left", "1-counterflashing-right"}
PATCHES = {f"1-corner-patch-{e}-{h}" for e in ("front", "back") for h in ("left", "right")}
DAMS = {"panel-6-side", "panel-7-lower", "panel-8-side"}
UPPER = {"panel-6-upper", "panel-7-upper", "panel-8-upper"}
EDGES = {"panel-1", "panel-17"}
LEANING = ENDS | END_MEMBRANES | SIDES | SIDE_COUNTERS | PATCHES | DAMS
"""Everything whose shape knows how far the walls lean."""


def blanks(site: Site) -> dict[str, tuple[Blank, tuple[object, ...]]]:
    found = {}
    for id_, made in worked(site)[1].items():
        if made.blank is not None:
            found[id_] = (made.blank, tuple((b.id, b.way, b.kind, b.start, b.end, b.angle_deg) for b in made.bends))
    return found


def difference(a: Site, b: Site) -> tuple[set[str], set[str], set[str]]:
    """Ids whose blank or bends differ, ids that are gone, ids that are new."""
    before, after = blanks(a), blanks(b)
    both = before.keys() & after.keys()
    return {i for i in both if not alike(before[i], after[i])}, before.keys() - both, after.keys() - both


def alike(a: tuple[Blank, tuple[object, ...]], b: tuple[Blank, tuple[object, ...]]) -> bool:
    """Are they the same to 1e-9? (a floor of floating point, far below what shears can do)"""
    one, other = a[0], b[0]
    same = len(one.outline) == len(other.outline) and len(a[1]) == len(b[1])
    return same and flat(a) == pytest.approx(flat(b), abs=1e-9)


def flat(value: object) -> list[object]:
    if isinstance(value, Blank):
        value = (value.outline, value.cuts, value.holes, value.area)
    if isinstance(value, tuple):
        return [x for v in value for x in flat(v)]
    return [value]


def notches(site: Site) -> dict[str, tuple[object, ...]]:
    return {i: p.notches for i, p in worked(site)[1].items() if isinstance(p, RoofPanel) and p.notches}


@pytest.mark.parametrize("width", [25.0, 25.9375], ids=["an inch", "a sixteenth"])
def test_a_narrower_opening_changes_what_spans_it_and_what_lies_right_of_it(width: float) -> None:
    # Its left side stays at 92, its right side moves; 117 + 4 and 117.9375 + 4 still reach for the rib at 132.
    # Across the opening: both end flashings with their counterflashing and membrane, the apron's hook strip, the
    # second cleat. Right of it: the third cleat and its slant, the side panel's cut, the upper panel with the vertex,
    # and the last closure, from the rib at 114 to the right side. The left half, the side pieces (as long and as wide
    # as before), the lower panel and the panel above it, both whole strips, stay.
    moved, gone, new = difference(chimney(), changed(chimney(), width=width))
    assert moved == ENDS | END_MEMBRANES | {
        "1-hook-strip-apron",
        "1-offset-cleat-2",
        "1-offset-cleat-3",
        "1-closure-apron-3",
        "panel-8-side",
        "panel-8-upper",
    }
    assert (gone, new) == (set(), set())


def test_a_steeper_roof_changes_only_what_leans_with_the_plumb_walls() -> None:
    # 7:12 to 8:12: both are past 6:12, so the pan's extent stays 12. Cleats, upper panels, hook strips, closures and
    # plates lie flat on the roof and know nothing of its pitch.
    moved, gone, new = difference(chimney(), changed(chimney(), rise=8.0))
    assert moved == LEANING
    assert (gone, new) == (set(), set())


def test_a_steeper_roof_changes_nothing_round_square_faces() -> None:
    moved, gone, new = difference(chimney("square"), changed(chimney("square"), rise=8.0))
    assert (moved, gone, new) == (set(), set(), set())


def test_below_6_12_the_pan_alone_grows_round_square_faces() -> None:
    # 7:12 to 5:12: the extent goes from 12 to 18. The headlap grows; nothing else is longer.
    moved, _, _ = difference(chimney("square"), changed(chimney("square"), rise=5.0))
    assert moved == {"1-back-pan"}


def test_laying_from_the_other_hand_changes_no_blank_but_the_legs_that_are_cut() -> None:
    there = changed(chimney(), lay="right-to-left")
    assert difference(chimney(), there) == (set(), set(), set())
    # Bay notches trade places, and the nailing flange comes off the other leg of every upper panel.
    before, after = notches(chimney()), notches(there)
    assert {i for i in before if before[i] != after[i]} == {"panel-6-side", "panel-8-side"} | UPPER


def test_square_faces_change_only_what_leans() -> None:
    moved, gone, new = difference(chimney("plumb"), chimney("square"))
    assert moved == LEANING
    assert (gone, new) == (set(), set())


def test_a_folded_seam_changes_what_meets_a_rib_and_lays_the_apron_down() -> None:
    # The rib's face is 1/4 off its centre instead of 5/16: the pan is wider, the outer cleats longer, hems in the
    # strips run further. Folded ribs are dressed flat under the apron: it lies down and runs on past the corners with
    # its hook strip, needs no closures, and the side walls end at the downslope face instead of under it.
    moved, gone, new = difference(chimney(), changed(chimney(), seam="double-fold"))
    assert moved == (
        {"1-apron", "1-hook-strip-apron", "1-back-pan", "1-offset-cleat-1", "1-offset-cleat-3"}
        | {"1-corner-patch-front-left", "1-corner-patch-front-right"}  # their foot comes down to the panel again
        | SIDES
        | DAMS
        | UPPER
        | EDGES
    )
    assert gone == {"1-closure-apron-1", "1-closure-apron-2", "1-closure-apron-3", "1-closure-rib"}
    assert new == set()


def test_moving_the_opening_with_its_ribs_changes_no_piece() -> None:
    # 18 to the right, a whole coverage: the same bay one strip on.
    before, after = blanks(chimney()), blanks(changed(chimney(), left=110.0))
    for id_ in (i for i in before if not i.startswith("panel")):
        assert alike(before[id_], after[id_]), id_


def test_a_thicker_metal_changes_every_bent_blank_but_the_membrane() -> None:
    moved, _, _ = difference(chimney(), changed(chimney(), metal="steel-22"))
    pieces = {i for i, p in worked(chimney())[1].items() if p.blank is not None and p.bends}
    # The stainless counterflashing stands 4 t of the flashing metal off the wall, so it grows with it too.
    assert moved == {i for i in pieces if "membrane" not in i}


def test_a_longer_roof_changes_only_panels_that_reach_the_ridge() -> None:
    moved, _, _ = difference(chimney(), changed(chimney(), slope=210.0))
    assert moved == UPPER | EDGES


def test_piece_by_piece_the_lists_above_name_real_ids() -> None:
    known = {i for i, p in worked(chimney())[1].items() if isinstance(p, Piece | RoofPanel)}
    assert known >= LEANING | UPPER | EDGES
