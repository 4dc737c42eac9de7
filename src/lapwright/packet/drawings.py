"""Every drawing of a job, in page order: the roof, each opening, each blank and its close-ups."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from lapwright.draw.blank import draw_blank, draw_blank_close
from lapwright.draw.roof import draw_opening, draw_roof
from lapwright.draw.svg import to_svg
from lapwright.metal.model import Piece, RoofPanel
from lapwright.packet.say import Voice, shortened
from lapwright.packet.worked import WorkedJob
from lapwright.words import Speaker


@dataclass(frozen=True, slots=True)
class Drawing:
    """One sheet. file: its name under drawings/, without the ending. svg: the sheet itself."""

    file: str
    part: Literal["layout", "opening", "blank"]
    title: str
    svg: str


def draw_all(job: WorkedJob) -> tuple[Drawing, ...]:
    """Every sheet of the job."""
    return tuple(_all(job, Voice(Speaker(job.site.units))))


def cut_items(job: WorkedJob) -> tuple[Piece | RoofPanel, ...]:
    """Everything with a blank: the pieces, then the panels that are worked on the roof."""
    return (*job.pieces, *(p for p in job.panels if p.blank is not None))


def file_name(text: str) -> str:
    """A piece's id as part of a file name: letters, digits, dot, dash and underscore only."""
    return re.sub(r"[^A-Za-z0-9._-]+", "-", text).strip(".-") or "unnamed"


def _all(job: WorkedJob, voice: Voice) -> Iterator[Drawing]:
    s = voice.speaker
    details = job.detail.openings
    roof = to_svg(draw_roof(job.site, job.layout, details, job.panels, s))
    yield Drawing("roof", "layout", voice.say("packet.label.layout"), roof)
    for i, d in enumerate(details, 1):
        if d.method != "none":
            plan = to_svg(draw_opening(job.site, job.layout, d, job.pieces, job.panels, s))
            title = voice.say("packet.label.opening", {"name": shortened(d.opening.name, 26)})
            yield Drawing(f"opening-{i}", "opening", title, plan)
    for item in cut_items(job):
        yield from _blanks(item, voice)


def _blanks(item: Piece | RoofPanel, voice: Voice) -> Iterator[Drawing]:
    s, name = voice.speaker, file_name(item.id)
    title = voice.say("packet.label.blank", {"id": item.id})
    yield Drawing(f"blank-{name}", "blank", title, to_svg(draw_blank(item, s)))
    for n, close in enumerate(draw_blank_close(item, s), 1):
        title = voice.say("packet.label.blank_close", {"id": item.id})
        yield Drawing(f"blank-{name}-close-{n}", "blank", title, to_svg(close))
