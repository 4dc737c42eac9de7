"""What to buy for the hand-made job, worked on paper.

Opening 50..70 by 36..60; pan 42-7/16..77-9/16 by 53..72; cleat line (42,56) (50,69) (70,69) (78,56).
Blanks: pan 37.5 x 27.25 with a hole 1/8 square, cleat 20 x 2.75, four patches 4 x 4.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crickets import malt_house
from hand_made import CLEAT_LINE, DETAIL, LAYOUT, OPENING, PANELS, PIECES, hand_made, plain, site
from lapwright.detail.model import Detail
from lapwright.job import run
from lapwright.metal.model import Piece
from lapwright.shop import rates
from lapwright.shop.beads import line_length
from lapwright.shop.fixings import held_leg
from lapwright.shop.takeoff import take_off
from lapwright.site.model import Shop
from lapwright.words import Speaker

BY_HAND = {
    # 37.5 x 27.25 = 1021.875; 20 x 2.75 = 55; 4 x 16 = 64: 1140.875 in2 / 144
    "flat-stock": (7.922743, "sqft"),
    # less one hole of 1/64 in2: 1140.859375 / 144
    "blanks": (7.922635, "sqft"),
    # 7.31 + 0.39 + 4 x 0.11
    "weight": (8.14, "lb"),
    # coil weight: 1.031 less 41.82 - 40.8 = 1.02 times 0.0239 is 1.006622 lb/sq ft; x 7.922743
    "flat-weight": (7.975208, "lb"),
    "panels": (2, "each"),
    # the upper panel's blank is 21 up the slope, the through panel 96 and an eave hem: 1 deep over two sheets
    # takes 1.00415 (docs/worked-case.md): 118.00415 / 12 = 9.833679, and 10 % over
    "panel-run": (10.817047, "ft"),
    # coil: 18 and two legs of 1 3/4, lock 1, flange 1 1/2: 24 wide; 2 x 10.817047 sq ft x 1.006622
    "panel-weight": (21.777355, "lb"),
    "made-offset-cleat": (1, "each"),
    "made-corner-patch": (4, "each"),
    # 2 x (72 - 53) = 38 in
    "bead-pan-ribs": (3.166667, "ft"),
    # the lap runs from 53 to 60 + 6 = 66: 13 in, five gaps of at most 3, six passes;
    # the legs are 50 - 42.4375 = 7.5625 wide on both sides: 6 x 15.125 = 90.75 in
    "bead-pan-laps": (7.5625, "ft"),
    # 2 x hypot(8, 13) + 20 = 2 x 15.264338 + 20 = 50.528675 in
    "bead-hems": (4.210723, "ft"),
    # 4 patches x 16 in round each
    "bead-patches": (5.333333, "ft"),
    # 38 + 90.75 + 50.528675 + 64 = 243.28 in; x 0.049087 in2 x 1.10 = 13.14 in3 of 18.2
    "sealant": (1, "tube"),
    # two runs of 20 in
    "tape-cleats": (3.333333, "ft"),
    "tape": (1, "roll"),
    # 20 in: four gaps of 5, five screws
    "screws-cleats": (5, "each"),
    # the pan is 35.125 wide: three gaps, four screws
    "screws-pans": (4, "each"),
    # the upper panel's right leg runs from 70 1/4 to 96, its left one is not the leading leg: 25 3/4, three gaps,
    # four; through panel 96: eight gaps, nine
    "screws-flanges": (13, "each"),
    # 16 in round a patch, one every 2: eight, four patches
    "rivets": (32, "each"),
}


def bought(**changes: object) -> dict[str, tuple[float, str]]:
    job = replace(hand_made(), **changes)  # type: ignore[arg-type]
    lines = take_off(job.site, LAYOUT, job.detail, job.pieces, job.panels)
    return {line.item.removeprefix("shop.item."): (line.quantity, line.unit) for line in lines}


def test_membrane_is_bought_by_its_strips_and_is_no_metal() -> None:
    strip = replace(hand_made().pieces[0], kind="membrane", metal="membrane", quantity=2, blank=plain(60.0, 24.0))
    lines = bought(pieces=(*hand_made().pieces, strip))
    # two strips 60 x 24, 10 % over: 2 x 60 x 24 x 1.1 / 144
    assert lines.pop("membrane") == (pytest.approx(22.0), "sqft")
    assert lines == bought()


def test_the_takeoff_agrees_line_by_line_with_the_figures_worked_by_hand() -> None:
    got = bought()
    assert list(BY_HAND) == list(got)
    for name, (quantity, unit) in BY_HAND.items():
        assert unit == got[name][1]
        assert quantity == pytest.approx(got[name][0], abs=1e-6), name


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_every_line_can_be_said_with_its_basis(unit: str) -> None:
    speaker = Speaker(unit)
    for line in hand_made(unit).takeoff:
        assert len(speaker.say(line.item, **line.values)) > 3
        assert speaker.say(line.basis, **line.values).endswith(".")


def test_on_an_existing_roof_through_panels_are_not_bought() -> None:
    old = replace(site(), roof=replace(site().roof, work="existing"))
    got = bought(site=old)
    assert got["panels"] == (1, "each")
    # only the upper panel is left: its blank is 21 up the slope, and 10 % over
    assert pytest.approx(got["panel-run"][0]) == 21 * 1.1 / 12


def test_a_soldered_metal_has_its_seam_measured_and_no_rivets() -> None:
    copper = tuple(replace(p, metal="copper-16") if p.kind == "corner-patch" else p for p in PIECES)
    got = bought(pieces=copper)
    assert "rivets" not in got and "bead-patches" not in got
    assert pytest.approx(got["solder"][0]) == 64 / 12


def test_a_leg_at_the_roofs_edge_is_ripped_off_and_takes_no_screw() -> None:
    ring = ((102.0, 0.0), (120.0, 0.0), (120.0, 96.0), (102.0, 96.0))
    last = replace(PANELS[1], id="T6", strip=6, outline=ring, width=18.0)
    assert held_leg(site(), last) == 0.0
    # laid the other way its leading leg is the left one, on a rib
    other = replace(site(), panel=replace(site().panel, lay="right-to-left"))
    assert held_leg(other, last) == 96.0


def test_a_leg_that_ends_at_the_opening_is_held_as_far_as_it_goes() -> None:
    # beside the opening: right rib at 54 up to the downslope face at 36, then cut back along the side at 50
    ring = ((36.0, 0.0), (54.0, 0.0), (54.0, 36.0), (50.0, 36.0), (50.0, 66.0), (36.0, 66.0))
    assert held_leg(site(), replace(PANELS[0], role="side", outline=ring, notches=())) == 36.0


def test_a_cap_is_screwed_along_its_four_sides() -> None:
    # 20 along each end and 24 along each side, at most 12 apart: 3, 3, 3, 3; its blank is 60 wide
    cap = replace(PIECES[0], kind="counterflashing", name="pieces.counterflashing.cap", blank=plain(60.0, 50.0))
    curb = replace(OPENING, kind="curb")
    detail = Detail((replace(DETAIL.openings[0], opening=curb),))
    got = bought(pieces=(cap,), detail=detail)
    assert got["screws-walls"] == (12, "each")


def test_a_reglet_is_as_long_as_its_wall() -> None:
    # tabs at its ends make the blank 22 wide; the wall is 20: one bead, and wedges at 0, 10, 20
    piece = replace(PIECES[0], kind="counterflashing", name="pieces.counterflashing.back", blank=plain(22.0, 7.0))
    got = bought(pieces=(piece,))
    assert pytest.approx(got["bead-reglets"][0]) == 20 / 12
    assert got["wedges"] == (3, "each")


@pytest.mark.parametrize(("waste", "tubes", "rolls"), [(0.0, 1, 1), (60.0, 2, 1)])
def test_waste_is_the_jobs_own(waste: float, tubes: int, rolls: int) -> None:
    # 243.28 in x 0.049087 = 11.942 in3: 0.656 of a tube, 1.05 with 60 % over; 40 in of tape is 0.07 of a roll
    wasteful = replace(site(), shop=Shop(waste=waste))
    got = bought(site=wasteful)
    assert (got["sealant"][0], got["tape"][0]) == (tubes, rolls)
    assert pytest.approx(got["panel-run"][0], abs=1e-6) == 9.833679 * (1 + waste / 100)
    # what the cutting lays is bought as it is cut
    assert got["flat-stock"] == (pytest.approx(7.922743, abs=1e-6), "sqft")


def test_clips_take_two_screws_each() -> None:
    clipped = replace(site(), panel=replace(site().panel, fixing="clip"))
    got = bought(site=clipped)
    assert got["clips"] == (13, "each")
    assert got["clip-screws"] == (26, "each")
    assert "screws-flanges" not in got


def test_sealant_one_hair_over_a_tube_is_two_tubes() -> None:
    # one tube lays 18.2 / (pi/64) / 1.10 = 337.06 in with the spare; the hand-made job has 243.28 less 64
    # of patches = 179.28 in without them, so patches 157.78 round fill it: four of 39.445
    reach = rates.TUBE / rates.bead_area() / 1.10
    side = (reach - 179.278675) / 16

    def tubes(extra: float) -> float:
        fitted = tuple(replace(p, blank=plain(side + extra, side)) if p.kind == "corner-patch" else p for p in PIECES)
        return bought(pieces=fitted)["sealant"][0]

    assert tubes(-0.001) == 1
    assert tubes(+0.001) == 2


@pytest.mark.parametrize(
    ("length", "spacing", "count"), [(12.0, 6.0, 3), (12.001, 6.0, 4), (0.5, 6.0, 2), (36.0, 12.0, 4)]
)
def test_screws_stand_at_both_ends_and_no_farther_apart_than_asked(length: float, spacing: float, count: int) -> None:
    assert count == rates.spaced(length, spacing)


@given(st.integers(1, 9))
def test_more_of_a_piece_means_more_of_its_metal_in_proportion(count: int) -> None:
    cleat = next(p for p in PIECES if p.kind == "offset-cleat")
    more: tuple[Piece, ...] = (replace(cleat, quantity=count),)
    got = bought(pieces=more)
    # 20 x 2.75 = 55 in2 each; two runs of 20 in of tape each; five screws each
    assert 55 * count / 144 == pytest.approx(got["flat-stock"][0])
    assert 40 * count / 12 == pytest.approx(got["tape-cleats"][0])
    assert (5 * count, "each") == got["screws-cleats"]


def test_the_hand_made_cleat_line_is_as_long_as_its_three_runs() -> None:
    assert pytest.approx(line_length(CLEAT_LINE), abs=1e-6) == 50.528675
    assert DETAIL.openings[0].pan is not None and len(PANELS) == 2


def test_a_crickets_beads_follow_its_flanges_and_join_its_halves() -> None:
    # docs/cricket.md: legs from 85 to the flange's end at the ribs, 103.7809, twice: 37.5618 in. The halves: 18
    # beyond the head (12 / cos phi) and 8.9443 up the plumb face, two beads each, and 21 of ridge: 74.8885 in.
    site = malt_house()
    job = run(site)
    lines = {line.item.removeprefix("shop.item."): line.quantity for line in job.takeoff}
    assert lines["bead-pan-ribs"] == pytest.approx(37.5618 / 12, abs=1e-4)
    assert lines["bead-halves"] == pytest.approx(74.8885 / 12, abs=1e-4)
    assert "screws-pans" not in lines
    # A flat pan there runs 12 up past 92: from 85 to 104 twice, and has no halves.
    flat = run(malt_house(method="flat-pan"))
    lines = {line.item.removeprefix("shop.item."): line.quantity for line in flat.takeoff}
    assert lines["bead-pan-ribs"] == pytest.approx(38.0 / 12, abs=1e-4)
    assert "bead-halves" not in lines and "screws-pans" in lines
