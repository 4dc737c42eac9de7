"""Figures, names and spots that several sections share."""

from __future__ import annotations

import math
from collections.abc import Iterator

from lapwright.draw.layers import Layer, Wall
from lapwright.draw.section_plan import Cast, CloseUp, Figure, Name, Slot, Value, face_end, figure, lies_at, low
from lapwright.draw.section_view import Spot
from lapwright.geom.flat import crossing, heading
from lapwright.geom.space import Flat

AROUND = 0.35
"""Room round what a close-up shows. [in]"""


def cover(cast: Cast, side: str, upstand: Layer | None, tip: Flat | None, row: float) -> Iterator[Figure]:
    """How far the counterflashing, or that side's skirt of a cap, comes down over an upstand's tip. [in]"""
    counter = cast.find("counterflashing")
    face = f"{side} skirt" if counter is not None and counter.part.where == "cap" else "face"
    yield from figure("cover", "v", (counter, face_end(counter, face, low)), (upstand, tip), row)


def named(cast: Cast, one: Layer) -> Name:
    """A layer's own name; a membrane's and a closure's with their height."""
    up = one.mould.get("turned up")
    if one.part.kind == "membrane" and up is not None:
        values: dict[str, Value] = {"name": one.placed.key, "value": abs(up[1][1] - up[0][1])}
        return Name("sections.label.membrane_up", one, "turned up", values)
    web = one.mould.get("web")
    if one.part.kind == "closure" and web is not None:
        values = {"name": one.placed.key, "value": abs(web[1][1] - web[0][1])}
        return Name("sections.label.closure_high", one, "web", values)
    return Name(one.placed.key, one)


def fixing(cast: Cast) -> Iterator[Name]:
    """How the counterflashing is held to its wall."""
    counter, kind = cast.find("counterflashing"), cast.work.opening.kind
    if counter is None:
        return
    leg = counter.mould.get("leg")
    if leg is not None:
        key = "reglet" if kind == "masonry-chimney" else "frame"
        yield Name(f"sections.label.{key}", counter, "leg", {"value": math.dist(*leg)})


def hem_bead(above: Layer | None) -> Iterator[Spot]:
    """The bead inside an open hem, by its fold."""
    fold = next((t for t in (above.traces if above else ()) if t.face.startswith("flat/hem")), None)
    if above is not None and fold is not None:
        a, b = fold.points[0], fold.points[-1]
        yield Spot("bead", above, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2))


def reglet(cast: Cast, wall: Wall | None) -> Slot | None:
    """The cut in the wall that takes a counterflashing's leg in; masonry only."""
    counter = cast.find("counterflashing")
    leg, face = (counter.mould.get(f) if counter else None for f in ("leg", "face"))
    if counter is None or leg is None or face is None or wall is None or cast.work.opening.kind != "masonry-chimney":
        return None
    near, far = sorted(leg, key=lambda p: min(math.dist(p, q) for q in face))
    mouth = crossing(near, heading(near, far), wall.foot, wall.up)
    return Slot(counter, mouth, far) if mouth is not None else None


def reglet_bead(slot: Slot | None) -> Iterator[Spot]:
    """The bead that closes a reglet's mouth."""
    if slot is not None:
        moved = slot.layer.moved
        yield Spot("bead", slot.layer, (slot.mouth[0] + moved[0], slot.mouth[1] + moved[1]), on_wall=True)


def between(what: str, over: Layer, under: Layer | None, u: float) -> Iterator[Spot]:
    """A symbol between two layers at u [in], where both lie there."""
    a, b = lies_at(over, u), lies_at(under, u)
    if a is not None:
        yield Spot(what, over, a, under, b if b is not None else (u, 0.0))  # type: ignore[arg-type]


def screw(layer: Layer, u: float) -> Iterator[Spot]:
    """A screw through a layer at u. [in]"""
    at = lies_at(layer, u)
    if at is not None:
        yield Spot("screw", layer, at)


def cleat_spots(cast: Cast) -> Iterator[Spot]:
    """Two runs of tape under a cleat, and a screw through them."""
    cleat, _ = cast.hooked()
    base = cleat.mould.get("base") if cleat else None
    if cleat is None or base is None:
        return
    u0, u1 = sorted((base[0][0] + cleat.moved[0], base[1][0] + cleat.moved[0]))
    for share in (0.25, 0.75):
        yield from between("tape", cleat, cast.pan(), u0 + share * (u1 - u0))
    yield from screw(cleat, (u0 + u1) / 2)


def strip_spots(hook: Layer | None, under: Layer | None) -> Iterator[Spot]:
    """One run of tape under a hook strip, and a screw through it."""
    base = hook.mould.get("base") if hook else None
    if hook is None or base is None:
        return
    u = (base[0][0] + base[1][0]) / 2 + hook.moved[0]
    yield from between("tape", hook, under, u)
    yield from screw(hook, u)


def hem_on_strip(cast: Cast, flashing: Layer | None, face: str) -> Iterator[CloseUp]:
    """A flashing's hem and the hook strip it closes over, seen large. face: the one with the hem."""
    hook = cast.find("hook-strip")
    hem = flashing.mould.get("hem") if flashing else None
    base = hook.mould.get("base") if hook else None
    if hook is None or flashing is None or hem is None or base is None:
        return
    us = [p[0] for p in (*hem, *base)]
    v = hem[0][1]
    fold = min(flashing.mould[face], key=lambda p: min(abs(p[0] - h[0]) for h in hem))
    tip = max(hem, key=lambda p: abs(p[0] - fold[0]))
    window = (min(us) - AROUND, v - 0.1, max(us) + AROUND, v + 0.4)
    ends = sorted(base)
    yield CloseUp(
        window,
        (
            *figure("hem", "u", (flashing, fold), (flashing, tip), 1),
            *figure("strip", "u", (hook, ends[0]), (hook, ends[1]), -1),
        ),
    )
