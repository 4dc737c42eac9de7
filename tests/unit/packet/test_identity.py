"""The job hash and the code that carries it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hand_made import OPENING, site
from lapwright.packet.identity import code_svg, code_text, job_hash
from lapwright.site.model import Defaults, Weather


def test_the_hash_is_eight_hexadecimal_digits_and_always_the_same() -> None:
    first = job_hash(site())
    assert first == job_hash(site())
    assert len(first) == 8 and int(first, 16) >= 0


@pytest.mark.parametrize(
    "changed",
    [
        replace(site(), name="Kiln shed 2"),
        replace(site(), units="mm"),
        replace(site(), roof=replace(site().roof, eave=120.0625)),
        replace(site(), weather=Weather(snow=True)),
        replace(site(), openings=(replace(OPENING, left=OPENING.left + 1 / 16),)),
        replace(site(), openings=(replace(OPENING, measures=Defaults(setback=8.0)),)),
        replace(site(), openings=(OPENING, replace(OPENING, name="vent"))),
    ],
)
def test_any_changed_input_gives_another_hash(changed) -> None:  # type: ignore[no-untyped-def]
    assert job_hash(changed) != job_hash(site())


def test_what_stands_at_its_default_does_not_count() -> None:
    # a job that writes out `setback = 9`, the default, is the job that leaves it out
    said = replace(site(), openings=(replace(OPENING, measures=Defaults(setback=9.0)),))
    assert job_hash(said) == job_hash(site())


def test_a_long_name_is_shortened_in_the_code_and_a_lone_surrogate_does_no_harm() -> None:
    name = "x" * 400
    assert len(code_text(site(name=name)).splitlines()[2]) == 40
    assert code_svg(code_text(site(name="shed \ud800 north"))).startswith("<svg")


def test_a_code_has_its_three_finder_squares_and_a_quiet_border() -> None:
    # a finder is a dark run of 7 in its first row; four clear squares lie round the code
    svg = code_svg("lapwright-plan/1\n5f3a9c12\nKiln shed")
    assert "M4 4h7v1h-7z" in svg
    side = int(svg.split('viewBox="0 0 ')[1].split()[0])
    assert f"M{side - 4 - 7} 4h7v1h-7z" in svg
    assert f"M4 {side - 4 - 1}h7v1h-7z" in svg
    assert "M3 " not in svg and f" {side - 4}h" not in svg
