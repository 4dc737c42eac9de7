"""Rays over and under edges, on sheets made by hand."""

from __future__ import annotations

import math

import pytest

from lapwright.leaks.layers import Assembly, Sight, height, lies, look, within
from lapwright.metal.model import Body, Face, Joint

UP = (0.0, 0.0, 1.0)
NOWHERE = (0.0, 0.0, 0.0)


def flat(x0: float, y0: float, x1: float, y1: float, z: float = 0.0, **more: object) -> Body:
    ring = ((x0, y0, z), (x1, y0, z), (x1, y1, z), (x0, y1, z))
    return Body((Face("flat", ring),), (), 0.024, "steel-24", (1.0, 0.0, 0.0), **more)  # type: ignore[arg-type]


def lapped() -> Assembly:
    """`under` from y 0 to 10, `over` from y 6 to 20 lying 0.1 above it; both 12 wide."""
    built = Assembly()
    built.ranks = {"under": 0.0, "over": 1.0}
    built.lay("under", flat(0, 0, 12, 10), NOWHERE)
    built.lay("over", flat(0, 6, 12, 20, 0.1), NOWHERE)
    return built


def sights(built: Assembly, sheet: str, y: float, hooks: tuple[str, ...] = ()) -> list[Sight]:
    """What is seen along the edge of a sheet that runs across at y."""
    across = [s for s in look(built, UP, hooks) if s.edge.sheet == sheet and abs(s.edge.inward[1]) > 0.9]
    return [s for s in across if abs(s.at[1] - y) < 1e-9]


def test_the_lower_edge_of_a_lap_lies_over_the_sheet_below() -> None:
    seen = sights(lapped(), "over", 6.0)
    assert len(seen) == 24  # 12 in, every 1/2 in
    assert {(s.over, s.under) for s in seen} == {(None, "under")}
    assert all(s.gap == pytest.approx(0.1) for s in seen)


def test_the_hidden_edge_of_a_lap_lies_under_the_sheet_above() -> None:
    assert {(s.over, s.under) for s in sights(lapped(), "under", 10.0)} == {("over", None)}


def test_free_ends_see_nothing() -> None:
    for sheet, y in (("under", 0.0), ("over", 20.0)):
        assert {(s.over, s.under) for s in sights(lapped(), sheet, y)} == {(None, None)}


def test_in_one_plane_the_order_of_laying_says_which_is_over() -> None:
    built = Assembly()
    built.ranks = {"first": 0.0, "second": 1.0}
    built.lay("first", flat(0, 0, 12, 10), NOWHERE)
    built.lay("second", flat(0, 6, 12, 20), NOWHERE)
    assert {(s.over, s.under) for s in sights(built, "second", 6.0)} == {(None, "first")}
    assert {(s.over, s.under) for s in sights(built, "first", 10.0)} == {("second", None)}


def test_sheets_far_apart_make_no_gap() -> None:
    built = Assembly()
    built.lay("under", flat(0, 0, 12, 10), NOWHERE)
    built.lay("over", flat(0, 6, 12, 20), (0.0, 0.0, 3.0))
    assert {s.under for s in sights(built, "over", 6.0)} == {None}


def test_just_beyond_an_edge_the_cover_and_the_floor_are_seen_too() -> None:
    seen = sights(lapped(), "under", 10.0)
    assert {(s.over_out, s.under_out) for s in seen} == {("over", None)}


def test_a_bend_is_no_edge_and_a_hem_is_an_edge_with_its_depth() -> None:
    low, high = ((0.0, 0.0, 0.0), (12.0, 0.0, 0.0)), ((0.0, 10.0, 0.0), (12.0, 10.0, 0.0))
    base = Face("base", (*low, *high[::-1]))
    stand = Face("stand", (high[0], high[1], (12.0, 10.0, 3.0), (0.0, 10.0, 3.0)))
    flap = Face("flap", (low[0], (0.0, 0.75, -0.05), (12.0, 0.75, -0.05), low[1]))
    bend = Joint("base", "stand", high, high, 90.0, "up", 0.05)
    hem = Joint("base", "flap", low, low, 180.0, "down", 0.02, "open-hem")
    built = Assembly()
    built.lay("sheet", Body((base, stand, flap), (bend, hem), 0.024, "steel-24", (1.0, 0.0, 0.0)), NOWHERE)
    assert [f.sheet for f in built.facets] == ["sheet", "sheet"]
    hems = [e for e in built.edges if e.hem is not None]
    assert [e.start for e in hems] == [low[0]]
    assert hems[0].hem is not None and hems[0].hem[1] == pytest.approx(math.hypot(0.75, 0.05))
    assert not [e for e in built.edges if {e.start, e.end} == set(high)]


@pytest.mark.parametrize(("reach", "caught"), [(0.8, True), (0.3, False)])
def test_a_hem_is_hooked_where_its_flap_reaches_under_the_lip(reach: float, caught: bool) -> None:
    # The lip lies from y 0.5 up, 0.06 under the panel; the flap reaches back from the fold at y 0.
    fold = ((0.0, 0.0, 0.1), (12.0, 0.0, 0.1))
    top = Face("top", (*fold, (12.0, 20.0, 0.1), (0.0, 20.0, 0.1)))
    flap = Face("flap", (fold[0], (0.0, reach, 0.0), (12.0, reach, 0.0), fold[1]))
    hem = Joint("top", "flap", fold, fold, 180.0, "down", 0.02, "open-hem")
    built = Assembly()
    built.lay("panel", Body((top, flap), (hem,), 0.024, "steel-24", (1.0, 0.0, 0.0)), NOWHERE)
    built.lay("lip", flat(0, 0.5, 12, 2, 0.04), NOWHERE)
    hooked = {s.hooked for s in sights(built, "panel", 0.0, ("lip",))}
    assert hooked == ({"lip"} if caught else {None})


def test_a_hole_in_a_sheet_is_an_edge() -> None:
    built = Assembly()
    built.lay("pan", flat(0, 0, 12, 10, holes=(("flat", (6.0, 5.0, 0.0), 0.25),)), NOWHERE)
    (hole,) = [e for e in built.edges if e.hole]
    assert (hole.start[1], hole.end[1]) == (5.0, 5.0)
    assert math.dist(hole.start, hole.end) == pytest.approx(0.25)


def test_a_leaning_wall_covers_nothing_below_it() -> None:
    # The wall leans 45 degrees up the slope; a sheet lies 1 in up from its foot, open to the sky.
    lean = (0.0, math.sqrt(0.5), math.sqrt(0.5))
    built = Assembly()
    built.lay("pan", flat(0, 1, 12, 10), NOWHERE)
    wall = Face("face", ((0.0, 0.0, 0.0), (0.0, 8.0, 8.0), (12.0, 8.0, 8.0), (12.0, 0.0, 0.0)))
    built.lay("wall", Body((wall,), (), 0.024, "steel-24", (1.0, 0.0, 0.0)), NOWHERE)
    assert {s.over for s in look(built, lean) if s.edge.sheet == "pan"} == {None}


def test_where_a_place_is_in_a_ring_and_how_high_its_plane_is_there() -> None:
    built = Assembly()
    ring = ((0.0, 0.0, 0.0), (12.0, 0.0, 0.0), (12.0, 10.0, 5.0), (0.0, 10.0, 5.0))
    built.lay("slope", Body((Face("f", ring),), (), 0.024, "steel-24", (1.0, 0.0, 0.0)), NOWHERE)
    (f,) = built.facets
    assert within(f.ring, 6.0, 4.0)
    assert not within(f.ring, 6.0, 11.0)
    assert height(f, 6.0, 4.0) == pytest.approx(2.0)
    assert lies(f.normal, UP)
    assert not lies((0.0, 1.0, 0.0), UP)
