"""Tools are rows; a user's own rows go over them, and a wrong one is told with its place and range."""

from __future__ import annotations

from typing import Any

import pytest

from lapwright.errors import LapwrightError, OutOfRange
from lapwright.shop.bending.cures import CURES, TELLING
from lapwright.shop.bending.tools import Folder, NoSuchTool, default_kit, kits, kits_with
from lapwright.words import Speaker


def test_the_small_shop_has_two_folders_and_three_hand_tools() -> None:
    assert [t.kind for t in default_kit().shop] == ["straight", "box", "joggle", "seamers", "bar"]
    assert [t.kind for t in default_kit().roof] == ["seamers", "bar"]


def test_a_row_of_ones_own_may_give_only_what_differs() -> None:
    mine = kits_with({"tools": {"straight-folder": {"length": 96.0}}})["small-shop"].tool("straight-folder")
    packaged = kits()["small-shop"].tool("straight-folder")
    assert isinstance(mine, Folder) and isinstance(packaged, Folder)
    assert (mine.length, packaged.length) == (96.0, 121.0)
    assert mine.beam == packaged.beam


def test_a_leaf_turns_what_the_nose_leaves() -> None:
    folder = default_kit().tool("straight-folder")
    assert folder.most_deg == 135.0


@pytest.mark.parametrize(
    ("own", "key", "says"),
    [
        ({"tools": {"straight-folder": {"land": 9.0}}}, "units.out_of_range", "straight-folder.land"),
        ({"tools": {"straight-folder": {"nose_deg": 60.0}}}, "units.out_of_range", "straight-folder.beam"),
        ({"tools": {"mine": {"kind": "hammer"}}}, "bending.no_kind", "hammer"),
        ({"tools": {"mine": {"kind": "bar", "colour": "red"}}}, "bending.bad_row", "mine"),
        ({"kits": {"mine": {"shop": ["anvil"], "roof": []}}}, "bending.no_tool", "anvil"),
    ],
    ids=["range", "nose against section", "kind", "field", "kit"],
)
def test_a_wrong_row_is_told(own: dict[str, Any], key: str, says: str) -> None:
    with pytest.raises((OutOfRange, NoSuchTool)) as caught:
        kits_with(own)
    assert isinstance(caught.value, LapwrightError)
    assert caught.value.key == key
    assert says in caught.value.said(Speaker())


def test_every_reason_and_cure_has_its_words() -> None:
    for reason in {*CURES, *TELLING}:
        assert Speaker().say(f"bending.reason.{reason}")
        assert [Speaker().say(f"bending.cure.{cure}") for cure in CURES[reason]]
    for tool in ("straight-folder", "box-folder", "bench-folder", "seamers", "seamers-and-bar", "joggle-bars"):
        assert Speaker().say(f"bending.tool.{tool}")
