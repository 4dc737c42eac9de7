"""The section up the slope through a pipe: plate, sleeve, collar, cleat and panels, cut through the placed metal."""

from __future__ import annotations

import math
import string
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from lapwright.detail.model import Detail
from lapwright.draw.callout import Label, write_at
from lapwright.draw.display import Display
from lapwright.draw.features import Window, clip
from lapwright.draw.heading import Words
from lapwright.draw.layers import Layer, cut_all, place_all
from lapwright.draw.pens import PENS
from lapwright.draw.plan import Plan, figures, lay_sheet, line, room_for, run, write_figures
from lapwright.draw.sheet import Sheet
from lapwright.geom.space import Flat
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.metal.sleeve import round_of, spoke
from lapwright.metal.slice import chains, cut_up_slope
from lapwright.metal.work import Work
from lapwright.site.model import Site
from lapwright.words import Speaker

BEYOND = 3.0
"""Roof shown past the plate's ends. [in]"""

DECK = 0.75
"""Deck drawn under the roof's flat. [in]"""

ABOVE = 4.0
"""Pipe shown above the collar's lower edge. [in]"""

OFF = 0.02
"""The plane lies this far off the pipe's middle. [in]"""

APART = {"panel": 0.0, "hook-strip": 0.12, "base-plate": 0.25, "rib-hood": 0.4, "offset-cleat": 0.4, "sleeve": 0.4}
"""Sheets are drawn this much further apart than they lie, so that each is seen. [in]"""


def draw_pipe(
    site: Site,
    layout: Layout,
    detail: Detail,
    pieces: Sequence[Piece],
    panels: Sequence[RoofPanel],
    opening: int,
    speaker: Speaker,
) -> dict[str, Display]:
    """Draw the section through the pipe's middle, seen from the right.

    Args:
        opening: index into detail.openings, of a pipe that is planned.

    Returns:
        One sheet by its key.
    """
    work, placed = place_all(site, layout, detail, pieces, panels, opening)
    pipe = work.detail.pipe
    assert pipe is not None
    # A hair off the middle, where two facets of the rolled sheets meet.
    cut = cut_up_slope(pipe.centre[0] + OFF)
    own = [one for one in placed if one.part.opening == opening and one.part.kind != "membrane"]
    drawn = [(layer, _apart(layer)) for layer in cut_all(work, own, cut)]
    window = _window(work)
    named = {"sections.pipe": _on_pipe(work, window), "sections.legend.deck": (window[0] + 1.0, -DECK / 2)}
    for layer, traces in drawn:
        for at in _inside(window, traces):
            named.setdefault(layer.placed.key, at)
    title = speaker.say("sections.title_pipe", name=work.opening.name)
    facts = (speaker.say("sections.where_pipe", pitch=site.roof.rise),)
    notes = (_key(named, speaker), *(speaker.say(f"sections.{key}") for key in _notes(work)))
    up, off = _up(work), _off(work)
    left, below = room_for(speaker.length(v) for _, v in off), room_for(speaker.length(u) for u, _ in up)
    sheet, plan = lay_sheet(Words(title, facts, (), notes), window, (left, below, 8.0, 22.0), speaker)
    _solid(sheet, plan, work)
    for layer, traces in drawn:
        for points in traces:
            run(sheet, plan, points, PEN.get(layer.part.kind, "panel"), price=0.6)
    write_figures(sheet, plan, "lower", figures(plan, "x", [(u, (u, 0.0)) for u, _ in up], speaker.length, up[0][0]))
    write_figures(sheet, plan, "left", figures(plan, "y", [(v, p) for p, v in off], speaker.length, 0.0))
    for letter, at in zip(LETTERS, named.values(), strict=False):
        write_at(sheet, plan.at(at), Label(letter, ""))
    return {"pipe": sheet.finish(PENS, title)}


LETTERS = string.ascii_uppercase
"""A pipe has a dozen sheets at most."""


def _key(named: Mapping[str, Flat], speaker: Speaker) -> str:
    """What each letter of the drawing stands for."""
    return " · ".join(f"{letter}: {speaker.say(key)}" for letter, key in zip(LETTERS, named, strict=False))


def _apart(layer: Layer) -> list[list[Flat]]:
    """A sheet's cut lines, lifted a little so that laps can be read. [in]"""
    lift = 0.4 if layer.part.role == "upper" else APART.get(layer.part.kind, 0.4)
    return [[(u, v + lift) for u, v in points] for points in chains(layer.traces)]


def _inside(window: Window, traces: Sequence[Sequence[Flat]]) -> Iterator[Flat]:
    """The middle of the longest stretch of each of its lines that is drawn. [in]"""
    for points in traces:
        seen = [part for a, b in pairwise(points) if (part := clip(a, b, window)) is not None]
        if seen:
            a, b = max(seen, key=lambda ends: math.dist(*ends))
            yield ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


PEN = {
    "base-plate": "pan",
    "sleeve": "cut",
    "storm-collar": "cut",
    "offset-cleat": "cleat",
    "rib-hood": "patch",
    "hook-strip": "patch",
}
"""How each kind is drawn; panels thin."""


def _notes(work: Work) -> Iterator[str]:
    yield "pipe_apart"
    if work.opening.hot:
        yield "pipe_hot"


def _window(work: Work) -> Window:
    pipe, pan = work.detail.pipe, work.pan
    assert pipe is not None
    high = (pipe.height + ABOVE) * math.cos(pipe.lean)
    far = spoke(work, pipe.diameter, pipe.height + ABOVE, 0.0)[1]
    return (pan.downslope - BEYOND, -DECK, max(pan.upslope + BEYOND, far), high)


def _up(work: Work) -> list[Flat]:
    """Places along the slope that are dimensioned, from the plate's downslope edge. [in]"""
    o, pan = work.opening, work.pan
    cleat = work.detail.cleat_line[0][1]
    return [(y, 0.0) for y in (pan.downslope, o.up, o.back, cleat, o.back + work.measures.overrun, pan.upslope)]


def _off(work: Work) -> list[tuple[Flat, float]]:
    """Heights square to the roof: the roof, the sleeve's end upslope and downslope. [in]"""
    r = round_of(work)
    ends = [spoke(work, r.head, r.height, a) for a in (0.0, math.pi)]
    return [((work.pan.downslope, 0.0), 0.0), *(((p[1], p[2]), p[2]) for p in ends)]


def _on_pipe(work: Work, window: Window) -> Flat:
    """Where the pipe's name points: its downslope side, as high as is drawn. [in]"""
    pipe = work.detail.pipe
    assert pipe is not None
    foot, above = (spoke(work, pipe.diameter / 2, k, math.pi) for k in (0.0, 1.0))
    share = (window[3] - 1.0 - foot[2]) / (above[2] - foot[2])
    return (foot[1] + share * (above[1] - foot[1]), window[3] - 1.0)


def _solid(sheet: Sheet, plan: Plan, work: Work) -> None:
    """The deck, open where the pipe comes through, and the pipe."""
    pipe = work.detail.pipe
    assert pipe is not None
    x0, _, x1, _ = plan.window
    for a, b in ((x0, work.opening.up - pipe.gap), (work.opening.back + pipe.gap, x1)):
        sheet.ring([plan.at(p) for p in ((a, -DECK), (b, -DECK), (b, 0.0), (a, 0.0))], "wall", "hatch", price=1.0)
    for azimuth in (0.0, math.pi):
        ends = [spoke(work, pipe.diameter / 2, k, azimuth) for k in (-2.0 - pipe.diameter, pipe.height + 2 * ABOVE)]
        line(sheet, plan, (ends[0][1], ends[0][2]), (ends[1][1], ends[1][2]), "wall", 6.0)
