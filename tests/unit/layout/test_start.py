"""Where the first rib goes: counted by hand, and against every sixty-fourth of an inch."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace

import pytest

from chimney import changed, chimney
from lapwright.layout.lay_out import bay_of, lay_out, ribs_from
from lapwright.layout.start import Cost, choose_start, cost_of, stretches
from lapwright.site.model import Defaults, Opening, Panel, Roof, Site

# Eave 100, coverage 20, slope 150; an opening 12 wide and 30 long from 44 to 56 (invented).
SITE = Site(
    "Invented roof",
    "in",
    Roof(6.0, 100.0, 150.0),
    Panel(20.0, 1.5),
    openings=(Opening("hatch", "curb", 44.0, 50.0, 12.0, 30.0, 10.0, "square", measures=Defaults()),),
)


@pytest.mark.parametrize(
    ("first", "cost"),
    [
        # Ribs 8 28 48 68 88: 48 lies 4 from 44 and 8 from 56, no conflict. Edge strips 8 and 12, both over 20/3.
        # Between 40 and 60 only 48 is cut. Six strips x 20 x 150 = 18,000 bought, 100 x 150 - 360 = 14,640 laid.
        (8.0, Cost(0, 0, 1, 3360.0)),
        # Ribs 2 22 42 62 82: 42 is 2 from the corner at 44. Edge strip 2 is a sliver, 18 is none. 42 is cut.
        (2.0, Cost(1, 1, 1, 3360.0)),
        # Ribs 20 40 60 80: none within 3 of 44 or 56, none between 40 and 60. Five strips x 3,000 = 15,000.
        (0.0, Cost(0, 0, 0, 360.0)),
        # Ribs 1 21 41 61 81: 41 is exactly 3 from 44, which is no conflict, and is cut; edge strips 1 and 19.
        (1.0, Cost(0, 1, 1, 3360.0)),
        # Ribs 19 39 59 79 99: 59 is exactly 3 from 56 and is cut; edge strips 19 and 1.
        (19.0, Cost(0, 1, 1, 3360.0)),
    ],
)
def test_a_start_is_counted_as_by_hand(first: float, cost: Cost) -> None:
    assert cost_of(SITE, first) == cost


def test_a_single_place_better_than_both_its_sides_is_found() -> None:
    # Only 0 itself cuts no rib and rips no strip; a hair to either side there is a sliver at an edge.
    start = choose_start(SITE)
    assert (start.first, start.cost) == (0.0, Cost(0, 0, 0, 360.0))
    assert stretches(SITE)[0].low == stretches(SITE)[0].high == 0.0


def test_the_next_best_is_named_by_the_middle_of_its_widest_stretch() -> None:
    # After 0 the best have no conflict, no sliver and one rib cut: edge strips of at least 20/3 leave 20/3 to 40/3
    # (first), and of those ribs clear of the corners leave 20/3 to 13 less: 47 < 40 + s < 53, so 7 < s < 13.
    start = choose_start(SITE)
    assert start.runner_up is not None
    first, cost = start.runner_up
    assert (first, cost) == (10.0, Cost(0, 0, 1, 3360.0))


def test_a_strip_wholly_across_an_opening_saves_the_openings_length() -> None:
    # The hatch widened to 40, from 30 to 70; ribs 10 30 50 70 90: both strips between 30 and 70 lie across it.
    # Six strips: 18,000 less 2 x 20 x 30 = 16,800 bought; 15,000 - 40 x 30 = 13,800 laid.
    wide = replace(SITE, openings=(replace(SITE.openings[0], left=30.0, width=40.0, method="flat-pan"),))
    assert cost_of(wide, 10.0).waste == 3000.0


def test_a_rib_on_a_crickets_middle_is_a_conflict_and_none_behind_a_flat_pan() -> None:
    # 28 wide from 36 to 64, middle 50: rib 50 with first 10; 30 and 70 are 6 off the sides.
    cricket = replace(SITE, openings=(replace(SITE.openings[0], left=36.0, width=28.0, method="cricket"),))
    pan = replace(cricket, openings=(replace(cricket.openings[0], method="flat-pan"),))
    assert (cost_of(cricket, 10.0).conflicts, cost_of(pan, 10.0).conflicts) == (1, 0)
    # 2 off the middle is far enough.
    assert cost_of(cricket, 12.0).conflicts == 0


def test_a_pipes_rim_keeps_ribs_3_off() -> None:
    # A pipe of 4 at 50: its rim reaches from 48 to 52, so ribs keep out of 45 to 55.
    pipe = replace(SITE.openings[0], kind="pipe", left=50.0, width=4.0, length=4.0, diameter=4.0)
    site = replace(SITE, openings=(pipe,))
    assert [cost_of(site, s).conflicts for s in (5.0, 5.0625, 10.0, 14.9375, 15.0)] == [0, 1, 1, 1, 0]


def test_a_chosen_start_lies_on_a_mark_of_the_tape() -> None:
    for unit, mark in (("in", 1 / 16), ("mm", 1 / 25.4)):
        site = replace(changed(chimney(), first_rib=None, left=91.37), units=unit)
        marks = choose_start(site).first / mark
        assert marks == pytest.approx(round(marks), abs=1e-6)


def test_where_it_can_a_start_keeps_a_quarter_off_a_change() -> None:
    site = changed(chimney(), first_rib=None)
    start = choose_start(site)
    nearest = min(abs(start.first - end) for s in stretches(site) for end in (s.low, s.high))
    assert nearest >= 0.25


def _plainly(site: Site, first: float) -> Cost:
    """The same four costs by listing every rib and every strip."""
    coverage, eave, slope = site.panel.coverage, site.roof.eave, site.roof.slope
    ribs = ribs_from(first, coverage, eave)
    lines = (0.0, *ribs, eave)
    strips = list(itertools.pairwise(lines))
    conflicts = interrupted = 0
    bought, laid = len(strips) * coverage * slope, eave * slope
    for o in site.openings:
        interrupted += len(bay_of(o, ribs, eave).interrupted)
        middle = (o.left + o.right) / 2
        cricket = o.method == "cricket" or (o.method == "auto" and o.width > 30)
        for x in ribs:
            near = min(abs(x - o.left), abs(x - o.right)) < 3 - 1e-6
            conflicts += near or (cricket and abs(x - middle) < 2 - 1e-6)
        bought -= sum(a >= o.left - 1e-6 and b <= o.right + 1e-6 for a, b in strips) * coverage * o.length
        laid -= o.width * o.length
    ends = [strips[0]] if len(strips) == 1 else [strips[0], strips[-1]]
    slivers = sum(b - a < coverage / 3 - 1e-6 for a, b in ends)
    return Cost(conflicts, slivers, interrupted, round(bought - laid, 6))


def _random_roof(dice: random.Random) -> Site:
    """A roof of random sixteenths, with up to eight openings; its coverage keeps a third on the grid too."""
    sixteenths = lambda low, high: dice.randint(low * 16, high * 16) / 16  # noqa: E731
    eave, coverage = sixteenths(60, 480), dice.choice((12.0, 15.0, 16.5, 18.0, 21.0, 24.0))
    openings = []
    for n in range(dice.randint(0, 8)):
        width = sixteenths(2, 48)
        left = sixteenths(0, max(1, int(eave - width)))
        method = dice.choice(("auto", "flat-pan", "cricket"))
        clear = Defaults(side_clear=sixteenths(0, 9))
        openings.append(Opening(f"o{n}", "curb", left, 40.0, width, 30.0, 12.0, "square", method, measures=clear))  # type: ignore[arg-type]
    return Site("random", "in", Roof(6.0, eave, 200.0), Panel(coverage, 1.5), openings=tuple(openings))


@pytest.mark.parametrize("seed", range(200))
def test_the_choice_equals_trying_every_sixty_fourth(seed: int) -> None:
    # Everything that matters lies on sixteenths (or on a third of a coverage that does), so between two places
    # where a cost changes there is always a sixty-fourth: the grid sees every stretch and every single place.
    site = _random_roof(random.Random(seed))
    best = min(_plainly(site, k / 64) for k in range(int(site.panel.coverage * 64)))
    start = choose_start(site)
    assert start.cost == best
    assert _plainly(site, start.first) == best
    if start.runner_up is not None:
        assert _plainly(site, start.runner_up[0]) == start.runner_up[1]
        assert start.runner_up[1] > best


def test_a_layout_carries_how_its_start_was_chosen() -> None:
    layout = lay_out(changed(chimney(), first_rib=None))
    assert layout.start is not None
    assert layout.first_rib == layout.start.first
    assert lay_out(chimney()).start is None
