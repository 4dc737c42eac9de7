"""The metal of one opening, cut by a plane and told apart: what lies on what, so that it can be drawn apart.

Every layer keeps its true shape. It is only moved: off the deck along the wall by its rank among the sheets
that lie on the deck here, and off the wall by its rank among those that stand against it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from lapwright.detail.model import Detail, Part
from lapwright.draw.legs import legs_at
from lapwright.geom.space import Flat, Point, add
from lapwright.layout.model import Layout, Strip
from lapwright.metal.model import Body, Piece, RoofPanel
from lapwright.metal.place import shift
from lapwright.metal.slice import Cut, Trace, slice_body, slice_sheet
from lapwright.metal.solid import Flatness, Folded, in_place
from lapwright.metal.work import Work, at_bench
from lapwright.site.model import Site
from lapwright.tables import metals

NEAR_WALL = 0.6
"""A sheet this near a wall stands against it. [in]"""
LEAST_RUN = 0.4
"""Shorter runs do not say where a sheet lies. [in]"""
LIES_DEG = 20.0
"""A run this far off the deck, or off the wall, still lies on it. [deg]"""
SHARED = 0.2
"""Two sheets lie on each other where they share this much. [in]"""


@dataclass(frozen=True, slots=True)
class Placed:
    """A part as it lies on the roof. key: its name in words/. body: None for a panel left as it was formed."""

    part: Part
    key: str
    sheet: Folded
    body: Body | None
    moved: Point
    panel: RoofPanel | None = None
    strip: Strip | None = None


@dataclass(frozen=True, slots=True)
class Layer:
    """A part cut by a plane. traces: as it lies. mould: runs between mould lines, before it was moved. [in]

    lost: the legs that a notch took off here.
    deck, wall: how many sheets lie between it and the deck, and stand between it and the wall.
    """

    placed: Placed
    traces: tuple[Trace, ...]
    mould: dict[str, tuple[Flat, Flat]]
    moved: Flat
    lost: tuple[Trace, ...] = ()
    deck: int = 0
    wall: int = 0

    @property
    def part(self) -> Part:
        """The part itself."""
        return self.placed.part

    @property
    def id(self) -> str:
        """The part's id."""
        return self.placed.part.id


def place_all(
    site: Site, layout: Layout, detail: Detail, pieces: Sequence[Piece], panels: Sequence[RoofPanel], opening: int
) -> tuple[Work, tuple[Placed, ...]]:
    """Everything round one opening, folded and in its place; through panels with it."""
    work = at_bench(site, detail.openings[opening])
    made: dict[str, Piece | RoofPanel] = {p.id: p for p in pieces} | {p.id: p for p in panels}
    parts = [p for p in detail.parts if p.opening in (None, opening)]
    return work, tuple(one for p in parts for one in _place(work, layout, p, made[p.id]))


def _place(work: Work, layout: Layout, part: Part, made: Piece | RoofPanel) -> Iterator[Placed]:
    panel = made if isinstance(made, RoofPanel) else None
    key = f"sections.panel.{panel.role}" if panel else made.name  # type: ignore[union-attr]
    strip = layout.strips[part.strip] if part.strip is not None else None
    moved = shift(work, part) if part.opening is not None else (0.0, 0.0, 0.0)
    for along in part.copies:
        here = add(moved, (along, 0.0, 0.0))
        if made.body is not None:
            yield Placed(part, key, in_place(made.body, here), made.body, here, panel, strip)
        elif panel is not None:
            yield Placed(part, key, _slab(panel, metals()[work.site.panel.metal].coated), None, here, panel, strip)


def _slab(panel: RoofPanel, thickness: float) -> Folded:
    under, over = (tuple((x, y, z) for x, y in panel.outline) for z in (0.0, thickness))
    return Folded((Flatness("flat", under, over, panel.outline),), ())


def cut_all(work: Work, placed: Iterable[Placed], cut: Cut) -> list[Layer]:
    """What the plane cuts, in the parts' own order; not yet told apart."""
    across = abs(cut.u[0]) > 1.0 - 1e-9
    out = []
    for one in placed:
        traces = slice_sheet(one.sheet, cut)
        lost: tuple[Trace, ...] = ()
        if across and one.strip is not None:
            traces, lost = _with_legs(work, one, traces, cut.origin[1])
        if traces:
            mould = slice_body(one.body, cut) if one.body is not None else {}
            out.append(Layer(one, traces, mould, _flat_move(one.moved, cut), lost))
    return out


def _flat_move(moved: Point, cut: Cut) -> Flat:
    origin = cut.flat((0.0, 0.0, 0.0))
    end = cut.flat(moved)
    return (end[0] - origin[0], end[1] - origin[1])


def _with_legs(
    work: Work, one: Placed, traces: Sequence[Trace], y: float
) -> tuple[tuple[Trace, ...], tuple[Trace, ...]]:
    """A panel's flat, kept clear of its ribs, with the formed legs on it; and the legs that a notch took off."""
    strip, panel = one.strip, one.panel
    assert strip is not None and panel is not None
    face, formed = work.measures.rib_face or 0.0, work.site.panel
    flats = [t for t in traces if t.face == "flat"]
    if not flats:
        return tuple(traces), ()
    floor, us = flats[0].points[0][1], [p[0] for t in flats for p in t.points]
    low, high = strip.left, strip.right
    legs: list[Trace] = []
    lost: list[Trace] = []
    for rib, on_left in [(low, False)] * strip.left_is_rib + [(high, True)] * strip.right_is_rib:
        if not min(us) - 1e-6 <= rib <= max(us) + 1e-6:
            continue
        leg, whole = legs_at(panel, formed, face, rib, on_left, y)
        foot = whole[0][0]
        low, high = (low, foot) if on_left else (foot, high)
        legs += [Trace("flat/leg", tuple((x, floor + z) for x, z in leg))] if leg else []
        lost += [Trace("flat/lost", tuple((x, floor + z) for x, z in whole))] if leg != whole else []
    kept = []
    for t in traces:
        if t.face == "flat":
            points = tuple((min(max(p[0], low), high), p[1]) for p in t.points)
            if math.dist(points[0], points[-1]) > LEAST_RUN / 10:
                kept.append(Trace(t.face, points))
        else:
            kept.append(t)
    return (*kept, *legs), tuple(lost)


# --- telling apart ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Wall:
    """The face of the opening in a section: a point of it at the deck, the way up it, and out of it."""

    foot: Flat
    up: Flat
    out: Flat


def told_apart(layers: Sequence[Layer], detail: Detail, wall: Wall | None) -> list[Layer]:
    """Give every layer its ranks, from what laps over what."""
    over = _all_laps(detail, {one.id for one in layers})
    deck = _ranks(layers, over, [_on_deck(one) for one in layers])
    against = _ranks(layers, over, [_on_wall(one, wall) for one in layers])
    deck = _carried(layers, over, deck, above=False)
    against = _carried(layers, over, against, above=True)
    return [replace(one, deck=d or 0, wall=w or 0) for one, d, w in zip(layers, deck, against, strict=True)]


Span = tuple[float, float]


def _on_deck(one: Layer) -> list[Span]:
    """The runs of u in which a layer lies along the deck. [in]"""
    spans = []
    for t in one.traces:
        (u0, v0), (u1, v1) = t.points[0], t.points[-1]
        lies = t.is_flat and abs(v1 - v0) <= math.tan(math.radians(LIES_DEG)) * abs(u1 - u0)
        if lies and t.length > LEAST_RUN and max(v0, v1) < 2.5:
            spans.append((min(u0, u1), max(u0, u1)))
        if t.face == "flat/leg":
            us = [p[0] for p in t.points]
            spans.append((min(us), max(us)))
    return spans


def _on_wall(one: Layer, wall: Wall | None) -> list[Span]:
    """The runs up the wall in which a layer stands against it. [in]"""
    if wall is None:
        return []
    spans = []
    for t in one.traces:
        if not t.is_flat or t.length < LEAST_RUN:
            continue
        ends = [(p[0] - wall.foot[0], p[1] - wall.foot[1]) for p in (t.points[0], t.points[-1])]
        offs = [p[0] * wall.out[0] + p[1] * wall.out[1] for p in ends]
        ups = [p[0] * wall.up[0] + p[1] * wall.up[1] for p in ends]
        if max(map(abs, offs)) < NEAR_WALL and abs(offs[1] - offs[0]) < 0.2 * abs(ups[1] - ups[0]):
            spans.append((min(ups), max(ups)))
    return spans


def _all_laps(detail: Detail, shown: set[str]) -> dict[str, set[str]]:
    """What lies under each shown part, near and far."""
    under: dict[str, set[str]] = {}
    for lap in detail.laps:
        under.setdefault(lap.over, set()).add(lap.under)
    out: dict[str, set[str]] = {}
    for name in shown:
        seen: set[str] = set()
        rest = [name]
        while rest:
            for below in under.get(rest.pop(), ()):
                if below not in seen:
                    seen.add(below)
                    rest.append(below)
        out[name] = seen & shown
    return out


def _ranks(layers: Sequence[Layer], under: dict[str, set[str]], spans: Sequence[list[Span]]) -> list[int | None]:
    """Longest stack of lapped sheets below each layer that has a span; hooked sheets share a rank."""
    rank: list[int | None] = [None] * len(layers)
    for i in _in_order(layers, under):
        if not spans[i]:
            continue
        rank[i] = 1
        for k, other in enumerate(layers):
            below, rank_k = other.id in under[layers[i].id], rank[k]
            if below and rank_k is not None and _share(spans[i], spans[k]):
                step = 0 if hooks(layers[i], other) else 1
                rank[i] = max(rank[i] or 0, rank_k + step)
    return rank


def _in_order(layers: Sequence[Layer], under: dict[str, set[str]]) -> list[int]:
    """Lower layers first."""
    return sorted(range(len(layers)), key=lambda i: (len(under[layers[i].id]), i))


def _share(a: list[Span], b: list[Span]) -> bool:
    return any(min(p[1], q[1]) - max(p[0], q[0]) > SHARED for p in a for q in b)


def hooks(over: Layer, under: Layer) -> bool:
    """Does an open hem of the upper sheet hold the lower sheet's edge?"""
    body = over.placed.body
    if body is None:
        return False
    for joint in body.joints:
        if joint.kind != "open-hem":
            continue
        flap = next((t for t in over.traces if t.face == joint.child), None)
        home = next((t for t in over.traces if t.face == joint.parent), None)
        if flap is None or home is None:
            continue
        (low, high), (v0, v1) = sorted(p[0] for p in flap.points), (flap.points[0][1], home.points[0][1])
        held = (p for t in under.traces for p in t.points)
        if any(low <= u <= high and min(v0, v1) < v < max(v0, v1) for u, v in held):
            return True
    return False


def _carried(
    layers: Sequence[Layer], under: dict[str, set[str]], rank: Sequence[int | None], above: bool
) -> list[int | None]:
    """A layer without a rank of its own goes with its neighbour's: the one over it first, or the one under it."""
    out = list(rank)
    for i in _in_order(layers, under):
        if out[i] is not None:
            continue
        lower = [r for k, r in enumerate(rank) if r is not None and layers[k].id in under[layers[i].id]]
        upper = [r for k, r in enumerate(rank) if r is not None and layers[i].id in under[layers[k].id]]
        if above and upper:
            out[i] = min(upper)
        elif lower:
            out[i] = max(lower)
    return out
