"""The order of folds: the search against every order, kept answers against fresh ones, and against plain geometry."""

from __future__ import annotations

import itertools
import math

import pytest
from every_order import cheapest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon

from lapwright.metal.develop import develop
from lapwright.shop.bending.bench import Bench, profile, turned_deg
from lapwright.shop.bending.search import search
from lapwright.shop.bending.strip import Strip, strip_of
from lapwright.shop.bending.strip_moves import moves_of
from lapwright.shop.bending.tools import Folder, default_kit, kits
from trims import trim

STRAIGHT = kits()["straight-only"].shop
HEMS = st.one_of(st.none(), st.tuples(st.just(0.5), st.sampled_from(["up", "down"]), st.sampled_from([0.0, 0.06])))
TURNS = st.sampled_from([-135.0, -90.0, -60.0, -45.0, -30.0, 30.0, 45.0, 60.0, 90.0, 120.0, 135.0])


@st.composite
def strips(draw: st.DrawFn, most: int = 4, hems: bool = True) -> Strip:
    """A random trim: up to `most` bends, widths from a third of an inch to nine, a hem at either end or none."""
    turns = draw(st.lists(TURNS, min_size=1, max_size=most))
    widths = draw(
        st.lists(st.integers(5, 144).map(lambda n: n / 16), min_size=len(turns) + 1, max_size=len(turns) + 1)
    )
    first, last = (draw(HEMS), draw(HEMS)) if hems else (None, None)
    made = strip_of(develop(trim(widths, turns, first, last)))
    assume(made is not None)
    assert made is not None
    return made


@settings(max_examples=60, deadline=None)
@given(strips(most=4))
def test_the_search_finds_what_every_order_finds(strip: Strip) -> None:
    # Up to 4 bends and 2 hems: 8 operations. The other side closes a hem whenever it likes.
    moves, every = moves_of(strip, STRAIGHT)
    best = cheapest(moves, every)
    found = search(moves, every)
    assert found.solved == (best < math.inf)
    if found.solved:
        assert abs(found.cost - best) < 1e-6


@pytest.mark.parametrize("last", [1.5, 0.25], ids=["with an order", "without"])
def test_eight_bends_too(last: float) -> None:
    # The last flange at 1/4 is narrower than the leaf's land: no order, and the search says so as well.
    body = trim([2, 1, 2, 1, 1, 1.5, 1, 2, last], [-90, 45, -45, 90, -60, 30, -45, 90])
    strip = strip_of(develop(body))
    assert strip is not None
    moves, every = moves_of(strip, STRAIGHT)
    best, found = cheapest(moves, every), search(moves, every)
    assert found.solved == (last > 1) == (best < math.inf)
    assert found.cost == (pytest.approx(best) if found.solved else 0.0)


@settings(max_examples=15, deadline=None)
@given(strips(most=3))
def test_with_every_tool_too(strip: Strip) -> None:
    moves, every = moves_of(strip, default_kit().shop)
    found = search(moves, every)
    best = cheapest(moves, every)
    assert found.solved == (best < math.inf)
    if found.solved:
        assert abs(found.cost - best) < 1e-6


@settings(max_examples=60, deadline=None)
@given(strips(), st.data())
def test_a_kept_answer_is_the_fresh_one(strip: Strip, data: st.DataObject) -> None:
    kept, fresh = Bench(strip, _folder()), Bench(strip, _folder(), keep=False)
    k = data.draw(st.integers(0, len(strip.folds) - 1))
    for _ in range(6):
        done = data.draw(st.integers(0, kept.tasks.all)) & ~kept.tasks.fold[k]
        side = data.draw(st.sampled_from([1, -1]))
        assert kept.why_not(k, side, False, done) == fresh.why_not(k, side, False, done)


@settings(max_examples=80, deadline=None)
@given(strips(hems=False), st.data())
def test_plain_geometry_in_two_degree_steps_agrees(strip: Strip, data: st.DataObject) -> None:
    # The section as lines and polygons of another library, swung by 2 degrees at a time. What the bench lets
    # through keeps off tools a sixteenth smaller; what it refuses for a collision meets tools a sixteenth larger.
    bench = Bench(strip, _folder())
    k = data.draw(st.integers(0, len(strip.folds) - 1))
    done = data.draw(st.integers(0, bench.tasks.all)) & ~bench.tasks.fold[k]
    side = data.draw(st.sampled_from([1, -1]))
    why = bench.why_not(k, side, False, done)
    if why in ("", "trapped"):
        assert not _collides(bench, k, side, done, -1 / 16)
    if why in ("beam", "bed", "leaf", "swing", "self"):
        assert _collides(bench, k, side, done, 1 / 16)


def _folder() -> Folder:
    folder = STRAIGHT[0]
    assert isinstance(folder, Folder)
    return folder


def _collides(bench: Bench, k: int, side: int, done: int, grown: float) -> bool:
    t, up = bench.tasks, bench.strip.folds[k].up
    held_bits, free_bits = (t.before[k], t.after[k]) if side > 0 else (t.after[k], t.before[k])
    held = LineString([(-x, z) for x, z in profile(bench.strip, t, k, -side, done & held_bits, up)])
    free = LineString(profile(bench.strip, t, k, side, done & free_bits, up))
    m = bench.machine
    beam, bed, leaf = (Polygon(r.corners).buffer(grown, join_style="mitre") for r in (m.beam, m.bed, m.leaf))
    if held.intersects(beam) or held.intersects(bed) or free.intersects(leaf):
        return True
    angle = bench.turn(k)
    # Near the line the sheet is the bend itself, and the held flat and the moving one meet there.
    near = LineString([(0, 0), (0, 1e-9)]).buffer(0.25)
    standing = held.difference(near)
    for step in range(math.ceil(angle / 2) + 1):
        swung = rotate(free, min(2.0 * step, angle), origin=(0, 0)).difference(near)
        if swung.intersects(beam) or swung.intersects(bed) or swung.distance(standing) < max(grown, 0.0) + 1e-6:
            return True
    return False


@given(strips())
def test_a_profile_keeps_its_length_whatever_is_folded(strip: Strip) -> None:
    # A bend's metal is A (r + K t), its chord at most A (r + t/2): the line may gain or lose no more than that.
    bench = Bench(strip, _folder())
    flat = profile(strip, bench.tasks, 0, 1, 0, True)
    full = profile(strip, bench.tasks, 0, 1, bench.tasks.all, True)
    slack = sum(math.radians(f.angle_deg) * (f.radius + strip.thickness) for f in strip.folds[1:])
    assert abs(_length(full) - _length(flat)) <= slack + 1e-9
    assert turned_deg(strip, bench.tasks, 0, bench.tasks.all) == strip.folds[0].angle_deg


def _length(line: list[tuple[float, float]]) -> float:
    return sum(math.dist(a, b) for a, b in itertools.pairwise(line))
