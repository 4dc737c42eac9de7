"""Numbers recalled from published documents that nobody has looked up again: a guard against slips, no proof.

Each row of data/from_memory.toml names its document; none of them counts as a published check.
"""

import pytest

from lapwright.proof.published import Check, checks, report, run


@pytest.mark.parametrize("check", checks("from_memory"), ids=lambda c: c.id)
def test_the_recalled_number_comes_out(check: Check) -> None:
    assert run(check).got == pytest.approx(check.expected, abs=check.tolerance + 1e-12)


def test_recalled_numbers_are_counted_apart() -> None:
    whole = report()
    assert {r.check.seen for r in whole.results} == {"secondary copy"}
    assert {r.check.seen for r in whole.recalled} == {"memory"}
    assert whole.total == len(checks("published"))
