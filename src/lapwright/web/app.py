"""The whole page: what guards it, what answers, and what is said when it cannot."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

from lapwright.errors import JobProblems, LapwrightError
from lapwright.verbs.jobs import NoSuchJob, NotSaved, Shelf, Stale, Unfit
from lapwright.web import enter, home, keep, see, take
from lapwright.web.desk import HERE, Desk, NoRevision, wants_json
from lapwright.web.guard import Guard
from lapwright.web.making import NotMade

OWN_NAMES = ("127.0.0.1", "localhost", "[::1]")
_STATUS: dict[type[LapwrightError], int] = {
    NoSuchJob: 404, Stale: 412, Unfit: 413, JobProblems: 422, NoRevision: 428, NotMade: 500, NotSaved: 507,
}  # fmt: skip


def create_app(shelf: Shelf, *, hosts: Collection[str] = OWN_NAMES, token: str | None = None) -> FastAPI:
    """The page over a shelf of jobs (ASGI).

    Args:
        shelf: Where the jobs are.
        hosts: Names a browser may call this server by, without port.
        token: What a browser must know; None for this machine only.
    """
    desk = Desk(shelf)
    app = FastAPI(openapi_url=None, docs_url=None, redoc_url=None)
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    for part in (home, keep, enter, see, take):
        app.include_router(part.routes(desk))
    _answer_failures(app, desk)
    app.add_middleware(Guard, hosts=hosts, token=token, refuse=lambda key: _bare(desk, key))
    return app


def _bare(desk: Desk, key: str) -> bytes:
    say = desk.speaker().say
    return desk.templates.get_template("refused.html").render(say=say, says=say(key), language="en").encode()


def _answer_failures(app: FastAPI, desk: Desk) -> None:
    """Every failure is a sentence; none shows what the program looks like inside."""

    @app.exception_handler(LapwrightError)
    def refused(request: Request, why: LapwrightError) -> Response:
        status = next((code for kind, code in _STATUS.items() if isinstance(why, kind)), 400)
        return failed(desk, request, status, why.said(desk.speaker()), why)

    @app.exception_handler(HTTPException)
    def not_here(request: Request, why: HTTPException) -> Response:
        key = f"page.fails.{why.status_code}"
        speaker = desk.speaker()
        return failed(desk, request, why.status_code, speaker.say(key if speaker.knows(key) else "page.fails.400"))

    @app.exception_handler(RequestValidationError)
    def not_understood(request: Request, why: RequestValidationError) -> Response:
        return failed(desk, request, 422, desk.speaker().say("page.fails.400"))


def failed(desk: Desk, request: Request, status: int, says: str, why: LapwrightError | None = None) -> Response:
    """A failure as a page, or for a script as JSON {says}; a stale change comes with both texts."""
    now, sent = (why.now, why.sent) if isinstance(why, Stale) else (None, None)
    if wants_json(request):
        told: dict[str, Any] = {"says": says}
        if now is not None:
            told |= {"now": {"revision": now.revision, "text": now.text}, "sent": sent}
        return JSONResponse(told, status)
    return desk.show(request, "failed.html", status=status, says=says, now=now, sent=sent)
