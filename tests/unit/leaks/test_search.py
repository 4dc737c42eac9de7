"""The weakest way through crossings made by hand."""

from __future__ import annotations

from typing import Any

import pytest

from lapwright.leaks.search import (
    DECK,
    OUTSIDE,
    Crossing,
    by_seam,
    low_places,
    metal_alone,
    weak_places,
    weakest,
)


def c(above: str, below: str, crest: float, foot: float | None = None, rating: float = 0.0, **more: Any) -> Crossing:
    where = {"seam": f"{above}>{below}", "at": (0.0, 0.0, 0.0)} | more
    return Crossing(above, below, crest, crest if foot is None else foot, rating, **where)


def test_a_lap_costs_the_rise_from_its_mouth_to_its_hidden_end() -> None:
    # Mouth at 10, hidden end 3 up the slope's height: running water needs 3.
    way = weakest([c(OUTSIDE, "gap", 10.0), c("gap", DECK, 13.0)], None)
    assert way is not None
    assert (way.head, way.heads) == (3.0, (0.0, 3.0))
    assert way.decided.crest == 13.0


def test_an_upturn_costs_its_own_height_and_a_seal_its_rating_over_it() -> None:
    # 8 from the floor at 10 to the edge at 18; a bead of 2 adds to it.
    way = weakest([c(OUTSIDE, DECK, 18.0, 10.0)], None)
    assert way is not None and way.head == 8.0
    sealed = weakest([c(OUTSIDE, DECK, 18.0, 10.0, 2.0)], None)
    assert sealed is not None and sealed.head == 10.0


def test_the_highest_obstacle_of_the_lowest_way_is_what_counts() -> None:
    # One way asks 2 then 5, the other 4 then 3: the second, at 4.
    ways = [
        c(OUTSIDE, "a", 10.0, 8.0), c("a", DECK, 13.0, 8.0),
        c(OUTSIDE, "b", 12.0, 8.0), c("b", DECK, 11.0, 8.0),
    ]  # fmt: skip
    way = weakest(ways, None)
    assert way is not None
    assert way.head == 4.0
    assert way.decided.below == "b"


def test_standing_water_brings_its_own_head_where_it_reaches() -> None:
    # Standing at 12: an edge at 11 is under water, one at 15 needs 3; where no water stands there is no way.
    assert weakest([c(OUTSIDE, DECK, 11.0, pooled=True)], 12.0).head == 0.0  # type: ignore[union-attr]
    assert weakest([c(OUTSIDE, DECK, 15.0, pooled=True)], 12.0).head == 3.0  # type: ignore[union-attr]
    assert weakest([c(OUTSIDE, DECK, 11.0)], 12.0) is None


def test_water_on_a_wall_climbs_only_straight_above_where_it_came_in() -> None:
    # In at 14 up the wall; the edge at 16 has its foot at 10: 2 straight above, 6 half a foot further along.
    mouth = c(OUTSIDE, "gap", 14.0, along=0.0)
    near, far = (c("gap", DECK, 16.0, 10.0, along=x) for x in (0.5, 6.0))
    assert weakest([mouth, near], None).heads[-1] == 2.0  # type: ignore[union-attr]
    assert weakest([mouth, far], None).heads[-1] == 6.0  # type: ignore[union-attr]


def test_no_way_is_said_as_none() -> None:
    assert weakest([], None) is None
    assert weakest([c(OUTSIDE, "gap", 1.0), c("other", DECK, 1.0)], None) is None


def test_a_way_that_needs_two_failures_says_so() -> None:
    sealed = [c(OUTSIDE, "gap", 10.0, rating=2.0), c("gap", DECK, 10.0, rating=2.0)]
    way = weakest(sealed, None)
    assert way is not None
    assert (way.head, way.holding) == (2.0, 2)


def test_weak_places_are_told_once_each_and_only_the_weakest() -> None:
    # Two corners alike, a neighbour of one of them, and a place that holds more.
    corners = [
        c(OUTSIDE, DECK, 10.0, at=(0.0, 0.0, 0.0)), c(OUTSIDE, DECK, 10.0, at=(26.0, 0.0, 0.0)),
        c(OUTSIDE, DECK, 10.0, at=(1.0, 0.0, 0.0)), c(OUTSIDE, DECK, 12.0, 10.0, at=(50.0, 0.0, 0.0)),
    ]  # fmt: skip
    assert [w.decided.at[0] for w in weak_places(corners, None)] == [0.0, 26.0]


def test_metal_alone_is_the_same_without_its_ratings() -> None:
    sealed = [c(OUTSIDE, DECK, 18.0, 17.0, 2.0, how="bead")]
    assert weakest(metal_alone(sealed), None).head == pytest.approx(1.0)  # type: ignore[union-attr]


def test_heads_by_seam_and_how_long_they_are_low() -> None:
    run = [c(OUTSIDE, DECK, 10.0 + k, 10.0, seam="pan>deck") for k in (0.25, 0.4, 3.0)]
    assert by_seam(run, None) == {"pan>deck": 0.25}
    assert low_places(run, None, 0.5) == {"pan>deck": 2}
