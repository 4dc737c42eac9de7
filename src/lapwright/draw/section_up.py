"""Sections up the slope: behind the opening through pan and cleat, and below it through the apron."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from lapwright.detail.model import Detail, Part
from lapwright.draw.features import Window
from lapwright.draw.layers import Layer, Placed, Wall, cut_all, told_apart
from lapwright.draw.section_marks import (
    AROUND,
    between,
    cleat_spots,
    cover,
    fixing,
    hem_bead,
    hem_on_strip,
    named,
    reglet,
    reglet_bead,
    screw,
    strip_spots,
)
from lapwright.draw.section_plan import (
    Cast,
    CloseUp,
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
from lapwright.draw.section_view import Spot
from lapwright.draw.stage import View, lines_of
from lapwright.geom.space import Flat
from lapwright.metal.slice import Cut, Trace, cut_up_slope, slice_sheet
from lapwright.metal.solid import Folded
from lapwright.metal.work import Work

BESIDE_RIB = 1.0
"""The plane keeps this far from a rib's face. [in]"""
BEYOND = 6.0
"""Roof shown past the metal. [in]"""
BELOW_APRON = 3.0
"""Panel shown downslope of an apron. [in]"""
ABOVE = 1.25
"""Wall shown above the counterflashing. [in]"""
INTO_WALL = 2.5
"""Wall shown behind its face. [in]"""
DECK = 0.6
"""Deck thickness drawn. [in]"""
BELOW = 0.8
"""Wall shown below the deck. [in]"""
SCREW_INSIDE = 0.75
"""A screw along an edge is drawn this far inside it. [in]"""


def plane_in(work: Work) -> float:
    """x of the plane up the slope: the middle of the opening or of half a cricket, or as near as ribs allow. [in]"""
    o = work.opening
    clear = (work.measures.rib_face or 0.0) + BESIDE_RIB
    middle = o.left + o.width / (2 if work.detail.cricket is None else 4)
    ribs = [x for x in work.detail.bay.interrupted if abs(x - middle) < clear]
    return middle if not ribs else min((ribs[0] - clear, ribs[0] + clear), key=lambda x: (abs(x - middle), x))


def facing(placed: Iterable[Placed], *walls: str) -> list[Placed]:
    """Everything but the counterflashing of other walls, which a short opening would bring into the picture."""
    return [p for p in placed if p.part.kind != "counterflashing" or p.part.where in (*walls, "cap")]


def shown(work: Work, placed: Iterable[Placed], detail: Detail, view: View) -> tuple[Layer, ...]:
    """What the plane cuts inside the window, told apart."""
    layers = [one for one in cut_all(work, placed, view.cut) if lines_of(view, one.traces)]
    apart = told_apart(layers, detail, view.wall)
    return (*apart, *_wrap(Cast(work, apart), view))


def _wrap(cast: Cast, view: View) -> Iterator[Layer]:
    """The wall's water-resistive layer, which comes down over a plate: on framed walls only."""
    plate = cast.find("counterflashing")
    face = plate.mould.get("face") if plate else None
    if plate is None or face is None or view.wall is None or not cast.work.opening.framed:
        return
    up, head = view.wall.up, max(face, key=high)
    over = cast.work.measures.behind_wrap / up[1]
    ends = [(head[0] + k * up[0] + plate.moved[0], head[1] + k * up[1] + plate.moved[1]) for k in (ABOVE, -over)]
    part = Part("wrap", "wrap")
    placed = Placed(part, "sections.label.wrap", Folded((), ()), None, plate.placed.moved)
    trace = Trace("wrap", (ends[0], ends[1]))
    yield Layer(placed, (trace,), {}, plate.moved, (), plate.deck, plate.wall + 1)


# --- behind the opening -------------------------------------------------------------------------


def plan_upslope(work: Work, placed: Sequence[Placed], detail: Detail) -> Plan:
    """Through the wall, the pan or half of the cricket, the cleat and the hooked panel above it."""
    o, placed = work.opening, facing(placed, "back")
    s, c = work.walls.up[1], work.walls.up[2]
    cut = cut_up_slope(plane_in(work))
    view = _view(work, cut, (o.back, (c, -s)), (o.back, work.pan.upslope + BEYOND), head_of(placed, cut))
    layers = shown(work, placed, detail, view)
    cast = Cast(work, layers)
    slot = reglet(cast, view.wall)
    return Plan(
        view,
        layers,
        tuple(_upslope_figures(cast)),
        tuple(_upslope_names(cast)),
        (*_upslope_spots(cast), *reglet_bead(slot)),
        tuple(_hook(cast, placed, detail)),
        slot,
        taper=_taper(cast),
    )


def _taper(cast: Cast) -> tuple[Flat, ...]:
    """The tapered deck under a cricket: from the wall's foot up the wall and down to the valley."""
    half = cast.find("cricket")
    crest, valley = face_end(half, "plane", high), face_end(half, "plane", low)
    if crest is None or valley is None:
        return ()
    lean = cast.work.walls.up[1] / cast.work.walls.up[2]
    return ((crest[0] - crest[1] * lean, 0.0), valley, crest)


def head_of(placed: Iterable[Placed], cut: Cut | None = None) -> float:
    """Highest place of the counterflashing that is cut, or of all of it, square to the roof. [in]"""
    plates = [p for p in placed if p.part.kind == "counterflashing"]
    if cut is not None:
        return max(q[1] for p in plates for t in slice_sheet(p.sheet, cut) for q in t.points)
    return max(q[2] for p in plates for f in p.sheet.flats for q in f.over)


def _view(work: Work, cut: Cut, face: tuple[float, Flat], ends: tuple[float, float], head: float) -> View:
    """A view up the slope; face: u of the wall's foot and its outward normal; ends: least and greatest u shown."""
    (foot, out), up = face, (work.walls.up[1], work.walls.up[2])
    (low_u, high_u), lean = ends, up[0] / up[1]
    above = min(work.opening.height, head + ABOVE)

    def on(v: float) -> Flat:
        return (foot + v * lean, v)

    def into(p: Flat) -> Flat:
        return (p[0] - INTO_WALL * out[0], p[1] - INTO_WALL * out[1])

    far = high_u if out[0] > 0 else low_u
    inner = (into(on(-BELOW))[0], into(on(above))[0])
    low_u, high_u = (min(inner), high_u) if out[0] > 0 else (low_u, max(inner))
    deck = (on(0.0), (far, 0.0), (far, -DECK), on(-DECK))
    solid = (on(-BELOW), on(above), into(on(above)), into(on(-BELOW)))
    window = (low_u, -BELOW, high_u, above + 3.0)
    wall, headed = Wall((foot, 0.0), up, out), above >= work.opening.height
    return View(cut, window, work.site.roof.theta, (lean, 1.0), wall, deck, solid, headed)


def _upslope_figures(cast: Cast) -> Iterator[Figure]:
    pan, cleat = cast.pan(), cast.hooked()[0]
    back = (cast.work.opening.back, 0.0)
    tip, end = (
        face_end(pan, face_of(pan, "tongue", "upstand"), high),
        face_end(pan, face_of(pan, "base", "flange"), right),
    )
    line, crest = face_end(cleat, "base", left), face_end(pan, "plane", high)
    if cast.work.detail.cricket is None:
        yield from figure("setback", "u", (None, back), (cleat, line), -1)
        yield from figure("extent", "u", (None, back), (pan, end), -2)
    else:
        valley = face_end(pan, "plane", low)
        yield from figure("valley", "u", (None, back), (pan, valley), -1)
        yield from figure("valley_cleat", "u", (pan, valley), (cleat, line), -2)
        yield from figure("crest", "v", (pan, valley), (pan, crest), 30)
    yield from figure("headlap", "u", (cleat, line), (pan, end), -1)
    yield from figure("upstand", "v", (pan, crest or face_end(pan, "base", left)), (pan, tip), 54)
    yield from cover(cast, "back", pan, tip, 24)


def _upslope_names(cast: Cast) -> Iterator[Name]:
    for one in cast.layers:
        yield named(cast, one)
    pan = cast.pan()
    face = face_of(pan, "water-stop hem")
    if pan is not None and face:
        yield Name("sections.label.water_stop", pan, face, {"value": cast.work.measures.hem})
    yield from fixing(cast)


def _upslope_spots(cast: Cast) -> Iterator[Spot]:
    """Tape under the cleat, its screw and the pan's, the bead in the hooked hem."""
    pan = cast.pan()
    yield from cleat_spots(cast)
    end = face_end(pan, face_of(pan, "base", "flange"), right)
    if pan is not None and end is not None:
        yield from screw(pan, end[0] + pan.moved[0] - SCREW_INSIDE)
    yield from hem_bead(cast.hooked()[1])


def _hook(cast: Cast, placed: Sequence[Placed], detail: Detail) -> Iterator[CloseUp]:
    """The panel's hem on the cleat's lip, cut square to the cleat."""
    here = _hook_window(cast)
    square = _square_cut(cast)
    if here is None:
        return
    if square is None:
        yield CloseUp(here, tuple(_hook_figures(cast)))
        return
    view = View(square, (-6.0, 0.0, 6.0, 3.0))
    near = Cast(cast.work, shown(cast.work, placed, detail, view))
    window = _hook_window(near)
    if window is not None:
        figures, spots = tuple(_hook_figures(near)), (*cleat_spots(near), *hem_bead(near.hooked()[1]))
        yield CloseUp(here, figures, Plan(replace(view, window=window), near.layers, figures, (), spots))


def _square_cut(cast: Cast) -> Cut | None:
    """The plane square to the cleat that is cut, where the cleat runs aslant."""
    cleat, _ = cast.hooked()
    if cleat is None:
        return None
    (x0, y0), (x1, y1) = cast.work.detail.cleat_line[int(cleat.part.where) - 1 :][:2]
    if abs(y1 - y0) < 1e-6:
        return None
    # Half way between the ribs that stand over it, where no hem is trimmed for a rib.
    stops = sorted({x0, x1, *(r for r in cast.work.detail.bay.interrupted if x0 < r < x1)})
    a, b = max(pairwise(stops), key=lambda gap: round(gap[1] - gap[0], 6))
    x, d = (a + b) / 2, math.dist((x0, y0), (x1, y1))
    run = ((x1 - x0) / d, (y1 - y0) / d)
    at = (x, y0 + (x - x0) * (y1 - y0) / (x1 - x0), 0.0)
    return Cut(at, (-run[1], run[0], 0.0), (0.0, 0.0, 1.0))


def _hook_window(cast: Cast) -> Window | None:
    """What the close-up of a hooked hem shows."""
    cleat, above = cast.hooked()
    edge, end = face_end(above, face_of(above, "hem"), left), face_end(cleat, "base", right)
    if cleat is None or above is None or edge is None or end is None:
        return None
    return (edge[0] - AROUND, 0.0, end[0] + cleat.moved[0] + AROUND, above.moved[1] + 0.3)


def _hook_figures(cast: Cast) -> Iterator[Figure]:
    cleat, above = cast.hooked()
    hem = face_of(above, "hem")
    edge, tip = face_end(above, hem, left), face_end(above, hem, right)
    lip, line, end = face_end(cleat, "lip", left), face_end(cleat, "base", left), face_end(cleat, "base", right)
    crest = face_end(cleat, "lip", right)
    yield from figure("lip", "u", (cleat, lip), (cleat, crest), 1)
    yield from figure("slack", "u", (above, edge), (cleat, lip), 1)
    yield from figure("hem", "u", (above, edge), (above, tip), -1)
    yield from figure("base", "u", (cleat, line), (cleat, end), -1)
    yield from figure("web", "v", (cleat, line), (cleat, crest), 40)


# --- below the opening --------------------------------------------------------------------------


def plan_apron(work: Work, placed: Sequence[Placed], detail: Detail) -> Plan:
    """Through the turned-up panel, the hook strip, the apron and what carries it, and the counterflashing."""
    o, m, placed = work.opening, work.measures, facing(placed, "front")
    s, c = work.walls.up[1], work.walls.up[2]
    low_u = o.up - m.apron_flange - BELOW_APRON
    cut = cut_up_slope(plane_in(work))
    view = _view(
        work, cut, (o.up, (-c, s)), (low_u, o.up), head_of(p for p in placed if p.part.where in ("front", "cap"))
    )
    layers = shown(work, placed, detail, view)
    cast = Cast(work, layers)
    slot = reglet(cast, view.wall)
    return Plan(
        view,
        layers,
        tuple(_apron_figures(cast)),
        tuple(_apron_names(cast)),
        (*_apron_spots(cast), *reglet_bead(slot)),
        tuple(hem_on_strip(cast, cast.find("apron"), "flange")),
        slot,
    )


def _below(cast: Cast) -> Layer | None:
    return cast.find("lower") or cast.find("side")


def _apron_figures(cast: Cast) -> Iterator[Figure]:
    apron, below = cast.find("apron"), _below(cast)
    up = (cast.work.opening.up, 0.0)
    edge, tip = face_end(apron, "flange", left), face_end(apron, "upstand", high)
    yield from figure("flange", "u", (apron, edge), (None, up), -1)
    foot = face_end(below, "turned-up end", low)
    yield from figure("upstand", "v", (below, foot), (apron, tip), -70)
    yield from cover(cast, "front", apron, tip, -34)


def _apron_names(cast: Cast) -> Iterator[Name]:
    for one in cast.layers:
        yield named(cast, one)
    below = _below(cast)
    dam = below.mould.get("turned-up end") if below else None
    if below is not None and dam is not None:
        yield Name("sections.label.dam", below, "turned-up end", {"value": abs(dam[1][1] - dam[0][1])})
    yield from fixing(cast)


def _apron_spots(cast: Cast) -> Iterator[Spot]:
    """Tape and screw of the hook strip, beads under a closure, the dam's screw."""
    below, zed, hook = _below(cast), cast.find("closure"), cast.find("hook-strip")
    yield from strip_spots(hook, zed or below)
    base = zed.mould.get("base") if zed else None
    if zed is not None and base is not None:
        yield from between("bead", zed, below, (base[0][0] + base[1][0]) / 2 + zed.moved[0])
    foot = face_end(below, "turned-up end", low)
    if below is not None and foot is not None:
        yield from screw(below, foot[0] - SCREW_INSIDE)
