"""See without a browser: what it says of a job, what it keeps of the steps, what it refuses."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from lapwright.draw.glb import Node
from lapwright.draw.mesh import prism
from lapwright.draw.seen import Named, owner, seen_svg
from lapwright.rules import rules
from lapwright.site.fields import FIELDS
from lapwright.store.shelf import Kept, Shelf
from lapwright.verbs import see, see_told
from lapwright.verbs.jobs import example, examples, worked_out
from page_server import page

Served = tuple[httpx.Client, Shelf]


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    with page(tmp_path) as both:
        yield both


def kept(shelf: Shelf, text: str) -> Kept:
    return shelf.add(text, "New job")


def test_a_plate_seen_from_above_is_its_outline_turned_upslope_up() -> None:
    # 4 x 2 at x 1, y 3 on a roof 10 up the slope: on the picture y runs from 10 - 5 to 10 - 3
    ring = ((1.0, 3.0), (5.0, 3.0), (5.0, 5.0), (1.0, 5.0))
    plate = prism(ring, [(x, y, 0.0) for x, y in ring], [(x, y, 1.0) for x, y in ring])
    svg = seen_svg([Node("a (2)", "step 01", plate, (0, 0, 0, 255))], (20.0, 10.0), [Named("<b>", (5, 5))], "t")
    (path,) = re.findall(r'data-piece="a" d="M([^"]*)Z"', svg)
    corners = {tuple(float(n) for n in point.split()) for point in path.split("L")}
    assert corners == {(1, 7), (5, 7), (5, 5), (1, 5)}
    assert "&lt;b&gt;" in svg


def test_copies_and_ribs_belong_to_their_piece() -> None:
    assert [owner(n) for n in ("1-apron", "1-backing-plate (2)", "panel-2 rib")] == [
        "1-apron", "1-backing-plate", "panel-2",
    ]  # fmt: skip


def test_every_rule_that_names_a_field_names_one_that_is_there() -> None:
    fields = {(f.table, f.name) for f in FIELDS}
    assert [key for key, field in see_told.MENDS.items() if key not in rules() or field not in fields] == []


@pytest.mark.parametrize("name", examples())
def test_every_piece_lies_on_the_picture_and_every_step_has_a_name_of_its_own(name: str) -> None:
    job = worked_out(example(name), "job.toml")
    drawn = set(re.findall(r'data-piece="([^"]*)"', see.roof(job)))
    listed = {p.id for p in see.pieces(job)}
    assert drawn <= listed | {f"{k}-opening" for k in range(1, 9)}
    assert {p.id for p in job.panels} <= drawn
    keys = see_told.step_keys(job)
    assert len(set(keys)) == len(job.steps)


def test_a_tick_stays_with_its_step_when_another_comes_before_it() -> None:
    # a roof that lies there already is opened up first: one step more at the start
    new = worked_out(example("kiln-shed"), "job.toml")
    text = example("kiln-shed").replace("[panel]", 'work = "existing"\n\n[panel]')
    old = worked_out(text, "job.toml")
    membrane = next(k for k in see_told.step_keys(new) if "membrane" in k)
    assert membrane in see_told.step_keys(old)
    assert see_told.step_keys(new).index(membrane) != see_told.step_keys(old).index(membrane)


def test_steps_are_ticked_and_unknown_ones_refused(served: Served) -> None:
    browser, shelf = served
    job = kept(shelf, example("kiln-shed"))
    key = see_told.step_keys(worked_out(job.text, "x"))[0]
    answer = browser.put(f"/jobs/{job.id}/steps/{key}", json={"done": True})
    assert answer.json() == {"done": True, "count": 1, "says": "1 of 18 done"}
    assert shelf.ticked(job.id) == {key}
    assert browser.put(f"/jobs/{job.id}/steps/nothing", json={"done": True}).status_code == 404
    assert browser.put(f"/jobs/{job.id}/steps/{key}", json={"done": "maybe"}).status_code == 422
    assert shelf.ticked(job.id) == {key}


@pytest.mark.parametrize("view", ["roof", "blanks", "model", "findings", "water", "steps", "list"])
def test_a_stopped_job_says_do_not_cut_on_every_view(served: Served, view: str) -> None:
    browser, shelf = served
    job = kept(shelf, example("must-stop"))
    assert 'class="stop-bar"' in browser.get(f"/jobs/{job.id}/see/{view}").text


def test_what_cannot_be_left_out_is_said(served: Served) -> None:
    browser, shelf = served
    job = kept(shelf, example("kiln-shed"))
    text = browser.get(f"/jobs/{job.id}/see/water", params={"without": "<moon>"}).text
    assert "Nothing of that name" in text and "&lt;moon&gt;" in text
