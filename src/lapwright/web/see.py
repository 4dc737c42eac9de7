"""See: the roof, the blanks, the model, the findings."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response

from lapwright.web.desk import Desk


def routes(desk: Desk) -> APIRouter:
    """What answers under See."""
    router = APIRouter(prefix="/jobs/{id}")

    @router.get("/see")
    def see(request: Request, id: str) -> Response:
        return desk.show(request, "see.html", desk.shelf.get(id), "see")

    return router
