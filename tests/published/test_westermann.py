"""Westermann textbook of metalwork, p. 206, 16.8, edition 978-3-7100-2443-6.

Numbers read in a copy of it (data/published.toml); the tolerance is its rounding.
"""

import pytest

from lapwright.metal.bend import deduction
from lapwright.proof.published import Check, checks, run

ROWS = [c for c in checks("published") if c.source == "westermann"]


def test_the_rule_of_thumb_and_the_standard_agree_to_the_printed_millimetre() -> None:
    # v = 0.5 r + 1.5 t = 2 at each bend; 50 + 40 + 30 - 2 x 2 = 116.
    assert 50 + 40 + 30 - 2 * deduction(90.0, 1.0, 1.0) == pytest.approx(116, abs=0.5)


@pytest.mark.parametrize("check", ROWS, ids=lambda c: c.id)
def test_the_printed_number_comes_out(check: Check) -> None:
    assert run(check).got == pytest.approx(check.expected, abs=check.tolerance + 1e-12)
