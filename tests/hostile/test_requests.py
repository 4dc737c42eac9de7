"""Thousands of requests nobody should send: each is answered with a sentence, none with a fault of the server.

LAPWRIGHT_REQUESTS sets how many (250 in the ordinary run; the bar is 2,000, then `-s` prints the figure).
"""

from __future__ import annotations

import json
import os
import re
from collections import Counter
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from fastapi import FastAPI
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lapwright.store.shelf import Shelf
from lapwright.verbs.jobs import example
from lapwright.web.app import create_app
from page_server import Called, client, page, routes

REQUESTS = int(os.environ.get("LAPWRIGHT_REQUESTS", "250"))
SAFE_CHARACTERS = st.characters(codec="utf-8", exclude_characters="\r\n\0")
AWKWARD = [
    "", "0", "-1", "1", "2", "99999999999999999999", "x", "null", "..", "../..", "%00", "%0d%0a", "\u0000", "é", "💧",
    "<script>alert(1)</script>", "' OR 1=1 --", "opening", "letter", "a4", "None", "[]", "{}", "NaN", "1e999",
]  # fmt: skip
WORD = st.sampled_from(AWKWARD) | st.text(SAFE_CHARACTERS, max_size=12)
# Whatever JSON can say, and what Python can that JSON cannot: half a pair, NaN, endless digits.
VALUE = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20)
    | st.sampled_from(["\ud83d", 10**400, "opening", "88 1/2", "roof", "eave", 0, 1]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6), inner, max_size=4), max_leaves=6,
)  # fmt: skip
PARTS = ["roof", "eave", "opening", "job", "name", "site", 0, 1, -1, 10**30]
EDIT = st.fixed_dictionaries(
    {},
    optional={
        "path": st.lists(st.sampled_from(PARTS) | VALUE, max_size=4) | VALUE,
        "typed": st.text(max_size=20) | VALUE, "done": VALUE,
    },
)  # fmt: skip
JSON, FORM, PARTED = "application/json", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x"
FILE = b'--x\r\nContent-Disposition: form-data; name="start"\r\n\r\nfile\r\n--x--\r\n'
BODY = st.one_of(
    st.tuples(st.just(JSON), (EDIT | VALUE).map(lambda v: json.dumps(v).encode())),
    st.tuples(st.just(JSON), st.sampled_from([b"", b"[" * 60_000, b"{"])),
    st.tuples(st.just(FORM), st.sampled_from(["blank", "example:kiln-shed", "example:..", "file"]).map(
        lambda start: f"start={start}&theme={start}&back=/".encode())),
    st.tuples(st.just(PARTED), st.sampled_from([FILE, b"--x\r\nbroken", b""])),
    st.tuples(st.just("text/plain"), st.binary(max_size=60) | st.sampled_from(
        [example("kiln-shed").encode(), b"x" * 70_000, b'[job]\nname = "' + b"a." * 900])),
)  # fmt: skip
METHOD = st.sampled_from(["GET", "POST", "PUT", "DELETE", "HEAD", "PATCH", "OPTIONS", "BREW"])
LOST = ["/", "/{x}", "/static/{x}", "/jobs/{id}", "/jobs/{id}/{x}", "/jobs/{id}/history/{x}", "/jobs/{x}/{y}/{z}"]
KIND = st.sampled_from([JSON, FORM, PARTED, "multipart/form-data", "application/json; charset=utf-16", "\xff", ""])
REVISION = st.sampled_from(['"1"', '"1"', '"2"', "1", '"0"', "*", "", 'W/"1"', f'"{10**20}"', '"\xff"', '"1", "2"'])
QUERY = st.sampled_from(["base", "before", "back", "token", "without", "paper"]) | WORD


@st.composite
def asked(draw: st.DrawFn, known: list[tuple[str, str]], jobs: list[str]) -> dict[str, Any]:
    """A request: most know the way and the job and have something odd with them; some know nothing."""
    lost = draw(st.integers(0, 7)) == 7
    method, pattern = (draw(METHOD), draw(st.sampled_from(LOST))) if lost else draw(st.sampled_from(known))
    job = draw(WORD if lost else st.sampled_from(jobs))
    path = re.sub(r"\{(\w+)[^}]*\}", lambda m: quote(job if m[1] == "id" else draw(WORD), safe=""), pattern)
    kind, body = draw(BODY)
    return {
        "method": method, "url": path, "params": draw(st.dictionaries(QUERY, WORD, max_size=2)), "content": body,
        "headers": {
            "content-type": draw(st.just(kind) | KIND).encode("latin-1"),
            "if-match": draw(REVISION).encode("latin-1"),
            "accept": draw(st.sampled_from(["application/json", "text/html", "*/*"])),
            "cookie": draw(st.sampled_from(["theme=dark", "theme=<x>", "lapwright=1; theme", "=;=", ""])),
        },
    }  # fmt: skip


def ask(app: FastAPI, jobs: list[str], requests: int) -> Counter[int]:
    """Send so many requests; how many of each status came back."""
    seen = Counter[int]()
    with client("http://127.0.0.1:8765", transport=Called(app)) as browser:

        @settings(max_examples=requests, suppress_health_check=list(HealthCheck))
        @given(asked(routes(app), jobs))
        def one(request: dict[str, Any]) -> None:
            seen[browser.request(**request).status_code] += 1

        one()
    return seen


def shelf_of_jobs(folder: Path) -> tuple[Shelf, list[str]]:
    """A planned job, a job that must stop, a broken one and an empty one."""
    shelf = Shelf(folder)
    texts = [example("kiln-shed"), example("must-stop"), "[job\nname =", '[job]\nname = "Empty"\n']
    return shelf, [shelf.add(text, "unnamed").id for text in texts]


def test_no_request_brings_the_server_down(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shelf, jobs = shelf_of_jobs(tmp_path)
    app = create_app(shelf)
    assert ("POST", "/jobs/{id}/back/{revision}") in routes(app)
    seen = ask(app, jobs, REQUESTS)
    shelf.close()
    faults = sum(n for status, n in seen.items() if status >= 500)
    told = capsys.readouterr().err
    print(f"{seen.total()} requests: " + ", ".join(f"{n} x {status}" for status, n in sorted(seen.items())))
    assert faults == 0, told[-3000:]
    # not all of them stop at the door
    assert seen[200] > REQUESTS / 10 and seen[404] > 0 and seen[428] > 0


def test_a_route_that_breaks_on_an_odd_word_is_found_out(tmp_path: Path) -> None:
    shelf, jobs = shelf_of_jobs(tmp_path)
    app = create_app(shelf)

    @app.get("/odd/{word}")
    def odd(word: str) -> int:
        return int(word)

    assert ask(app, jobs, 150)[500] > 0
    shelf.close()


@pytest.mark.parametrize(
    "content", [b"[" * 200_000, b'{"path":' * 50_000, b'"\\ud83d"', b"\xff", b"NaN", b"1" * 10_000]
)
def test_a_body_no_reader_likes_is_a_sentence(tmp_path: Path, content: bytes) -> None:
    with page(tmp_path) as (browser, shelf):
        id = shelf.add(example("kiln-shed"), "").id
        for method, path in (("PUT", "value"), ("PUT", "steps/x"), ("POST", "openings"), ("PUT", "job.toml")):
            headers = {"content-type": "application/json", "if-match": '"1"'}
            answer = browser.request(method, f"/jobs/{id}/{path}", content=content, headers=headers)
            assert answer.status_code < 500, (path, answer.text)
