"""Each caution is there when its danger is, and only then."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hand_made import OPENING, PIECES, HandMade, hand_made, plain, site
from lapwright.packet.cautions import DEFERS, big_blanks, cautions_for, not_checked
from lapwright.packet.say import Voice
from lapwright.words import Speaker


def keys(job: HandMade) -> set[str]:
    return {c.key.removeprefix("packet.caution.") for c in cautions_for(job)}


def opened(kind: str) -> HandMade:
    there = replace(site(), openings=(replace(OPENING, kind=kind),))
    return replace(hand_made(), site=there)


ALWAYS = {"fall", "electricity", "metal", "membrane", "sealant"}


def test_the_fall_comes_first_and_the_everyday_dangers_are_always_there() -> None:
    job = hand_made()
    assert cautions_for(job)[0].key == "packet.caution.fall_hole"
    assert ALWAYS & keys(job) == ALWAYS


@pytest.mark.parametrize(
    ("kind", "silica", "hot"),
    [("masonry-chimney", True, True), ("framed-chimney", False, True), ("pipe", False, True),
     ("curb", False, False), ("skylight", False, False)],
)  # fmt: skip
def test_silica_belongs_to_masonry_and_heat_to_flues(kind: str, silica: bool, hot: bool) -> None:
    got = keys(opened(kind))
    assert (silica, hot) == ("silica" in got, "hot_flue" in got)


def test_old_lead_belongs_to_an_existing_roof() -> None:
    old = replace(site(), roof=replace(site().roof, work="existing"))
    assert ("old_lead" in keys(replace(hand_made(), site=old))) and "old_lead" not in keys(hand_made())


def test_no_discs_on_steel_and_no_torch_where_metal_is_soldered() -> None:
    assert {"no_discs"} == {"no_discs", "torch"} & keys(hand_made())
    copper = tuple(replace(p, metal="copper-16") for p in PIECES)
    all_copper = replace(site(), panel=replace(site().panel, metal="copper-16"))
    assert {"torch"} == {"no_discs", "torch"} & keys(replace(hand_made(), pieces=copper, site=all_copper))


@pytest.mark.parametrize(("length", "weight", "two"), [(96.0, 3.0, True), (95.9, 3.0, False), (20.0, 25.0, True)])
def test_a_long_or_heavy_blank_takes_two_people(length: float, weight: float, two: bool) -> None:
    one = replace(PIECES[0], blank=plain(length, 20.0), weight_lb=weight)
    job = replace(hand_made(), pieces=(one,))
    assert (("P1",) if two else ()) == big_blanks(job)
    assert two == ("two_people" in keys(job))


def test_every_caution_can_be_said_and_the_packet_gives_way_to_code_maker_and_licence() -> None:
    voice = Voice(Speaker("in"))
    old = replace(site(), roof=replace(site().roof, work="existing"))
    for c in (*cautions_for(replace(hand_made(), site=old)), *not_checked(hand_made())):
        assert voice.say(c.key, c.values).endswith(".")
    assert [k.rpartition(".")[2] for k in DEFERS] == ["code", "maker", "licence"]
