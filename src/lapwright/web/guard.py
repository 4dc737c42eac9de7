"""What a request must be before anything answers it, and what every answer says to the browser.

    Host      one of ours, or another site could reach the page by pointing its own name at this machine
    token     on a shared network (`--lan`): asked for once by the printed address, then a cookie
    Origin    ours, for everything that changes something
    body      at most MOST_BODY bytes, told beforehand or not
"""

from __future__ import annotations

import secrets
import sys
import traceback
from collections.abc import Awaitable, Callable, Collection, MutableMapping
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs, quote, urlencode

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Message, Receive, Send], Awaitable[None]]

MOST_BODY = 12 * 1024 * 1024
"""The most a request may carry. [bytes]"""
COOKIE = "lapwright"
_SAFE = ("GET", "HEAD", "OPTIONS")
HEADERS = (
    (
        b"content-security-policy",
        b"default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'",
    ),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    # not no-referrer: with that, browsers send `Origin: null` with our own forms
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
)
_JOBS, _STATIC = (b"cache-control", b"no-store"), (b"cache-control", b"no-cache")


class Guard:
    """Stands before the page (ASGI)."""

    def __init__(
        self, app: App, hosts: Collection[str], refuse: Callable[[str], bytes], token: str | None = None
    ) -> None:
        """
        Args:
            app: What it guards.
            hosts: Names this server answers to, as a browser writes them, without port.
            refuse: Makes the page for a refusal from its key in words/.
            token: What a browser must know to come in; None lets every one on this machine in.
        """
        self.app, self.hosts, self.refuse, self.token = app, frozenset(hosts), refuse, token

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Answer, or say why not."""
        if scope["type"] != "http":
            # no websockets here; the server's own start and stop pass
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return
        answer = _Answer(send, _STATIC if scope["path"].startswith("/static/") else _JOBS)
        headers = {k.decode("latin-1").lower(): v.decode("latin-1") for k, v in scope["headers"]}
        host = headers.get("host", "")
        if _name(host) not in self.hosts:
            return await self._no(answer, 421, "page.fails.host")
        if self.token is not None and not self._knows(headers.get("cookie", "")):
            return await self._let_in(scope, answer)
        if scope["method"] not in _SAFE:
            if headers.get("origin", "") != f"{scope.get('scheme', 'http')}://{host}":
                return await self._no(answer, 403, "page.fails.origin")
            body = await _whole(receive, headers.get("content-length", ""))
            if body is None:
                return await self._no(answer, 413, "page.fails.body")
            receive = _again(body, receive)
        try:
            await self.app(scope, receive, answer)
        except Exception:
            traceback.print_exc(file=sys.stderr)
            if not answer.begun:
                await self._no(answer, 500, "page.fails.bug")

    def _knows(self, cookies: str) -> bool:
        try:
            found = SimpleCookie(cookies).get(COOKIE)
        except CookieError:
            return False
        return found is not None and self._is_token(found.value)

    def _is_token(self, given: str) -> bool:
        return secrets.compare_digest(given.encode(), (self.token or "").encode())

    async def _let_in(self, scope: Message, answer: _Answer) -> None:
        """The printed address holds the token: hand it over as a cookie and take it out of the address."""
        asked = parse_qs(scope["query_string"].decode("latin-1"))
        if scope["method"] != "GET" or not self._is_token(asked.pop("token", [""])[0]):
            return await self._no(answer, 401, "page.fails.token")
        rest = urlencode(asked, doseq=True)
        # quoted again and with one slash: the path as it came could hold line ends, or lead to "//elsewhere"
        where = "/" + quote(scope["path"].lstrip("/\\")) + (f"?{rest}" if rest else "")
        cookie = f"{COOKIE}={self.token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=31536000"
        extra = [(b"location", where.encode("latin-1")), (b"set-cookie", cookie.encode())]
        await self._no(answer, 303, "page.fails.token", extra)

    async def _no(self, answer: _Answer, status: int, key: str, extra: Collection[tuple[bytes, bytes]] = ()) -> None:
        body = self.refuse(key)
        kind = [(b"content-type", b"text/html; charset=utf-8"), (b"content-length", b"%d" % len(body)), *extra]
        await answer({"type": "http.response.start", "status": status, "headers": kind})
        await answer({"type": "http.response.body", "body": body})


class _Answer:
    """Sends, with the headers every answer carries where it has none of its own."""

    def __init__(self, send: Send, keeping: tuple[bytes, bytes]) -> None:
        self.send, self.begun, self.headers = send, False, (*HEADERS, keeping)

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self.begun = True
            has = {name.lower() for name, _ in message["headers"]}
            more = [header for header in self.headers if header[0] not in has]
            message = {**message, "headers": [*message["headers"], *more]}
        await self.send(message)


def _name(host: str) -> str:
    """The name in a Host header, without its port: `[::1]:8000` is `[::1]`."""
    name, colon, port = host.rpartition(":")
    return (name if colon and port.isdigit() else host).lower()


async def _whole(receive: Receive, length: str) -> bytes | None:
    """The body, or None when it is longer than it may be (however it is sent)."""
    if length.isdigit() and (len(length) > 9 or int(length) > MOST_BODY):
        return None
    body = bytearray()
    while True:
        message = await receive()
        if message["type"] != "http.request":
            return bytes(body)
        body += message.get("body", b"")
        if len(body) > MOST_BODY:
            return None
        if not message.get("more_body", False):
            return bytes(body)


def _again(body: bytes, receive: Receive) -> Receive:
    """A receive that hands over a body already read."""
    unread = [body]

    async def again() -> Message:
        if unread:
            return {"type": "http.request", "body": unread.pop(), "more_body": False}
        return await receive()

    return again
