"""Rafter table of the framing square, line 1.

Numbers read in a copy of it (data/published.toml); the tolerance is its rounding.
"""

import math

import pytest

from lapwright.proof.published import Check, checks, run
from lapwright.site.model import Roof

ROWS = [c for c in checks("published") if c.source == "framing-square"]


@pytest.mark.parametrize(("rise", "printed"), [(6.0, 13.42), (16.0, 20.00)])
def test_a_foot_of_run_has_the_stamped_length(rise: float, printed: float) -> None:
    assert 12.0 / math.cos(Roof(rise=rise, eave=1.0, slope=1.0).theta) == pytest.approx(printed, abs=0.0062)


@pytest.mark.parametrize("check", ROWS, ids=lambda c: c.id)
def test_the_printed_number_comes_out(check: Check) -> None:
    assert run(check).got == pytest.approx(check.expected, abs=check.tolerance + 1e-12)
