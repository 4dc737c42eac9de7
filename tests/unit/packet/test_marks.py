"""Every tape pull of the worked chimney (docs/worked-case.md), worked by hand: a mark 1/16 off is a leak."""

from __future__ import annotations

import pytest

from chimney import changed, chimney, worked
from lapwright.site.model import Site

A_64TH = 1 / 64

Pull = tuple[str, str, float]


def pulls(site: Site, *titles: str) -> list[Pull]:
    """What is marked, from where, how far: the steps of these titles, the words' own prefix left off."""
    job, _ = worked(site)
    return [
        (m.what.rpartition(".")[2], m.start.rpartition(".")[2], m.distance)
        for s in job.steps
        for m in s.marks
        if s.title.removeprefix("steps.") in titles
    ]


def close(rows: list[Pull]) -> list[tuple[str, str, object]]:
    return [(what, start, pytest.approx(far, abs=A_64TH / 4)) for what, start, far in rows]


def test_side_panels_are_cut_14_from_the_bay_ribs_69_and_109_from_the_eave() -> None:
    # 92 - 78 = 14 and 132 - 118 = 14; end 103 + 6 = 109; notch down the leg 109 - 97.2942 = 11.7058.
    one = [("cut_up", "eave", 69.0), ("panel_end", "eave", 109.0), ("notch", "panel_end", 11.7058)]
    assert pulls(chimney(), "side.title") == close(
        [("side_cut", "left_rib", 14.0), *one, ("side_cut", "right_rib", 14.0), *one]
    )


def test_lower_panels_turn_up_69_from_the_eave() -> None:
    assert pulls(chimney(), "lower.title") == close([("turned_end", "eave", 69.0)])


def test_the_aprons_edge_lies_6_below_the_face() -> None:
    assert pulls(chimney(), "apron.title") == close([("flange_edge", "down_face", 6.0)])
    # A flat apron runs 5 past each corner.
    assert pulls(changed(chimney(), seam="double-fold"), "apron.title") == close(
        [("flange_edge", "down_face", 6.0), ("flange_end", "corner", 5.0), ("flange_end", "corner", 5.0)]
    )


def test_side_wall_flashings_reach_4_below_6_above_and_4_out() -> None:
    # The flashing stands its own thickness off the wall: 4 + 0.0255 to its edge.
    assert pulls(chimney(), "side-walls.title") == close(
        [
            ("side_front", "down_face", 4.0),
            ("side_back", "back_face", 6.0),
            ("side_edge", "corner", 4.0255),
            ("side_edge", "corner", 4.0255),
        ]
    )


def test_the_pan_lies_12_up_7_down_and_an_eighth_off_the_ribs() -> None:
    assert pulls(chimney(), "pan.title") == close(
        [
            ("pan_up", "back_face", 12.0),
            ("pan_down", "back_face_down", 7.0),
            ("pan_edge", "rib_face", 0.125),
            ("pan_edge", "rib_face", 0.125),
        ]
    )


def test_the_cleat_line_is_9_above_the_back_face_and_4_below_it_at_the_ribs() -> None:
    assert pulls(chimney(), "cleats.title") == close(
        [
            ("cleat_corner", "back_face", 9.0),
            ("cleat_foot", "back_face_down", 4.0),
            ("cleat_foot", "back_face_down", 4.0),
        ]
    )


def test_cleats_held_to_60_degrees_may_end_above_the_back_face() -> None:
    # A bay rib only 4 off: 9 - 4 x 1.73205 = 2.0718 above the back face. Opening from 82: rib 78 at 4 exactly; on the
    # right 108 to 114: 6 off, 9 - 10.3923 = 1.3923 below.
    got = pulls(changed(chimney(), left=82.0), "cleats.title")
    assert got == close(
        [
            ("cleat_corner", "back_face", 9.0),
            ("cleat_foot", "back_face", 2.0718),
            ("cleat_foot", "back_face_down", 1.3923),
        ]
    )


def test_the_upper_panels_edge_is_marked_on_every_rib() -> None:
    # 103 - 97.2942 = 5.7058 below at the bay ribs; 9 - 1 1/4 = 7 3/4 above at the ribs between.
    assert pulls(chimney(), "upper.many") == close(
        [
            ("edge_rib", "back_face_down", 5.7058),
            ("edge_rib", "back_face", 7.75),
            ("edge_rib", "back_face", 7.75),
            ("edge_rib", "back_face_down", 5.7058),
        ]
    )


def test_the_counterflashings_hem_is_4_and_the_reglet_9_off_the_roof() -> None:
    assert pulls(chimney(), "counterflashing.title") == close([("cover", "roof", 4.0), ("reglet", "roof", 9.0)])


@pytest.mark.parametrize(("lay", "edge"), [("left-to-right", "left_edge"), ("right-to-left", "right_edge")])
def test_through_panels_are_measured_from_the_rake_they_are_laid_from(lay: str, edge: str) -> None:
    rows = pulls(changed(chimney(), lay=lay), "through.title")
    assert {start for _, start, _ in rows} == {edge}
    # From the left: ribs 6, 24, 42, 60, 78, and 150 to 276 beyond the bay. From the right: 288 less the rib's x.
    ribs = [6.0, 24.0, 42.0, 60.0, 78.0, *(150.0 + 18 * k for k in range(8))]
    if lay == "right-to-left":
        ribs = [288.0 - x for x in (*(276.0 - 18 * k for k in range(9)), 60.0, 42.0, 24.0, 6.0)]
    assert [far for _, _, far in rows] == ribs


def test_no_mark_is_measured_from_something_a_tape_cannot_hook() -> None:
    hooks = {"left_edge", "right_edge", "eave", "face", "left_rib", "right_rib", "left_bay_edge", "right_bay_edge"}
    hooks |= {"panel_end", "down_face", "down_face_up", "back_face", "back_face_down", "back_face_wall", "corner"}
    hooks |= {"rib_face", "edge", "roof"}
    for site in (chimney(), changed(chimney(), left=8.0, seam="double-fold", lay="right-to-left")):
        job, _ = worked(site)
        assert {m.start.removeprefix("steps.from.") for s in job.steps for m in s.marks} <= hooks
        assert min(m.distance for s in job.steps for m in s.marks) >= 0.0
