"""Every piece and panel that will be made, and what laps over what.

The order of work is a sort of these laps (packet/order.py): `over` can only go on after `under`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from lapwright.detail.model import Lap, OpeningDetail, Part, Role
from lapwright.detail.pipe import pipe_laps, pipe_parts
from lapwright.layout.model import Layout, Strip
from lapwright.site.model import Defaults, Opening, Site

HANDS = ("left", "right")
OPEN_UP, RIDGE, WATER_TEST = "open up", "ridge", "water test"
"""Things that take their place in the order of work without being cut from metal here."""

LEAST_CLOSURE = 1.0
"""A gap narrower than this under a raised apron is filled with sealant, not with a closure. House rule. [in]"""


def parts_of(site: Site, layout: Layout, details: tuple[OpeningDetail, ...]) -> tuple[Part, ...]:
    """Panels first, left to right, then each opening's pieces."""
    out: list[Part] = []
    for strip in layout.strips:
        out += _panels(strip, details)
    for k, d in enumerate(details):
        if d.planned:
            out += _pieces(site, k, d)
    return tuple(out)


def _panels(strip: Strip, details: tuple[OpeningDetail, ...]) -> list[Part]:
    n = strip.index + 1
    for k, d in enumerate(details):
        if d.planned and d.bay.left <= strip.left and strip.right <= d.bay.right:
            covered = d.pipe is None and d.opening.left <= strip.left and strip.right <= d.opening.right
            role: Role = "lower" if covered else "side"
            return [
                Part(f"panel-{n}-{role}", "panel", role, k, strip.index, role),
                Part(f"panel-{n}-upper", "panel", "upper", k, strip.index, "upper"),
            ]
    return [Part(f"panel-{n}", "panel", "through", None, strip.index, "through")]


def _pieces(site: Site, k: int, d: OpeningDetail) -> list[Part]:
    if d.pipe is not None:
        return pipe_parts(site, k, d)
    n = k + 1
    out = [Part(f"{n}-membrane-{w}", "membrane", w, k) for w in ("front", "left", "right", "back")]
    out += _closures(site, k, d)
    out += [Part(f"{n}-hook-strip-apron", "hook-strip", "apron", k), Part(f"{n}-apron", "apron", "front", k)]
    out += [Part(f"{n}-hook-strip-{h}", "hook-strip", h, k) for h in HANDS]
    out += [Part(f"{n}-side-wall-{h}", "side-wall", h, k) for h in HANDS]
    if d.method == "cricket":
        out += [Part(f"{n}-cricket-{h}", "cricket", h, k) for h in HANDS]
    else:
        out += [Part(f"{n}-back-pan", "back-pan", "back", k)]
    out += [
        Part(f"{n}-corner-patch-{w}-{h}", "corner-patch", f"{w}-{h}", k) for w in ("front", "back") for h in HANDS
    ]
    out += [Part(f"{n}-offset-cleat-{i}", "offset-cleat", str(i), k) for i in range(1, len(d.cleat_line))]
    corners = [x for x, _ in d.cleat_line[1:-1]]
    if d.cricket is not None:
        middle = d.opening.left + d.opening.width / 2
        corners = [x for x in corners if abs(x - middle) > LEAST_CLOSURE]
        out += [Part(f"{n}-apex-plate", "backing-plate", "apex", k)]
    if corners:
        out += [Part(f"{n}-backing-plate", "backing-plate", "upper", k, copies=_steps(corners))]
    capped = d.opening.kind == "curb" and d.opening.face == "square"
    walls = ("cap",) if capped else ("front", "left", "right", "back")
    out += [Part(f"{n}-counterflashing-{w}", "counterflashing", w, k) for w in walls]
    return out


def _closures(site: Site, k: int, d: OpeningDetail) -> list[Part]:
    """Zs under a raised apron, one a gap; plugs in the snap ribs that start again above the opening."""
    if site.panel.folded:
        return []
    o, ribs = d.opening, d.bay.interrupted
    in_face = tuple(x for x in ribs if o.left < x < o.right)
    gaps = closure_runs(o, d.measures, in_face) if in_face else ()
    out = [Part(f"{k + 1}-closure-apron-{i + 1}", "closure", f"apron-{i + 1}", k) for i in range(len(gaps))]
    if ribs:
        out.append(Part(f"{k + 1}-closure-rib", "closure", "rib", k, copies=_steps(ribs)))
    return out


def closure_runs(opening: Opening, m: Defaults, ribs: tuple[float, ...]) -> tuple[tuple[float, float], ...]:
    """From face to face of the ribs under a raised apron, the opening's sides at both ends. x, x [in]"""
    face = (m.rib_face or 0.0) + m.gap / 2
    stops = [opening.left, *(s for x in ribs for s in (x - face, x + face)), opening.right]
    pairs = zip(stops[::2], stops[1::2], strict=True)
    return tuple((a, b) for a, b in pairs if b - a > LEAST_CLOSURE)


def _steps(xs: Sequence[float]) -> tuple[float, ...]:
    return tuple(x - xs[0] for x in xs)


def laps_of(
    site: Site, layout: Layout, details: tuple[OpeningDetail, ...], parts: tuple[Part, ...]
) -> tuple[Lap, ...]:
    """What laps over what, from the eave up and in the laying direction."""
    out = [*_panel_laps(site, layout, parts)]
    for k, d in enumerate(details):
        if d.planned:
            own = [p for p in parts if p.opening == k]
            out += pipe_laps(own, OPEN_UP, RIDGE) if d.pipe is not None else _piece_laps(layout, d, own)
    return tuple(out)


def _panel_laps(site: Site, layout: Layout, parts: tuple[Part, ...]) -> Iterator[Lap]:
    """A lapping leg locks over its neighbour's leading leg: the later panel over the earlier one."""
    by_strip: dict[int, list[Part]] = {s.index: [] for s in layout.strips}
    for p in parts:
        if p.strip is not None:
            by_strip[p.strip].append(p)
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

    below = [p.id for p in parts if p.kind == "panel" and p.role != "upper"]
    front, *sides, back = (named("membrane", w)[0] for w in ("front", "left", "right", "back"))
    yield Lap(front, OPEN_UP)
    yield from (Lap(x, front) for x in sides)
    yield from (Lap(back, x) for x in sides)
    yield from (Lap(x, back) for x in below)
    (apron,) = named("apron")
    pans = named("back-pan") or named("cricket")
    o, bay = d.opening, d.bay
    past = d.measures.apron_past
    low = under_it("below", o.left - past, o.right + past)
    (apron_hook,) = named("hook-strip", "apron")
    yield from (Lap(apron_hook, x) for x in low)
    yield from (Lap(apron, x) for x in (*low, apron_hook))
    for closure in named("closure", "apron"):
        yield from (Lap(closure, x) for x in low)
        yield from (Lap(x, closure) for x in (apron_hook, apron))
    for hand, left, right in (("left", bay.left, o.left), ("right", o.right, bay.right)):
        (hook,), (wall,) = named("hook-strip", hand), named("side-wall", hand)
        beside = under_it("below", left, right)
        yield from (Lap(hook, x) for x in (*beside, apron))
        yield from (Lap(wall, x) for x in (*beside, hook, apron))
        here = [p for p in pans if len(pans) == 1 or p.endswith(hand)]
        yield from (Lap(pan, x) for pan in here for x in (*beside, wall))
        for patch in named("corner-patch", hand):
            yield from (Lap(patch, x) for x in (wall, *(here if "back" in patch else [apron])))
    cleats = named("offset-cleat")
    yield from (Lap(b, a) for a, b in pairwise(pans))
    yield from (Lap(c, pan) for c in cleats for pan in pans)
    runs = list(zip(d.cleat_line, d.cleat_line[1:], strict=False))
    for cleat, (a, b) in zip(cleats, runs, strict=True):
        yield from (Lap(x, cleat) for x in under_it("upper", a[0], b[0]))
    upper = under_it("upper", bay.left, bay.right)
    yield from (Lap(x, pan) for x in upper for pan in pans)
    for plate in named("backing-plate"):
        yield from (Lap(plate, c) for c in cleats)
        yield from (Lap(x, plate) for x in upper)
    for plug in named("closure", "rib"):
        yield from (Lap(plug, x) for x in upper)
        yield Lap(RIDGE, plug)
    yield from _counter_laps(named, apron, pans)


def _counter_laps(named, apron: str, pans: list[str]) -> Iterator[Lap]:  # type: ignore[no-untyped-def]
    """Counterflashing over every upstand; its front and back turn round over the side pieces."""
    over = {
        "front": [apron],
        "back": pans,
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
