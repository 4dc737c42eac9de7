"""Measure as a script meets it: one field saved at a time, joined with what others did meanwhile."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest

from lapwright.store.shelf import Kept, Shelf
from lapwright.verbs.edit import copy_row, remove_row, set_value
from lapwright.verbs.job_text import values_of
from page_server import page

KILN = (Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml").read_text(encoding="utf-8")
SCRIPT = {"accept": "application/json"}
Here = tuple[httpx.Client, Shelf, Kept]


@pytest.fixture
def here(tmp_path: Path) -> Iterator[Here]:
    with page(tmp_path) as (browser, shelf):
        yield browser, shelf, shelf.add(KILN, "x")


def put(here: Here, path: list[Any], typed: str, base: int | None = 1, **more: Any) -> httpx.Response:
    browser, _, kept = here
    headers = SCRIPT if base is None else {**SCRIPT, "if-match": f'"{base}"'}
    return browser.put(f"/jobs/{kept.id}/value", json={"path": path, "typed": typed, **more}, headers=headers)


def stands(here: Here) -> dict[str, Any]:
    _, shelf, kept = here
    return values_of(shelf.get(kept.id).text)


def test_a_field_is_saved_and_answered_with_what_changed(here: Here) -> None:
    answer = put(here, ["opening", 0, "width"], "24").json()
    (field,) = answer["fields"]
    assert (field["id"], field["typed"], field["echo"]) == ("opening-0-width", "24", '24" = 609.6 mm')
    assert answer["revision"] == 2 and answer["undo"] and answer["whole"]
    assert "<svg" in answer["drawings"]["opening"]
    assert stands(here)["opening"][0]["width"] == 24


def test_a_wrong_value_is_saved_as_it_was_typed_and_told_with_its_range(here: Here) -> None:
    answer = put(here, ["roof", "eave"], "1'").json()
    assert "2' 0\" to 500' 0\" is allowed" in answer["fields"][0]["error"]
    assert not answer["whole"]
    assert answer["stand"]["wrong"] == "1 to mend"
    assert stands(here)["roof"]["eave"] == "1'"


def test_a_change_says_which_revision_it_was_made_from(here: Here) -> None:
    assert put(here, ["roof", "eave"], "20'", base=None).status_code == 428
    assert stands(here)["roof"]["eave"] == "22' 3"


def test_two_changes_of_two_fields_over_one_revision_are_both_kept(here: Here) -> None:
    put(here, ["roof", "eave"], "22' 4")
    answer = put(here, ["panel", "first_rib"], "8").json()
    # the answer tells the second tab of the first one's change too
    assert {field["id"] for field in answer["fields"]} == {"roof-eave", "panel-first_rib"}
    assert (stands(here)["roof"]["eave"], stands(here)["panel"]["first_rib"]) == ("22' 4", 8)


def test_two_changes_of_one_field_are_refused_with_the_text_as_it_stands(here: Here) -> None:
    put(here, ["roof", "eave"], "22' 4")
    refused = put(here, ["roof", "eave"], "22' 5")
    assert refused.status_code == 412
    assert "eave = \"22' 4\"" in refused.json()["now"]["text"]
    assert stands(here)["roof"]["eave"] == "22' 4"


def test_the_very_same_change_twice_is_one_change(here: Here) -> None:
    # an answer that was lost on its way is asked for again
    first, again = (put(here, ["roof", "eave"], "22' 4").json() for _ in range(2))
    assert first["revision"] == again["revision"] == 2


def test_a_value_of_an_opening_that_went_away_is_refused(here: Here) -> None:
    _, shelf, kept = here
    two = shelf.change(kept.id, 1, copy_row(KILN, "opening", 0), "x")
    shelf.change(kept.id, two.revision, remove_row(two.text, "opening", 0), "y")
    assert put(here, ["opening", 1, "width"], "24", base=2).status_code == 412


@pytest.mark.parametrize(
    "path",
    [["roof", "eaves"], ["nothing", "at all"], ["opening", 9, "width"], ["opening", -1, "width"], ["roof", 0, "eave"],
     ["opening", "0", "width"], ["roof", "outline"]],
)  # fmt: skip
def test_a_field_that_is_not_there_is_not_found(here: Here, path: list[Any]) -> None:
    assert put(here, path, "1").status_code == 404
    assert stands(here) == values_of(KILN)


@pytest.mark.parametrize(
    "body",
    [{}, {"path": [], "typed": ""}, {"path": ["roof", "eave"]}, {"path": ["roof", "eave"], "typed": 3},
     {"path": ["roof", "eave"], "typed": "x" * 10_001}, {"path": ["roof", "eave"], "typed": "1", "at": -1},
     {"path": [1.5, None], "typed": "1"}, {"path": ["roof", "eave"], "typed": "1", "and": "more"}],
)  # fmt: skip
def test_a_request_that_is_none_is_refused_with_a_sentence(here: Here, body: dict[str, Any]) -> None:
    browser, _, kept = here
    answer = browser.put(f"/jobs/{kept.id}/value", json=body, headers={**SCRIPT, "if-match": '"1"'})
    assert answer.status_code == 422
    assert answer.json()["says"]


def test_a_file_that_would_grow_too_long_is_refused_with_the_reason(here: Here) -> None:
    _, shelf, kept = here
    shelf.change(kept.id, 1, KILN + "# " + "x" * 60_000 + "\n", "x")
    answer = put(here, ["job", "name"], "y" * 9000, base=2)
    assert answer.status_code == 422
    assert "at most 65536" in answer.json()["says"]


def test_a_broken_file_takes_no_field_and_is_shown_to_be_mended(here: Here) -> None:
    browser, shelf, kept = here
    shelf.change(kept.id, 1, "[job\n", "x")
    assert put(here, ["roof", "eave"], "1", base=2).status_code == 422
    shown = browser.get(f"/jobs/{kept.id}").text
    assert "Line 1: " in shown and "[job" in shown


def test_what_changed_since_a_revision_can_be_asked_for(here: Here) -> None:
    browser, shelf, kept = here
    shelf.change(kept.id, 1, set_value(KILN, ("roof", "slope"), "17'"), "x")
    answer = browser.get(f"/jobs/{kept.id}/value?since=1&at=0").json()
    assert [field["id"] for field in answer["fields"]] == ["roof-slope"]
    assert browser.get(f"/jobs/{kept.id}/value?since=99").status_code == 404
    assert browser.get(f"/jobs/{kept.id}/value?since=no").status_code == 422


def test_rows_come_and_go(here: Here) -> None:
    browser, shelf, kept = here
    for way, table, count in (("opening", "opening", 2), ("opening/0/copy", "opening", 3), ("tool", "tool", 1),
                              ("opening/2/remove", "opening", 2), ("tool/0/remove", "tool", 0)):  # fmt: skip
        now = shelf.get(kept.id).revision
        answer = browser.post(f"/jobs/{kept.id}/rows/{way}?base={now}")
        assert answer.status_code == 303, way
        assert len(stands(here).get(table, [])) == count
    assert [past.label for past in shelf.history(kept.id)][:2] == [
        "page_form.did.remove_tool ", "page_form.did.remove_opening flue stack 2",
    ]  # fmt: skip
    assert browser.get(f"/jobs/{kept.id}/history").status_code == 200


def test_a_row_is_added_over_a_newer_text_and_only_the_row_that_was_meant_is_removed(here: Here) -> None:
    browser, shelf, kept = here
    put(here, ["roof", "eave"], "22' 4")
    assert browser.post(f"/jobs/{kept.id}/rows/opening?base=1").status_code == 303
    assert stands(here)["roof"]["eave"] == "22' 4"
    gone = shelf.change(kept.id, 3, remove_row(shelf.get(kept.id).text, "opening", 0), "x")
    assert browser.post(f"/jobs/{kept.id}/rows/opening/1/remove?base=3").status_code == 412
    assert shelf.get(kept.id).revision == gone.revision


@pytest.mark.parametrize("way", ["roof", "nothing", "opening/5/copy", "opening/-1/remove", "job/0/remove"])
def test_a_row_that_is_not_there_is_not_found(here: Here, way: str) -> None:
    browser, _, kept = here
    assert browser.post(f"/jobs/{kept.id}/rows/{way}?base=1").status_code == 404


def test_typing_a_figure_is_one_step_of_history(here: Here) -> None:
    browser, shelf, kept = here
    base = 1
    for typed in ("2", "24", "24 ", "24 1", "24 1/2"):
        base = put(here, ["opening", 0, "width"], typed, base=base).json()["revision"]
    assert shelf.undo(kept.id, base).text == KILN
    assert "Opening 1: Width" in browser.get(f"/jobs/{kept.id}/history").text


def test_an_opening_s_own_measures_are_given_when_asked_for(here: Here) -> None:
    browser, _, kept = here
    assert 'id="f-opening-0-upstand"' in browser.get(f"/jobs/{kept.id}/own/0").text
    assert browser.get(f"/jobs/{kept.id}/own/1").status_code == 404


def test_how_many_findings_stop_the_work_is_told_once_the_job_is_whole(here: Here) -> None:
    browser, shelf, kept = here
    assert browser.get(f"/jobs/{kept.id}/stops").json() == {
        "revision": 1, "says": "Nothing forbids cutting. See the findings", "must": False,
    }  # fmt: skip
    shelf.change(kept.id, 1, set_value(KILN, ("roof", "eave"), None), "x")
    assert browser.get(f"/jobs/{kept.id}/stops").json()["says"] == ""


def test_what_is_typed_is_text_on_the_page(here: Here) -> None:
    browser, _, kept = here
    name = "</textarea></script><img src=x onerror=alert(1)>\"'{{7*7}}"
    put(here, ["opening", 0, "name"], name)
    put(here, ["roof", "eave"], name, base=2)
    shown = browser.get(f"/jobs/{kept.id}").text
    assert "<img" not in shown and "</textarea></script>" not in shown
    assert shown.count("&lt;img src=x") >= 3
