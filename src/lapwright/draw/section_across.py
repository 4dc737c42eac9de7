"""Sections across the slope: through the side wall, and over a bay rib where the panels' legs are notched."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lapwright.detail.model import Detail, Notch
from lapwright.draw.layers import Layer, Placed, Wall
from lapwright.draw.section_marks import (
    between,
    cleat_spots,
    cover,
    fixing,
    hem_bead,
    hem_on_strip,
    named,
    reglet,
    reglet_bead,
    strip_spots,
)
from lapwright.draw.section_plan import (
    Cast,
    Figure,
    Name,
    Plan,
    face_end,
    face_of,
    figure,
    high,
    left,
    low,
    right,
)
from lapwright.draw.section_up import ABOVE, BELOW, DECK, INTO_WALL, facing, shown
from lapwright.draw.section_view import Spot
from lapwright.draw.stage import View
from lapwright.geom.space import Flat
from lapwright.metal.counterflashing import span
from lapwright.metal.slice import cut_across
from lapwright.metal.work import Hand, Work

PAST_RIB = 3.5
"""Roof shown beyond a bay rib. [in]"""
INSIDE_BAY = 9.5
"""Roof shown from a notched rib into the bay. [in]"""
OFF_WALL = 0.25
"""A rib's section ends this far from the opening. [in]"""


# --- through the side wall ----------------------------------------------------------------------


def plan_side(work: Work, placed: Sequence[Placed], detail: Detail) -> Plan:
    """Through the left side: bay rib, side panel, hook strip, side-wall flashing, counterflashing, wall."""
    o, bay, placed = work.opening, work.detail.bay, facing(placed, "left")
    above = min(o.height, span(work).high + ABOVE)
    start = bay.left - PAST_RIB if bay.left_is_rib else bay.left - 0.5
    deck = ((o.left, 0.0), (max(start, 0.0), 0.0), (max(start, 0.0), -DECK), (o.left, -DECK))
    solid = (
        (o.left, -BELOW),
        (o.left, above),
        (o.left + INTO_WALL, above),
        (o.left + INTO_WALL, -BELOW),
    )
    window = (start, -BELOW, o.left + INTO_WALL, above + 3.0)
    wall = Wall((o.left, 0.0), (0.0, 1.0), (-1.0, 0.0))
    # The middle of the side, or below the pan's leg where the opening is short.
    y = max(min((o.up + o.back) / 2, o.back - work.measures.side_run - 1.0), o.up + 1.0)
    view = View(cut_across(y), window, wall=wall, deck=deck, solid=solid, headed=above >= o.height)
    layers = shown(work, placed, detail, view)
    cast = Cast(work, layers)
    slot = reglet(cast, view.wall)
    return Plan(
        view,
        layers,
        tuple(_side_figures(cast)),
        tuple(_side_names(cast)),
        (*flange_spots(cast, "left"), *reglet_bead(slot)),
        tuple(hem_on_strip(cast, cast.find("side-wall"), "base")),
        slot,
    )


def _side_figures(cast: Cast) -> Iterator[Figure]:
    flashing, bay = cast.find("side-wall"), cast.work.detail.bay
    foot, edge = face_end(flashing, "base", right), face_end(flashing, "base", left)
    tip = face_end(flashing, "upstand", high)
    yield from figure("flange", "u", (flashing, edge), (flashing, foot), -1)
    key = "clear" if bay.left_is_rib else "clear_edge"
    yield from figure(key, "u", (None, (bay.left, 0.0)), (None, (cast.work.opening.left, 0.0)), -2)
    yield from figure("upstand", "v", (flashing, foot), (flashing, tip), -64)
    yield from cover(cast, "left", flashing, tip, -32)
    yield from _rib_height(cast, bay.left)


def _rib_height(cast: Cast, rib: float) -> Iterator[Figure]:
    """The rib's height, on the panel whose leg stands highest over its own flat."""
    best: tuple[float, Layer, Flat, Flat] | None = None
    for one in cast.layers:
        for trace in one.traces:
            if trace.face == "flat/leg" and abs(trace.points[0][0] - rib) < 1.0:
                foot, top = trace.points[0], max(trace.points, key=high)
                if best is None or top[1] - foot[1] > best[0] + 1e-9:
                    best = (top[1] - foot[1], one, _home(one, foot), _home(one, top))
    if best is not None:
        _, one, foot, top = best
        yield from figure("rib", "v", (one, foot), (one, top), -16)


def _home(layer: Layer, p: Flat) -> Flat:
    """A place as it was before its layer was moved. [in]"""
    return (p[0] - layer.moved[0], p[1] - layer.moved[1])


def _side_names(cast: Cast) -> Iterator[Name]:
    for one in cast.layers:
        yield named(cast, one)
    panel = cast.find("side")
    up = panel.mould.get("turn-up at the left side") if panel else None
    if panel is not None and up is not None:
        values = {"value": abs(up[1][1] - up[0][1])}
        yield Name("sections.label.side_turn_up", panel, "turn-up at the left side", values)
    yield from fixing(cast)


def flange_spots(cast: Cast, hand: Hand) -> Iterator[Spot]:
    """What holds a side-wall flashing's flange down: tape under hem and strip, the strip's screws."""
    flashing, hook, panel = cast.find("side-wall", hand), cast.find("hook-strip", hand), cast.find("side")
    yield from strip_spots(hook, panel)
    base, hem = (flashing.mould.get(f) if flashing else None for f in ("base", "hem"))
    if flashing is not None and base is not None and hem is not None:
        # Just inside the hem, on the flange itself: the run the flange is closed on.
        toward = 1.0 if hand == "left" else -1.0
        inner = max(hem[0][0] * toward, hem[1][0] * toward) * toward
        yield from between("tape", flashing, hook or panel, inner + toward * 0.35)


# --- over a bay rib -----------------------------------------------------------------------------


def plan_ribs(work: Work, placed: Sequence[Placed], detail: Detail) -> tuple[Plan, ...]:
    """One plan per notched bay rib, left to right."""
    return tuple(_plan_rib(work, placed, detail, n) for n in work.detail.notches)


def notch_middle(notch: Notch) -> float:
    """y half way between the ends of a notch. [in]"""
    return (notch.from_y + notch.to_y) / 2


def _plan_rib(work: Work, placed: Sequence[Placed], detail: Detail, notch: Notch) -> Plan:
    o, rib = work.opening, notch.rib
    hand: Hand = "left" if rib < o.left else "right"
    far = min(INSIDE_BAY, (o.left - rib if hand == "left" else rib - o.right) - OFF_WALL)
    ends = (rib - PAST_RIB, rib + far) if hand == "left" else (rib - far, rib + PAST_RIB)
    deck = ((ends[0], 0.0), (ends[1], 0.0), (ends[1], -DECK), (ends[0], -DECK))
    window = (ends[0], -BELOW, ends[1], work.site.panel.rib_height + 3.0)
    view = View(cut_across(notch_middle(notch)), window, deck=deck)
    layers = shown(work, placed, detail, view)
    cast = Cast(work, layers)
    cut = f"{notch.cut}-folded" if notch.cut == "outer-leg" and work.site.panel.folded else notch.cut
    return Plan(
        view,
        layers,
        tuple(_rib_figures(cast, rib, hand)),
        tuple(_rib_names(cast)),
        tuple(_rib_spots(cast, rib, hand)),
        heading=(f"sections.rib_{hand}_cut", f"sections.cut_{cut.replace('-', '_')}"),
    )


def _rib_figures(cast: Cast, rib: float, hand: Hand) -> Iterator[Figure]:
    pan, side = cast.pan(), cast.find("side")
    away = 1.0 if hand == "left" else -1.0
    face = rib + away * (cast.work.measures.rib_face or 0.0)
    turned = face_of(pan, f"turn-up {hand}", "turn-up")
    foot, tip = face_end(pan, turned, low), face_end(pan, turned, high)
    yield from figure("turn_up", "v", (pan, foot), (pan, tip), away * 26)
    yield from figure("gap", "u", (side, (face, 0.0)), (pan, foot), -1)


def _rib_names(cast: Cast) -> Iterator[Name]:
    for one in cast.layers:
        if one.part.role == "upper":
            pan = cast.pan()
            lift = one.moved[1] - (pan.moved[1] if pan else 0.0)
            yield Name("sections.label.lifted", one, "", {"value": lift})
        else:
            yield Name(one.placed.key, one)


def _rib_spots(cast: Cast, rib: float, hand: Hand) -> Iterator[Spot]:
    """Beads up the rib and in the pan's laps, tape and screws of strips and cleats that are cut."""
    pan, side = cast.pan(), cast.find("side")
    away = 1.0 if hand == "left" else -1.0
    up = face_end(pan, face_of(pan, f"turn-up {hand}", "turn-up"), high)
    if pan is not None and side is not None and up is not None:
        v = 0.4 * up[1]
        face = (rib + away * (cast.work.measures.rib_face or 0.0), v)
        yield Spot("bead", pan, (up[0] + pan.moved[0], v + pan.moved[1]), side, face)
    flashing = cast.find("side-wall", hand)
    base = flashing.mould.get("base") if flashing else None
    laps: list[tuple[Layer | None, float]] = [(side, rib + away * 1.2)]
    if base is not None:
        laps.append((flashing, (base[0][0] + base[1][0]) / 2))
    for under, u in laps:
        if pan is not None and under is not None:
            yield from between("bead", pan, under, u)
    yield from flange_spots(cast, hand)
    yield from cleat_spots(cast)
    yield from hem_bead(cast.hooked()[1])
