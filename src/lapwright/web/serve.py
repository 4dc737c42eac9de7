"""The server itself: on this machine only, unless a shared network was asked for."""

from __future__ import annotations

import os
import re
import secrets
import socket
from collections.abc import Callable
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path

from lapwright.errors import LapwrightError
from lapwright.verbs.jobs import Shelf

PORT = 8765
_HERE = "127.0.0.1"
_TOKEN_BYTES = 16
_TOKEN = re.compile(r"[\w-]{22}", re.ASCII)


class PortTaken(LapwrightError):
    """Something else answers on that port; `free` is one that nothing answers on."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A server about to run.

    Attributes:
        address: What to open in a browser; on a shared network it holds the token.
        folder: Where the jobs lie.
    """

    address: str
    folder: Path


def serve(
    folder: Path, port: int = PORT, lan: bool = False, opened: Callable[[Opened], None] = lambda opened: None
) -> None:
    """Serve the page until Ctrl-C.

    Args:
        folder: Where the jobs lie; made when it is not there.
        port: Where to listen.
        lan: Let other machines of this network in; they need the address with its token.
        opened: Called once, when the port is ours.

    Raises:
        PortTaken: something else answers there.
        NewerShelf, NotSaved: the jobs cannot be opened.
    """
    import uvicorn

    from lapwright.web.app import OWN_NAMES, create_app

    with _listen("0.0.0.0" if lan else _HERE, port) as listening, closing(Shelf(folder)) as shelf:
        port = listening.getsockname()[1]
        name, token = (_own_address(), _token(folder)) if lan else (_HERE, None)
        app = create_app(shelf, hosts={*OWN_NAMES, name}, token=token)
        opened(Opened(f"http://{name}:{port}/" + (f"?token={token}" if token else ""), folder))
        config = uvicorn.Config(
            app, log_level="warning", access_log=False, server_header=False,
            timeout_graceful_shutdown=3, ws="none", lifespan="off",
        )  # fmt: skip
        with suppress(KeyboardInterrupt):
            uvicorn.Server(config).run(sockets=[listening])


def _token(folder: Path) -> str:
    """The key of this folder's page: made once, so that a phone let in stays in over restarts."""
    file = folder / "lan-token"
    kept = file.read_text(encoding="utf-8") if file.exists() else ""
    if not _TOKEN.fullmatch(kept):  # none yet, or cut short
        kept = secrets.token_urlsafe(_TOKEN_BYTES)
        with open(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w", encoding="utf-8") as made:
            made.write(kept)
    return kept


def _listen(host: str, port: int) -> socket.socket:
    """The port, ours from here on."""
    # Said to be TCP, or asyncio does not turn off the gathering of small packets and every answer is 40 ms late.
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    if os.name == "posix":  # or a server just stopped would hold its port for a minute; elsewhere it means more
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen()
    except OSError as why:
        listening.close()
        raise PortTaken("page.serve.taken", port=port, free=_free(host)) from why
    return listening


def _free(host: str) -> int:
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as any_port:
        any_port.bind((host, 0))
        free: int = any_port.getsockname()[1]
        return free


def _own_address() -> str:
    """This machine's address on its network. Nothing is sent: a datagram socket only picks the way out."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way_out:
        try:
            way_out.connect(("192.0.2.1", 9))  # an address kept for documentation (RFC 5737)
            name: str = way_out.getsockname()[0]
        except OSError:
            return _HERE
        return name
