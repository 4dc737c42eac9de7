"""What is counted as work, and the hours it comes to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hand_made import PANELS, PIECES
from lapwright.shop.hours import Labour, labour_of


def test_every_corner_slit_hole_and_bend_is_counted_as_often_as_the_piece_is_made() -> None:
    # Pan: 4 corners, a slit, a hole, two bends. Cleat: 4 corners. Four patches: 16 corners. Upper panel: 4 corners.
    # The through panel has no blank. 1 + 1 + 4 + 1 pieces; 6 + 4 + 16 + 4 cuts.
    assert labour_of(PIECES, PANELS, 100.0) == Labour(pieces=7, cuts=30, bends=2, seam=100.0)


def test_membrane_is_no_metal_work() -> None:
    strip = replace(PIECES[0], kind="membrane")
    assert labour_of([*PIECES, strip], PANELS, 0.0) == labour_of(PIECES, PANELS, 0.0)


def test_hours_are_the_rates_added_up() -> None:
    # 3 to mark and 3 to set a piece, 1/2 a cut, 2 a bend, 1.2 a foot: 10 x 6 + 60 / 2 + 30 x 2 + 12 = 162 minutes.
    assert Labour(10, 60, 30, 120.0).hours == pytest.approx(162 / 60)
    assert Labour(0, 0, 0, 0.0).hours == 0.0
