"""Every piece and panel that will be made, and what laps over what.

The order of work is a sort of these laps (packet/order.py): `over` can only go on after `under`.
"""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.detail.model import Lap, OpeningDetail, Part, Role
from lapwright.layout.model import Layout, Strip
from lapwright.site.model import Site

HANDS = ("left", "right")
MEMBRANE, RIDGE, WATER_TEST = "membrane", "ridge", "water test"
"""Things that take their place in the order of work without being cut from metal here."""


def parts_of(site: Site, layout: Layout, details: tuple[OpeningDetail, ...]) -> tuple[Part, ...]:
    """Panels first, left to right, then each opening's pieces."""
    out: list[Part] = []
    for strip in layout.strips:
        out += _panels(strip, details)
    for k, d in enumerate(details):
        if d.method == "flat-pan":
            out += _pieces(k, d)
    return tuple(out)


def _panels(strip: Strip, details: tuple[OpeningDetail, ...]) -> list[Part]:
    n = strip.index + 1
    for k, d in enumerate(details):
        if d.method != "none" and d.bay.left <= strip.left and strip.right <= d.bay.right:
            covered = d.opening.left <= strip.left and strip.right <= d.opening.right
            role: Role = "lower" if covered else "side"
            return [
                Part(f"panel-{n}-{role}", "panel", role, k, strip.index, role),
                Part(f"panel-{n}-upper", "panel", "upper", k, strip.index, "upper"),
            ]
    return [Part(f"panel-{n}", "panel", "through", None, strip.index, "through")]


def _pieces(k: int, d: OpeningDetail) -> list[Part]:
    n = k + 1
    out = [Part(f"{n}-hook-strip-apron", "hook-strip", "apron", k), Part(f"{n}-apron", "apron", "front", k)]
    out += [Part(f"{n}-hook-strip-{h}", "hook-strip", h, k) for h in HANDS]
    out += [Part(f"{n}-side-wall-{h}", "side-wall", h, k) for h in HANDS]
    out += [Part(f"{n}-back-pan", "back-pan", "back", k)]
    out += [
        Part(f"{n}-corner-patch-{w}-{h}", "corner-patch", f"{w}-{h}", k)
        for w in ("front", "back")
        for h in HANDS
    ]
    out += [Part(f"{n}-offset-cleat-{i}", "offset-cleat", str(i), k) for i in range(1, len(d.cleat_line))]
    capped = d.opening.kind == "curb" and d.opening.face == "square"
    walls = ("cap",) if capped else ("front", "left", "right", "back")
    out += [Part(f"{n}-counterflashing-{w}", "counterflashing", w, k) for w in walls]
    return out


def laps_of(
    site: Site, layout: Layout, details: tuple[OpeningDetail, ...], parts: tuple[Part, ...]
) -> tuple[Lap, ...]:
    """What laps over what, from the eave up and in the laying direction."""
    out = [*_panel_laps(site, layout, parts)]
    for k, d in enumerate(details):
        if d.method == "flat-pan":
            out += _piece_laps(layout, d, [p for p in parts if p.opening == k])
    return tuple(out)


def _panel_laps(site: Site, layout: Layout, parts: tuple[Part, ...]) -> Iterator[Lap]:
    """A lapping leg locks over its neighbour's leading leg: the later panel over the earlier one."""
    by_strip: dict[int, list[Part]] = {s.index: [] for s in layout.strips}
    for p in parts:
        if p.strip is not None:
            by_strip[p.strip].append(p)
            yield Lap(p.id, MEMBRANE)
            if p.role in ("through", "upper"):
                yield Lap(RIDGE, p.id)
    for left, right in zip(layout.strips, layout.strips[1:], strict=False):
        for a in by_strip[left.index]:
            for b in by_strip[right.index]:
                if "through" in (a.role, b.role) or (a.role == "upper") == (b.role == "upper"):
                    over, under = (b, a) if site.panel.lay == "left-to-right" else (a, b)
                    yield Lap(over.id, under.id)


def _piece_laps(layout: Layout, d: OpeningDetail, parts: list[Part]) -> Iterator[Lap]:
    def named(kind: str, where: str = "") -> list[str]:
        return [p.id for p in parts if p.kind == kind and (not where or where in p.where.split("-"))]

    def under_it(role: str, left: float, right: float) -> list[str]:
        strips = layout.strips
        return [
            p.id
            for p in parts
            if p.strip is not None
            and (p.role == "upper") == (role == "upper")
            and strips[p.strip].left < right
            and strips[p.strip].right > left
        ]

    (apron,), (pan,) = named("apron"), named("back-pan")
    o, bay = d.opening, d.bay
    past = d.measures.apron_past
    low = under_it("below", o.left - past, o.right + past)
    (apron_hook,) = named("hook-strip", "apron")
    yield from (Lap(apron_hook, x) for x in low)
    yield from (Lap(apron, x) for x in (*low, apron_hook))
    for hand, left, right in (("left", bay.left, o.left), ("right", o.right, bay.right)):
        (hook,), (wall,) = named("hook-strip", hand), named("side-wall", hand)
        beside = under_it("below", left, right)
        yield from (Lap(hook, x) for x in (*beside, apron))
        yield from (Lap(wall, x) for x in (*beside, hook, apron))
        yield from (Lap(pan, x) for x in (*beside, wall))
        for patch in named("corner-patch", hand):
            yield from (Lap(patch, x) for x in (wall, pan if "back" in patch else apron))
    cleats = named("offset-cleat")
    yield from (Lap(c, pan) for c in cleats)
    runs = list(zip(d.cleat_line, d.cleat_line[1:], strict=False))
    for cleat, (a, b) in zip(cleats, runs, strict=True):
        yield from (Lap(x, cleat) for x in under_it("upper", a[0], b[0]))
    yield from (Lap(x, pan) for x in under_it("upper", bay.left, bay.right))
    yield from _counter_laps(named, apron, pan)


def _counter_laps(named, apron: str, pan: str) -> Iterator[Lap]:  # type: ignore[no-untyped-def]
    """Counterflashing over every upstand; its front and back turn round over the side pieces."""
    over = {
        "front": [apron],
        "back": [pan],
        "left": named("side-wall", "left"),
        "right": named("side-wall", "right"),
    }
    every = [x for xs in over.values() for x in xs]
    for cap in named("counterflashing", "cap"):
        yield from (Lap(cap, x) for x in every)
    for wall, under in over.items():
        for piece in named("counterflashing", wall):
            yield from (Lap(piece, x) for x in (*under, *named("corner-patch", wall)))
            if wall in ("front", "back"):
                yield from (Lap(piece, x) for h in HANDS for x in named("counterflashing", h))
