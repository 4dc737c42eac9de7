"""What is measured on a blank."""

from __future__ import annotations

import pytest

from lapwright.draw.features import clip, plain_runs, read_hole, values, whole
from lapwright.metal.model import Piece
from lapwright.words import Speaker


def test_a_line_is_clipped_to_a_window() -> None:
    # y = x from -1 to 5, window 0..2 x 1..9: from (1, 1) to (2, 2)
    part = clip((-1, -1), (5, 5), (0, 1, 2, 9))
    assert part is not None
    assert part[0] == pytest.approx((1, 1)) and part[1] == pytest.approx((2, 2))
    assert clip((3, 0), (3, 9), (0, 1, 2, 9)) is None


def test_a_ring_of_48_is_a_round_hole_and_a_square_is_not(pan: Piece) -> None:
    hole = read_hole(pan.blank.holes[0])
    assert hole.centre == pytest.approx((15, 7.5))
    assert hole.diameter == pytest.approx(0.125)
    assert read_hole(((0, 0), (1, 0), (1, 1), (0, 1))).diameter is None


def test_values_along_the_girth_of_an_ell_are_its_edges_and_bends(ell: Piece, inches: Speaker) -> None:
    rows = values(1, ell.blank, ell.bends, whole(ell.blank), inches.length)
    assert [r.value for r in rows] == [0, 0.5, 4.5, 12.5]


def test_a_bend_across_the_whole_piece_adds_no_value_along_it(ell: Piece, inches: Speaker) -> None:
    rows = values(0, ell.blank, ell.bends, whole(ell.blank), inches.length)
    assert [r.value for r in rows] == [0, 0.5, 59.5, 60]


def test_only_runs_without_slanted_lines_may_be_broken_out(ell: Piece) -> None:
    # the hem's corners slant from 0 to 1/2 and from 59 1/2 to 60
    assert plain_runs(0, ell.blank, ell.bends) == [(0.5, 59.5)]
