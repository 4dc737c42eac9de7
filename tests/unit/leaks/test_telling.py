"""Seams and places in a roofer's words; which single change is best; what a seam is here for."""

from __future__ import annotations

import pytest

from chimney import changed, chimney
from lapwright.leaks.margins import margin, wind_rows
from lapwright.leaks.search import DECK, OUTSIDE, Crossing
from lapwright.leaks.telling import kind_of, place, rests, safe, seam, sheet_key
from lapwright.leaks.without import can_leave_out, leave_out
from lapwright.site.model import Opening
from lapwright.words import Speaker
from leaking import Case, cases_of

INCHES = Speaker("in")
STACK = Opening("stack", "masonry-chimney", 92.0, 69.0, 26.0, 34.0, 60.0, "plumb")  # back face at 103


def at(x: float, y: float, seam: str = "1-back-pan>deck", **more: object) -> Crossing:
    return Crossing(OUTSIDE, DECK, 1.0, 1.0, 0.0, seam, (x, y, 0.0), **more)  # type: ignore[arg-type]


def test_sheets_have_a_roofers_names() -> None:
    assert sheet_key("1-side-wall-left") == "pieces.side-wall.left"
    assert sheet_key("12-corner-patch-back-right") == "pieces.corner-patch.back-right"
    assert sheet_key("panel-14-lower") == "leaks.sheet.lower"
    assert sheet_key("offset-cleat") == "leaks.sheet.cleat"
    assert sheet_key("something-new") == "leaks.sheet.other"
    assert (kind_of("2-offset-cleat-3"), kind_of("panel-7-side"), kind_of("hole")) == ("offset-cleat", "side", "hole")


def test_a_place_is_measured_from_the_openings_own_sides() -> None:
    # 92 - 90.5 = 1 1/2 left; 103 + 2 up. 118 right side: 117.25 is 3/4 in; 68.5 is 1/2 below the face at 69.
    assert place(at(90.5, 105.0), STACK, INCHES) == '1-1/2" left of the opening, 2" up from its back face'
    assert place(at(117.25, 68.5), STACK, INCHES) == (
        '3/4" in from the opening\'s right side, 1/2" down from its downslope face'
    )
    assert place(at(92.0, 103.0), STACK, INCHES) == "at the opening's left side, at its back face"


def test_a_seam_says_what_lies_over_what() -> None:
    assert seam(at(0, 0, "1-back-pan>1-side-wall-left"), INCHES) == (
        "in under the back pan, over the side-wall flashing, left"
    )
    assert seam(at(0, 0, "1-back-pan>hole"), INCHES) == "through a hole in the back pan"


def test_only_an_upturn_is_said_to_be_tested() -> None:
    told = {how: rests(at(0, 0, how=how), INCHES) for how in ("bead", "tape", "patch", "solder", "hem", "seam")}
    assert all("assumed" in said for said in told.values())
    assert "tested" in rests(at(0, 0, along=1.0, shape="upturn"), INCHES)
    # A standing edge that looks sideways is none: water goes round it, not over it.
    assert "tested" not in rests(at(0, 0, along=1.0), INCHES)
    assert "tested" not in rests(at(0, 0), INCHES)


def test_a_head_is_printed_rounded_down() -> None:
    # 1.99 in is 1 15/16, not 2.
    assert safe(1.99) == 1.9375
    assert safe(0.0624) == 0.0


@pytest.fixture(scope="module")
def worked() -> Case:
    (case,) = cases_of(changed(chimney(), method="flat-pan"))
    return case


def test_wind_takes_its_share_of_the_smaller_margin(worked: Case) -> None:
    running = worked.sound.running
    assert running is not None
    least = margin(worked.site, running, "running")
    assert least < running.head
    rows = wind_rows(worked.site, worked.sound)
    assert [r.mph for r in rows] == [40.0, 60.0, 115.0]
    # 60 mph: 9.216 psf, 1.7715 in of water; half of it leaves .886 less.
    share, left = rows[1].left[1]
    assert share == 0.5
    assert left == pytest.approx(least - 0.8858, abs=1e-3)


def test_what_can_be_left_out_is_what_this_opening_has(worked: Case) -> None:
    sealing, laps, pieces = can_leave_out(worked.site, worked.job.detail, worked.d)
    assert sealing == ("bead", "hem", "patch", "tape")
    assert {"back-pan/side-wall", "side-wall/panel", "panel/offset-cleat", "side-wall/apron"} <= set(laps)
    assert {"apron", "back-pan", "corner-patch", "side-wall", "counterflashing", "offset-cleat"} == set(pieces)


def why(case: Case, without: str) -> tuple[str, float, float]:
    x = leave_out(case.site, case.job.layout, case.job.detail, case.d, case.bodies, without)
    if not x.water:
        return "", 0.0, 0.0
    before, after = getattr(x.before, x.water), getattr(x.after, x.water)
    return after.decided.seam, before.head, after.head


@pytest.mark.parametrize(
    ("without", "at"),
    [
        ("back-pan/side-wall", "1-back-pan>1-side-wall-"),
        ("side-wall/panel", "1-side-wall-"),
        ("side-wall/apron", "1-side-wall-"),
        ("apron/panel", "1-apron>panel-"),
        ("corner-patch/back-pan", "1-corner-patch-back-"),
    ],
)
def test_a_lap_left_out_lets_water_in_at_that_lap(worked: Case, without: str, at: str) -> None:
    seam_, before, after = why(worked, without)
    assert after < before
    assert seam_.startswith(at)


@pytest.mark.parametrize(
    "piece", ["apron", "back-pan", "corner-patch", "counterflashing", "offset-cleat", "side-wall"]
)
def test_a_piece_left_out_lets_water_in(worked: Case, piece: str) -> None:
    _, before, after = why(worked, piece)
    assert after < before
