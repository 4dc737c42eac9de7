"""Tabellenbuch Metall, blank lengths, worked example.

Numbers read in a copy of it (data/published.toml); the tolerance is its rounding.
"""

import pytest

from lapwright.metal.bend import din_k
from lapwright.proof.published import Check, checks, run

ROWS = [c for c in checks("published") if c.source == "tabellenbuch"]


def test_the_worked_example_has_its_k() -> None:
    # r = 6 mm, s = 5 mm: k = 0.65 + 0.5 lg(6/5) = 0.689.
    assert din_k(6.0, 5.0) == pytest.approx(0.689, abs=0.001)


@pytest.mark.parametrize("check", ROWS, ids=lambda c: c.id)
def test_the_printed_number_comes_out(check: Check) -> None:
    assert run(check).got == pytest.approx(check.expected, abs=check.tolerance + 1e-12)
