"""A job's own keeping: its file out and in, undo and redo, and every state it ever had."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Request
from fastapi.responses import JSONResponse, Response
from starlette.concurrency import run_in_threadpool

from lapwright.verbs.jobs import Unfit
from lapwright.web.desk import Desk, base_of, moved, standing

MOST = 100
"""So many states on one page of history."""
Revision = Annotated[int, Path(ge=1)]


def routes(desk: Desk) -> APIRouter:
    """What answers for a job's file and its history."""
    router = APIRouter(prefix="/jobs/{id}")
    shelf = desk.shelf

    @router.get("/job.toml")
    def out(id: str) -> Response:
        kept = shelf.get(id)
        headers = {"etag": f'"{kept.revision}"', "content-disposition": 'attachment; filename="job.toml"'}
        return Response(kept.text, media_type="application/toml; charset=utf-8", headers=headers)

    @router.put("/job.toml")
    async def into(request: Request, id: str) -> Response:
        return await run_in_threadpool(saved, id, base_of(request), await request.body())

    def saved(id: str, base: int, body: bytes) -> Response:
        try:
            text = body.decode("utf-8-sig")
        except UnicodeDecodeError as why:
            raise Unfit("store.no_text") from why
        kept = shelf.change(id, base, text, "page.did.file")
        told = {**standing(kept), "problems": desk.problems(kept)}
        return JSONResponse(told, headers={"etag": f'"{kept.revision}"'})

    @router.post("/undo")
    def undo(request: Request, id: str) -> Response:
        return moved(request, shelf.undo(id, base_of(request)))

    @router.post("/redo")
    def redo(request: Request, id: str) -> Response:
        return moved(request, shelf.redo(id, base_of(request)))

    @router.post("/back/{revision}")
    def back(request: Request, id: str, revision: Revision) -> Response:
        return moved(request, shelf.go_back(id, base_of(request), revision))

    @router.get("/history")
    def history(request: Request, id: str, before: int | None = None) -> Response:
        kept = shelf.get(id)
        past = [one for one in shelf.history(id) if one.is_now or not one.passing]
        if before is not None:
            past = [one for one in past if one.revision < before]
        older = past[MOST - 1].revision if len(past) > MOST else None
        return desk.show(request, "history.html", kept, "history", past=past[:MOST], older=older)

    @router.get("/history/{revision}")
    def state(request: Request, id: str, revision: Revision) -> Response:
        kept, then = shelf.get(id), shelf.at(id, revision)
        return desk.show(request, "state.html", kept, "history", then=then)

    return router
