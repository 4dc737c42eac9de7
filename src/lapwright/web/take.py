"""Take away: the packet and its parts."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response

from lapwright.web.desk import Desk


def routes(desk: Desk) -> APIRouter:
    """What answers under Take."""
    router = APIRouter(prefix="/jobs/{id}")

    @router.get("/take")
    def take(request: Request, id: str) -> Response:
        return desk.show(request, "take.html", desk.shelf.get(id), "take")

    return router
