"""Pieces alike are folded alike, whichever their hand; and what is called dead never comes to life."""

from __future__ import annotations

import functools
from pathlib import Path

import pytest

from lapwright.job import Job, run
from lapwright.metal.develop import develop
from lapwright.metal.model import Body
from lapwright.shop.bending.crossing import crossing_moves
from lapwright.shop.bending.order import bend_order
from lapwright.shop.bending.shape import Shape, shape_of
from lapwright.shop.bending.tools import default_kit
from lapwright.site.read import read_job
from trims import pan, piece_of, trim

KILN = Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml"


@functools.cache
def kiln_shed() -> Job:
    return run(read_job(KILN.read_bytes(), "J.toml"))


def body(key: str) -> Body:
    found = next(p for p in kiln_shed().pieces if p.id == key)
    assert found.body is not None
    return found.body


def shape(key: str) -> Shape:
    return shape_of(develop(body(key)))


@pytest.mark.parametrize("name", ["1-side-wall", "1-corner-patch-front", "1-corner-patch-back"])
def test_left_and_right_have_one_standard_form_and_two_hands(name: str) -> None:
    left, right = shape(f"{name}-left"), shape(f"{name}-right")
    assert left.flat == right.flat
    assert {left.hand, right.hand} == {1, -1}


def test_another_length_is_another_shape() -> None:
    assert shape_of(develop(trim([2, 1], [90]))).flat != shape_of(develop(trim([2, 1], [90], length=61.0))).flat


def test_a_trim_turned_end_for_end_is_the_same_shape() -> None:
    # 2, 1, 3 with an up and a down bend, and the same section run from its other end.
    one, other = trim([2, 1, 3], [90, -45]), trim([3, 1, 2], [-45, 90])
    assert shape_of(develop(one)).flat.blank.outline == shape_of(develop(other)).flat.blank.outline


def test_the_mirror_image_is_folded_the_same_way_mirrored() -> None:
    jobs = {hand: bend_order(piece_of(body(f"1-side-wall-{hand}")), default_kit()) for hand in ("left", "right")}
    left, right = jobs["left"].operations, jobs["right"].operations
    assert [(o.bends, o.kind, o.tool, o.clamped, o.face_up, o.flip, o.turn) for o in left] == [
        (o.bends, o.kind, o.tool, o.clamped, o.face_up, o.flip, o.turn) for o in right
    ]
    # Both blanks lie with u along the piece; the right one is the left one with v run back: up the blank is down.
    assert [(-o.heading_deg) % 360 for o in left] == [o.heading_deg for o in right]


@pytest.mark.parametrize("made", [pan(12, 16, 2, 0.75), body("1-side-wall-left"), body("1-apron")])
def test_what_is_dead_can_be_made_after_no_more_bends(made: Body) -> None:
    moves, every = crossing_moves(develop(made), default_kit().shop)
    dead = 0
    for move in moves:
        rest = every & ~move.adds
        for done in (d for d in range(every + 1) if not d & move.adds):
            if move.dead(done):
                dead += 1
                more = (d for d in range(every + 1) if d & done == done and not d & ~rest)
                assert not [d for d in more if not move.needs & ~d and not move.why_not(d)], (move.bends, move.tool)
    assert dead > 0
