"""Editing a job file: one value changes, all that stands beside it stays."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from lapwright.errors import JobProblems
from lapwright.site.fields import FIELDS, LISTS
from lapwright.verbs.edit import add_row, copy_row, field_at, merge, remove_row, set_value
from lapwright.verbs.job_text import typed, value_at, values_of
from lapwright.verbs.new import starter_job

KILN = (Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml").read_text(encoding="utf-8")
OTHER_WAYS = """# said in a line
roof = {pitch = "7:12", eave = 240}
job.name = "Dotted"
opening = [{name = "a", left = 1}, {name = "b", left = 2}]
"""
"""Legal TOML that nobody types: inline tables, dotted keys, a list of inline tables."""

PATHS = [
    (row.table, 0, row.name) if row.table in LISTS else (row.table, row.name)
    for row in FIELDS
    if row.kind not in ("later", "lengths")
]
HOSTILE = [
    '"', "'", '"""', "\'\'\'", "\\", "\\u0000", "a\nb", "a\r\nb", "#", "]", "[[x]]", "= 1", "\x00", "\x7f", "\ud800",
    "\U0001f3e0", "\u202e", "9" * 5000, "1e400", "nan", "-inf", "1_0", "0x1F", "{}", "$(rm)", "<b>", "2024-01-01",
]  # fmt: skip
TEXTS = st.one_of(st.text(max_size=40), st.sampled_from(HOSTILE), st.from_regex(r"\A[0-9]{1,4}' [0-9] 1/2\"\Z"))


def whole() -> str:
    """A job with a row in every list."""
    text = starter_job()
    for table in LISTS:
        if table != "opening":
            text = add_row(text, table)
    return text


def seen(text: str) -> str:
    """What can be kept of a text that was typed: no half surrogate pairs, no blank ends."""
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace").strip()


def comments(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip().startswith("#")]


@given(st.sampled_from(PATHS), TEXTS)
@example(("opening", 0, "name"), 'the "big" one\\')
@example(("opening", 0, "left"), "88.50")
def test_what_is_typed_into_a_field_is_what_is_read_back(path: tuple[str | int, ...], text: str) -> None:
    after = set_value(whole(), path, text)
    assert typed(value_at(values_of(after), path)) == seen(text)


@given(st.sampled_from(PATHS), TEXTS)
def test_nothing_else_changes_and_no_comment_is_lost(path: tuple[str | int, ...], text: str) -> None:
    before, after = whole(), set_value(whole(), path, text)
    assert comments(after) == comments(before)
    others = [other for other in PATHS if other != path]
    was, now = values_of(before), values_of(after)
    assert [value_at(now, p) for p in others] == [value_at(was, p) for p in others]


@given(st.sampled_from([KILN, OTHER_WAYS, "", "# only a remark", "[job]"]), TEXTS, TEXTS)
def test_every_way_to_write_a_file_takes_an_edit(text: str, one: str, other: str) -> None:
    after = set_value(set_value(text, ("roof", "slope"), one), ("job", "name"), other)
    values = values_of(after)
    assert typed(value_at(values, ("roof", "slope"))) == seen(one)
    assert typed(value_at(values, ("job", "name"))) == seen(other)


@given(st.lists(st.tuples(st.sampled_from(["add", "copy", "remove", "set"]), st.integers(0, 5), TEXTS), max_size=8))
def test_rows_come_and_go_like_rows_of_a_list(moves: list[tuple[str, int, str]]) -> None:
    text, rows = KILN, [dict(row) for row in values_of(KILN)["opening"]]
    for what, n, entered in moves:
        if what == "add":
            text, rows = add_row(text, "opening"), [*rows, {}]
        elif rows and what == "remove":
            n %= len(rows)
            text = remove_row(text, "opening", n)
            del rows[n]
        elif rows and what == "copy":
            n %= len(rows)
            text = copy_row(text, "opening", n)
            rows = [*rows, {k: v for k, v in rows[n].items() if k not in ("left", "name")}]
        elif rows:
            n %= len(rows)
            text = set_value(text, ("opening", n, "name"), entered)
        now = values_of(text).get("opening", [])
        assert [{k: v for k, v in row.items() if k not in ("left", "name")} for row in now] == [
            {k: v for k, v in row.items() if k not in ("left", "name")} for row in rows
        ]
        names = [row["name"] for row in now if row.get("name") and what == "copy"]
        assert what != "copy" or len(set(names[-1:])) == len(names[-1:])


def test_a_value_is_changed_where_it_stands() -> None:
    line = 'method = "flat-pan"      # forced against the rule set: that is what must stop'
    text = f"[[opening]]\n{line}\nheight = 66\n"
    assert set_value(text, ("opening", 0, "method"), "auto") == text.replace("flat-pan", "auto")


def test_a_new_field_stands_where_it_is_measured() -> None:
    # the tape gives eave before slope, and both before left_edge
    text = '# mine\n[roof]\npitch = "7:12"\nleft_edge = "wall"  # brick\n\n# Panels\n[panel]\ncoverage = 16\n'
    after = set_value(set_value(text, ("roof", "slope"), "15' 4"), ("roof", "eave"), "246")
    assert after == text.replace('left_edge', 'eave = 246\nslope = "15\' 4"\nleft_edge')


def test_a_field_that_is_emptied_is_left_out() -> None:
    assert set_value(KILN, ("panel", "first_rib"), "  ") == KILN.replace("first_rib = 7\n", "")
    assert set_value(KILN, ("panel", "first_rib"), None) == KILN.replace("first_rib = 7\n", "")


def test_typing_what_stands_there_changes_nothing() -> None:
    assert set_value(KILN, ("opening", 0, "left"), "8' 6 1/2") == KILN


def test_a_list_of_lengths_is_typed_with_commas() -> None:
    text = set_value('[[tool]]\nname = "x"\n', ("tool", 0, "fingers"), '2, 3 1/2,4')
    assert tomllib.loads(text)["tool"][0]["fingers"] == [2, "3 1/2", 4]
    assert typed(value_at(values_of(text), ("tool", 0, "fingers"))) == "2, 3 1/2, 4"


def test_a_number_that_is_none_is_kept_as_the_text_it_is() -> None:
    text = set_value(KILN, ("site", "rain"), "six")
    assert values_of(text)["site"]["rain"] == "six"


def test_a_row_can_only_be_where_there_is_one() -> None:
    for path in [("opening", 1, "left"), ("opening", -1, "left"), ("opening", "0", "left"), ("roof", "outline"),
                 ("roof", 0, "eave"), ("nothing",), (), ("roof", "eaves")]:  # fmt: skip
        with pytest.raises(KeyError):
            set_value(KILN, path, "1")
    for n in (1, -1):
        with pytest.raises(KeyError):
            remove_row(KILN, "opening", n)
    with pytest.raises(KeyError):
        add_row(KILN, "roof")


def test_a_file_that_would_grow_too_long_to_read_is_refused_unchanged() -> None:
    with pytest.raises(JobProblems):
        set_value(KILN, ("job", "name"), "x" * 70_000)
    with pytest.raises(JobProblems):  # nor are comments dropped to make room
        set_value(KILN + "# " + "x" * 60_000 + "\n", ("job", "name"), "y" * 9_000)


def test_a_file_that_is_no_toml_is_not_touched() -> None:
    with pytest.raises(JobProblems):
        set_value("[job\n", ("job", "name"), "x")


def test_a_copied_opening_has_its_own_name_and_waits_for_its_place() -> None:
    text = copy_row(copy_row(KILN, "opening", 0), "opening", 0)
    names = [row["name"] for row in values_of(text)["opening"]]
    assert names == ["flue stack", "flue stack 2", "flue stack 3"]
    assert [row.get("left") for row in values_of(text)["opening"]] == ["8' 6 1/2", None, None]
    assert values_of(text)["opening"][2]["width"] == "23 1/2"


def test_removing_the_copy_gives_the_file_back_byte_for_byte() -> None:
    assert remove_row(copy_row(KILN, "opening", 0), "opening", 1).rstrip("\n") == KILN.rstrip("\n")


# Two tabs over one job.
def test_two_edits_of_two_fields_are_both_kept() -> None:
    mine = set_value(KILN, ("roof", "eave"), "22' 4")
    both = merge(KILN, mine, ("opening", 0, "width"), "24")
    assert both is not None
    assert values_of(both)["roof"]["eave"] == "22' 4"
    assert values_of(both)["opening"][0]["width"] == 24


def test_two_edits_of_one_field_are_a_clash_unless_both_say_the_same() -> None:
    mine = set_value(KILN, ("roof", "eave"), "22' 4")
    assert merge(KILN, mine, ("roof", "eave"), "22' 5") is None
    assert merge(KILN, mine, ("roof", "eave"), "22' 4") == mine


def test_a_value_of_an_opening_that_moved_or_went_is_a_clash() -> None:
    two = copy_row(KILN, "opening", 0)
    assert merge(two, remove_row(two, "opening", 0), ("opening", 0, "width"), "24") is None
    assert merge(two, remove_row(two, "opening", 0), ("opening", 1, "width"), "24") is None


def test_an_opening_more_or_less_behind_it_does_not_matter() -> None:
    two = copy_row(KILN, "opening", 0)
    for base, now in ((KILN, two), (two, KILN)):
        both = merge(base, now, ("opening", 0, "width"), "24")
        assert both is not None
        assert values_of(both)["opening"][0]["width"] == 24
    assert merge(two, KILN, ("opening", 1, "width"), "24") is None


def test_a_value_of_an_opening_that_only_got_another_name_is_kept() -> None:
    renamed = set_value(KILN, ("opening", 0, "name"), "old stack")
    both = merge(KILN, renamed, ("opening", 0, "width"), "24")
    assert both is not None
    assert values_of(both)["opening"][0]["name"] == "old stack"


def test_every_field_of_the_form_is_known_by_its_place() -> None:
    assert [field_at(path).name for path in PATHS] == [str(path[-1]) for path in PATHS]
    assert field_at(("opening", 3, "upstand")).table == "defaults"
