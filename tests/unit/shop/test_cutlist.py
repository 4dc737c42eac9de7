"""The cut list of the hand-made job."""

from __future__ import annotations

import pytest

from hand_made import PANELS, PIECES
from lapwright.shop.cutlist import cut_list


def test_pieces_come_first_then_panels_that_carry_a_blank() -> None:
    assert [r.id for r in cut_list("steel-24", PIECES, PANELS)] == ["P1", "C1", "K1", "U1"]


def test_a_row_carries_quantity_size_bends_slits_and_weight() -> None:
    row = cut_list("steel-24", PIECES, PANELS)[0]
    assert (row.quantity, row.width, row.height, row.bends, row.slits) == (1, 37.5, 27.25, 2, 1)


def test_a_worked_panel_weighs_its_blank_in_the_panels_own_metal() -> None:
    # 41.5 x 21 = 871.5 in2 = 6.052083 sq ft; 24 ga steel, Al-Zn coated: 1.031 lb/sq ft: 6.2397 lb
    row = cut_list("steel-24", PIECES, PANELS)[-1]
    assert pytest.approx(row.weight_lb, abs=1e-4) == 6.2397
