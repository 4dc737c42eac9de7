"""FAA-H-8083-31, Aviation Maintenance Technician Handbook, Airframe, volume 1, chapter 4, bending a
U-channel.

Numbers read in a copy of it (data/published.toml); the tolerance is its rounding.
"""

import pytest

from lapwright.metal.bend import setback
from lapwright.proof.published import Check, checks, run

ROWS = [c for c in checks("published") if c.source == "faa-8083-31"]


def test_a_square_bend_of_the_channel_sets_back_by_radius_and_thickness() -> None:
    # Step 2: R 0.160, T 0.040, K = 1 at 90 degrees: 1 (0.160 + 0.040) = 0.200.
    assert setback(90.0, 0.160, 0.040, "up") == pytest.approx(0.200, abs=5e-4)


@pytest.mark.parametrize("check", ROWS, ids=lambda c: c.id)
def test_the_printed_number_comes_out(check: Check) -> None:
    assert run(check).got == pytest.approx(check.expected, abs=check.tolerance + 1e-12)
