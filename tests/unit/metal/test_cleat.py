"""Offset cleats: three of them, mitred where they meet, stopped at the ribs."""

from __future__ import annotations

import math

import pytest

from chimney import changed, chimney, worked
from lapwright.metal.cleat import cleats, lift, mitres, seat
from lapwright.metal.model import Body
from lapwright.metal.work import Work, at_bench
from lapwright.site.model import Site


def bench(site: Site) -> Work:
    job, _ = worked(site)
    return at_bench(job.site, job.detail.openings[0])


def at(body: Body, face: str, z: float) -> list[tuple[float, float]]:
    """Corners of a face at one height, left to right."""
    return sorted((p[0], p[1]) for p in body.face(face).corners if abs(p[2] - z) < 1e-9)


def test_three_cleats_lie_round_a_flat_pan() -> None:
    assert len(cleats(bench(chimney()))) == 3


def test_cleats_meet_in_mitres_of_half_the_deflection() -> None:
    # Half of 42.8789.
    work = bench(chimney())
    assert [math.degrees(a) for a in mitres(work.detail.cleat_line)] == pytest.approx([21.4395, 21.4395], abs=1e-4)


def test_both_ends_at_a_mitre_are_cut_on_one_plane_so_that_they_close() -> None:
    work = bench(chimney())
    first, second, third = cleats(work)
    # Four corners each: base edge, fold, web's crest, lip edge.
    for left, right in ((first, second), (second, third)):
        one, other = ({tuple(round(c, 6) for c in p) for f in x.faces for p in f.corners} for x in (left, right))
        assert len(one & other) == 4
    # Base 1 1/2 upslope: the mitre moves 1.5 tan 21.4395 = 0.589035 to the left of 92; the lip 0.392690 to the right.
    base = max(at(second, "base", seat(work)), key=lambda p: p[1])
    assert tuple(p[0] for p in at(second, "base", seat(work)) if abs(p[1] - base[1]) < 1e-9) == pytest.approx(
        (92 - 0.589035, 118 + 0.589035), abs=1e-5
    )
    # The same two points end the neighbours.
    upper_left = max(at(first, "base", seat(work)), key=lambda p: p[0] + p[1])
    upper_right = max(at(third, "base", seat(work)), key=lambda p: p[1] - p[0])
    assert upper_left == pytest.approx((92 - 0.589035, 113.5), abs=1e-5)
    assert upper_right == pytest.approx((118 + 0.589035, 113.5), abs=1e-5)


def test_the_blanks_ends_are_mitred() -> None:
    _, metal = worked(chimney())
    blank = metal["1-offset-cleat-2"].blank
    assert blank is not None
    # Base edge 26 + 2 x 0.589035 = 27.1781; lip edge 26 - 2 x 0.392690 = 25.2146.
    high = sorted(u for u, v in blank.outline if v > blank.height - 1e-6)
    low = sorted(u for u, v in blank.outline if v < 1e-6)
    assert high[-1] - high[0] == pytest.approx(27.1781, abs=1e-4)
    assert low[-1] - low[0] == pytest.approx(25.2146, abs=1e-4)


def test_the_outer_ends_stop_3_16_short_of_the_turn_ups() -> None:
    # Pan 78.4375 to 131.5625, metal 0.0255: 78.4375 + 0.0255 + 0.1875 = 78.6505 and 131.3495.
    first, _, third = cleats(bench(chimney()))
    assert min(p[0] for f in first.faces for p in f.corners) == pytest.approx(78.6505, abs=1e-9)
    assert max(p[0] for f in third.faces for p in f.corners) == pytest.approx(131.3495, abs=1e-9)


def test_base_lies_upslope_and_lip_downslope_of_the_cleat_line() -> None:
    work = bench(chimney())
    _, middle, _ = cleats(work)
    assert (
        min(p[1] for p in middle.face("base").corners),
        max(p[1] for p in middle.face("base").corners),
    ) == pytest.approx((112.0, 113.5))
    assert (
        min(p[1] for p in middle.face("lip").corners),
        max(p[1] for p in middle.face("lip").corners),
    ) == pytest.approx((111.0, 112.0))
    # On the pan's metal and the tape: 0.0255 + 0.09375; the lip 1/4 above that.
    assert seat(work) == pytest.approx(0.11925)
    assert {0.36925} == {round(p[2], 9) for p in middle.face("lip").corners}


def test_the_base_bends_up_into_the_web_and_the_web_down_into_the_lip() -> None:
    _, metal = worked(chimney())
    for k in (1, 2, 3):
        assert [(b.id, pytest.approx(b.angle_deg), b.way) for b in metal[f"1-offset-cleat-{k}"].bends] == [
            ("base/web", 90.0, "up"),
            ("web/lip", 90.0, "down"),
        ]


def test_the_panels_ride_up_by_web_tape_and_two_sheets() -> None:
    # 0.25 + 0.09375 + 0.051.
    assert lift(bench(chimney())) == pytest.approx(0.39475, abs=1e-9)
    assert lift(bench(changed(chimney(), web=0.125))) == pytest.approx(0.09375 + 0.125 + 0.051, abs=1e-9)
