"""Each field of the job file is declared once, says itself in words, and agrees with the model."""

from __future__ import annotations

import dataclasses
import typing

import pytest

from lapwright import tables
from lapwright.site import model
from lapwright.site.fields import DEFAULTS, FIELDS, NEEDED, OPENING, RULE_SETS, Field, fields_of
from lapwright.words import Speaker

CLASSES = {
    "roof": model.Roof,
    "panel": model.Panel,
    "site": model.Weather,
    "defaults": model.Defaults,
    "opening": model.Opening,
    "deviation": model.Deviation,
    "shop": model.Shop,
    "tool": model.OwnTool,
    "stock": model.Stock,
}


def name_of(row: Field) -> str:
    return f"{row.table}.{row.name}"


@pytest.mark.parametrize("row", FIELDS, ids=name_of)
def test_every_field_has_a_label_and_a_help_line(row: Field) -> None:
    speaker = Speaker()
    label, about = speaker.say(f"{row.words}.label"), speaker.say(f"{row.words}.help")
    assert label and about and "\n" not in label + about


def test_no_words_are_left_of_a_field_that_is_gone() -> None:
    from lapwright.words import phrases

    said = {key.removeprefix("site.field.").rsplit(".", 1)[0] for key in phrases() if key.startswith("site.field.")}
    assert said == {name_of(row) for row in FIELDS}


def test_no_field_is_declared_twice() -> None:
    names = [name_of(row) for row in FIELDS]
    assert sorted(set(names)) == sorted(names)
    # an opening also takes every measure, so the two may not share a name
    assert not {row.name for row in OPENING} & {row.name for row in DEFAULTS}


@pytest.mark.parametrize("table", CLASSES)
def test_the_fields_of_a_table_fill_the_models_fields_and_no_others(table: str) -> None:
    filled = {row.fills for row in FIELDS if row.table == table and row.kind != "later"}
    assert filled | ({"measures"} if table == "opening" else set()) == {
        row.name for row in dataclasses.fields(CLASSES[table])
    }


@pytest.mark.parametrize("row", [row for row in FIELDS if row.table in CLASSES], ids=name_of)
def test_choices_and_defaults_are_the_models(row: Field) -> None:
    if row.kind == "later":
        return
    kind = typing.get_type_hints(CLASSES[row.table])[row.fills]
    if typing.get_origin(kind) is typing.Literal:
        assert set(typing.get_args(kind)) == set(row.choices)
    known = {f.name: f.default for f in dataclasses.fields(CLASSES[row.table])}[row.fills]
    if row.name in ("fixing", "diameter"):  # fixing follows the seam; only a pipe needs its diameter
        return
    assert known == (dataclasses.MISSING if row.default is NEEDED else row.default) or row.default is None


@pytest.mark.parametrize("row", [row for row in FIELDS if isinstance(row.default, float)], ids=name_of)
def test_every_default_lies_in_its_own_range(row: Field) -> None:
    assert row.low <= row.default <= row.high


def test_the_rule_sets_are_the_rows_of_the_table() -> None:
    assert set(RULE_SETS) == set(tables.rows("rule_sets"))


def test_a_metal_is_a_row_of_the_table() -> None:
    assert fields_of("panel")["metal"].allowed() == tuple(tables.metals())
