"""A real server on a free port and a real chromium, for what only a browser can show."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from lapwright.store.shelf import Kept, Shelf
from lapwright.web.app import create_app
from page_server import serving

CHROMIUM = Path("/usr/bin/chromium")
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Chromium, once a file: its event loop is in the way of other files' own. The build machine must have it."""
    if not CHROMIUM.exists():
        assert "LAPWRIGHT_BROWSER" not in os.environ, f"{CHROMIUM} is asked for and is not there"
        pytest.skip(f"no browser: {CHROMIUM} is not there (apt-get install chromium)")
    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        yield chromium
        chromium.close()


@pytest.fixture(scope="session")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shelf]:
    """The shelf behind the server."""
    shelf = Shelf(tmp_path_factory.mktemp("shelf"))
    yield shelf
    shelf.close()


@pytest.fixture(scope="session")
def address(shelf: Shelf) -> Iterator[str]:
    """Where the page is served."""
    with serving(create_app(shelf)) as address:
        yield address


@pytest.fixture
def tab(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Open a tab of its own: tab(url, width=..., has_touch=...). What the browser complains about fails the test."""
    contexts, wrong = [], []

    def note(message: Any) -> None:
        # a server that is not there is what some tests are about
        if message.type == "error" and "Failed to load resource" not in message.text:
            wrong.append(message.text)

    def opened(url: str, width: int = 1280, height: int = 800, **settings: Any) -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": height}, reduced_motion="reduce", **settings
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(8000)
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", note)
        page.goto(url)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert wrong == []


@pytest.fixture
def job(shelf: Shelf, address: str) -> Callable[[str], tuple[str, Callable[[], Kept]]]:
    """Put a job file on the shelf: its address, and a look at how it stands."""

    def put(text: str) -> tuple[str, Callable[[], Kept]]:
        kept = shelf.add(text, "New job")
        return f"{address}/jobs/{kept.id}", lambda: shelf.get(kept.id)

    return put


def settled(page: Page) -> None:
    """Wait until nothing that was typed is unsaved."""
    page.wait_for_function("() => localStorage.getItem('lapwright:' + document.body.dataset.job) === null")
