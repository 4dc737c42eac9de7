"""Ribs, strips and bays, counted on the fingers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from chimney import changed, chimney
from lapwright.layout.lay_out import bay_of, lay_out, ribs_from, strips_between
from lapwright.site.model import Defaults


def test_ribs_stand_at_the_first_and_every_coverage_after_inside_the_eave() -> None:
    # 6, 24, 42, 60, 78, 96 on an eave of 100; the next, 114, is off the roof.
    assert ribs_from(6.0, 18.0, 100.0) == (6.0, 24.0, 42.0, 60.0, 78.0, 96.0)


def test_no_rib_stands_on_a_roof_edge() -> None:
    # 0 and 90 are the edges themselves: 18, 36, 54, 72 are left.
    assert ribs_from(0.0, 18.0, 90.0) == (18.0, 36.0, 54.0, 72.0)


def test_strips_fill_the_eave_from_edge_to_edge() -> None:
    strips = strips_between((6.0, 24.0, 42.0), 50.0)
    assert [(s.left, s.right) for s in strips] == [(0.0, 6.0), (6.0, 24.0), (24.0, 42.0), (42.0, 50.0)]
    assert [s.width for s in strips] == [6.0, 18.0, 18.0, 8.0]
    assert [(s.left_is_rib, s.right_is_rib) for s in strips] == [
        (False, True),
        (True, True),
        (True, True),
        (True, False),
    ]


def test_the_worked_bay_runs_from_78_to_132_and_cuts_two_ribs() -> None:
    # 92 - 4 = 88: the rib at or left of it is 78. 118 + 4 = 122: 132. Between them stand 96 and 114.
    bay = lay_out(chimney()).bays[0]
    assert (bay.left, bay.right, bay.interrupted) == (78.0, 132.0, (96.0, 114.0))
    assert bay.left_is_rib and bay.right_is_rib


@pytest.mark.parametrize(
    ("left", "bay_left"),
    [(82.0, 78.0), (82.0625, 78.0), (81.9375, 60.0)],
    ids=["exactly 4 off the rib", "1/16 more", "1/16 less"],
)
def test_the_bay_rib_stands_at_least_the_side_clearance_off(left: float, bay_left: float) -> None:
    # Ribs at 60 and 78; side_clear 4: 78 serves as long as the opening begins at 82 or beyond.
    assert lay_out(changed(chimney(), left=left)).bays[0].left == bay_left


def test_a_rib_in_the_side_channel_is_interrupted_too() -> None:
    # Opening from 80 to 106: the rib at 78 stands only 2 off, so the bay begins at 60 and 78 is cut with 96.
    bay = lay_out(changed(chimney(), left=80.0)).bays[0]
    assert (bay.left, bay.interrupted) == (60.0, (78.0, 96.0))


def test_where_no_rib_is_left_the_bay_ends_at_the_roof_edge() -> None:
    # Opening from 8 to 34: 8 - 4 = 4 lies left of the first rib at 6.
    bay = lay_out(changed(chimney(), left=8.0)).bays[0]
    assert (bay.left, bay.left_is_rib) == (0.0, False)
    # 34 + 4 = 38: the rib at 42 carries on the right.
    assert (bay.right, bay.right_is_rib) == (42.0, True)
    assert bay.interrupted == (6.0, 24.0)


def test_a_wider_side_clearance_widens_the_bay() -> None:
    # 92 - 15 = 77 passes the rib at 78; 118 + 15 = 133 passes 132.
    site = changed(chimney(), side_clear=15.0)
    assert (lay_out(site).bays[0].left, lay_out(site).bays[0].right) == (60.0, 150.0)


def test_a_given_first_rib_is_kept_and_said_to_be_given() -> None:
    layout = lay_out(chimney())
    assert (layout.first_rib, layout.chosen) == (6.0, False)


def test_a_chosen_start_keeps_ribs_3_off_every_corner() -> None:
    site = changed(chimney(), first_rib=None)
    layout = lay_out(site)
    assert layout.chosen
    nearest = min(abs(x - c) for x in layout.ribs for c in (92.0, 118.0))
    assert nearest >= 3.0
    # Edge strips are no slivers: at least a third of 18.
    assert min(layout.strips[0].width, layout.strips[-1].width) >= 6.0


def test_two_openings_have_a_bay_each_in_their_order() -> None:
    site = chimney()
    far = replace(site.openings[0], name="second", left=200.0, measures=Defaults())
    bays = lay_out(replace(site, openings=(far, site.openings[0]))).bays
    # 200 - 4 = 196: rib 186; 226 + 4 = 230: rib 240.
    assert [(b.opening, b.left, b.right) for b in bays] == [("second", 186.0, 240.0), ("chimney", 78.0, 132.0)]


def test_a_roof_without_ribs_gives_the_whole_eave_to_the_bay() -> None:
    bay = bay_of(chimney().openings[0], (), 288.0)
    assert (bay.left, bay.right, bay.interrupted) == (0.0, 288.0, ())
