"""What every answer is made with: the shelf, the jobs worked out, the templates and the words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from jinja2 import Environment, PackageLoader, StrictUndefined

from lapwright.errors import JobProblems, LapwrightError
from lapwright.verbs.jobs import Kept, Shelf
from lapwright.web.working import Working
from lapwright.words import Speaker

HERE = Path(__file__).parent
THEMES = ("auto", "light", "dark", "contrast")
PLACES = ("measure", "see", "take", "history")
_REVISION = re.compile(r'"(\d{1,18})"|(\d{1,18})', re.ASCII)


class NoRevision(LapwrightError):
    """A change that does not say which revision it was made from (428)."""


def _templates() -> Environment:
    return Environment(
        loader=PackageLoader("lapwright.web"), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip


@dataclass(frozen=True)
class Desk:
    """One for the whole page; every router is made with it."""

    shelf: Shelf
    working: Working = field(default_factory=Working)
    templates: Environment = field(default_factory=_templates)

    def speaker(self, unit: str = "in") -> Speaker:
        """Who says the page's sentences."""
        return Speaker(unit)

    def problems(self, kept: Kept) -> tuple[str, ...]:
        """Why a job cannot be planned yet, one line each; nothing when it can."""
        try:
            self.working.job(kept)
        except JobProblems as problems:
            return problems.lines(self.speaker(problems.unit))
        return ()

    def show(
        self, request: Request, template: str, kept: Kept | None = None, place: str = "", status: int = 200,
        **values: Any,
    ) -> HTMLResponse:  # fmt: skip
        """A page.

        Args:
            request: What is answered.
            template: Its file under templates/; most extend base.html.
            kept: The job the page is about: base.html then shows its name, the four places, undo and redo.
            place: Which of PLACES lights up.
            status: The HTTP status.
            values: What the template needs besides `say`, `kept`, `place`, `theme`, `clock`, `language`.
        """
        speaker = values.pop("speaker", None) or self.speaker()
        text = self.templates.get_template(template).render(
            say=speaker.say, language=speaker.language, kept=kept, place=place, places=PLACES, themes=THEMES,
            theme=theme_of(request), clock=clock, did=lambda label: did(speaker, label), path=request.url.path,
            **values,
        )  # fmt: skip
        return HTMLResponse(text, status)


def theme_of(request: Request) -> str:
    """The theme asked for by the switch, `auto` when none was."""
    asked = request.cookies.get("theme", "")
    return asked if asked in THEMES else "auto"


def clock(iso: str) -> str:
    """A time of day to show, in this machine's zone, with the day when it is not today's."""
    then = datetime.fromisoformat(iso).astimezone()
    today = datetime.now().astimezone().date()
    return f"{then:%H:%M}" if then.date() == today else f"{then:%Y-%m-%d %H:%M}"


def did(speaker: Speaker, label: str) -> str:
    """A line of history in words: `page.did.back 4` is its sentence said with what=4; other text is itself."""
    key, _, what = label.partition(" ")
    return speaker.say(key, what=what) if key.startswith("page") and speaker.knows(key) else label


def base_of(request: Request) -> int:
    """Which revision a change was made from: `If-Match: "7"`, or `?base=7` from a form.

    Raises:
        NoRevision: neither was sent.
    """
    given = request.headers.get("if-match") or request.query_params.get("base") or ""
    match = _REVISION.fullmatch(given.strip())
    if match is None:
        raise NoRevision("page.fails.no_revision")
    return int(match[1] or match[2])


def wants_json(request: Request) -> bool:
    """Did a script ask (it says so in Accept, or sends JSON), or a person?"""
    return any("application/json" in request.headers.get(name, "") for name in ("accept", "content-type"))


def moved(request: Request, kept: Kept) -> Response:
    """After a change: the job's new standing for a script; for a person, the page they came from."""
    if wants_json(request):
        from fastapi.responses import JSONResponse

        return JSONResponse(standing(kept))
    return RedirectResponse(f"/jobs/{kept.id}{_came_from(request, kept.id)}", 303)


def standing(kept: Kept) -> Mapping[str, Any]:
    """How a job stands, as a script needs it."""
    return {
        "revision": kept.revision, "text_name": kept.name, "undo": kept.can_undo, "redo": kept.can_redo,
        "saved": clock(kept.changed),
    }  # fmt: skip


def _came_from(request: Request, id: str) -> str:
    """The part of the job's pages a form was sent from; its first page when it is not clear."""
    match = re.search(rf"/jobs/{id}(/see|/take|/history)(?:[/?#]|\Z)", request.headers.get("referer", ""))
    return match[1] if match else ""
