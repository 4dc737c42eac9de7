"""Boxes and lines that labels keep clear of."""

from __future__ import annotations

from lapwright.draw.crowd import Crowd, touch
from lapwright.draw.display import oriented

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))


def test_shapes_that_only_share_an_edge_do_not_touch() -> None:
    assert not touch(SQUARE, tuple((x + 10, y) for x, y in SQUARE))
    assert touch(SQUARE, tuple((x + 9.9, y) for x, y in SQUARE))


def test_a_turned_box_beside_a_corner_does_not_touch_though_their_bounds_do() -> None:
    # a strip at 45 degrees through (14, 14) leaves the corner (10, 10) 4 sqrt 2 = 5.66 away; half width 5
    assert not touch(SQUARE, oriented((14, 14), -45, -20, 20, 5.0))
    assert touch(SQUARE, oriented((14, 14), -45, -20, 20, 6.0))


def test_a_line_through_a_box_touches_it() -> None:
    assert touch(SQUARE, ((-5.0, 5.0), (15.0, 6.0)))
    assert not touch(SQUARE, ((-5.0, 11.0), (15.0, 12.0)))
    assert not touch(SQUARE, ((11.0, 5.0), (15.0, 5.0)))


def test_a_label_pays_for_lines_under_it_but_not_for_its_own() -> None:
    crowd = Crowd((0, 0), (100, 100))
    crowd.busy((0, 5), (50, 5), 4.0, "bend 1")
    crowd.busy((5, 0), (5, 50), 3.0)
    assert crowd.price(SQUARE) == 7.0
    assert crowd.price(SQUARE, "bend 1") == 3.0


def test_a_place_off_the_sheet_or_on_a_box_is_not_free() -> None:
    crowd = Crowd((0, 0), (100, 100))
    assert crowd.free(SQUARE)
    assert not crowd.free(tuple((x - 1, y) for x, y in SQUARE))
    crowd.block(((8, 8), (20, 8), (20, 20), (8, 20)))
    assert not crowd.free(SQUARE)
    assert not crowd.open_way((9, 5), (9, 30))
