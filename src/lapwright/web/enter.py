"""Measure: the form that follows the tape, each field saved as it is typed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse, RedirectResponse, Response
from pydantic import BaseModel, ConfigDict, Field
from starlette.exceptions import HTTPException

from lapwright.errors import JobProblems
from lapwright.site.fields import LISTS
from lapwright.verbs.form import FOLDED, form_of
from lapwright.verbs.form_model import Form, FormField
from lapwright.verbs.jobs import Kept
from lapwright.verbs.keep import Move, keep_row, keep_value
from lapwright.verbs.measured import VIEWS, answer, drawings, view_of
from lapwright.web.desk import Desk, base_of, clock, standing
from lapwright.words import Speaker

MOST_TYPED = 10_000
"""More is no measure. [characters]"""
MOST_ROWS = 1000
SPOKEN = ("unsaved", "unsaved_say", "refused", "clash", "mine", "theirs", "emptied")
"""What the page itself says, in the browser."""
PAD_WORDS = {"'": "feet", '"': "inch", " ": "space", "/": "over", "-": "hyphen", ".": "point"}
PAD_MARKS = {"'": "ft", '"': "in", " ": "\N{OPEN BOX}"}


class Typed(BaseModel):
    """What was typed into one field; `at` is the opening whose drawing is shown (from 0)."""

    model_config = ConfigDict(extra="forbid")
    path: Annotated[list[str | int], Field(min_length=2, max_length=3)]
    typed: Annotated[str, Field(max_length=MOST_TYPED)]
    at: Annotated[int, Field(ge=0, le=MOST_ROWS)] = 0


Row = Annotated[int, Query(ge=0, le=MOST_ROWS)]


def routes(desk: Desk) -> APIRouter:
    """What answers under Measure."""
    router = APIRouter(prefix="/jobs/{id}")
    shelf = desk.shelf

    @router.get("")
    def measure(request: Request, id: str) -> Response:
        kept = shelf.get(id)
        form = form_of(kept.text)
        return desk.show(
            request, "measure.html", kept, "measure",
            form=form, drawings=drawings(kept.text, 0), views=VIEWS, view_of=view_of, stand=_stand(form),
            folded=_folded(form), given=_given(form),
            removed="removed" in request.query_params, speaker=desk.speaker(form.unit),
            pad_words=PAD_WORDS, pad_marks=PAD_MARKS,
            words={key: desk.speaker().say(f"page_form.{key}") for key in SPOKEN},
        )  # fmt: skip

    @router.put("/value")
    def value(request: Request, id: str, sent: Typed) -> Response:
        base = base_of(request)
        try:
            kept = _known(lambda: keep_value(shelf, id, base, tuple(sent.path), sent.typed))
        except JobProblems as why:
            return JSONResponse({"says": why.problems[0].says(desk.speaker(why.unit))}, 422)
        return _told(desk, kept, base, sent.at)

    @router.get("/value")
    def since(id: str, since: Annotated[int, Query(ge=1)], at: Row = 0) -> Response:
        return _told(desk, shelf.get(id), since, at)

    @router.post("/rows/{table}")
    def add(request: Request, id: str, table: str) -> Response:
        return _row(desk, request, id, "add", table, 0)

    @router.post("/rows/{table}/{n}/{move}")
    def row(request: Request, id: str, table: str, n: int, move: Literal["copy", "remove"]) -> Response:
        return _row(desk, request, id, move, table, n)

    @router.get("/own/{n}")
    def own(request: Request, id: str, n: int) -> Response:
        kept = shelf.get(id)
        form = form_of(kept.text)
        fields = next((group.own for group in form.groups if group.path == ("opening", n)), None)
        if fields is None:
            raise HTTPException(404)
        return desk.show(request, "measure_own.html", fields=fields, view_of=view_of, speaker=desk.speaker(form.unit))

    @router.get("/stops")
    def stops(id: str) -> Response:
        kept = shelf.get(id)
        if form_of(kept.text).site is None:
            return JSONResponse({"revision": kept.revision, "says": "", "must": False})
        count = sum(finding.stops for finding in desk.working.job(kept).findings)
        key = "page_form.stops" if count else "page_form.no_stops"
        return JSONResponse(
            {"revision": kept.revision, "says": desk.speaker().say(key, count=count), "must": count > 0}
        )

    return router


def _known(change: Callable[[], Kept]) -> Kept:
    """A change to a place that is not there is answered like any other page that is not there."""
    try:
        return change()
    except KeyError as why:
        raise HTTPException(404) from why


def _row(desk: Desk, request: Request, id: str, move: Move, table: str, n: int) -> Response:
    """A row more or less; then the page again, at the row's place."""
    base = base_of(request)
    kept = _known(lambda: keep_row(desk.shelf, id, base, move, table, n))
    if move == "remove":
        return RedirectResponse(f"/jobs/{id}?removed#{table}s", 303)
    last = max(group.path[1] for group in form_of(kept.text).groups if group.path[0] == table and len(group.path) > 1)
    return RedirectResponse(f"/jobs/{id}#{table}-{last}", 303)


def _told(desk: Desk, kept: Kept, base: int, at: int) -> Response:
    """How the job stands now, and what reads otherwise than at the revision the page shows."""
    found = answer(desk.shelf.at(kept.id, base).text, kept.text, at)
    return JSONResponse(
        {
            **standing(kept),
            "saved_says": desk.speaker().say("page.saved", at=clock(kept.changed)),
            "fields": [_field(field) for field in found.fields],
            "drawings": found.drawings,
            "stand": _stand(found.form),
            "rows": [[group.id, group.title] for group in found.form.groups],
            "given": _given(found.form),
            "problems": found.form.problems,
            "whole": found.form.site is not None,
        },
        headers={"etag": f'"{kept.revision}"'},
    )


def _field(field: FormField) -> dict[str, Any]:
    return {
        "id": field.id, "path": field.path, "typed": field.typed, "echo": field.echo, "error": field.error,
        "range": field.range, "unused": field.unused, "chosen": field.typed or field.default,
        "wanted": field.wanted, "shown": field.shown,
    }  # fmt: skip


def _stand(form: Form) -> dict[str, Any]:
    """What is next, how much is still to measure and how much to mend."""
    say = Speaker(form.unit).say
    wanted, wrong = form.wanted, form.wrong
    told = {"next": "", "next_id": "", "wanting": "", "wrong": "", "wrong_id": ""}
    if wanted:
        first = wanted[0]
        group = next(group for group in form.groups if group.path == first.path[:-1])
        named = len(first.path) == 3
        key = "page_form.next_of" if named else "page_form.next"
        told |= {"next": say(key, label=first.label, name=group.title), "next_id": first.id}
        told["wanting"] = say("page_form.wanting_one" if len(wanted) == 1 else "page_form.wanting", count=len(wanted))
    elif form.site is not None:
        told["next"] = say("page_form.whole" if form.site.openings else "page_form.whole_roof")
    if wrong:
        told["wrong"] = say("page_form.wrong_one" if len(wrong) == 1 else "page_form.wrong", count=len(wrong))
        told["wrong_id"] = wrong[0].id
    return told


def _given(form: Form) -> dict[str, str]:
    """What lies in each folded part: how many measures are given, or how many rows there are."""
    say, told = Speaker().say, {}
    for table in FOLDED:
        groups = [group for group in form.groups if group.path[0] == table]
        count = len(groups) if table in LISTS else sum(group.given for group in groups)
        told[table] = say("page_form.given", count=count) if count else ""
    return told


def _folded(form: Form) -> dict[str, list[Any]]:
    """The groups that stay folded, by table."""
    return {table: [group for group in form.groups if group.path[0] == table] for table in FOLDED}
