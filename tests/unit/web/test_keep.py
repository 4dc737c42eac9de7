"""A job's keeping: its file out and in, undo and redo, history, and a save that came too late."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from lapwright.store.shelf import Kept, Shelf
from lapwright.verbs.jobs import example
from lapwright.web.keep import MOST
from page_server import page

Served = tuple[httpx.Client, Shelf]
SCRIPT = {"accept": "application/json"}


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    with page(tmp_path) as both:
        yield both


@pytest.fixture
def kept(served: Served) -> Kept:
    return served[1].add("[job]\nname = 'Barn'\n", "")


def put(browser: httpx.Client, id: str, text: str | bytes, base: int | str | None) -> httpx.Response:
    headers = SCRIPT if base is None else {**SCRIPT, "if-match": f'"{base}"' if isinstance(base, int) else base}
    return browser.put(f"/jobs/{id}/job.toml", content=text, headers=headers)


def test_the_job_file_comes_out_as_it_went_in(served: Served, kept: Kept) -> None:
    browser = served[0]
    text = '# é\r\n[job]\r\nname = "Byre"\r\n'
    saved = put(browser, kept.id, text, 1)
    assert {k: saved.json()[k] for k in ("revision", "text_name", "undo", "redo")} == {
        "revision": 2, "text_name": "Byre", "undo": True, "redo": False,
    }  # fmt: skip
    out = browser.get(f"/jobs/{kept.id}/job.toml")
    assert out.content == text.encode()
    assert out.headers["etag"] == saved.headers["etag"] == '"2"'
    assert out.headers["content-disposition"].startswith("attachment")


def test_a_save_must_say_what_it_was_made_from(served: Served, kept: Kept) -> None:
    browser, shelf = served
    for base in (None, "", "*", '"x"', "-1", '"1', "1.0", "9" * 40):
        assert put(browser, kept.id, "[job]\n", base).status_code == 428, base
    assert shelf.get(kept.id).revision == 1
    assert put(browser, kept.id, "[job]\n", "1").status_code == 200


def test_a_save_that_comes_too_late_is_refused_and_gives_both_texts(served: Served, kept: Kept) -> None:
    browser, shelf = served
    put(browser, kept.id, "mine", 1)
    late = put(browser, kept.id, "yours", 1)
    assert late.status_code == 412
    assert (late.json()["now"], late.json()["sent"]) == ({"revision": 2, "text": "mine"}, "yours")
    assert shelf.get(kept.id).text == "mine"
    seen = browser.put(f"/jobs/{kept.id}/job.toml", content="yours", headers={"if-match": "1"})
    assert seen.status_code == 412
    assert ">mine</pre>" in seen.text and ">yours</pre>" in seen.text


def test_a_broken_text_is_kept_and_one_that_is_no_text_is_not(served: Served, kept: Kept) -> None:
    browser, shelf = served
    saved = put(browser, kept.id, "[job\nna", 1)
    assert saved.status_code == 200
    assert len(saved.json()["problems"]) == 1
    assert saved.json()["problems"][0].startswith("Barn:1:5: job file:")
    assert put(browser, kept.id, b"\xff\xfe", 2).status_code == 413
    assert put(browser, kept.id, "x" * 65537, 2).status_code == 413
    assert shelf.get(kept.id).text == "[job\nna"


def test_a_job_file_that_can_be_planned_has_no_problems(served: Served, kept: Kept) -> None:
    assert put(served[0], kept.id, example("kiln-shed"), 1).json()["problems"] == []


def test_a_save_the_disk_refuses_is_never_called_saved(served: Served, kept: Kept) -> None:
    browser, shelf = served
    shelf._db.execute("PRAGMA query_only = ON")
    refused = put(browser, kept.id, "two", 1)
    assert refused.status_code == 507
    assert refused.json()["says"].startswith("Not saved: the disk refused")
    assert browser.post("/jobs", data={"start": "blank"}).status_code == 507
    shelf._db.execute("PRAGMA query_only = OFF")
    assert shelf.get(kept.id) == kept
    assert put(browser, kept.id, "two", 1).status_code == 200


def test_undo_and_redo_answer_a_person_with_the_page_they_came_from(served: Served, kept: Kept) -> None:
    browser, shelf = served
    put(browser, kept.id, "two", 1)
    came_from = f"{browser.base_url}/jobs/{kept.id}"
    for place in ("", "/see", "/take", "/history"):
        again = browser.post(f"/jobs/{kept.id}/undo?base=2", headers={"referer": came_from + place})
        assert (again.status_code, again.headers["location"]) == (303, f"/jobs/{kept.id}{place}")
        browser.post(f"/jobs/{kept.id}/redo?base=1")
    away = browser.post(f"/jobs/{kept.id}/undo?base=2", headers={"referer": "http://evil.example/"})
    assert away.headers["location"] == f"/jobs/{kept.id}"
    assert shelf.get(kept.id).revision == 1


def test_undo_and_redo_answer_a_script_with_how_the_job_stands(served: Served, kept: Kept) -> None:
    browser = served[0]
    put(browser, kept.id, "two", 1)
    undone = browser.post(f"/jobs/{kept.id}/undo", headers={**SCRIPT, "if-match": '"2"'}).json()
    assert (undone["revision"], undone["undo"], undone["redo"]) == (1, False, True)
    redone = browser.post(f"/jobs/{kept.id}/redo", headers={**SCRIPT, "if-match": '"1"'}).json()
    assert (redone["revision"], redone["undo"], redone["redo"]) == (2, True, False)
    assert browser.post(f"/jobs/{kept.id}/undo", headers=SCRIPT).status_code == 428
    assert browser.post(f"/jobs/{kept.id}/undo?base=1", headers=SCRIPT).status_code == 412


def test_the_buttons_say_whether_there_is_anything_to_undo(served: Served, kept: Kept) -> None:
    browser = served[0]
    assert browser.get(f"/jobs/{kept.id}/history").text.count(" disabled>") == 2
    put(browser, kept.id, "two", 1)
    shown = browser.get(f"/jobs/{kept.id}/history").text
    assert 'id="undo">' in shown and 'id="redo" disabled>' in shown


def test_history_shows_every_state_and_goes_back_to_one(served: Served, kept: Kept) -> None:
    browser, shelf = served
    shelf.change(kept.id, 1, "[job]\nname = 'Byre'\n", "page.did.file")
    shown = browser.get(f"/jobs/{kept.id}/history").text
    assert "Job file brought in" in shown and "Started" in shown and "called Barn" in shown
    assert "name = &#39;Barn&#39;" in browser.get(f"/jobs/{kept.id}/history/1").text
    browser.post(f"/jobs/{kept.id}/back/1?base=2")
    assert shelf.get(kept.id).text == kept.text
    assert "Went back to state 1" in browser.get(f"/jobs/{kept.id}/history").text


def test_a_label_that_is_no_sentence_shows_as_it_is(served: Served, kept: Kept) -> None:
    browser, shelf = served
    shelf.change(kept.id, 1, "2", "opening[1].left <b>")
    assert "opening[1].left &lt;b&gt;" in browser.get(f"/jobs/{kept.id}/history").text


def rows(shown: str) -> int:
    return len(re.findall(r"<li[ >]", shown))


def test_a_long_history_comes_a_page_at_a_time_and_half_typed_states_are_left_out(served: Served, kept: Kept) -> None:
    browser, shelf = served
    base = 1
    for n in range(MOST + 5):
        base = shelf.change(kept.id, base, str(n), f"label {n}").revision
    base = shelf.change(kept.id, base, "half typed", "typing").revision
    base = shelf.change(kept.id, base, "typed", "typing").revision
    first = browser.get(f"/jobs/{kept.id}/history").text
    assert rows(first) == MOST + 1  # and the way to older ones
    # revisions: 1 started, 2..106 labels, 107 passing (left out), 108 typed; the first page ends with 108-100 = 8
    assert 'href="?before=8"' in first
    second = browser.get(f"/jobs/{kept.id}/history?before=8").text
    assert rows(second) == 7
    assert "Older states" not in second


@pytest.mark.parametrize(
    ("method", "path"),
    [("GET", "history/99"), ("GET", f"history/{10**30}"), ("POST", "back/99?base=1"), ("GET", "nothing")],
)
def test_a_state_or_page_that_never_was_is_not_found(served: Served, kept: Kept, method: str, path: str) -> None:
    assert served[0].request(method, f"/jobs/{kept.id}/{path}").status_code == 404


@pytest.mark.parametrize("path", ["history/x", "history/0", "history/-1", "history?before=x"])
def test_a_revision_that_is_no_number_is_a_sentence(served: Served, kept: Kept, path: str) -> None:
    answer = served[0].get(f"/jobs/{kept.id}/{path}")
    assert answer.status_code == 422
    assert "could not be understood" in answer.text
