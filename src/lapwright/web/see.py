"""See: the roof, the blanks, the model, the findings, the water, the steps, the lists."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, TypeVar

from fastapi import APIRouter, Form, Request
from fastapi.responses import JSONResponse, RedirectResponse, Response
from pydantic import BaseModel, ConfigDict
from starlette.exceptions import HTTPException

from lapwright.verbs import see, see_told
from lapwright.verbs.jobs import Job, Kept
from lapwright.web.desk import Desk

T = TypeVar("T")
VIEWS = ("roof", "blanks", "model", "findings", "water", "steps", "list")


class Ticked(BaseModel):
    """Is a step done?"""

    model_config = ConfigDict(extra="forbid")
    done: bool


def routes(desk: Desk) -> APIRouter:
    """What answers under See."""
    router = APIRouter(prefix="/jobs/{id}")
    _add_views(router, desk)
    _add_files(router, desk)
    _add_steps(router, desk)
    return router


def _add_views(router: APIRouter, desk: Desk) -> None:
    @router.get("/see")
    @router.get("/see/roof")
    def roof(request: Request, id: str, piece: str = "") -> Response:
        return _shown(
            desk,
            request,
            id,
            "roof",
            lambda job, kept: {"drawn": see.roof(job), "pieces": see.pieces(job), "lit": piece},
        )

    @router.get("/see/blanks")
    @router.get("/see/blanks/{piece}")
    def blanks(request: Request, id: str, piece: str = "") -> Response:
        return _shown(desk, request, id, "blanks", lambda job, kept: _blank(job, piece))

    @router.get("/see/model")
    def model(request: Request, id: str) -> Response:
        return _shown(
            desk, request, id, "model", lambda job, kept: {"pitch": see.pitch(job), "steps": len(job.steps)}
        )

    @router.get("/see/findings")
    def findings(request: Request, id: str) -> Response:
        return _shown(desk, request, id, "findings", lambda job, kept: {"findings": see_told.findings(job)})

    @router.get("/see/water")
    def water(request: Request, id: str, without: str = "") -> Response:
        return _shown(desk, request, id, "water", lambda job, kept: _water(job, without))

    @router.get("/see/steps")
    def steps(request: Request, id: str) -> Response:
        return _shown(
            desk,
            request,
            id,
            "steps",
            lambda job, kept: {"steps": see_told.steps(job), "done": desk.shelf.ticked(kept.id)},
        )

    @router.get("/see/list")
    def listed(request: Request, id: str) -> Response:
        return _shown(desk, request, id, "list", lambda job, kept: see_told.lists(job))


def _shown(
    desk: Desk, request: Request, id: str, view: str, values: Callable[[Job, Kept], dict[str, Any]]
) -> Response:
    """A view of a job; what is still missing, where it cannot be planned yet."""
    kept = desk.shelf.get(id)
    problems = desk.problems(kept)
    if problems:
        return desk.show(request, "see.html", kept, "see", views=VIEWS, view=view, stopped=False, problems=problems)
    job = desk.working.job(kept)
    return desk.show(
        request, f"see_{view}.html", kept, "see", views=VIEWS, view=view, stopped=job.stopped, problems=(),
        speaker=desk.speaker(job.site.units), **_found(lambda: values(job, kept)),
    )  # fmt: skip


def _found(make: Callable[[], T]) -> T:
    """What was asked for; what is not there is answered like any other page that is not there."""
    try:
        return make()
    except see.NotThere as why:
        raise HTTPException(404) from why


def _blank(job: Job, piece: str) -> dict[str, Any]:
    rows = see.blanks(job)
    if not rows:
        return {"blanks": (), "now": None}
    now = next((row for row in rows if row.id == piece), None) if piece else rows[0]
    if now is None:
        raise see.NotThere(piece)
    at = rows.index(now)
    order, moving = see.folded(job, now.id)
    return {
        "blanks": rows, "now": now, "cards": see.blank(job, now.id), "order": order, "moving": moving,
        "before": rows[at - 1] if at else None, "after": rows[at + 1] if rows[at + 1 :] else None,
    }  # fmt: skip


def _water(job: Job, without: str) -> dict[str, Any]:
    told = see_told.what_if(job, without) if without else ()
    return {"openings": see_told.water(job), "choices": see_told.choices(job), "without": without, "told": told}


def _add_files(router: APIRouter, desk: Desk) -> None:
    def job_of(id: str) -> Job:
        return desk.working.job(desk.shelf.get(id))

    @router.get("/plan.json")
    def plan(id: str) -> Response:
        return Response(see.plan_json(job_of(id)), media_type="application/json")

    @router.get("/see/model.glb")
    def glb(id: str) -> Response:
        return Response(see.glb(job_of(id)), media_type="model/gltf-binary")

    @router.get("/see/drawings/{name}.svg")
    def drawing(id: str, name: str) -> Response:
        return Response(_found(lambda: see.drawing(job_of(id), name)), media_type="image/svg+xml")

    @router.get("/see/cut/{piece}.dxf")
    def cut(id: str, piece: str) -> Response:
        name, made = _found(lambda: see.dxf(job_of(id), piece))
        return Response(
            made, media_type="image/vnd.dxf", headers={"content-disposition": f'attachment; filename="{name}"'}
        )


def _add_steps(router: APIRouter, desk: Desk) -> None:
    def tick(kept: Kept, key: str, done: bool) -> dict[str, Any]:
        keys = see_told.step_keys(desk.working.job(kept))
        if key not in keys:
            raise HTTPException(404)
        desk.shelf.tick(kept.id, key, done)
        count = len(desk.shelf.ticked(kept.id).intersection(keys))
        return {
            "done": done,
            "count": count,
            "says": desk.speaker().say("page_see.steps.done", done=count, count=len(keys)),
        }

    @router.put("/steps/{key}")
    def put(id: str, key: str, sent: Ticked) -> Response:
        return JSONResponse(tick(desk.shelf.get(id), key, sent.done))

    @router.post("/steps/{key}")
    def post(id: str, key: str, done: Annotated[bool, Form()]) -> Response:
        tick(desk.shelf.get(id), key, done)
        return RedirectResponse(f"/jobs/{id}/see/steps#{key}", 303)
