"""The form that follows the tape: every field once, in order, with what was typed and what came of it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright.site.fields import FIELDS, LISTS
from lapwright.site.read import read_job
from lapwright.verbs.echo import echo, range_text
from lapwright.verbs.edit import add_row, field_at, set_value
from lapwright.verbs.form import form_of, in_tape_order, path_of
from lapwright.verbs.new import starter_job
from lapwright.words import Speaker

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*/job.toml"))
KILN = (Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml").read_text(encoding="utf-8")


def heard(field: str, value: float, unit: str = "in") -> str:
    table, name = field.split(".")
    return echo(field_at((table, 0, name) if table in LISTS else (table, name)), value, Speaker(unit))


def test_every_field_of_the_job_file_stands_in_the_form_once() -> None:
    text = starter_job()
    for table in LISTS:
        text = text if table == "opening" else add_row(text, table)
    here = [field.path for group in form_of(text).groups for field in group.fields]
    known = [(f.table, 0, f.name) if f.table in LISTS else (f.table, f.name) for f in FIELDS if f.kind != "later"]
    assert sorted(map(str, here)) == sorted(map(str, known))
    assert len(set(here)) == len(here)


def test_the_fields_stand_in_the_order_of_the_tape() -> None:
    # docs/how-to-measure.md: A eave, B slope, C first rib, D coverage, E left, F up, G width, H length, height
    order = [field.id for field in form_of(KILN).fields()]
    tape = ["roof-eave", "roof-slope", "panel-first_rib", "opening-0-left", "opening-0-up", "opening-0-width",
            "opening-0-length", "opening-0-height", "site-rain"]  # fmt: skip
    assert sorted(tape, key=order.index) == tape


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_a_whole_job_has_nothing_to_measure_and_nothing_to_mend(path: Path) -> None:
    form = form_of(path.read_text(encoding="utf-8"))
    assert (form.wanted, form.wrong, form.problems) == ((), (), ())
    assert form.site == read_job(path.read_text(encoding="utf-8"), "x")


def test_a_blank_job_asks_for_what_a_job_needs_and_complains_of_nothing() -> None:
    form = form_of('[job]\nname = "x"\nunits = "in"\n')
    assert [field.id for field in form.wanted] == [
        "roof-eave", "roof-slope", "roof-pitch", "panel-coverage", "panel-rib_height",
    ]  # fmt: skip
    assert (form.wrong, form.problems, form.site) == ((), (), None)


def test_a_new_opening_asks_for_its_measures_in_order() -> None:
    form = form_of(add_row(KILN, "opening"))
    assert [str(field.path[-1]) for field in form.wanted] == ["name", "kind", "left", "up", "height"]
    pipe = form_of(set_value(add_row(KILN, "opening"), ("opening", 1, "kind"), "pipe"))
    assert [str(field.path[-1]) for field in pipe.wanted] == ["name", "left", "up", "diameter", "height"]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_every_problem_of_the_reader_is_beside_a_field_or_listed(path: Path) -> None:
    # every length of an example, spoiled one after the other
    text = path.read_text(encoding="utf-8")
    for field in form_of(text).fields():
        if field.kind == "length" and field.typed and field.path[0] != "defaults":
            form = form_of(set_value(text, field.path, "about a yard"))
            assert [wrong.path for wrong in form.wrong] == [field.path]
            assert "is not a length" in form.wrong[0].error


def test_what_is_wrong_between_fields_stands_beside_the_one_to_mend() -> None:
    # 22' 3 of eave; an opening 23-1/2 wide from 22' 0 on runs off it
    form = form_of(set_value(KILN, ("opening", 0, "left"), "22' 0"))
    (wrong,) = form.wrong
    assert wrong.id == "opening-0-width"
    assert "past the eave's end" in wrong.error


def test_what_belongs_to_no_field_is_listed_with_its_name() -> None:
    form = form_of(KILN.replace("rain = 6", "rian = 6"))
    assert form.problems == ("site.rian: no such field; did you mean rain?",)


def test_a_file_that_is_no_toml_says_the_line_and_shows_no_fields() -> None:
    form = form_of("[job\nname = 3\n")
    assert form.broken
    assert form.groups == ()
    assert form.problems[0].startswith("Line 1: ")


def test_a_value_that_does_not_belong_stays_in_sight_until_it_is_taken_out() -> None:
    form = form_of(set_value(KILN, ("opening", 0, "kind"), "pipe"))
    width = form.field(("opening", 0, "width"))
    assert width is not None and width.shown and "not for a pipe" in width.error
    gone = form_of(set_value(set_value(KILN, ("opening", 0, "kind"), "pipe"), ("opening", 0, "width"), None))
    assert not gone.field(("opening", 0, "width")).shown  # type: ignore[union-attr]


def test_an_opening_s_own_measure_is_the_job_s_when_it_is_left_out() -> None:
    form = form_of(set_value(KILN, ("defaults", "upstand"), "10"))
    own = form.field(("opening", 0, "upstand"))
    assert own is not None and own.unused == "10" and not own.wanted


@given(st.text(max_size=200))
def test_any_text_at_all_has_a_form(text: str) -> None:
    form = form_of(text)
    assert form.broken == (form.groups == ())


@given(st.sampled_from(["roof", "panel", "opening", "site", "job"]), st.text(max_size=30))
def test_a_problem_with_any_name_finds_a_field_or_none(table: str, name: str) -> None:
    path = path_of(f"{table}.{name}")
    assert path is None or field_at(path).name == name


def test_the_name_of_a_field_in_a_problem_is_its_place() -> None:
    assert path_of("opening[2].width") == ("opening", 1, "width")
    assert path_of("roof.eave") == ("roof", "eave")
    for name in ("opening", "opening.width", "roof[1].eave", "job file", "roof.outline", "opening[x].width"):
        assert path_of(name) is None


# What was understood. 88.5 in = 7 ft 4-1/2 in = 2247.9 mm; 2248 mm = 88.504 in, on a sixteenth 88-1/2.
def test_a_length_is_echoed_in_both_units() -> None:
    assert heard("roof.eave", 88.5) == "7' 4-1/2\" = 2247.9 mm"
    assert heard("opening.width", 23.5) == '23-1/2" = 596.9 mm'
    assert heard("roof.eave", 2248 / 25.4) == "about 7' 4-1/2\" = 2248 mm"
    assert heard("roof.eave", 2248 / 25.4, "mm") == "2248 mm = 7' 4-1/2\""


def test_a_pitch_is_echoed_as_an_angle_and_rain_and_wind_in_the_other_unit() -> None:
    # atan(7/12) = 30.256 deg; 6 x 25.4 = 152.4; 115 x 1.609344 = 185.07
    assert heard("roof.pitch", 7.0) == "7:12 = 30.3°"
    assert heard("site.rain", 6.0) == "6 in/h = 152.4 mm/h"
    assert heard("site.wind_speed", 115.0) == "115 mph = 185.1 km/h"


def test_a_range_is_said_in_the_job_s_unit() -> None:
    assert range_text(field_at(("roof", "eave")), Speaker("in")) == "2' 0\" to 500' 0\""
    assert range_text(field_at(("opening", 0, "width")), Speaker("mm")) == "50.8 mm to 30480 mm"


def test_every_choice_has_its_words() -> None:
    speaker = Speaker()
    for row in FIELDS:
        for word in row.allowed():
            assert speaker.knows(f"{'metals' if row.kind == 'metal' else 'page_form.choice'}.{word}"), word
    assert [row.name for row in in_tape_order("roof")][:3] == ["eave", "slope", "pitch"]
