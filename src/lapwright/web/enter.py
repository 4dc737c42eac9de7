"""Measure: the form that follows the tape."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response

from lapwright.web.desk import Desk


def routes(desk: Desk) -> APIRouter:
    """What answers under Measure."""
    router = APIRouter(prefix="/jobs/{id}")

    @router.get("")
    def measure(request: Request, id: str) -> Response:
        return desk.show(request, "measure.html", desk.shelf.get(id), "measure")

    return router
