"""The first page: jobs start, from nothing, from an example or from a file; removed ones come back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from lapwright.errors import JobProblems
from lapwright.site.read import read_job
from lapwright.store.shelf import Shelf
from lapwright.verbs.jobs import examples
from page_server import page

ROOT = Path(__file__).parents[3]
Served = tuple[httpx.Client, Shelf]


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    with page(tmp_path) as both:
        yield both


def start(browser: httpx.Client, **form: object) -> httpx.Response:
    files = form.pop("files", None)
    return browser.post("/jobs", data=form, files=files)  # type: ignore[arg-type]


def test_the_first_page_says_what_to_do_when_there_is_no_job(served: Served) -> None:
    answer = served[0].get("/")
    assert "No jobs yet" in answer.text
    assert answer.headers["content-type"] == "text/html; charset=utf-8"


@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_job_from_nothing_has_its_name_and_unit_and_opens(served: Served, units: str) -> None:
    browser, shelf = served
    answer = start(browser, start="blank", units=units)
    (kept,) = shelf.jobs()
    assert answer.headers["location"] == f"/jobs/{kept.id}"
    assert kept.text == f'[job]\nname = "New job"\nunits = "{units}"\n'
    assert browser.get(answer.headers["location"]).status_code == 200
    assert browser.get("/").text.count("New job</a>") == 1


def test_a_unit_nobody_knows_is_inches(served: Served) -> None:
    browser, shelf = served
    start(browser, start="blank", units='furlong"\n[evil]')
    assert shelf.jobs()[0].text == '[job]\nname = "New job"\nunits = "in"\n'


def test_every_example_opens_as_it_lies_in_its_folder(served: Served) -> None:
    browser, shelf = served
    folders = sorted(p.parent.name for p in (ROOT / "examples").glob("*/job.toml"))
    assert list(examples()) == folders
    for name in folders:
        start(browser, start=f"example:{name}")
        assert shelf.jobs()[0].text == (ROOT / "examples" / name / "job.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["", "none", "..", "../pyproject.toml", "kiln-shed/../kiln-shed", "/", "a\0b"])
def test_an_example_that_is_none_is_not_looked_for_elsewhere(served: Served, name: str) -> None:
    browser, shelf = served
    assert start(browser, start=f"example:{name}").status_code == 404
    assert shelf.jobs() == ()


def test_a_job_file_from_elsewhere_is_kept_to_the_letter(served: Served) -> None:
    browser, shelf = served
    text = '# my barn\r\n[job]\r\nname = "Barn"   # ours\r\n'
    start(browser, start="file", files={"file": ("barn.toml", text.encode("utf-8-sig"))})
    (kept,) = shelf.jobs()
    assert (kept.name, kept.text) == ("Barn", text)


def test_a_broken_job_file_is_kept_so_that_measure_can_say_what_is_wrong(served: Served) -> None:
    browser, shelf = served
    start(browser, start="file", files={"file": ("barn.toml", b"[job\nname = ")})
    (kept,) = shelf.jobs()
    assert kept.text == "[job\nname = "
    with pytest.raises(JobProblems):
        read_job(kept.text, kept.name)


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"x" * 65537])
def test_what_is_no_job_file_at_all_is_refused_with_a_sentence(served: Served, content: bytes) -> None:
    browser, shelf = served
    answer = start(browser, start="file", files={"file": ("barn.toml", content)})
    assert answer.status_code == 413
    assert 'role="alert"' in answer.text
    assert shelf.jobs() == ()


@pytest.mark.parametrize("form", [{}, {"start": "file"}, {"start": "nonsense"}, {"start": ""}])
def test_a_start_that_says_nothing_starts_nothing(served: Served, form: dict[str, str]) -> None:
    browser, shelf = served
    assert start(browser, **form).status_code in (404, 422)
    assert shelf.jobs() == ()


def test_a_job_is_removed_and_restored(served: Served) -> None:
    browser, shelf = served
    id = shelf.add("[job]\nname = 'Barn'\n", "").id
    assert browser.post(f"/jobs/{id}/remove").status_code == 428
    assert browser.post(f"/jobs/{id}/remove?base=2").status_code == 412
    assert browser.post(f"/jobs/{id}/remove?base=1").headers["location"] == "/"
    assert browser.get(f"/jobs/{id}/history").status_code == 404
    shown = browser.get("/").text
    assert f"/jobs/{id}/restore" in shown and f'href="/jobs/{id}"' not in shown
    assert browser.post(f"/jobs/{id}/restore").headers["location"] == f"/jobs/{id}"
    assert f'href="/jobs/{id}"' in browser.get("/").text
    assert browser.post("/jobs/none/restore").status_code == 404


def test_the_look_is_remembered_and_leads_back_to_where_it_was_set(served: Served) -> None:
    browser, shelf = served
    id = shelf.add("1", "Barn").id
    assert 'data-theme="auto"' in browser.get("/").text
    back = browser.post("/theme", data={"theme": "contrast", "back": f"/jobs/{id}/history"})
    assert back.headers["location"] == f"/jobs/{id}/history"
    assert 'data-theme="contrast"' in browser.get("/").text
    browser.post("/theme", data={"theme": '"><script>', "back": "/"})
    assert 'data-theme="contrast"' in browser.get("/").text


@pytest.mark.parametrize("back", ["//evil.example", "https://evil.example", "/\\evil.example", "", "é", "/é"])
def test_the_look_never_leads_elsewhere(served: Served, back: str) -> None:
    assert served[0].post("/theme", data={"theme": "dark", "back": back}).headers["location"] == "/"
