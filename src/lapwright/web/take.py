"""Take away: the packet and its parts, made when they are asked for."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Path, Request
from fastapi.responses import Response
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException

from lapwright.errors import JobProblems
from lapwright.verbs.jobs import Kept
from lapwright.verbs.take import PAPERS, Paper, Taken, has_templates, name_of_files, usual_paper, zipped
from lapwright.web.desk import Desk
from lapwright.web.making import Making, NotMade

ZIPS = {"packet.zip": "", "cut.zip": "cut/", "drawings.zip": "drawings/"}
"""A file of many, and the folder of the packet that is in it."""
KINDS = {
    "pdf": "application/pdf", "html": "text/html; charset=utf-8", "json": "application/json", "svg": "image/svg+xml",
    "csv": "text/csv; charset=utf-8", "zip": "application/zip", "dxf": "image/vnd.dxf", "glb": "model/gltf-binary",
}  # fmt: skip
GROUPS = {
    "phone": ("packet.html",),
    "shop": ("cut.zip", "cutlist.csv"),
    "office": ("takeoff.csv", "quote.csv"),
    "others": ("model.glb", "plan.json", "drawings.zip", "packet.zip"),
}
"""What every packet holds, as the page offers it; what is printed is offered apart, by its paper."""


def routes(desk: Desk) -> APIRouter:
    """What answers under Take."""
    router = APIRouter(prefix="/jobs/{id}/take")
    making = Making(desk.working)

    @router.get("")
    def page(request: Request, id: str) -> Response:
        kept = desk.shelf.get(id)
        try:
            job = desk.working.job(kept)
        except JobProblems as problems:
            lines = problems.lines(desk.speaker(problems.unit))
            return desk.show(request, "take.html", kept, "take", problems=lines)
        papers = sorted(PAPERS, key=lambda paper: paper != usual_paper(job))
        stops = sum(finding.stops for finding in job.findings)
        return desk.show(
            request, "take.html", kept, "take", problems=(), papers=papers, stops=stops, groups=GROUPS,
            templates=has_templates(job),
        )  # fmt: skip

    @router.get("/single")
    async def single(request: Request, id: str) -> Response:
        kept = await run_in_threadpool(desk.shelf.get, id)
        try:
            taken, failed = await making.packet(kept), ""
        except NotMade as why:
            taken, failed = None, why.said(desk.speaker())
        return desk.show(request, "take_single.html", kept, "take", taken=taken, failed=failed)

    @router.get("/page/{number}")
    async def one(id: str, number: Annotated[int, Path(ge=1)], paper: Paper | None = None) -> Response:
        kept, taken = await _packet(desk, making, id, paper)
        try:
            content = await run_in_threadpool(taken.page, number)
        except KeyError as why:
            raise HTTPException(404) from why
        return _handed(kept, _printed(f"page-{number}.pdf", paper), content)

    @router.get("/{name:path}")
    async def file(id: str, name: str, paper: Paper | None = None) -> Response:
        kept, taken = await _packet(desk, making, id, paper)
        if name in ZIPS:
            inside = f"{name_of_files(kept.name)}-packet" if name == "packet.zip" else ""
            return _handed(kept, name, await run_in_threadpool(zipped, taken.inside(ZIPS[name]), inside))
        if name not in taken.files:
            raise HTTPException(404)
        return _handed(kept, _printed(name, paper), taken.files[name])

    return router


async def _packet(desk: Desk, making: Making, id: str, paper: Paper | None) -> tuple[Kept, Taken]:
    kept = await run_in_threadpool(desk.shelf.get, id)
    return kept, await making.packet(kept, paper)


def _printed(name: str, paper: Paper | None) -> str:
    """A PDF that was asked for on a paper is called after it too, or two of one name would lie side by side."""
    return name.replace(".pdf", f"-{paper}.pdf") if paper else name


def _handed(kept: Kept, name: str, content: bytes) -> Response:
    """A file to keep, named after its job.

    Source: RFC 6266, 4.3: `filename` for old browsers, `filename*` (RFC 8187) for the name as it is.
    """
    whole = f"{name_of_files(kept.name)}-{name.rpartition('/')[2]}"
    plain = whole.encode("ascii", "ignore").decode().lstrip("-")
    said = f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(whole, safe='')}"
    kind = KINDS[name.rpartition(".")[2]]
    return Response(content, headers={"content-type": kind, "content-disposition": said, "cache-control": "no-store"})
