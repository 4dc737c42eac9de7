"""Trims on the straight folder, worked by hand.

The folder: leaf land 3/8, grip 1/2, nose 45 degrees (so 135 at most), beam and bed 6 deep and the beam 6 high, its
upright face 3 behind the nose; it lifts 2. Cost: an operation 1, a turn 2, a flip 3, swinging the wider part 2.5.
"""

from __future__ import annotations

import pytest

from lapwright.metal.model import Body
from lapwright.shop.bending.model import BendPlan
from lapwright.shop.bending.order import bend_order
from lapwright.shop.bending.tools import default_kit, kits
from trims import piece_of, trim

STRAIGHT = kits()["straight-only"]


def on_straight(body: Body) -> BendPlan:
    return bend_order(piece_of(body), STRAIGHT)


def told(plan: BendPlan) -> list[tuple[str, str, str, bool, bool]]:
    return [(o.kind, o.bend, o.face_up, o.flip, o.turn) for o in plan.operations]


def blocked(plan: BendPlan) -> list[tuple[str, str]]:
    return [(b.bend, b.reason) for b in plan.blocked]


def test_a_hemmed_drip_edge_takes_one_flip() -> None:
    # Roof flange 4, drop 1-1/2, kick 3/4 out at 45, hem 1/2 under. Hem and drop go down: painted side down for both.
    # The kick goes up: one flip, which also brings the hemmed kick (3/4, the beam wants 1/2) under the beam and
    # swings the wider part. 4 operations + flip 3 + swing 2-1/2 = 9-1/2. Keeping the flange held would need a turn.
    plan = on_straight(trim([4, 1.5, 0.75], [-90, 45], last_hem=(0.5, "down", 0.0)))
    assert told(plan) == [
        ("hem-fold", "f2/hem2", "unpainted", False, False),
        ("hem-close", "f2/hem2", "unpainted", False, False),
        ("fold", "f0/f1", "unpainted", False, False),
        ("fold", "f1/f2", "painted", True, False),
    ]
    assert (plan.cost, plan.flips, plan.turns, plan.proved) == (9.5, 1, 0, True)


def test_a_hem_is_folded_to_135_and_closed_to_180() -> None:
    plan = on_straight(trim([4], [], last_hem=(0.5, "down", 0.0)))
    assert [(o.kind, o.angle_deg) for o in plan.operations] == [("hem-fold", 135.0), ("hem-close", 180.0)]


def test_a_z_with_a_web_of_half_an_inch_can_be_folded() -> None:
    # Flat of the web about 0.50 from line to line: the leaf wants 3/8. One bend up, one down: one flip, no turn.
    plan = on_straight(trim([1.5, 0.5, 1], [90, -90]))
    assert (plan.feasible, plan.cost, plan.flips, plan.turns) == (True, 2 + 3, 1, 0)


def test_a_z_with_a_web_of_a_quarter_is_narrower_than_the_land() -> None:
    plan = on_straight(trim([1.5, 0.25, 1], [90, -90]))
    assert not plan.feasible
    assert plan.proved
    assert [(b.reason, b.cures[0]) for b in plan.blocked] == [("land", "joggle")]


def test_that_z_is_joggled_between_two_bars() -> None:
    plan = bend_order(piece_of(trim([1.5, 0.25, 1], [90, -90])), default_kit())
    assert [(o.kind, o.tool, o.bends) for o in plan.operations] == [("joggle", "joggle-bars", ("f1/f2", "f0/f1"))]
    assert [b.reason for b in plan.by_hand] == ["land", "land"]


def test_a_hat_wider_than_the_bed_is_deep_folds_from_outside_in() -> None:
    # Top 7: the flange that hangs from the far web comes 7 + 1-1/2 behind the line, past the bed's 6. A flange up,
    # turn, the other up; flip; a web down, turn, the other down: 4 operations, 2 turns, 1 flip = 4 + 4 + 3.
    plan = on_straight(trim([1, 1.5, 7, 1.5, 1], [90, -90, -90, 90]))
    assert (plan.feasible, plan.cost, plan.flips, plan.turns) == (True, 11, 1, 2)
    assert {o.bend for o in plan.operations[:2]} == {"f0/f1", "f3/f4"}


def test_a_hat_with_a_top_of_two_strikes_bed_or_beam_in_every_order() -> None:
    # Held at a web, the other flange hangs 2 behind the line, in the bed; held at the top after one web, that web
    # stands 2 behind the line, in the beam; swung, the flange hangs within the leaf or the web swings on the beam.
    plan = on_straight(trim([1, 1.5, 2, 1.5, 1], [90, -90, -90, 90]))
    assert not plan.feasible
    assert plan.blocked[0].reason in ("beam", "bed")
    assert "rivet-on" in plan.blocked[0].cures


def test_a_channel_folds_while_its_legs_are_no_longer_than_it_is_wide() -> None:
    # The second leg's fold swings the first one over the nose: it comes down at the height of the channel's width,
    # where the 45-degree face has run back by as much. Legs of 1 at a width of 2 pass; legs of 4 strike.
    assert on_straight(trim([1, 2, 1], [90, 90])).feasible
    assert blocked(on_straight(trim([4, 2, 4], [90, 90]))) in ([("f0/f1", "beam")], [("f0/f1", "swing")])


def test_a_tube_closes_round_the_beam() -> None:
    # Four walls of 8 round a beam 6 by 6: the last fold has room to swing but shuts the beam in.
    plan = on_straight(trim([8, 8, 8, 8], [90, 90, 90]))
    assert not plan.feasible
    assert plan.blocked[0].reason == "trapped"
    assert plan.blocked[0].cures[0] == "split"


@pytest.mark.parametrize(
    ("body", "reason"),
    [
        (trim([2, 2], [136]), "nose"),
        (trim([0.3, 2], [90]), "land"),
        (trim([2, 2], [90], length=121.5), "length"),
        (trim([97, 97], [90]), "throat"),
    ],
    ids=["past 180 less the nose", "narrower than the land", "longer than the folder", "deeper than the throat"],
)
def test_the_machine_decides(body: Body, reason: str) -> None:
    assert blocked(on_straight(body)) == [("f0/f1", reason)]


@pytest.mark.parametrize("body", [trim([2, 2], [135]), trim([0.45, 2], [90]), trim([2, 2], [90], length=121)])
def test_on_the_limit_itself_it_still_folds(body: Body) -> None:
    assert on_straight(body).feasible


def test_a_fold_up_needs_the_painted_side_up_and_one_down_the_other() -> None:
    assert [o.face_up for o in on_straight(trim([2, 2], [90])).operations] == ["painted"]
    assert [o.face_up for o in on_straight(trim([2, 2], [-90])).operations] == ["unpainted"]


def test_the_wider_part_is_held() -> None:
    (only,) = on_straight(trim([12, 2], [90])).operations
    assert only.clamped == "f0"


def test_a_piece_without_bends_has_nothing_to_do() -> None:
    plan = on_straight(trim([4], []))
    assert (plan.operations, plan.feasible, plan.cost) == ((), True, 0.0)
