"""A sheet with one or two sections: heading, views, close-ups of what is fine in them, legend and notes."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from lapwright.draw.callout import Label, write_round
from lapwright.draw.dimension import Span, draw_dimension
from lapwright.draw.display import Display, Text, oriented
from lapwright.draw.heading import BODY, fold, write_heading
from lapwright.draw.layers import Layer
from lapwright.draw.naming import Namer
from lapwright.draw.plan import Rect
from lapwright.draw.section_foot import foot_height, write_foot
from lapwright.draw.section_plan import CloseUp, Figure, Name, Plan, Slot
from lapwright.draw.section_view import DECK, SECTION_PENS, draw_ground, draw_layers, draw_spots, pen_of
from lapwright.draw.sheet import HEIGHT, WIDTH, Sheet
from lapwright.draw.stage import NEAR_STEP, Stage, extent, fit_stage, lines_of
from lapwright.geom.space import Flat
from lapwright.metal.work import Work
from lapwright.words import Speaker

SIDE, ABOVE, BELOW = 8.0, 24.0, 40.0
"""Room round a view for its figures and labels. [pt]"""
NEAR_SIDE, NEAR_ABOVE, NEAR_BELOW = 60.0, 46.0, 32.0
"""Room round a close-up for the same. [pt]"""
NEAR_HIGH = 180.0
"""A close-up is no higher than this, figures included. [pt]"""
ROW = 14.0
"""From one row of figures to the next. [pt]"""
PAD = 5.0
"""Room in the frame round what a close-up shows. [pt]"""


@dataclass(frozen=True, slots=True)
class Scene:
    """A plan, or a close-up of one, with its stage on the sheet. letter: of the close-up, or ""."""

    plan: Plan
    stage: Stage
    figures: tuple[Figure, ...]
    names: tuple[Name, ...]
    room: Rect
    letter: str = ""


def draw_sheet(
    key: str, work: Work, plans: Sequence[Plan], facts: Sequence[str], notes: Sequence[str], speaker: Speaker
) -> Display:
    """Put sections on a sheet that is no higher than they need."""
    title = speaker.say(f"sections.title_{key}", name=work.opening.name)
    keys, lines = _legend_keys(plans), len(_sentences(1.0, notes, speaker))
    lower = foot_height(keys, [""] * lines, speaker)
    sheet = Sheet()
    scenes = _scenes(plans, write_heading(sheet, title, facts), lower)
    drop = max(0.0, min(s.room[1] for s in scenes) - lower)
    sheet = Sheet(height=HEIGHT - drop)
    write_heading(sheet, title, facts)
    for scene in scenes:
        _draw(sheet, _moved(scene, -drop), speaker)
    write_foot(sheet, keys, _sentences(72.0 / scenes[0].stage.scale, notes, speaker), speaker)
    return sheet.finish(SECTION_PENS, title)


def _legend_keys(plans: Sequence[Plan]) -> list[str]:
    pens = {pen_of(one) for p in plans for one in p.layers}
    out: list[str] = [k for k in ("flashing", "formed", "soft", "wrap") if k in pens]
    out += ["lost"] if any(one.lost for p in plans for one in p.layers) else []
    out += ["wall"] if any(p.view.solid for p in plans) else []
    marks = {s.what for p in plans for s in p.spots}
    return [*out, "deck", *(k for k in ("bead", "tape", "screw") if k in marks)]


def _sentences(scale: float, notes: Sequence[str], speaker: Speaker) -> list[str]:
    first = speaker.say("sections.scale", scale=round(scale, 1)) + " " + speaker.say("sections.square")
    return [row for text in (first, *notes) for row in fold(text, 8.0, WIDTH - 6)]


# --- rooms --------------------------------------------------------------------------------------


def _scenes(plans: Sequence[Plan], upper: float, lower: float) -> list[Scene]:
    """Views from the heading down, then their close-ups; each as high as it needs."""
    close = [_near_scene(p, part, n) for n, (p, part) in enumerate((p, c) for p in plans for c in p.close_ups)]
    room = upper - lower - sum(s.room[3] - s.room[1] for s in close)
    out = []
    for plan in plans:
        above, high = ABOVE + (12.0 if plan.heading else 0.0), room / len(plans)
        inner = (SIDE, BELOW, WIDTH - SIDE, high - above)
        stage = fit_stage(plan.view, plan.layers, inner)
        out.append(_fitted(Scene(plan, stage, plan.figures, plan.names, inner), above, BELOW))
    y, placed = upper, []
    for scene in [*out, *close]:
        placed.append(_moved(scene, y - scene.room[3]))
        y -= scene.room[3] - scene.room[1]
    return placed


def _near_scene(plan: Plan, part: CloseUp, n: int) -> Scene:
    near = _near(plan, part)
    inner = (NEAR_SIDE, NEAR_BELOW, WIDTH - NEAR_SIDE, NEAR_HIGH - NEAR_ABOVE)
    stage = fit_stage(near.view, near.layers, inner, NEAR_STEP)
    names = tuple(Name(one.placed.key, one) for one in near.layers)
    return _fitted(Scene(near, stage, part.figures, names, inner, chr(ord("A") + n)), NEAR_ABOVE, NEAR_BELOW)


def _fitted(scene: Scene, above: float, below: float) -> Scene:
    """A scene in a room as high as it needs, whatever its place."""
    _, y0, _, y1 = extent(scene.stage, scene.plan.layers)
    return replace(scene, room=(0.0, y0 - below, WIDTH, y1 + above))


def _moved(scene: Scene, by: float) -> Scene:
    """A scene elsewhere up or down the sheet. [pt]"""
    x0, y0, x1, y1 = scene.room
    home = scene.stage.home
    stage = replace(scene.stage, home=(home[0], home[1] + by))
    return replace(scene, stage=stage, room=(x0, y0 + by, x1, y1 + by))


def _near(plan: Plan, part: CloseUp) -> Plan:
    """A part of a plan on level ground, its lowest layer first."""
    window = part.window if part.within is None else part.within.view.window
    plan = part.within or plan
    view = replace(plan.view, window=window, turn=0.0, up=(0.0, 1.0), wall=None, deck=(), solid=())
    layers = [one for one in plan.layers if lines_of(view, one.traces)]
    least = min(one.deck for one in layers)
    layers = [replace(one, deck=one.deck - least, wall=0) for one in layers]
    return replace(plan, view=view, layers=tuple(layers), slot=None, heading=None, close_ups=(), taper=())


# --- one scene ----------------------------------------------------------------------------------


def _draw(sheet: Sheet, scene: Scene, speaker: Speaker) -> None:
    plan, stage, room = scene.plan, scene.stage, scene.room
    sheet.crowd.low, sheet.crowd.high = (room[0] + 2, room[1] + 2), (room[2] - 2, room[3] - 2)
    if scene.letter:
        _frame(sheet, scene, speaker)
    if plan.heading:
        text = speaker.say(plan.heading[0], cut=speaker.say(plan.heading[1]))
        sheet.text(Text((3.0, room[3] - 9.0), text, "text", BODY, bold=True))
    namer = Namer(sheet)
    draw_ground(namer, stage, plan.layers)
    if plan.taper:
        _draw_taper(namer, stage, plan)
    if plan.slot is not None:
        _draw_slot(sheet, stage, plan.slot, plan)
    draw_layers(namer, stage, plan.layers)
    own = {one.id: one for one in plan.layers}
    spots = [s for s in plan.spots if s.over.id in own and _inside(stage, s.at)]
    draw_spots(sheet, stage, [replace(s, over=own[s.over.id], under=_own(own, s.under)) for s in spots])
    for f in scene.figures:
        _draw_figure(sheet, scene, f, speaker)
    for n, part in enumerate(plan.close_ups):
        _mark(sheet, stage, plan, part, chr(ord("A") + n))
    if plan.taper:
        namer.write(_taper(stage, plan)[1:], speaker.say("sections.label.taper"))
    for name in scene.names:
        _write_name(namer, stage, name, speaker)


def _own(own: Mapping[str, Layer], layer: Layer | None) -> Layer | None:
    return own.get(layer.id) if layer is not None else None


def _inside(stage: Stage, p: Flat) -> bool:
    u0, v0, u1, v1 = stage.view.window
    return u0 <= p[0] <= u1 and v0 <= p[1] <= v1


def _frame(sheet: Sheet, scene: Scene, speaker: Speaker) -> None:
    """A close-up's frame with its letter and its scale."""
    x0, y0, x1, y1 = scene.room
    a, b = (x0 + 2.0, y0 + 1.0), (x1 - 2.0, y1 - 1.0)
    sheet.ring((a, (b[0], a[1]), b, (a[0], b[1])), "window")
    sheet.text(Text((x0 + 8.0, y1 - 11.0), scene.letter, "text", 11.0, bold=True))
    larger = scene.stage.scale / 72.0
    key, size = ("scale_near", larger) if larger >= 1.0 else ("scale_near_small", 1.0 / larger)
    sheet.text(Text((x0 + 20.0, y1 - 11.0), speaker.say(f"sections.{key}", size=size), "text", 8.0))


def _taper(stage: Stage, plan: Plan) -> list[Flat]:
    """The deck built up under a cricket, just over the membrane: wall, valley, crest. [pt]"""
    under = max((one.deck for one in plan.layers if one.part.kind == "membrane"), default=0)
    return [stage.at(p, None, stage.step * under) for p in plan.taper]


def _draw_taper(namer: Namer, stage: Stage, plan: Plan) -> None:
    ring = _taper(stage, plan)
    namer.sheet.ring(ring, "deck", "dots")
    for share in (0.0, 0.5):
        a, b = (_between(p, ring[0], share) for p in (ring[2], ring[1]))
        namer.busy(a, b, *DECK)


def _between(a: Flat, b: Flat, share: float) -> Flat:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _draw_slot(sheet: Sheet, stage: Stage, slot: Slot, plan: Plan) -> None:
    """The reglet, cut out of the wall at the height its layer is drawn at."""
    layer = next(one for one in plan.layers if one.id == slot.layer.id)
    a, b = (stage.mould(replace(layer, wall=0), p) for p in (slot.mouth, slot.bottom))
    ring = oriented(a, _angle(a, b), 0.0, math.dist(a, b) + 1.0, 2.6)
    sheet.ring(ring, "mask", "paper")
    sheet.run([ring[0], ring[1], ring[2], ring[3]], "deck")


def _angle(a: Flat, b: Flat) -> float:
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))


def _draw_figure(sheet: Sheet, scene: Scene, f: Figure, speaker: Speaker) -> None:
    plan, stage = scene.plan, scene.stage
    own = {one.id: one for one in plan.layers}
    ends = [stage.mould(own[e.layer.id], e.at) if e.layer else stage.at(e.at) for e in (f.a, f.b)]
    level, square = stage.turned((1.0, 0.0)), stage.turned((0.0, 1.0))
    text = speaker.say(f.key, value=f.value)
    if f.axis == "v":
        far = max(ends, key=lambda p: f.row * (p[0] * level[0] + p[1] * level[1]))
        through = (far[0] + f.row * level[0], far[1] + f.row * level[1])
        draw_dimension(sheet, Span(ends[0], ends[1], square, level, through), text)
        return
    base = _rows_from(scene, f.row > 0)
    through = (base[0] + ROW * f.row * square[0], base[1] + ROW * f.row * square[1])
    draw_dimension(sheet, Span(ends[0], ends[1], level, stage.turned(stage.view.up), through), text)


def _rows_from(scene: Scene, above: bool) -> Flat:
    """Where rows of figures are counted from: the underside of the deck, or the view's own edges. [pt]"""
    stage = scene.stage
    if stage.view.deck and not above:
        return stage.at(stage.view.deck[2])
    x0, y0, _, y1 = extent(stage, scene.plan.layers)
    return (x0, y1 if above else y0)


def _mark(sheet: Sheet, stage: Stage, plan: Plan, part: CloseUp, letter: str) -> None:
    """Frame on the view what a close-up shows, with its letter."""
    view = replace(stage.view, window=part.window)
    points = [stage.at(p, one) for one in plan.layers for run in lines_of(view, one.traces) for p in run]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    a, b = (min(xs) - PAD, min(ys) - PAD), (max(xs) + PAD, max(ys) + PAD)
    sheet.ring((a, (b[0], a[1]), b, (a[0], b[1])), "window", price=0.8)
    write_round(sheet, a, b, Label("", letter))


def _write_name(namer: Namer, stage: Stage, name: Name, speaker: Speaker) -> None:
    values = {k: speaker.say(v) if isinstance(v, str) else v for k, v in name.values.items()}
    layer = name.layer
    shown = [t for t in layer.traces if (t.face == name.face if name.face else t.is_flat)]
    runs = [run for t in shown for run in lines_of(stage.view, (t,))]
    if runs:
        longest = max(runs, key=lambda r: math.dist(r[0], r[-1]))
        namer.write([stage.at(p, layer) for p in longest], speaker.say(name.key, **values))
