"""The page, served for a test: in this process on a free port, or as a program of its own that can be killed."""

from __future__ import annotations

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

import httpx
import uvicorn

from lapwright.store.shelf import Shelf
from lapwright.web.app import create_app

START = "import sys; sys.argv[0] = 'lapwright'; from lapwright.cli import main; main()"


def client(address: str, **settings: Any) -> httpx.Client:
    """A browser's stand-in: it sends the Origin of the page it stands on."""
    return httpx.Client(base_url=address, headers={"origin": address.rstrip("/")}, timeout=20, **settings)


@contextmanager
def serving(app: Any) -> Iterator[str]:
    """Any ASGI app on a free port of this machine, in a thread; gives its address."""
    with socket.socket() as listening:
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


@contextmanager
def page(folder: Path, **settings: Any) -> Iterator[tuple[httpx.Client, Shelf]]:
    """The page over a new shelf, and a client on it."""
    shelf = Shelf(folder)
    try:
        with serving(create_app(shelf, **settings)) as address, client(address) as browser:
            yield browser, shelf
    finally:
        shelf.close()


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
