"""The order of work is sorted out of what laps over what; it is typed in nowhere."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import sites

from chimney import changed, chimney
from lapwright.detail.choose import choose
from lapwright.detail.model import Detail, Lap
from lapwright.layout.lay_out import lay_out
from lapwright.packet.order import Order, order_of_work, sort
from lapwright.packet.steps import steps_of
from lapwright.site.model import Site


def decided(site: Site) -> Detail:
    return choose(site, lay_out(site))


def ordered(site: Site, detail: Detail | None = None) -> Order:
    layout = lay_out(site)
    return order_of_work(site, layout, detail or choose(site, layout))


def stages(order: Order, site: Site) -> list[str]:
    """The order in the trade's words, runs of the same word once."""
    parts = {p.id: p for p in decided(site).parts}
    bay = decided(site).openings[0].bay
    layout = lay_out(site)
    said = []
    for id_ in order.ids:
        part = parts.get(id_)
        if part is None or part.kind != "panel":
            word = id_ if part is None else f"{part.kind} {part.where}" if part.kind == "membrane" else part.kind
        elif part.role == "through":
            left = layout.strips[part.strip or 0].right <= bay.left
            word = f"panels {'left' if left else 'right'} of the bay"
        elif part.role == "side":
            word = f"{'left' if layout.strips[part.strip or 0].left < 105 - 9 else 'right'} side panel"
        else:
            word = f"{part.role} panels"
        if not said or said[-1] != word:
            said.append(word)
    return said


def of_note(words: list[str]) -> list[str]:
    """Only the stages that the trade's standard order names."""
    small = ("open up", "hook-strip", "closure", "backing-plate")
    kept = [w.split(" ")[0] if w.startswith("membrane") else w for w in words if not w.startswith(small)]
    return [w for i, w in enumerate(kept) if i == 0 or kept[i - 1] != w]


STANDARD = [
    "membrane",
    "panels left of the bay",
    "left side panel",
    "lower panels",
    "right side panel",
    "apron",
    "side-wall",
    "back-pan",
    "corner-patch",
    "offset-cleat",
    "upper panels",
    "panels right of the bay",
    "ridge",
    "counterflashing",
    "water test",
]
"""Trade practice on a new roof laid left to right (no published source)."""

SWAP = {"left": "right", "right": "left"}


def test_laid_left_to_right_the_order_is_the_trades_standard() -> None:
    assert of_note(stages(ordered(chimney()), chimney())) == STANDARD


def test_laid_right_to_left_it_is_the_mirror_of_that() -> None:
    site = changed(chimney(), lay="right-to-left")
    mirror = [" ".join(SWAP.get(w, w) for w in words.split(" ")) for words in STANDARD]
    assert of_note(stages(ordered(site), site)) == mirror


def test_membrane_goes_on_downslope_first_then_the_sides_then_upslope() -> None:
    strips = [w for w in stages(ordered(chimney()), chimney()) if w.startswith("membrane")]
    assert strips[0] == "membrane front"
    assert strips[-1] == "membrane back"
    assert set(strips[1:-1]) == {"membrane left", "membrane right"}


def test_upper_panels_go_on_in_the_laying_direction() -> None:
    for lay, wanted in (("left-to-right", ["6", "7", "8"]), ("right-to-left", ["8", "7", "6"])):
        ids = ordered(changed(chimney(), lay=lay)).ids
        assert [i.split("-")[1] for i in ids if i.endswith("-upper")] == wanted


def test_hook_strips_go_on_before_the_hems_that_hold_them() -> None:
    ids = ordered(chimney()).ids
    assert ids.index("1-hook-strip-apron") < ids.index("1-apron")
    for hand in ("left", "right"):
        assert ids.index(f"1-hook-strip-{hand}") < ids.index(f"1-side-wall-{hand}")


def test_reversing_one_lap_moves_its_step_and_no_more_than_follows_from_it() -> None:
    # The patch of the left back corner laps pan and side wall. Say the pan laps it instead: it still waits for the
    # side wall, and nothing but the counterflashing waits for it.
    site = chimney()
    detail = decided(site)
    patch, pan = "1-corner-patch-back-left", "1-back-pan"
    assert Lap(patch, pan) in detail.laps
    before = ordered(site).ids
    assert before.index(pan) < before.index(patch)
    turned = tuple(Lap(pan, patch) if lap == Lap(patch, pan) else lap for lap in detail.laps)
    after = ordered(site, replace(detail, laps=turned))
    assert after.ring == ()
    assert after.ids.index(patch) < after.ids.index(pan)
    # Everything but that patch stands in the same order as before.
    assert [i for i in after.ids if i != patch] == [i for i in before if i != patch]


@pytest.mark.parametrize(
    ("over", "under"),
    [
        ("1-side-wall-left", "1-apron"),
        ("1-back-pan", "1-side-wall-right"),
        ("1-offset-cleat-2", "1-back-pan"),
        ("panel-7-upper", "1-offset-cleat-2"),
        ("panel-9", "panel-8-side"),
    ],
)
def test_each_lap_that_keeps_water_out_is_there_to_be_reversed(over: str, under: str) -> None:
    detail = decided(chimney())
    assert Lap(over, under) in detail.laps
    assert Lap(under, over) not in detail.laps


def test_dropping_a_lap_lets_its_step_go_earlier() -> None:
    # Without the laps that hold the through panels right of the bay behind the upper panels, they go on with
    # the rest.
    site = chimney()
    detail = decided(site)
    loose = tuple(lap for lap in detail.laps if not (lap.over == "panel-9" and lap.under == "panel-8-upper"))
    assert len(loose) == len(detail.laps) - 1
    ids = ordered(site, replace(detail, laps=loose)).ids
    assert ids.index("panel-9") < ids.index("1-apron")
    assert ordered(site).ids.index("panel-9") > ordered(site).ids.index("panel-8-upper")


# --- a ring -------------------------------------------------------------------------------------------


def test_laps_in_a_ring_stop_the_job_and_name_its_members() -> None:
    site = chimney()
    layout, detail = lay_out(site), decided(site)
    ring = replace(detail, laps=(*detail.laps, Lap("1-apron", "1-back-pan")))
    order = order_of_work(site, layout, ring)
    # The pan laps the side wall, the side wall the apron, and now the apron the pan.
    assert {"1-apron", "1-back-pan"} <= set(order.ring)
    assert order.ring[0] != order.ring[-1]
    from lapwright.metal.make import make

    _, panels = make(site, layout, ring)
    _, findings = steps_of(site, layout, ring, panels)
    (found,) = findings
    assert (found.rule, found.stops) == ("order.cycle", True)
    assert "1-apron" in str(found.values) and "1-back-pan" in str(found.values)


def test_a_sound_job_has_no_such_finding() -> None:
    site = chimney()
    layout, detail = lay_out(site), decided(site)
    from lapwright.metal.make import make

    _, panels = make(site, layout, detail)
    steps, findings = steps_of(site, layout, detail, panels)
    assert findings == ()
    assert [s.n for s in steps] == list(range(1, len(steps) + 1))
    done = [p for s in steps for p in s.pieces]
    assert sorted(done) == sorted(p.id for p in detail.parts)


def test_a_ring_is_walked_once_round() -> None:
    # a over b over c over a, and d hanging on a.
    keys = {n: (0, n) for n in "abcd"}
    order = sort(keys, {"a": ["b"], "b": ["c"], "c": ["a"], "d": ["a"]})
    assert (order.ids, set(order.ring), len(order.ring)) == ((), {"a", "b", "c"}, 3)


def test_what_is_free_to_go_next_goes_by_its_key() -> None:
    keys = {"late": (2,), "early": (1,), "first": (3,)}
    # `early` and `late` both wait on `first`; then the smaller key goes on.
    assert sort(keys, {"late": ["first"], "early": ["first"], "first": []}).ids == ("first", "early", "late")


# --- every lap ----------------------------------------------------------------------------------------


@settings(max_examples=400)
@given(st.builds(changed, sites(), method=st.sampled_from(["auto", "auto", "cricket"])))
def test_every_lap_is_respected_and_every_part_goes_on_once(site: Site) -> None:
    detail = decided(site)
    order = ordered(site, detail)
    assert order.ring == ()
    place = {n: i for i, n in enumerate(order.ids)}
    assert len(place) == len(order.ids)
    assert set(place) >= {p.id for p in detail.parts}
    for lap in detail.laps:
        assert place[lap.under] < place[lap.over], lap
    assert order.ids[-1] == "water test"
