"""Every drawing of a job, in page order, each made once for the pages and for its own file.

finished  layout  opening  section  blank  bend  fold  cutting  step  sealing  leaks
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal, get_args

from lapwright.detail.model import OpeningDetail
from lapwright.draw.bending import legend_of as fold_legend
from lapwright.draw.card import Card, draw_card, legend_of
from lapwright.draw.crop import cut_off
from lapwright.draw.display import Display
from lapwright.draw.glb import Node
from lapwright.draw.leaks import draw_leaks
from lapwright.draw.nest import draw_sheet
from lapwright.draw.roof import draw_opening, draw_roof
from lapwright.draw.sealed import Shown, shown
from lapwright.draw.sealing import draw_sealing
from lapwright.draw.section import draw_sections
from lapwright.draw.step_words import HEAD
from lapwright.draw.svg import to_svg, under
from lapwright.metal.model import Piece, RoofPanel
from lapwright.packet.folds import fold_sheets, moving_pictures, single_folds
from lapwright.packet.picture import draw_finished
from lapwright.packet.say import Voice, shortened
from lapwright.packet.step_pictures import step_pictures
from lapwright.packet.worked import WorkedJob
from lapwright.shop.nest.job import JobNest
from lapwright.units import Unit
from lapwright.words import Speaker

PartName = Literal[
    "finished", "layout", "opening", "section", "blank", "bend", "fold", "cutting", "step", "sealing", "leaks"
]
"""Which pages it stands on; `bend`: the order of folds; `fold`: in a file of its own only."""
PARTS: tuple[PartName, ...] = get_args(PartName)


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing.

    file: its name under drawings/, without the ending. svg: as it stands on a page; width, height of it [pt].
    layers: what a legend on its page must explain. whole: as it stands in its own file, where that differs.
    """

    file: str
    part: PartName
    title: str
    svg: str
    width: float = 0.0
    height: float = 0.0
    layers: tuple[str, ...] = ()
    whole: str = ""


def draw_all(job: WorkedJob, nodes: Sequence[Node] = ()) -> tuple[Drawing, ...]:
    """Every drawing of the job. nodes: its scene (see scene.nodes_of); without it there is no cover picture."""
    return in_order((*draw_whole(job, nodes), *draw_parts(job), *draw_moving(job)))


def draw_whole(job: WorkedJob, nodes: Sequence[Node] = ()) -> tuple[Drawing, ...]:
    """The job as a whole: the finished detail, the sections, the leaks and the cutting plans."""
    return tuple(_whole(job, nodes, Voice(Speaker(job.site.units))))


def draw_parts(job: WorkedJob) -> tuple[Drawing, ...]:
    """What is made and worked: the roof, the openings, every blank, its folds, the runs of sealant and every step.
    Asks for no finding."""
    return tuple(_parts(job, Voice(Speaker(job.site.units))))


def draw_moving(job: WorkedJob) -> tuple[Drawing, ...]:
    """Every blank folding by itself; these stand on no page."""
    moving = moving_pictures(job, cut_items(job), Speaker(job.site.units))
    return tuple(Drawing(f"fold-{file_name(key)}", "fold", key, svg) for key, svg in moving)


def in_order(drawings: Sequence[Drawing]) -> tuple[Drawing, ...]:
    """Drawings part by part."""
    return tuple(sorted(drawings, key=lambda d: PARTS.index(d.part)))


def draw_sheets(cutting: JobNest, unit: Unit) -> Iterator[Drawing]:
    """The cutting plan of every sheet; where it takes more drawings than one, each is a part of it."""
    voice = Voice(Speaker(unit))
    for n, sheet in enumerate(cutting.sheets, 1):
        drawn = draw_sheet(n, sheet, voice.speaker)
        if len(drawn) == 1:
            title = voice.say("packet.label.cutting_sheet", {"n": n})
            yield _titled(_drawn(f"sheet-{n}", "cutting", drawn[0]), title)
            continue
        for part, display in enumerate(drawn, 1):
            title = voice.say("packet.label.cutting_part", {"n": n, "part": part, "of": len(drawn)})
            yield _titled(_drawn(f"sheet-{n}-part-{part}", "cutting", display), title)


def cut_items(job: WorkedJob) -> tuple[Piece | RoofPanel, ...]:
    """Everything with a blank: the pieces, then the panels that are worked on the roof."""
    return (*job.pieces, *(p for p in new_panels(job) if p.blank is not None))


def new_panels(job: WorkedJob) -> tuple[RoofPanel, ...]:
    """The panels that are made for this job: on an existing roof the through panels lie there already."""
    existing = job.site.roof.work == "existing"
    return tuple(p for p in job.panels if not (existing and p.role == "through"))


def file_name(text: str) -> str:
    """A piece's id as part of a file name: letters, digits, dot, dash and underscore only."""
    return re.sub(r"[^A-Za-z0-9._-]+", "-", text).strip(".-") or "unnamed"


def own(job: WorkedJob, d: OpeningDetail) -> tuple[list[Piece], list[RoofPanel]]:
    """The pieces and the panels of one opening."""
    name = d.opening.name
    return [p for p in job.pieces if p.opening == name], [p for p in job.panels if p.opening == name]


def runs_of(job: WorkedJob, d: OpeningDetail) -> tuple[Shown, ...]:
    """Runs of sealant, tape and fixings of one opening, in the order of their numbers on its map."""
    pieces, panels = own(job, d)
    return shown(job.site, d, pieces, panels)


def _whole(job: WorkedJob, nodes: Sequence[Node], voice: Voice) -> Iterator[Drawing]:
    if nodes:
        yield _drawn("finished", "finished", draw_finished(job, nodes, voice))
    shown = (job.site, job.layout, job.detail, job.pieces, job.panels)
    for i, d in _planned(job):
        if any(p.body is not None for p in own(job, d)[0]):
            for key, sheet in draw_sections(*shown, i - 1, voice.speaker).items():
                yield _drawn(f"section-{i}-{file_name(key)}", "section", sheet)
    for i, d in _planned(job):
        if any(a.opening == d.opening.name for a in job.audits):
            yield _drawn(f"leaks-{i}", "leaks", draw_leaks(*shown, job.audits, i - 1, voice.speaker))
    yield from draw_sheets(job.cutting, job.site.units)


def _parts(job: WorkedJob, voice: Voice) -> Iterator[Drawing]:
    details, s = job.detail.openings, voice.speaker
    yield _titled(
        _drawn("roof", "layout", draw_roof(job.site, job.layout, details, job.panels, s)),
        voice.say("packet.label.layout"),
    )
    for i, d in _planned(job):
        plan = _drawn(f"opening-{i}", "opening", draw_opening(job.site, job.layout, d, job.pieces, job.panels, s))
        yield _titled(plan, voice.say("packet.label.opening", {"name": shortened(d.opening.name, 26)}))
    for item in cut_items(job):
        yield from _blank(item, draw_card(item, s), voice)
    yield from _folds(job, s)
    for i, d in _planned(job):
        yield from _sealing(job, i, d, voice)
    for n, sheet in step_pictures(job).items():
        yield _step(f"step-{n:02d}", sheet)


def _folds(job: WorkedJob, speaker: Speaker) -> Iterator[Drawing]:
    """The order of folds on the pages and by itself."""
    items = cut_items(job)
    for f in fold_sheets(job, items, speaker):
        legend = fold_legend(f.section, not f.section, f.sheet.width, speaker)
        svg = to_svg(f.sheet)
        whole = under(f.sheet, svg, legend, to_svg(legend))
        layers = ("fold-section" if f.section else "fold-blank",)
        part: PartName = "bend" if f.on_page else "fold"
        file, size = f"bend-{file_name(f.ids[0])}", (f.sheet.width, f.sheet.height)
        yield Drawing(file, part, f.ids[0], svg, *size, layers, whole)
    singles = single_folds(job, items, speaker)
    if singles is not None:
        yield _drawn("bend-in-one-operation", "bend", singles)


def _planned(job: WorkedJob) -> list[tuple[int, OpeningDetail]]:
    """The openings that metal is drawn for, each with its number from 1."""
    return [(i, d) for i, d in enumerate(job.detail.openings, 1) if d.planned]


def _drawn(file: str, part: PartName, sheet: Display) -> Drawing:
    return Drawing(file, part, sheet.title, to_svg(sheet), sheet.width, sheet.height)


def _step(file: str, sheet: Display) -> Drawing:
    """A step's picture without its heading, which the page says itself; its own file keeps it."""
    head, body = cut_off(sheet, HEAD)
    svg = to_svg(body)
    whole = under(head, to_svg(head), body, svg)
    return Drawing(file, "step", sheet.title, svg, body.width, body.height, whole=whole)


def _titled(d: Drawing, title: str) -> Drawing:
    return replace(d, title=title)


def _blank(item: Piece | RoofPanel, cards: Sequence[Card], voice: Voice) -> Iterator[Drawing]:
    """Cards for the pages; their own files carry the legend too."""
    name = f"blank-{file_name(item.id)}"
    for n, card in enumerate(cards):
        sheet = card.display
        svg = to_svg(sheet)
        legend = legend_of(card.layers, sheet.width, voice.speaker)
        whole = under(sheet, svg, legend, to_svg(legend))
        file = f"{name}-close-{n}" if n else name
        yield Drawing(file, "blank", item.id, svg, sheet.width, sheet.height, card.layers, whole)


def _sealing(job: WorkedJob, i: int, d: OpeningDetail, voice: Voice) -> Iterator[Drawing]:
    pieces, panels = own(job, d)
    runs = shown(job.site, d, pieces, panels)
    if not runs:
        return
    maps = draw_sealing(job.site, job.layout, d, pieces, panels, runs, voice.speaker)
    for n, sheet in enumerate(maps, 1):
        yield _drawn(f"sealing-{i}-{n}", "sealing", sheet)
