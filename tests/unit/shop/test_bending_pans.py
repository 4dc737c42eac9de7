"""Pieces whose bend lines cross, worked by hand, with the kit of a small shop.

Box-and-pan folder: fingers 1, 1-1/2, 2, 2-1/2, 3, 4, 5, 6, 8, 15; 4 deep. Hand seamers reach 1-1/4.
"""

from __future__ import annotations

import functools
from pathlib import Path

import pytest
from every_order import cheapest

from lapwright.job import Job, run
from lapwright.metal.develop import develop
from lapwright.metal.model import Piece
from lapwright.shop.bending.at_folder import finger_span
from lapwright.shop.bending.blank_lines import laps_on, lines_of, shared_with
from lapwright.shop.bending.crossing import crossing_moves
from lapwright.shop.bending.findings import findings_of
from lapwright.shop.bending.order import bend_order, orders_for
from lapwright.shop.bending.search import search
from lapwright.shop.bending.tools import Kit, default_kit, kits, kits_with
from lapwright.site.read import read_job
from trims import pan, piece_of, trim

EXAMPLES = Path(__file__).parents[3] / "examples"


@functools.cache
def example(name: str) -> Job:
    return run(read_job((EXAMPLES / name / "job.toml").read_bytes(), name))


def piece(name: str, piece_id: str) -> Piece:
    return next(p for p in example(name).pieces if p.id == piece_id)


def test_a_box_corner_pan_folds_sides_with_their_tabs_then_ends_over_fingers() -> None:
    # 12 x 18, 2 high. A long side and the tabs in its line go in one stroke; the ends come last, between standing
    # sides: 12 clear takes fingers of 2 + 3 + 1 + 5 = 11 or better; 2 is less than the fingers' 4.
    plan = bend_order(piece_of(pan(12, 18, 2, 0.5)), default_kit())
    assert [sorted(o.bends) for o in plan.operations[:2]] == [
        ["base/left", "far/far left tab", "near/near left tab"],
        ["base/right", "far/far right tab", "near/near right tab"],
    ]
    assert [(o.bends, o.tool) for o in plan.operations[2:]] == [
        (("base/near",), "box-folder"),
        (("base/far",), "box-folder"),
    ]


def test_sides_higher_than_the_fingers_are_deep_leave_the_ends_to_hand_tools() -> None:
    plan = bend_order(piece_of(pan(12, 18, 6, 0.5)), default_kit())
    assert plan.feasible
    tools = {bend: o.tool for o in plan.operations for bend in o.bends}
    assert "seamers-and-bar" in (tools["base/near"], tools["base/far"])
    assert bend_order(piece_of(pan(12, 18, 6, 0.5)), kits()["straight-only"]).feasible is False


def test_a_tab_made_by_itself_comes_after_both_sides() -> None:
    # By hand only: no stroke takes side and tab together, so every tab waits for its carrier and the side it laps.
    row = kits()["small-shop"]
    hands = Kit("hands", row.roof, row.roof)
    plan = bend_order(piece_of(pan(12, 18, 1, 0.5)), hands)
    at = {bend: n for n, o in enumerate(plan.operations) for bend in o.bends}
    for end in ("near", "far"):
        for hand in ("left", "right"):
            assert at[f"{end}/{end} {hand} tab"] > max(at[f"base/{end}"], at[f"base/{hand}"])


def test_the_tabs_of_a_pan_ask_for_both_their_sides_first() -> None:
    flat = develop(pan(12, 18, 1, 0.5))
    bends = [b.id for b in flat.bends]
    needs = laps_on(flat)
    for end in ("near", "far"):
        for hand in ("left", "right"):
            asked = needs[bends.index(f"{end}/{end} {hand} tab")]
            assert asked == 1 << bends.index(f"base/{end}") | 1 << bends.index(f"base/{hand}")
    assert [n for b, n in zip(bends, needs, strict=True) if "tab" not in b] == [0, 0, 0, 0]


@pytest.mark.parametrize(
    ("length", "span"), [(12.0, (0.25, 11.75)), (0.75, None), (60.0, None)], ids=["fits", "too short", "too long"]
)
def test_fingers_fill_what_room_there_is(length: float, span: tuple[float, float] | None) -> None:
    # 12 less 1/16: 8 + 2 + 1-1/2 = 11-1/2 is the most, 1/4 free at each end. All fingers make 48: 12 short of 60.
    assert finger_span((1.5, 2.0, 8.0, 36.5), length) == span


def test_a_tongue_shares_its_line_with_the_legs_and_is_no_stop() -> None:
    back_pan = piece("kiln-shed", "1-back-pan")
    plan = bend_order(back_pan, default_kit())
    tools = {bend: o.tool for o in plan.operations for bend in o.bends}
    why = {b.bend: b for b in plan.by_hand}
    assert plan.feasible
    assert tools["base/tongue"] == "seamers-and-bar"
    assert why["base/tongue"].reason == "shared-line"
    assert why["base/tongue"].cures == ("by-hand", "short-folder", "rivet-on")
    found = findings_of([back_pan], [], {back_pan.id: plan})
    assert [(f.rule, f.level) for f in found] == [("bend.shared-line", "note"), ("bend.by-hand", "note")]
    assert found[0].measured == pytest.approx(23.5, abs=0.01)  # the stack's 23 and 1/4 on each side


def test_the_legs_lie_in_the_tongues_line_whatever_is_folded() -> None:
    flat = develop(piece("kiln-shed", "1-back-pan").body)  # type: ignore[arg-type]
    tongue = next(line for line in lines_of(flat) if flat.bends[line.bends[0]].id == "base/tongue")
    assert 0 in shared_with(flat, tongue)


def test_a_folder_no_longer_than_the_tongue_reaches_it() -> None:
    own = {"kits": {"mine": {"shop": ["straight-folder", "bench-folder", "seamers"], "roof": ["seamers"]}},
           "tools": {"bench-folder": {"length": 22.0}}}  # fmt: skip
    plan = bend_order(piece("kiln-shed", "1-back-pan"), kits_with(own)["mine"])
    tools = {bend: o.tool for o in plan.operations for bend in o.bends}
    assert tools["base/tongue"] == "bench-folder"


def test_without_any_of_these_the_tongue_is_a_caution_and_still_no_stop() -> None:
    # A straight folder and nothing else: riveted legs are left, and what the other two ways need is said.
    back_pan = piece("kiln-shed", "1-back-pan")
    plan = bend_order(back_pan, kits()["straight-only"])
    assert not plan.feasible
    assert ("base/tongue", "shared-line") in [(b.bend, b.reason) for b in plan.blocked]
    found = findings_of([back_pan], [], {back_pan.id: plan})
    assert ("bend.shared-line", "caution", "base/tongue") in [(f.rule, f.level, f.values["bend"]) for f in found]
    assert "base/tongue" not in [f.values["bend"] for f in found if f.level == "stop"]


def test_a_kit_that_nobody_named_stops_no_job() -> None:
    # 4 and 4 turned 170: farther than any packaged tool but hand seamers, whose jaws are 1-1/4 deep.
    odd = piece_of(trim([4, 4], [170]))
    plan = bend_order(odd, default_kit())
    assert [b.reason for b in plan.blocked] == ["nose"]
    levels = {told: [f.level for f in findings_of([odd], [], {odd.id: plan}, told)] for told in (True, False)}
    assert levels == {True: ["stop"], False: ["caution"]}


@pytest.mark.parametrize(
    "piece_id", ["1-apron", "1-side-wall-left", "1-corner-patch-back-left", "1-counterflashing-back"]
)
def test_the_search_finds_what_every_order_finds(piece_id: str) -> None:
    # Every order of up to 6 bends at five tools, one after the other.
    moves, every = crossing_moves(develop(piece("kiln-shed", piece_id).body), default_kit().shop)  # type: ignore[arg-type]
    assert search(moves, every).cost == pytest.approx(cheapest([m for m in moves if not m.never], every))


@pytest.mark.parametrize("name", sorted(p.name for p in EXAMPLES.iterdir() if p.is_dir()))
def test_every_piece_and_panel_of_every_example_can_be_folded(name: str) -> None:
    job = example(name)
    plans = orders_for(job.pieces, job.panels, default_kit())
    assert [k for k, plan in plans.items() if not plan.feasible] == []
    for item in (*job.pieces, *job.panels):
        if item.id in plans:
            made = [bend for o in plans[item.id].operations if o.kind != "hem-close" for bend in o.bends]
            assert sorted(made) == sorted(b.id for b in item.bends)
            closed = [o.bend for o in plans[item.id].operations if o.kind == "hem-close"]
            assert sorted(closed) == sorted(b.id for b in item.bends if b.kind != "bend")


def test_panels_are_folded_with_what_is_taken_onto_the_roof() -> None:
    job = example("kiln-shed")
    plans = orders_for(job.pieces, job.panels, default_kit())
    tools = {o.tool for p in job.panels if p.id in plans for o in plans[p.id].operations}
    assert tools == {"seamers"}


def test_membrane_has_no_plan() -> None:
    job = example("kiln-shed")
    plans = orders_for(job.pieces, job.panels, default_kit())
    assert [p.id for p in job.pieces if not p.is_metal and p.id in plans] == []
