"""Who may ask: our own names only, our own pages only, not too much at once; and what every answer says."""

from __future__ import annotations

import asyncio
import socket
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import httpx
import pytest

from lapwright.store.shelf import Shelf
from lapwright.web import guard
from lapwright.web.app import create_app
from lapwright.web.guard import MOST_BODY, Guard
from page_server import page, serving


@pytest.fixture
def served(tmp_path: Path) -> Iterator[tuple[httpx.Client, Shelf]]:
    with page(tmp_path) as both:
        yield both


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "LOCALHOST", "[::1]", "localhost:9", "127.0.0.1:80"])
def test_our_own_names_are_answered(served: tuple[httpx.Client, Shelf], host: str) -> None:
    assert served[0].get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    ["evil.example", "localhost.evil.example", "evil.example:80", "127.0.0.1.evil.example", "127.0.0.1:x",
     "localhost@evil.example", "[::1", "::1", "0.0.0.0", ""],
)  # fmt: skip
def test_another_name_pointed_at_this_machine_gets_nothing(served: tuple[httpx.Client, Shelf], host: str) -> None:
    answer = served[0].get("/", headers={"host": host})
    assert answer.status_code in (400, 421), answer.text
    assert "Jobs" not in answer.text


@pytest.mark.parametrize(
    "origin",
    ["http://evil.example", "null", "", "https://127.0.0.1", "http://127.0.0.1", "http://127.0.0.1:1", "file://"],
)
@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH", "BREW"])
def test_a_change_from_another_page_is_refused(
    served: tuple[httpx.Client, Shelf], origin: str, method: str
) -> None:
    browser, shelf = served
    answer = browser.request(method, "/jobs", data={"start": "blank"}, headers={"origin": origin})
    assert answer.status_code == 403
    assert shelf.jobs() == ()


def test_a_change_without_an_origin_is_refused(served: tuple[httpx.Client, Shelf]) -> None:
    browser, shelf = served
    del browser.headers["origin"]
    assert browser.post("/jobs", data={"start": "blank"}).status_code == 403
    assert shelf.jobs() == ()


def test_a_change_from_our_own_page_is_done(served: tuple[httpx.Client, Shelf]) -> None:
    browser, shelf = served
    assert browser.post("/jobs", data={"start": "blank"}).status_code == 303
    assert len(shelf.jobs()) == 1


def test_a_body_longer_than_twelve_megabytes_is_refused_however_it_is_sent(
    served: tuple[httpx.Client, Shelf],
) -> None:
    browser, shelf = served
    id = shelf.add("1", "").id
    assert MOST_BODY == 12 * 1024 * 1024
    announced = browser.put(f"/jobs/{id}/job.toml", content=b"x" * (MOST_BODY + 1), headers={"if-match": "1"})
    assert announced.status_code == 413

    def pieces() -> Iterator[bytes]:
        for _ in range(13):
            yield b"x" * 1024 * 1024

    chunked = browser.put(f"/jobs/{id}/job.toml", content=pieces(), headers={"if-match": "1"})
    assert chunked.status_code == 413
    assert shelf.get(id).text == "1"


def told(length: str, pieces: list[bytes]) -> tuple[int, int]:
    """Send a body to a guard in pieces: the status, and how many bytes the page behind it saw."""
    seen, sent, waiting = [], [], list(pieces)

    async def behind(scope: Any, receive: Any, send: Any) -> None:
        seen.append(len((await receive())["body"]))
        await send({"type": "http.response.start", "status": 200, "headers": []})
        await send({"type": "http.response.body", "body": b""})

    async def receive() -> dict[str, Any]:
        return {"type": "http.request", "body": waiting.pop(0), "more_body": bool(waiting)}

    async def send(message: dict[str, Any]) -> None:
        sent.append(message)

    headers = [(b"host", b"localhost"), (b"origin", b"http://localhost"), (b"content-length", length.encode())]
    scope = {"type": "http", "method": "PUT", "path": "/", "query_string": b"", "headers": headers, "scheme": "http"}
    asyncio.run(Guard(behind, ["localhost"], lambda key: key.encode())(scope, receive, send))
    return sent[0]["status"], sum(seen)


@pytest.mark.parametrize("length", ["", "1", "-1", "12 MB"])
def test_a_wrong_length_does_not_open_the_door_wider(monkeypatch: pytest.MonkeyPatch, length: str) -> None:
    monkeypatch.setattr(guard, "MOST_BODY", 10)
    assert told(length, [b"12345", b"67890"]) == (200, 10)
    assert told(length, [b"12345", b"67890", b"1"]) == (413, 0)


@pytest.mark.parametrize("length", ["11", "9" * 400])
def test_a_length_too_great_is_refused_before_anything_is_read(monkeypatch: pytest.MonkeyPatch, length: str) -> None:
    monkeypatch.setattr(guard, "MOST_BODY", 10)
    assert told(length, []) == (413, 0)


@pytest.mark.parametrize("path", ["/", "/static/look.css", "/nothing", "/jobs/none/history"])
def test_every_answer_tells_the_browser_what_it_may_do(served: tuple[httpx.Client, Shelf], path: str) -> None:
    headers = served[0].get(path).headers
    policy = headers["content-security-policy"]
    assert "default-src 'self'" in policy and "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy and "*" not in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"
    assert headers["cache-control"] == ("no-cache" if path == "/static/look.css" else "no-store")


def test_a_bug_is_a_plain_sentence_and_shows_nothing_of_the_inside(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shelf = Shelf(tmp_path)
    app = create_app(shelf)

    @app.get("/broken")
    def broken() -> None:
        raise RuntimeError("the secret of the inside")

    with serving(app) as address:
        answer = httpx.get(address + "/broken")
    assert answer.status_code == 500
    assert "What was saved is safe" in answer.text
    for inside in ("secret", "Traceback", "RuntimeError", ".py"):
        assert inside not in answer.text
    assert answer.headers["content-security-policy"].startswith("default-src 'self'")
    assert "the secret of the inside" in capsys.readouterr().err
    shelf.close()


# A page for the whole network.

TOKEN = "k" * 22


def test_on_a_shared_network_nobody_comes_in_without_the_key(tmp_path: Path) -> None:
    with page(tmp_path, token=TOKEN) as (browser, shelf):
        for ask in ("/", "/static/look.css", "/?token=", "/?token=wrong", "/jobs/x", f"/?Token={TOKEN}"):
            assert browser.get(ask).status_code == 401, ask
        for cookie in ("", "lapwright=", "lapwright=wrong", f"other={TOKEN}", "lapwright=\x7f; ;=;"):
            assert browser.get("/", headers={"cookie": cookie}).status_code == 401, cookie
        assert browser.post(f"/jobs?token={TOKEN}", data={"start": "blank"}).status_code == 401
        assert shelf.jobs() == ()


def test_the_printed_address_lets_a_browser_in_for_good(tmp_path: Path) -> None:
    with page(tmp_path, token=TOKEN) as (browser, _):
        come_in = browser.get(f"/?token={TOKEN}")
        assert (come_in.status_code, come_in.headers["location"]) == (303, "/")
        cookie = come_in.headers["set-cookie"]
        assert "HttpOnly" in cookie and "SameSite=Strict" in cookie
        assert browser.get("/").status_code == 200
        assert browser.post("/jobs", data={"start": "blank"}).status_code == 303
        assert browser.post("/jobs", data={"start": "blank"}, headers={"origin": "http://evil"}).status_code == 403
        assert browser.get("/", headers={"host": "evil.example"}).status_code == 421


@pytest.mark.parametrize(
    ("path", "led_to"),
    [("/jobs/a?x=1&", "/jobs/a?x=1"), ("//evil.example?", "/evil.example"), ("/\\evil.example?", "/evil.example"),
     ("/%0d%0aset-cookie:a?", "/%0D%0Aset-cookie%3Aa")],
)  # fmt: skip
def test_the_key_never_leads_elsewhere(tmp_path: Path, path: str, led_to: str) -> None:
    with closing(Shelf(tmp_path)) as shelf, serving(create_app(shelf, token=TOKEN)) as address:
        raw = raw_get(address, f"{path}token={TOKEN}")
        assert f"location: {led_to}\r\n" in raw
        assert "\r\nset-cookie:a" not in raw


def raw_get(address: str, target: str) -> str:
    """A request no client library would send."""
    host, port = httpx.URL(address).host, httpx.URL(address).port
    with socket.create_connection((host, port or 80), timeout=5) as line:
        line.sendall(f"GET {target} HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n".encode())
        return b"".join(iter(lambda: line.recv(65536), b"")).decode()
