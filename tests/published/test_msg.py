"""Manufacturers' Standard Gage for sheet steel, 41.82 lb/ft2 per inch, table.

Numbers read in a copy of it (data/published.toml); the tolerance is its rounding.
"""

import pytest

from lapwright.proof.published import Check, checks, run
from lapwright.tables import steel_weight

ROWS = [c for c in checks("published") if c.source == "msg"]


def test_22_gage_weighs_a_pound_and_a_quarter() -> None:
    # 0.0299 in x 41.82 lb/ft2 per inch = 1.25 lb/ft2.
    assert steel_weight(0.0299) == pytest.approx(1.25, abs=0.006)


@pytest.mark.parametrize("check", ROWS, ids=lambda c: c.id)
def test_the_printed_number_comes_out(check: Check) -> None:
    assert run(check).got == pytest.approx(check.expected, abs=check.tolerance + 1e-12)
