"""National Standard Plumbing Code 2015, appendix A.1.

Numbers read in a copy of it (data/published.toml); the tolerance is its rounding.
"""

import pytest

from lapwright.proof.published import Check, checks, run

ROWS = [c for c in checks("published") if c.source == "nspc"]


@pytest.mark.parametrize("check", ROWS, ids=lambda c: c.id)
def test_the_printed_number_comes_out(check: Check) -> None:
    assert run(check).got == pytest.approx(check.expected, abs=check.tolerance + 1e-12)
