"""The search is exact, sealing only helps, cutting only hurts, and a mirrored roof leaks at the mirrored place."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from strategies import mirrored, sites

from chimney import changed
from lapwright.checks.leaks import leaks
from lapwright.leaks.search import DECK, OUTSIDE, Crossing, by_seam, from_outside, metal_alone, obstacle, weakest
from lapwright.leaks.telling import sheet_key
from lapwright.site.model import Site
from leaking import Case, cases_of, examples

SPACES = (OUTSIDE, "a", "b", "c", DECK)
heights = st.integers(0, 24).map(lambda n: n / 4)


@st.composite
def crossings(draw: st.DrawFn) -> Crossing:
    above = draw(st.sampled_from(SPACES[:-1]))
    below = draw(st.sampled_from([s for s in SPACES[1:] if s != above]))
    crest = draw(heights)
    return Crossing(
        above,
        below,
        crest,
        min(crest, draw(heights)),
        draw(st.sampled_from([0.0, 0.0, 1.0, 2.0])),
        f"{above}>{below}",
        (draw(heights), 0.0, 0.0),
        draw(st.none() | heights),
        draw(st.booleans()),
    )


assemblies = st.lists(crossings(), min_size=1, max_size=7)
levels = st.none() | heights


def head(found: Sequence[Crossing], level: float | None) -> float:
    way = weakest(found, level)
    return math.inf if way is None else way.head


def by_all_paths(found: Sequence[Crossing], level: float | None) -> float:
    """The least head over every way that passes no crossing twice, one by one."""
    best = math.inf

    def go(path: list[int], cost: float) -> None:
        nonlocal best
        last = found[path[-1]]
        if last.below == DECK:
            best = min(best, cost)
            return
        for k, c in enumerate(found):
            if k not in path and c.above == last.below:
                go([*path, k], max(cost, obstacle(last, c, level)))

    for k, c in enumerate(found):
        if c.above == OUTSIDE:
            go([k], from_outside(c, level))
    return best


@given(assemblies, levels)
@settings(max_examples=400)
def test_the_search_finds_what_trying_every_way_finds(found: list[Crossing], level: float | None) -> None:
    assert head(found, level) == by_all_paths(found, level)


@given(assemblies, levels, st.data())
@settings(max_examples=200)
def test_adding_sealant_anywhere_never_lowers_the_head(
    found: list[Crossing], level: float | None, data: st.DataObject
) -> None:
    k = data.draw(st.integers(0, len(found) - 1))
    sealed = [replace(c, rating=c.rating + 2.0) if i == k else c for i, c in enumerate(found)]
    assert head(sealed, level) >= head(found, level)


@given(assemblies, levels, crossings())
@settings(max_examples=200)
def test_one_more_cut_never_raises_the_head(found: list[Crossing], level: float | None, cut: Crossing) -> None:
    assert head([*found, cut], level) <= head(found, level)


@given(assemblies, levels)
@settings(max_examples=200)
def test_a_way_starts_outside_ends_on_the_deck_and_joins_up(found: list[Crossing], level: float | None) -> None:
    way = weakest(found, level)
    assume(way is not None)
    assert way is not None
    spaces = [way.crossings[0].above, *(c.below for c in way.crossings)]
    assert (spaces[0], spaces[-1]) == (OUTSIDE, DECK)
    assert [c.above for c in way.crossings] == spaces[:-1]
    assert max(way.heads) == way.head


@pytest.mark.parametrize("case", examples(), ids=lambda c: c.name)
@given(st.data())
@settings(max_examples=6)
def test_a_hole_drilled_anywhere_in_a_sound_roof_never_raises_a_head(case: Case, data: st.DataObject) -> None:
    o, pan = case.d.opening, case.d.pan
    assert pan is not None
    x = data.draw(st.floats(o.left - 3.0, o.right + 3.0))
    y = data.draw(st.floats(o.back + 0.5, pan.upslope - 0.5))
    spoilt = {}
    for k, body in case.bodies.items():
        lies = "back-pan" in k or "-cricket-" in k
        hole = (body.faces[0].name, (x, y, body.faces[0].corners[0][2]), 0.25)
        spoilt[k] = replace(body, holes=(*body.holes, hole)) if lies else body
    after = case.audit(bodies=spoilt)
    for how in ("standing", "running"):
        before, now = getattr(case.sound, how), getattr(after, how)
        if before is not None:
            assert now is not None and now.head <= before.head + 1e-9


def by_names(case: Case, how: str, pick: Callable[..., Sequence[Crossing]]) -> dict[str, float]:
    """Least head by seam, panels and cleats without their numbers."""
    level = case.sound.level if how == "standing" else None
    found: dict[str, float] = {}
    for seam, least in by_seam(pick(case.sound.crossings), level).items():
        key = " ".join(re.sub(r"[.]\d$", "", sheet_key(part)) for part in seam.split(">"))
        found[key] = min(least, found.get(key, math.inf))
    return found


def mirror_of(case: Case, how: str, pick: Callable[..., Sequence[Crossing]]) -> dict[str, float]:
    other = {"left": "right", "right": "left"}
    found = by_names(case, how, pick)
    return {re.sub("left|right", lambda m: other[m[0]], k): v for k, v in found.items()}


@given(st.builds(changed, sites(), method=st.sampled_from(["flat-pan", "cricket"])))
@settings(max_examples=12)
def test_a_mirrored_roof_is_weakest_at_the_mirrored_places(site: Site) -> None:
    here, there = cases_of(site), cases_of(mirrored(site))
    assert len(here) == len(there)
    for a, b in zip(here, there, strict=True):
        for how in ("standing", "running"):
            one, other = getattr(a.sound, how), getattr(b.sound, how)
            assert (one is None) == (other is None)
            if one is not None:
                assert other.head == pytest.approx(one.head, abs=1e-6)
            # Of a cricket's halves the right one laps over the left whichever way one looks: no mirror there.
            for pick in (tuple, metal_alone) if a.d.method == "flat-pan" else ():
                assert mirror_of(a, how, pick) == pytest.approx(by_names(b, how, pick), abs=1e-6)
        dry = [len(c.sound.opened) + len(c.sound.against) for c in (a, b)]
        assert dry[0] == dry[1]


LOW = 2.0
"""Under this rise a lap of a few inches climbs less than 1/2 in, and the audit says so. [in/12in]"""

RIBS = st.sampled_from([0.75, 1.75, 2.5, 3.0])


@given(st.builds(changed, sites(), method=st.sampled_from(["flat-pan", "cricket"]), rib_height=RIBS))
@settings(max_examples=25)
def test_sound_work_is_never_stopped_and_has_cautions_on_low_roofs_only(site: Site) -> None:
    for case in cases_of(site):
        found = leaks(site, (case.sound,))
        assert [f.rule for f in found if f.stops] == []
        assert site.roof.rise < LOW or found == ()
