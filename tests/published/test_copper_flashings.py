"""Copper & Brass Research Association, Copper Flashings: a Manual, general notes, 24, 29, p. 53, p. 60,
edition 1924.

Numbers read in a copy of it (data/published.toml); the tolerance is its rounding.
"""

import pytest

from lapwright.proof.published import Check, checks, run
from lapwright.tables import metals

ROWS = [c for c in checks("published") if c.source == "copper-flashings"]


def test_a_plate_an_inch_thick_weighs_46_and_a_half_pounds() -> None:
    # Page 53, table I.
    row = metals()["copper-20"]
    assert row.weight_psf / row.base == pytest.approx(46.5, abs=0.3)


@pytest.mark.parametrize("check", ROWS, ids=lambda c: c.id)
def test_the_printed_number_comes_out(check: Check) -> None:
    assert run(check).got == pytest.approx(check.expected, abs=check.tolerance + 1e-12)
