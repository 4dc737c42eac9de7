"""A hundred names that are script, markup or worse: on every page they are text and nothing else.

LAPWRIGHT_NAMES sets for how many of them every page is read (2 in the ordinary run, two pages for the others; the bar
is 100), and for a fifth of them every drawing and list.
"""

from __future__ import annotations

import csv
import io
import json
import os
import re
from collections.abc import Iterable
from html.parser import HTMLParser
from importlib.resources import files
from pathlib import Path
from urllib.parse import quote

import httpx
import pytest
from fastapi import FastAPI

from lapwright.store.shelf import Shelf
from lapwright.verbs.jobs import example
from lapwright.verbs.plan import plan
from lapwright.web import app as page
from lapwright.web.app import create_app
from page_server import Called, client, routes

TAGS = ["script", "img", "svg", "iframe", "a", "style", "base", "form", "object", "math", "template", "details"]
STARTS = ["", '"', "'", "-->", "</title>", "</pre>", "</textarea>", "]]>"]
HOSTILE = [
    *(f"{start}<{tag} src=x onerror=x() href=javascript:x>" for start in STARTS for tag in TAGS),
    "{{ 7 * 7 }}", "{% raw %}", "${alert(1)}", "\u202egnp.exe\u202c<b>",
]  # fmt: skip
assert len(HOSTILE) == 100
FILES = max(1, int(os.environ.get("LAPWRIGHT_NAMES", "2")) // 5)
EVERY_PAGE = int(os.environ.get("LAPWRIGHT_NAMES", "2"))
PACKET_SCRIPT = files("lapwright.packet").joinpath("pages", "offline.js").read_text(encoding="utf-8")
OWN_PICTURE = re.compile(r"/jobs/[0-9a-f]+/see/drawings/[\w.-]+\.svg")
OWN_SCRIPT = re.compile(r"/static/[\w./-]+\.js(\?[\w=.-]*)?")


class Reader(HTMLParser):
    """What a browser would make of a page: its text, and what in it could run."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.runs: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        data = given.get("type") == "application/json"
        if tag == "script" and not data and not OWN_SCRIPT.fullmatch(given.get("src") or ""):
            self.runs.append(self.get_starttag_text() or tag)
        if tag == "img" and not OWN_PICTURE.fullmatch(given.get("src") or ""):
            self.runs.append(self.get_starttag_text() or tag)
        if tag in ("iframe", "object", "embed", "base", "math"):
            self.runs.append(self.get_starttag_text() or tag)
        for name, value in given.items():
            if name.startswith("on") or (value or "").strip().lower().startswith("javascript:"):
                self.runs.append(f"{tag} {name}={value}")

    def handle_data(self, data: str) -> None:
        if data == PACKET_SCRIPT and self.runs and self.runs[-1] == "<script>":
            self.runs.pop()  # the packet's one script, every letter of it ours
        self.words.append(data)

    def text(self) -> str:
        """What is read on the page."""
        return spaced(" ".join(self.words))


def read(html: str) -> Reader:
    reader = Reader()
    reader.feed(html)
    reader.close()
    return reader


def named(name: str) -> str:
    """An example whose job and opening have this name."""
    text = json.dumps(name, ensure_ascii=False)
    job = re.sub(r'(?m)^name = "Kiln shed"$', lambda _: f"name = {text}", example("kiln-shed"))
    return re.sub(r"(\[\[opening\]\]\nname = )\"[^\"]*\"", lambda m: m[1] + text, job)


def pages(app: FastAPI, id: str) -> list[str]:
    """Every page about a job that can be asked for by its address alone."""
    about = [p for method, p in routes(app) if method == "GET" and "{id}" in p and p.count("{") == 1]
    return [*(p.replace("{id}", id) for p in about), f"/jobs/{id}/history/1"]


def spaced(text: str) -> str:
    """As a browser shows it: one blank for any run of them."""
    return " ".join(text.split())


def shown(browser: httpx.Client, paths: Iterable[str]) -> dict[str, Reader]:
    """Those pages that come as HTML."""
    answers = {path: browser.get(path) for path in paths}
    return {
        path: read(answer.text) for path, answer in answers.items()
        if answer.headers.get("content-type", "").startswith("text/html") and answer.status_code == 200
    }  # fmt: skip


def test_hostile_names_are_text_on_every_page(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    app = create_app(shelf)
    with client("http://127.0.0.1:8765", transport=Called(app)) as browser:
        for n, name in enumerate(HOSTILE):
            text = named(name)
            assert text != example("kiln-shed")
            id = shelf.add(text, name).id
            some = (f"/jobs/{id}", f"/jobs/{id}/history/1")
            every = n * EVERY_PAGE % 100 < EVERY_PAGE
            seen = shown(browser, pages(app, id) if every else some)
            assert set(some) <= set(seen)
            for path, reader in seen.items():
                assert reader.runs == [], path
                assert spaced(name) in reader.text(), path
        (home,) = shown(browser, ["/"]).values()
        assert home.runs == []
        assert [name for name in HOSTILE if spaced(name) not in home.text()] == []
    shelf.close()


def test_hostile_names_are_text_in_every_drawing_and_list() -> None:
    for name in HOSTILE[:: 100 // FILES]:
        made = plan(named(name), "job").files
        drawings = [content.decode() for path, content in made.items() if path.endswith((".svg", ".html"))]
        assert len(drawings) > 10
        for drawing in drawings:
            assert read(drawing).runs == []
        assert json.loads(made["plan.json"])["job"]["name"] == name
        for path in ("cutlist.csv", "takeoff.csv"):
            cells = [cell for row in csv.reader(io.StringIO(made[path].decode("utf-8-sig"))) for cell in row]
            # what a spreadsheet would take for a formula
            assert [c for c in cells if c[:1] in "=@\t\r" and c] == []


def test_hostile_labels_texts_and_failures_are_text(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    app = create_app(shelf)
    with client("http://127.0.0.1:8765", transport=Called(app)) as browser:
        for name in HOSTILE[::7]:
            id = shelf.add("begun", name).id
            shelf.change(id, 1, name, name)
            late = browser.put(f"/jobs/{id}/job.toml", content=name.encode(), headers={"if-match": "1"})
            lost = browser.get("/jobs/" + quote(name, safe=""))
            for answer in (late, lost, browser.get(f"/jobs/{id}/history"), browser.get(f"/jobs/{id}/history/2")):
                assert read(answer.text).runs == []
    shelf.close()


def test_a_page_that_does_not_escape_is_found_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shelf = Shelf(tmp_path)
    careless = page.Desk(shelf)
    careless.templates.autoescape = False
    monkeypatch.setattr(page, "Desk", lambda shelf: careless)
    app = create_app(shelf)
    kept = shelf.add(named(HOSTILE[0]), "")
    with client("http://127.0.0.1:8765", transport=Called(app)) as browser:
        assert read(browser.get(f"/jobs/{kept.id}/history").text).runs != []
    shelf.close()
