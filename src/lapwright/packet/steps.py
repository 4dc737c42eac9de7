"""The order of work as numbered steps, each with its marks: every one a tape pull from a real edge."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from lapwright.detail.framing import CLEAR_OF
from lapwright.detail.model import Detail, Part
from lapwright.detail.parts import OPEN_UP, RIDGE, WATER_TEST
from lapwright.findings import Finding, Value
from lapwright.layout.model import Layout
from lapwright.metal.back_pan import returns_over
from lapwright.metal.cleat import lift
from lapwright.metal.closure import BACK_FROM_EDGE, FOOT
from lapwright.metal.counterflashing import span
from lapwright.metal.membrane import LAP
from lapwright.metal.model import RoofPanel
from lapwright.metal.panel import edge_at, edge_line
from lapwright.metal.side_wall import flange
from lapwright.metal.work import HANDS, Work, at_bench
from lapwright.packet.model import Mark, Step
from lapwright.packet.order import order_of_work
from lapwright.packet.pipe_steps import (
    pipe_cleat,
    pipe_collar,
    pipe_hood,
    pipe_hooks,
    pipe_membrane,
    pipe_panel,
    pipe_plate,
    pipe_sleeve,
)
from lapwright.packet.step_needs import equipped
from lapwright.rules import finding
from lapwright.site.model import Site
from lapwright.tables import metals

SEAM_FLAT = 2.0
"""A cricket's ridge seam is laid flat this far at both ends. House rule. [in]"""

RELIEF_PER_LIFT = 48.0
"""A snap lock is relieved over this many times the lift. House rule."""


@dataclass(frozen=True, slots=True)
class Scene:
    """What the step writers look at."""

    site: Site
    layout: Layout
    detail: Detail
    panels: dict[str, RoofPanel]
    works: dict[int, Work]


def steps_of(
    site: Site, layout: Layout, detail: Detail, panels: tuple[RoofPanel, ...]
) -> tuple[tuple[Step, ...], tuple[Finding, ...]]:
    """Every step in working order, and a STOP finding where the laps go round in a ring."""
    order = order_of_work(site, layout, detail)
    works = {k: at_bench(site, d) for k, d in enumerate(detail.openings) if d.planned}
    scene = Scene(site, layout, detail, {p.id: p for p in panels}, works)
    known = {p.id: p for p in detail.parts}
    steps: list[Step] = []
    for group, ids in groupby(order.ids, key=lambda n: _group(known.get(n), n)):
        members = [known[n] for n in ids if n in known]
        write = WRITERS[group[0]]
        steps += [s for s in write(scene, members) if s is not None]
    numbered = tuple(equipped(site, replace(s, n=n)) for n, s in enumerate(steps, 1))
    ring = (finding("order.cycle", site.name, pieces=", ".join(order.ring)),) if order.ring else ()
    return numbered, ring


def _group(part: Part | None, name: str) -> tuple[str, int | None, str]:
    """Parts that follow each other and belong to one step."""
    if part is None:
        return (name, None, "")
    if part.kind == "backing-plate":
        return ("offset-cleat", part.opening, "")
    if part.kind != "panel":
        return (part.kind, part.opening, part.where.split("-")[0] if part.kind == "closure" else "")
    return (part.role or "", part.opening, part.id if part.role == "side" else "")


def _step(
    title: str, does: list[str], marks: list[Mark], parts: list[Part], caution: str | None = None, **v: Value
) -> Step:
    return Step(0, title, tuple(does), tuple(marks), tuple(p.id for p in parts), caution, v)


def _work(scene: Scene, parts: list[Part]) -> Work:
    k = parts[0].opening
    if k is None:
        raise ValueError("a part that belongs to no opening")
    return scene.works[k]


def _mark(what: str, start: str, distance: float, **values: Value) -> Mark:
    return Mark(f"steps.mark.{what}", f"steps.from.{start}", distance, values)


def _numbers(parts: list[Part]) -> dict[str, Value]:
    strips = [p.strip + 1 for p in parts if p.strip is not None]
    return {"first": min(strips), "last": max(strips)}


def _membrane(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    if work.detail.pipe is not None:
        yield from pipe_membrane(work, parts)
        return
    m = work.measures
    mark = Mark("steps.membrane.mark.edge", "steps.from.face", m.membrane_wide)
    yield _step(
        "steps.membrane.title", ["steps.membrane.does"], [mark], parts, "steps.membrane.caution",
        opening=work.opening.name, membrane=m.membrane_wide, turned=m.membrane_up, lap=LAP,
    )  # fmt: skip


def _open_up(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    """On an existing roof: free the lock that the new panels go under, and take the bay's panels off."""
    if scene.site.roof.work != "existing":
        return
    right = scene.site.panel.lay == "left-to-right"
    for work in scene.works.values():
        bay, o = work.detail.bay, work.opening
        x, is_rib = (bay.right, bay.right_is_rib) if right else (bay.left, bay.left_is_rib)
        how = "folded" if scene.site.panel.folded else "snap"
        marks = [_mark("bay_rib", "left_edge", b) for b in (bay.left, bay.right)]
        does = ["steps.open-up.strip"] if not is_rib else [f"steps.open-up.{how}", "steps.open-up.strip"]
        yield _step("steps.open-up.title", does, marks, [], "steps.open-up.caution", opening=o.name, rib=x)


def _closures(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    if parts[0].where == "rib":
        yield _step("steps.closures.rib", ["steps.closures.plug"], [], parts, opening=work.opening.name)
        return
    inset = work.measures.apron_flange - FOOT - BACK_FROM_EDGE
    marks = [_mark("closure_web", "down_face", inset)]
    yield _step("steps.closures.apron", ["steps.closures.does"], marks, parts, opening=work.opening.name)


def _through(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    if scene.site.roof.work == "existing":
        closing = [p for p in parts if _closes_bay(scene, p)]
        if closing:
            does = ["steps.through.relock_does"]
            yield _step("steps.through.relock", does, [], closing, None, **_numbers(closing))
        return
    from_left = scene.site.panel.lay == "left-to-right"
    marks = []
    for p in parts:
        strip = scene.layout.strips[p.strip or 0]
        if not (strip.right_is_rib if from_left else strip.left_is_rib):
            continue
        edge, x = ("left_edge", strip.right) if from_left else ("right_edge", scene.site.roof.eave - strip.left)
        marks.append(_mark("rib", edge, x, panel=strip.index + 1))
    values = _numbers(parts)
    title = "steps.through.title" if len(parts) > 1 else "steps.through.one"
    does = ["steps.through.does"]
    if any(_closes_bay(scene, p) for p in parts):
        does.append("steps.through.last_does")
    yield _step(title, does, marks, parts, None, **values)


def _closes_bay(scene: Scene, part: Part) -> bool:
    """Is this the through panel that goes on after the bay's upper panels?"""
    strip = scene.layout.strips[part.strip or 0]
    left_first = scene.site.panel.lay == "left-to-right"
    return any(
        abs((d.bay.right if left_first else d.bay.left) - (strip.left if left_first else strip.right)) < 1e-6
        for d in scene.detail.openings
        if d.method != "none"
    )


def _side(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work, panel = _work(scene, parts), scene.panels[parts[0].id]
    if work.detail.pipe is not None:
        yield from pipe_panel(scene.layout, work, panel, parts)
        return
    o, m, bay = work.opening, work.measures, work.detail.bay
    strip = scene.layout.strips[panel.strip]
    marks = []
    hands = [h for h, beside in (("left", strip.left < o.left), ("right", strip.right > o.right)) if beside]
    for h in hands:
        if h == "left" and strip.right > o.left:
            start = "left_rib" if bay.left_is_rib else "left_bay_edge"
            marks.append(_mark("side_cut", start, o.left - bay.left, hand="left"))
        if h == "right" and strip.left < o.right:
            start = "right_rib" if bay.right_is_rib else "right_bay_edge"
            marks.append(_mark("side_cut", start, bay.right - o.right, hand="right"))
    if strip.left < o.right and strip.right > o.left:
        marks.append(_mark("cut_up", "eave", o.up))
    marks.append(_mark("panel_end", "eave", o.back + m.overrun))
    for n in panel.notches:
        hand = "left" if abs(n.rib - strip.left) < 1e-6 else "right"
        what = "leg_off" if n.cut == "leg-off" else "notch"
        marks.append(_mark(what, "panel_end", n.from_y - n.to_y, hand=hand, cut=f"steps.cut.{n.cut}", rib=n.rib))
    title = "steps.side.title" if len(hands) == 1 else "steps.side.both"
    yield _step(
        title, ["steps.side.does"], marks, parts, "steps.side.caution", **_numbers(parts),
        hand=hands[0] if hands else "left", opening=o.name, rise=m.turn_up,
    )  # fmt: skip


def _lower(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    title = "steps.lower.many" if len(parts) > 1 else "steps.lower.title"
    yield _step(
        title, ["steps.lower.does"], [_mark("turned_end", "eave", work.opening.up)], parts, None,
        **_numbers(parts), opening=work.opening.name, rise=work.measures.turn_up,
    )  # fmt: skip


def _hooks(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    if work.detail.pipe is not None:
        yield from pipe_hooks(work, parts)
        return
    marks = []
    for p in parts:
        if p.where == "apron":
            marks.append(_mark("flange_edge", "down_face", work.measures.apron_flange))
        elif p.where in HANDS:
            hand = HANDS[HANDS.index(p.where)]
            marks.append(_mark("side_edge", "corner", flange(work, hand) + work.thickness, hand=hand))
    where = "apron" if parts[0].where == "apron" else "sides"
    yield _step(f"steps.hook.{where}", ["steps.hook.does"], marks, parts, opening=work.opening.name)


def _apron(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    m = work.measures
    how = "snap" if work.raised else "folded" if work.ribs_in_face else "plain"
    marks = [_mark("flange_edge", "down_face", m.apron_flange)]
    if not work.raised:
        marks += [_mark("flange_end", "corner", min(m.apron_past, work.room(h)), hand=h) for h in HANDS]
    yield _step(
        "steps.apron.title", [f"steps.apron.{how}", "steps.apron.does"], marks, parts, None,
        opening=work.opening.name, dress=m.dress_flat,
    )  # fmt: skip


def _side_walls(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    m = work.measures
    marks = [
        _mark("side_front", "down_face", m.side_lap),
        _mark("side_back", "back_face", m.side_past),
    ]
    marks += [_mark("side_edge", "corner", flange(work, h) + work.thickness, hand=h) for h in HANDS]
    yield _step(
        "steps.side-walls.title", ["steps.side-walls.does"], marks, parts, None,
        opening=work.opening.name, lap=m.side_lap,
    )  # fmt: skip


def _pan(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    m, bay = work.measures, work.detail.bay
    marks = [_mark("pan_up", "back_face", m.extent or 0.0), _mark("pan_down", "back_face_down", m.side_run)]
    for h, is_rib in (("left", bay.left_is_rib), ("right", bay.right_is_rib)):
        marks.append(_mark("pan_edge", "rib_face" if is_rib else "edge", m.gap, hand=h))
    does = ["steps.pan.does"] + (["steps.pan.over"] if returns_over(work) else [])
    yield _step("steps.pan.title", does, marks, parts, "steps.pan.caution", opening=work.opening.name)


def _cricket(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    """Framing first, then both halves, seamed."""
    work = _work(scene, parts)
    c, m, o, bay = work.detail.cricket, work.measures, work.opening, work.detail.bay
    if c is None:
        return
    framing = [
        _mark("ridge_head", "back_face", c.ridge_on_roof),
        _mark("ridge_foot", "back_face_wall", c.height if o.face == "plumb" else c.wall_rise),
    ]
    does = ["steps.cricket.frame" if m.ridge_slope == 0 else "steps.cricket.falling", "steps.cricket.deck"]
    does += _kept_clear(o.kind, m.framing_clear)
    yield _step(
        "steps.cricket.framing", does, framing, [], "steps.cricket.caution" if o.kind in CLEAR_OF else None,
        opening=o.name, height=c.height, clear=m.framing_clear or 0.0,
    )  # fmt: skip
    marks = [_mark("pan_down", "back_face_down", m.side_run)]
    for h, is_rib in (("left", bay.left_is_rib), ("right", bay.right_is_rib)):
        marks.append(_mark("pan_edge", "rib_face" if is_rib else "edge", m.gap, hand=h))
    yield _step(
        "steps.cricket.title", ["steps.cricket.does", "steps.cricket.seam"], marks, parts, "steps.pan.caution",
        opening=o.name, lap=m.ridge_lap, flat=SEAM_FLAT,
    )  # fmt: skip


def _kept_clear(kind: str, asked: float | None) -> list[str]:
    """What is said of the room between framing and wall: the job's own figure, else the code's or the listing's."""
    if asked is not None:
        return ["steps.cricket.given"] if asked > 0 else []
    return {"masonry-chimney": ["steps.cricket.clear"], "framed-chimney": ["steps.cricket.flue"]}.get(kind, [])


def _patches(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    how = metals()[work.metal].join
    yield _step("steps.patches.title", [f"steps.patches.{how}"], [], parts, opening=work.opening.name)


def _cleats(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    if work.detail.pipe is not None:
        yield from pipe_cleat(work, parts)
        return
    line, bay, o = work.detail.cleat_line, work.detail.bay, work.opening
    at_corner = edge_at(list(line), o.left)
    marks = [_mark("cleat_corner", "back_face", at_corner - o.back)]
    if work.detail.cricket is not None:
        marks.append(_mark("cleat_apex", "back_face", max(y for _, y in line) - o.back))
    for h, is_rib, y in (("left", bay.left_is_rib, line[0][1]), ("right", bay.right_is_rib, line[-1][1])):
        start = "back_face" if y >= o.back else "back_face_down"
        marks.append(_mark("cleat_foot" if is_rib else "cleat_edge", start, abs(y - o.back), hand=h))
    yield _step(
        "steps.cleats.title", ["steps.cleats.does", "steps.cleats.plates"], marks, parts, None,
        opening=o.name, plate=work.measures.plate,
    )  # fmt: skip


def _upper(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    line, o = edge_line(work), work.opening
    marks = []
    strips = [scene.layout.strips[p.strip or 0] for p in parts]
    for x, is_rib in sorted({(s.left, s.left_is_rib) for s in strips} | {(s.right, s.right_is_rib) for s in strips}):
        y = edge_at(line, x)
        start = "back_face" if y >= o.back else "back_face_down"
        if work.detail.pipe is not None:
            start = "rim_up"
        hand = "left" if x <= 0.0 else "right"
        what = "edge_rib" if is_rib else "edge_side"
        marks.append(_mark(what, start, abs(y - o.back), rib=x, hand=hand))
    does = ["steps.upper.does"]
    if not scene.site.panel.folded:
        does.append("steps.upper.lift")
    title = "steps.upper.many" if len(parts) > 1 else "steps.upper.title"
    yield _step(
        title, does, marks, parts, None, **_numbers(parts),
        lift=lift(work), relief=RELIEF_PER_LIFT * lift(work),
    )  # fmt: skip


def _ridge(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    wall = scene.site.roof.upper_edge == "wall"
    yield _step("steps.ridge.title", ["steps.ridge.wall" if wall else "steps.ridge.does"], [], [])


def _counter(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    work = _work(scene, parts)
    s, kind = span(work), work.opening.kind
    how = "masonry" if kind == "masonry-chimney" else "framed" if work.opening.framed else "skylight"
    if parts[0].where == "cap":
        how = "curb"
    marks = [_mark("cover", "roof", s.low)]
    if how == "masonry":
        marks.append(_mark("reglet", "roof", s.high))
    yield _step(
        "steps.counterflashing.title", [f"steps.counterflashing.{how}"], marks, parts,
        "steps.counterflashing.silica" if how == "masonry" else None,
        opening=work.opening.name, reglet=work.measures.reglet, wrap=work.measures.behind_wrap,
    )  # fmt: skip


def _plate(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    yield from pipe_plate(_work(scene, parts), parts)


def _hood(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    yield from pipe_hood(_work(scene, parts), parts)


def _sleeve(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    yield from pipe_sleeve(_work(scene, parts), parts)


def _collar(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    yield from pipe_collar(_work(scene, parts), parts)


def _water_test(scene: Scene, parts: list[Part]) -> Iterator[Step]:
    if scene.works:
        yield _step("steps.water-test.title", ["steps.water-test.does"], [], [])


WRITERS: dict[str, Callable[[Scene, list[Part]], Iterator[Step]]] = {
    OPEN_UP: _open_up,
    "membrane": _membrane,
    "closure": _closures,
    "through": _through,
    "side": _side,
    "lower": _lower,
    "hook-strip": _hooks,
    "apron": _apron,
    "side-wall": _side_walls,
    "back-pan": _pan,
    "cricket": _cricket,
    "corner-patch": _patches,
    "offset-cleat": _cleats,
    "upper": _upper,
    RIDGE: _ridge,
    "counterflashing": _counter,
    "base-plate": _plate,
    "rib-hood": _hood,
    "sleeve": _sleeve,
    "storm-collar": _collar,
    WATER_TEST: _water_test,
}
"""One writer per kind of step."""
