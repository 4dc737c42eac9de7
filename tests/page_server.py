"""The page for a test: called as a function, served in a thread, or as a program of its own that can be killed."""

from __future__ import annotations

import asyncio
import os
import re
import signal
import socket
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import unquote_to_bytes

import httpx
import uvicorn
from fastapi import FastAPI

from lapwright.store.shelf import Shelf
from lapwright.web.app import create_app

START = "import sys; sys.argv[0] = 'lapwright'; from lapwright.cli import main; main()"


def client(address: str, **settings: Any) -> httpx.Client:
    """A browser's stand-in: it sends the Origin of the page it stands on."""
    return httpx.Client(base_url=address, headers={"origin": address.rstrip("/")}, timeout=20, **settings)


@contextmanager
def serving(app: Any) -> Iterator[str]:
    """Any ASGI app on a free port of this machine, in a thread; gives its address."""
    with socket.socket(proto=socket.IPPROTO_TCP) as listening:  # as the server does it: no waiting for packets
        listening.bind(("127.0.0.1", 0))
        listening.listen(64)
        config = uvicorn.Config(app, log_level="critical", lifespan="off", ws="none", timeout_graceful_shutdown=1)
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, args=([listening],), daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{listening.getsockname()[1]}"
        finally:
            server.should_exit = True
            thread.join(10)


class Called(httpx.BaseTransport):
    """Requests as calls of an ASGI app, no port and no thread of its own; what it raises is raised here."""

    def __init__(self, app: Any) -> None:
        self.app, self.loop = app, asyncio.new_event_loop()

    def handle_request(self, request: httpx.Request) -> httpx.Response:
        assert isinstance(request.stream, httpx.SyncByteStream)
        pieces = iter(request.stream)
        begun: dict[str, Any] = {}
        body = bytearray()

        told: list[bool] = []

        async def receive() -> dict[str, Any]:
            if told:  # the browser waits for its answer
                await asyncio.Event().wait()
            piece = next(pieces, None)
            if piece is None:
                told.append(True)
            return {"type": "http.request", "body": piece or b"", "more_body": piece is not None}

        async def send(message: Any) -> None:
            begun.update(message)
            body.extend(message.get("body", b""))

        path, _, query = request.url.raw_path.partition(b"?")
        scope = {
            "type": "http", "asgi": {"version": "3.0", "spec_version": "2.4"}, "http_version": "1.1",
            "method": request.method, "scheme": request.url.scheme,
            "path": unquote_to_bytes(path).decode("utf-8", "replace"), "raw_path": path, "query_string": query,
            "root_path": "", "headers": [(k.lower(), v) for k, v in request.headers.raw],
            "client": ("127.0.0.1", 50000), "server": ("127.0.0.1", 80),
        }  # fmt: skip
        self.loop.run_until_complete(self.app(scope, receive, send))
        return httpx.Response(begun["status"], headers=begun["headers"], content=bytes(body), request=request)

    def close(self) -> None:
        self.loop.run_until_complete(self.loop.shutdown_default_executor())
        self.loop.close()


@contextmanager
def page(folder: Path, **settings: Any) -> Iterator[tuple[httpx.Client, Shelf]]:
    """The page over a new shelf, and a client that calls it."""
    shelf = Shelf(folder)
    try:
        with client("http://127.0.0.1:8765", transport=Called(create_app(shelf, **settings))) as browser:
            yield browser, shelf
    finally:
        shelf.close()


def routes(app: FastAPI) -> list[tuple[str, str]]:
    """Every method and pattern that is answered, those of parts included."""
    return sorted({(m, route.path) for route in _flat(app.routes) for m in getattr(route, "methods", None) or ()})


def _flat(routes: list[Any]) -> Iterator[Any]:
    for route in routes:
        inner = getattr(getattr(route, "original_router", None), "routes", None)
        yield from _flat(inner) if inner else [route]


class Program:
    """`lapwright serve` as a program of its own."""

    def __init__(self, folder: Path, *words: str) -> None:
        self.run = subprocess.Popen(
            [sys.executable, "-c", START, "serve", "--data", str(folder), "--port", "0", *words],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )  # fmt: skip
        assert self.run.stdout is not None
        said = self.run.stdout.readline()
        found = re.search(r"http://[^\s]+", said)
        assert found, (said, self.run.stderr and self.run.stderr.read())
        self.address = found[0].rstrip("/")

    def stop(self, how: signal.Signals = signal.SIGKILL) -> tuple[int, str]:
        """Stop it; its exit code and what it said on stderr."""
        self.run.send_signal(how)
        _, said = self.run.communicate(timeout=20)
        return self.run.returncode, said
