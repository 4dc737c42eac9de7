"""What every test shares: steady random cases, the command line as a function, golden files on request."""

from __future__ import annotations

import socket
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import settings

# The same cases on every machine and on every day; a failure seen by one is seen by all.
settings.register_profile("steady", derandomize=True, deadline=None, database=None, print_blob=True)
settings.load_profile("steady")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--golden-update", action="store_true", help="write the golden files again; then look at the pictures"
    )


@pytest.fixture
def golden_update(request: pytest.FixtureRequest) -> bool:
    """Are golden files to be written instead of compared?"""
    return bool(request.config.getoption("--golden-update"))


@pytest.fixture(autouse=True, scope="session")
def no_network() -> Iterator[None]:
    """Nothing that is tested may speak to another machine."""
    real = socket.socket.connect

    def connect(self: socket.socket, address: Any) -> None:
        where = address[0] if isinstance(address, tuple) else "localhost"
        assert where in ("127.0.0.1", "::1", "localhost"), f"a test reached for {where}"
        real(self, address)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket.socket, "connect", connect)
        yield


@dataclass(frozen=True)
class Ran:
    """What a command left behind."""

    code: int
    out: str
    err: str


@pytest.fixture
def lapwright(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Callable[..., Ran]:
    """Run the command line in this process: lapwright("plan", path) -> exit code, stdout, stderr."""
    from lapwright.cli import main

    def run(*words: object) -> Ran:
        monkeypatch.setattr(sys, "argv", ["lapwright", *map(str, words)])
        with pytest.raises(SystemExit) as left:
            main()
        seen = capsys.readouterr()
        return Ran(int(left.value.code or 0), seen.out, seen.err)

    return run
