"""International Residential Code, table R1003.20: a cricket's height at the back face as a part of the chimney width.

The rows are recalled (data/from_memory.toml). A level ridge between planes as steep as the roof has them all:
H = W/2 x rise/12.
"""

import pytest

from lapwright.proof.compute import cricket
from lapwright.proof.published import checks, run

ROWS = [c for c in checks("from_memory") if c.source == "irc" and c.compute == "cricket-height"]


def test_all_five_rows_come_out() -> None:
    assert len(ROWS) == 5
    assert all(run(c).passes for c in ROWS)


@pytest.mark.parametrize(("rise", "part"), [(12.0, 2), (8.0, 3), (6.0, 4), (4.0, 6), (3.0, 8)])
@pytest.mark.parametrize("width", [30.0625, 48.0, 96.0])
def test_the_part_is_the_same_whatever_the_width(rise: float, part: int, width: float) -> None:
    assert cricket(width, rise).height == pytest.approx(width / part, rel=1e-12)


def test_a_cricket_flatter_than_the_roof_falls_short_of_the_table() -> None:
    # 8:12 roof, planes 6:12: a quarter of the width where the table has a third.
    assert cricket(48.0, 8.0, 6.0).height == pytest.approx(12.0)
