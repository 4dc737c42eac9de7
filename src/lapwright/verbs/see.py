"""see: a worked-out job as a face shows it, one view at a time; every number is said here."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from lapwright.job import Job
from lapwright.metal.model import Piece, RoofPanel
from lapwright.packet.contents import said_finding, said_steps
from lapwright.packet.drawings import cut_items, file_name
from lapwright.packet.listed import cut_rows, takeoff_rows
from lapwright.packet.model import Step
from lapwright.packet.say import Voice
from lapwright.site.fields import FIELDS
from lapwright.verbs.leaks import UnknownSeam, leaks_of, leavable, opening_told
from lapwright.verbs.water import opening_lines
from lapwright.words import Speaker

Item = Piece | RoofPanel

MENDS: Mapping[str, tuple[str, str]] = {
    "slope.standing-seam": ("roof", "pitch"), "cricket.required": ("opening", "method"),
    "cricket.let-off": ("opening", "method"), "cricket.low-pitch": ("site", "rule_set"),
    "cricket.wall": ("opening", "height"), "cricket.small": ("opening", "method"),
    "method.forbidden": ("opening", "method"), "water.depth": ("opening", "method"),
    "pan.snow": ("opening", "method"), "upstand.wall": ("opening", "height"), "room.upslope": ("opening", "up"),
    "room.downslope": ("opening", "up"), "flashing.thickness": ("defaults", "flashing_metal"),
    "metals.contact": ("defaults", "flashing_metal"), "metals.runoff": ("defaults", "flashing_metal"),
}  # fmt: skip
"""The field that mends a rule's finding, where its cure names none. Table and name of the job file."""


@dataclass(frozen=True, slots=True)
class Lies:
    """A piece or panel on the roof: what a person asks when it is touched. step: its number, 0 for none."""

    id: str
    name: str
    opening: str
    size: str
    metal: str
    quantity: str
    bends: int
    step: int
    does: str
    has_blank: bool


def voice_of(job: Job) -> Voice:
    """Says things of this job, in its unit."""
    return Voice(Speaker(job.site.units))


def pieces(job: Job) -> tuple[Lies, ...]:
    """Everything that lies on the roof, in the order in which it goes on."""
    voice = voice_of(job)
    steps = {id: s for s in job.steps for id in s.pieces}
    items: dict[str, Item] = {**{p.id: p for p in job.pieces}, **{p.id: p for p in job.panels}}
    placed = [id for id in steps if id in items]
    return tuple(_lies(job, items[id], steps.get(id), voice) for id in dict.fromkeys([*placed, *items]))


def _lies(job: Job, item: Item, step: Step | None, voice: Voice) -> Lies:
    piece = isinstance(item, Piece)
    length = voice.speaker.length
    wide, high = (item.width, item.length) if isinstance(item, RoofPanel) else (item.blank.width, item.blank.height)
    name = item.name if isinstance(item, Piece) else f"shop.panel.{item.role}"
    metal = item.metal if isinstance(item, Piece) else job.site.panel.metal
    return Lies(
        id=item.id,
        name=voice.name(name),
        opening=item.opening or "",
        size=f"{length(wide)} × {length(high, feet=not piece)}",
        metal=voice.metal(metal),
        quantity=str(item.quantity if isinstance(item, Piece) else 1),
        bends=len(item.bends),
        step=step.n if step else 0,
        does=voice.say(step.title, step.values) if step else "",
        has_blank=item.blank is not None,
    )


def roof(job: Job) -> str:
    """The roof from above as SVG, each piece by its id."""
    from lapwright.draw.seen import Named, seen_svg
    from lapwright.packet.scene import nodes_of

    s, voice = job.site, voice_of(job)
    names = [Named(o.name, ((o.left + o.right) / 2, (o.up + o.back) / 2)) for o in s.openings]
    names += [
        Named(voice.say("draw.edge_eave"), (s.roof.eave / 2, -7.0)),
        Named(voice.say(f"draw.edge_{s.roof.upper_edge}"), (s.roof.eave / 2, s.roof.slope + 7.0)),
    ]
    return seen_svg(
        nodes_of(job), (s.roof.eave, s.roof.slope), names, voice.say("page_see.roof_title", {"name": s.name})
    )


def glb(job: Job) -> bytes:
    """model.glb."""
    from lapwright.packet.scene import model_glb

    return model_glb(job)


def pitch(job: Job) -> str:
    """The roof's pitch as the model's viewer wants it. [deg]"""
    return f"{math.degrees(job.site.roof.theta):.3f}"


def plan_json(job: Job) -> bytes:
    """plan.json, byte for byte as `plan` writes it."""
    from lapwright.packet.record import to_json

    return to_json(job)


def blank(job: Job, id: str) -> tuple[str, ...]:
    """The card of a blank as SVGs: the blank, then its close-ups where they have cards of their own.

    Raises:
        KeyError: nothing of that id is cut.
    """
    from lapwright.draw.card import draw_card
    from lapwright.draw.svg import to_svg

    return tuple(to_svg(card.display) for card in draw_card(_cut(job, id), Speaker(job.site.units)))


def dxf(job: Job, id: str) -> tuple[str, bytes]:
    """Name and content of a blank's cutting file, 1:1.

    Raises:
        KeyError: nothing of that id is cut.
    """
    from lapwright.draw.dxf import blank_to_dxf
    from lapwright.packet.files import marks_on

    item = _cut(job, id)
    assert item.blank is not None
    made = blank_to_dxf(item.id, item.blank, item.bends, job.site.units, marks_on(job, item))
    return f"{file_name(id)}.dxf", made


def _cut(job: Job, id: str) -> Item:
    found = next((i for i in cut_items(job) if i.id == id), None)
    if found is None:
        raise KeyError(id)
    return found


def blanks(job: Job) -> tuple[Lies, ...]:
    """Everything that is cut, in the order of the cut list."""
    known = {p.id: p for p in pieces(job)}
    return tuple(known[i.id] for i in cut_items(job))


def folded(job: Job, id: str) -> tuple[bool, bool]:
    """Is there an order of folds of this piece to show, and can it be shown moving?"""
    item, order = _cut(job, id), job.orders.get(id)
    shown = order is not None and item.body is not None
    return shown, order is not None and shown and order.feasible


def drawing(job: Job, name: str) -> str:
    """One drawing of the job as SVG.

    Args:
        job: A worked-out job.
        name: `bend-ID`, `fold-ID`, `leaks-N` or `step-N`.

    Raises:
        KeyError: there is no such drawing.
    """
    kind, _, which = name.partition("-")
    if kind not in _DRAWN:
        raise KeyError(name)
    return str(_DRAWN[kind](job, which))


def _bend(job: Job, id: str) -> str:
    from lapwright.draw.bending import draw_order
    from lapwright.draw.svg import to_svg

    return to_svg(draw_order(_cut(job, id), job.orders[id], Speaker(job.site.units), job.kit))


def _fold(job: Job, id: str) -> str:
    from lapwright.draw.fold_svg import fold_animation

    return fold_animation(_cut(job, id), job.orders[id], Speaker(job.site.units))


def _leaks(job: Job, which: str) -> str:
    from lapwright.draw.leaks import draw_leaks
    from lapwright.draw.svg import to_svg

    k = _number(which, len(job.detail.openings))
    if all(a.opening != job.detail.openings[k].opening.name for a in job.audits):
        raise KeyError(which)
    speaker = Speaker(job.site.units)
    return to_svg(draw_leaks(job.site, job.layout, job.detail, job.pieces, job.panels, job.audits, k, speaker))


def _step(job: Job, which: str) -> str:
    from lapwright.draw.step import draw_step
    from lapwright.draw.step_roof import roofed
    from lapwright.draw.svg import to_svg
    from lapwright.packet.step_pictures import step_views

    speaker, k = Speaker(job.site.units), _number(which, len(job.steps))
    whole = roofed(job.site, job.layout, job.detail, job.pieces, job.panels)
    return to_svg(draw_step(whole, step_views(job, speaker)[k], speaker))


_DRAWN = {"bend": _bend, "fold": _fold, "leaks": _leaks, "step": _step}


def _number(which: str, count: int) -> int:
    """A number from 1 as an index.

    Raises:
        KeyError: it is none, or there are not so many.
    """
    if not re.fullmatch(r"[1-9]\d{0,3}", which, re.ASCII) or int(which) > count:
        raise KeyError(which)
    return int(which) - 1


def findings(job: Job) -> tuple[dict[str, Any], ...]:
    """What rules found, worst first, each with `mends`: the field of the form that mends it, or nothing."""
    voice = voice_of(job)
    return tuple(
        said_finding(f, voice) | {"mends": _mends(job, f.rule, f.where, voice.cure(f) or "")} for f in job.findings
    )


def _mends(job: Job, rule: str, where: str, cure: str) -> str:
    """The name a field has on the form: the first that the cure names between back quotes, else the rule's own."""
    named = re.findall(r"`(\w+)", cure)
    fields = [(f.table, f.name) for name in named for f in FIELDS if f.name == name]
    table, name = next(iter(fields), MENDS.get(rule, ("", "")))
    if table != "opening":
        return f"{table}-{name}" if table else ""
    about = [k for k, o in enumerate(job.site.openings) if where == o.name or where.startswith(f"{o.name}:")]
    return f"opening-{about[0]}-{name}" if about else ""


@dataclass(frozen=True, slots=True)
class Wet:
    """The water behind one opening and its weakest way in. figures: number and what it is. told: level, line."""

    n: int
    name: str
    figures: tuple[tuple[str, str], ...]
    water: tuple[str, ...]
    told: tuple[tuple[int, str], ...]
    drawn: bool


def water(job: Job) -> tuple[Wet, ...]:
    """Every opening in the order of the job file."""
    return tuple(_wet(job, n, d.opening.name) for n, d in enumerate(job.detail.openings, 1))


def _wet(job: Job, n: int, name: str) -> Wet:
    speaker, d = Speaker(job.site.units), job.detail.openings[n - 1]
    told = opening_told(job, name)
    rows = list(_figures(job, n, speaker)) if d.water is not None else []
    lines: tuple[tuple[int, str], ...] = ()
    if told is not None:
        lines = tuple((_deep(line), line.strip()) for line in told[0][1:])
        if told[1] is not None:
            rows.append((speaker.length(told[1]), speaker.say("page_see.water.head")))
    said = tuple(line.strip() for line in opening_lines(job.site, d, speaker)[1:]) if d.water is not None else ()
    return Wet(n, name, tuple(rows), said, lines, told is not None)


def _figures(job: Job, n: int, speaker: Speaker) -> Iterator[tuple[str, str]]:
    w = job.detail.openings[n - 1].water
    assert w is not None
    say = speaker.say
    yield speaker.length(w.design), say("page_see.water.design")
    yield speaker.length(w.limit), say("page_see.water.limit")
    yield say("page_see.water.gpm", gpm=w.supply_gpm), say("page_see.water.supply")


def _deep(line: str) -> int:
    return (len(line) - len(line.lstrip())) // 2


def what_if(job: Job, without: str) -> tuple[tuple[int, str], ...]:
    """What one seam is here for: level and line. Nothing when no such seam can be left out."""
    try:
        return tuple((_deep(line), line.strip()) for line in leaks_of(job, without).lines if line)
    except UnknownSeam:
        return ()


def choices(job: Job) -> tuple[tuple[str, ...], ...]:
    """What may be left out: kinds of sealing, laps, kinds of piece."""
    return leavable(job)


def steps(job: Job) -> tuple[dict[str, Any], ...]:
    """The order of work, each step with a `key` that stays when other steps come and go."""
    voice = voice_of(job)
    return tuple(row | {"key": key} for row, key in zip(said_steps(job, (), voice), step_keys(job), strict=True))


def step_keys(job: Job) -> tuple[str, ...]:
    """A name for every step: what is done and the piece or opening that it is done to."""
    names = [o.name for o in job.site.openings]
    out: list[str] = []
    for s in job.steps:
        about = str(s.values.get("opening", ""))
        on = s.pieces[0] if s.pieces else str(names.index(about) + 1) if about in names else "roof"
        key = file_name(f"{s.title.removeprefix('steps.')}-{on}")
        out.append(key if key not in out else f"{key}-{s.n}")
    return tuple(out)


def lists(job: Job) -> dict[str, Any]:
    """Takeoff, cut list, the sheets of the cutting plan and the quote, in words."""
    from lapwright.packet.drawings import draw_sheets
    from lapwright.packet.quote import quote_contents

    voice = voice_of(job)
    return {
        "takeoff": takeoff_rows(job, voice), "cut": cut_rows(job, voice), "quote": quote_contents(job),
        "sheets": tuple(draw_sheets(job.cutting, job.site.units)),
    }  # fmt: skip
