"""see: a worked-out job as a face shows it, one view at a time; every number is said here."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from lapwright.job import Job
from lapwright.metal.model import Piece, RoofPanel
from lapwright.packet.drawings import cut_items, file_name
from lapwright.packet.model import Step
from lapwright.packet.say import Voice
from lapwright.words import Speaker

Item = Piece | RoofPanel

class NotThere(LookupError):
    """The job has no such blank, drawing or step."""


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
    from lapwright.draw.glb import Node
    from lapwright.draw.mesh import slab
    from lapwright.draw.seen import Named, owner, seen_svg
    from lapwright.packet.scene import COLOURS, nodes_of

    s, voice = job.site, voice_of(job)
    names = [Named(o.name, ((o.left + o.right) / 2, (o.up + o.back) / 2)) for o in s.openings]
    names += [
        Named(voice.say("draw.edge_eave"), (s.roof.eave / 2, -7.0)),
        Named(voice.say(f"draw.edge_{s.roof.upper_edge}"), (s.roof.eave / 2, s.roof.slope + 7.0)),
    ]
    nodes = list(nodes_of(job))
    known = {owner(n.name) for n in nodes}
    # on an existing roof these lie there already, and no step lays them
    lying = [Node(p.id, "", slab(p.outline), COLOURS["panel"]) for p in job.panels if p.id not in known]
    title = voice.say("page_see.roof_title", {"name": s.name})
    return seen_svg([*lying, *nodes], (s.roof.eave, s.roof.slope), names, title)


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
        NotThere: nothing of that id is cut.
    """
    from lapwright.draw.card import draw_card
    from lapwright.draw.svg import to_svg

    return tuple(to_svg(card.display) for card in draw_card(_cut(job, id), Speaker(job.site.units)))


def dxf(job: Job, id: str) -> tuple[str, bytes]:
    """Name and content of a blank's cutting file, 1:1.

    Raises:
        NotThere: nothing of that id is cut.
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
        raise NotThere(id)
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
        NotThere: there is no such drawing.
    """
    kind, _, which = name.partition("-")
    if kind not in _DRAWN:
        raise NotThere(name)
    return str(_DRAWN[kind](job, which))


def _bend(job: Job, id: str) -> str:
    from lapwright.draw.bending import draw_order
    from lapwright.draw.svg import to_svg

    if not folded(job, id)[0]:
        raise NotThere(id)
    return to_svg(draw_order(_cut(job, id), job.orders[id], Speaker(job.site.units), job.kit))


def _fold(job: Job, id: str) -> str:
    from lapwright.draw.fold_svg import fold_animation

    if not folded(job, id)[1]:
        raise NotThere(id)
    return fold_animation(_cut(job, id), job.orders[id], Speaker(job.site.units))


def _leaks(job: Job, which: str) -> str:
    from lapwright.draw.leaks import draw_leaks
    from lapwright.draw.svg import to_svg

    k = _number(which, len(job.detail.openings))
    if all(a.opening != job.detail.openings[k].opening.name for a in job.audits):
        raise NotThere(which)
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
        NotThere: it is none, or there are not so many.
    """
    if not re.fullmatch(r"[1-9]\d{0,3}", which, re.ASCII) or int(which) > count:
        raise NotThere(which)
    return int(which) - 1
