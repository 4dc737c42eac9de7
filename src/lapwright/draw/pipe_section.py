"""The section up the slope through a pipe: plate, sleeve, collar, cleat and panels, cut through the placed metal."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from lapwright.detail.model import Detail
from lapwright.draw.callout import Label, write_at
from lapwright.draw.display import Display
from lapwright.draw.features import Window
from lapwright.draw.heading import Words
from lapwright.draw.layers import cut_all, place_all
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
    x = pipe.centre[0] + OFF
    title = speaker.say("sections.title_pipe", name=work.opening.name)
    facts = (speaker.say("sections.where_pipe", pitch=site.roof.rise),)
    notes = tuple(speaker.say(f"sections.{key}") for key in _notes(work))
    window = _window(work)
    up, off = _up(work), _off(work)
    left, below = room_for(speaker.length(v) for _, v in off), room_for(speaker.length(u) for u, _ in up)
    words = Words(title, facts, ("wall", "pan", "patch", "cleat", "panel"), notes)
    sheet, plan = lay_sheet(words, window, (left, below, 8.0, 10.0), speaker)
    cut = cut_up_slope(x)
    own = [one for one in placed if one.part.opening == opening and one.part.kind != "membrane"]
    _solid(sheet, plan, work)
    named: dict[str, Flat] = {}
    for layer in cut_all(work, own, cut):
        lift = APART.get(layer.part.kind, 0.4)
        if layer.part.role == "upper":
            lift = 0.4
        for points in chains(layer.traces):
            moved = tuple((u, v + lift) for u, v in points)
            run(sheet, plan, moved, PEN.get(layer.part.kind, "panel"), price=0.6)
            key = layer.placed.key
            seen = [p for p in moved if window[0] < p[0] < window[2] and window[1] < p[1] < window[3]]
            if seen:
                named.setdefault(key, seen[len(seen) // 2])
    write_figures(sheet, plan, "lower", figures(plan, "x", [(u, (u, 0.0)) for u, _ in up], speaker.length, up[0][0]))
    write_figures(sheet, plan, "left", figures(plan, "y", [(v, p) for p, v in off], speaker.length, 0.0))
    for key, at in named.items():
        write_at(sheet, plan.at(at), Label("", speaker.say(key)))
    return {"pipe": sheet.finish(PENS, title)}


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


def _solid(sheet: Sheet, plan: Plan, work: Work) -> None:
    """The deck, open where the pipe comes through, and the pipe."""
    pipe = work.detail.pipe
    assert pipe is not None
    x0, _, x1, _ = plan.window
    for a, b in ((x0, work.opening.up - pipe.gap), (work.opening.back + pipe.gap, x1)):
        sheet.ring([plan.at(p) for p in ((a, -DECK), (b, -DECK), (b, 0.0), (a, 0.0))], "wall", "hatch", price=1.0)
    for azimuth in (0.0, math.pi):
        ends = [spoke(work, pipe.diameter / 2, k, azimuth) for k in (-2.0 - pipe.diameter, pipe.height + 2 * ABOVE)]
        line(sheet, plan, (ends[0][1], ends[0][2]), (ends[1][1], ends[1][2]), "wall", 1.5)
