"""The first page: the jobs, a new one, an example, a job file from elsewhere, and what was removed."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, File, Form, Request, UploadFile
from fastapi.responses import RedirectResponse, Response

from lapwright.verbs.jobs import Kept, NoSuchJob, Unfit, blank_job, example, examples
from lapwright.web.desk import THEMES, Desk, base_of

_UNITS = ("in", "mm")


def routes(desk: Desk) -> APIRouter:
    """What the first page answers."""
    router = APIRouter()
    shelf = desk.shelf

    @router.get("/")
    def home(request: Request) -> Response:
        jobs, removed = shelf.jobs(), shelf.removed()
        return desk.show(request, "home.html", jobs=jobs, removed=removed, examples=examples(), units=_UNITS)

    @router.post("/jobs")
    def start(
        start: Annotated[str, Form()],
        units: Annotated[str, Form()] = "in",
        file: Annotated[UploadFile | None, File()] = None,
    ) -> Response:
        return _to(_started(desk, start, units, file))

    @router.post("/jobs/{id}/remove")
    def remove(request: Request, id: str) -> Response:
        shelf.remove(id, base_of(request))
        return RedirectResponse("/", 303)

    @router.post("/jobs/{id}/restore")
    def restore(id: str) -> Response:
        return _to(shelf.restore(id))

    @router.post("/theme")
    def theme(request: Request, theme: Annotated[str, Form()], back: Annotated[str, Form()] = "/") -> Response:
        # only a path of our own: "//elsewhere" and "/\elsewhere" lead away
        ours = back if back.startswith("/") and back[1:2] not in ("/", "\\") and back.isascii() else "/"
        answer = RedirectResponse(ours, 303)
        if theme in THEMES:
            answer.set_cookie("theme", theme, max_age=31_536_000, samesite="strict", httponly=True)
        return answer

    return router


def _started(desk: Desk, start: str, units: str, file: UploadFile | None) -> Kept:
    """A new job from nothing, from an example or from a file."""
    say = desk.speaker().say
    kind, _, name = start.partition(":")
    if kind == "example":
        return desk.shelf.add(example(name), name, f"page.did.example {name}")
    if kind == "file" and file is not None:
        try:
            text = file.file.read().decode("utf-8-sig")
        except UnicodeDecodeError as why:
            raise Unfit("store.no_text") from why
        return desk.shelf.add(text, say("page.home.unnamed"), "page.did.file")
    if kind == "blank":
        name = say("page.home.unnamed")
        return desk.shelf.add(blank_job(name, units if units in _UNITS else "in"), name)
    raise NoSuchJob("page.fails.400")


def _to(kept: Kept) -> Response:
    return RedirectResponse(f"/jobs/{kept.id}", 303)
