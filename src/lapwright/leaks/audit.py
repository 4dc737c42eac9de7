"""Put one opening together, look at every edge, and find the weakest way in for standing and running water."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lapwright.detail.model import Detail, OpeningDetail, Part
from lapwright.geom.space import Point, add, scale
from lapwright.layout.model import Layout, Strip
from lapwright.leaks.layers import Assembly, Edge, Facet, Sight, lies, look
from lapwright.leaks.search import DECK, OUTSIDE, Crossing, Way, weakest
from lapwright.leaks.spaces import dams, gap, inside_wall, off_the_roof, patched
from lapwright.metal.model import Body, Piece, RoofPanel
from lapwright.metal.place import LAYERS, shift
from lapwright.metal.work import Work, at_bench
from lapwright.site.model import Deviation, Site
from lapwright.tables import metals, rows

LEFT_OUT = ("membrane", "hook-strip", "closure", "backing-plate")
"""Kinds that hold or carry but are not counted as layers that keep water out: the audit is stricter for it."""

POOL_BELOW = 1.0
"""Standing water behind the face still reaches this far down past the corners. House rule. [in]"""

WALL = "wall"

RANK_LAST = 99.0
"""Counterflashing lies over everything it touches."""

SHOWS = 4
"""A bare lap counts from so many looks along it (2 in). House rule."""


@dataclass(frozen=True, slots=True)
class Audit:
    """What was found for one opening. standing, running: weakest ways; None where no way leads to the deck.

    opened: laps that show, seal nothing and hook on nothing, by "over>under" and place.
    level: elevation of the standing water, None where none stands. [in]
    """

    opening: str
    standing: Way | None
    running: Way | None
    level: float | None
    opened: tuple[Crossing, ...]
    crossings: tuple[Crossing, ...]


@dataclass(frozen=True, slots=True)
class Seals:
    """Which laps are sealed, by the kinds of the sheets (over, under), and what each holds. [in]"""

    ratings: Mapping[str, float]
    laps: Mapping[tuple[str, str], str]
    without: frozenset[str] = frozenset()

    @property
    def hem(self) -> float:
        """What a hem hooked on its cleat holds. [in]"""
        return self.rating("panel", "offset-cleat")

    @property
    def tape(self) -> float:
        """What the tape under a cleat holds. [in]"""
        return self.rating("offset-cleat", "back-pan")

    def rating(self, over: str, under: str) -> float:
        """Head the lap of one kind over another holds by its sealing. [in]"""
        how = self.laps.get((over, under), "")
        return 0.0 if not how or how in self.without or f"{over}/{under}" in self.without else self.ratings[how]


def standard_seals(join: str) -> Seals:
    """The sealing of the standard detail, as the takeoff counts it and the steps say it. House rules."""
    patch = "solder" if join == "solder" else "bead"
    laps = {
        ("side-wall", "panel"): "tape", ("side-wall", "apron"): "bead", ("apron", "panel"): "tape",
        ("back-pan", "side-wall"): "bead", ("back-pan", "panel"): "bead",
        ("cricket", "side-wall"): "bead", ("cricket", "panel"): "bead", ("cricket", "cricket"): "seam",
        ("offset-cleat", "back-pan"): "tape", ("offset-cleat", "cricket"): "tape",
        ("panel", "offset-cleat"): "hem", ("counterflashing", "counterflashing"): "bead",
    }  # fmt: skip
    laps |= {("corner-patch", k): patch for k in ("back-pan", "cricket", "side-wall", "apron", "panel", WALL)}
    return Seals({k: float(v) for k, v in rows("ratings").items()}, laps)


def audit(
    site: Site, layout: Layout, detail: Detail, pieces: Sequence[Piece], panels: Sequence[RoofPanel]
) -> tuple[Audit, ...]:
    """Audit every planned opening, with the job's own deviations built in."""
    bodies = bodies_of(pieces, panels)
    return tuple(
        audit_one(site, layout, d, [p for p in detail.parts if p.opening == k], bodies, _of(site, d))
        for k, d in enumerate(detail.openings)
        if d.planned
    )


def bodies_of(pieces: Sequence[Piece], panels: Sequence[RoofPanel]) -> dict[str, Body]:
    """Every folded body by its id."""
    found = {p.id: p.body for p in pieces} | {p.id: p.body for p in panels}
    return {k: b for k, b in found.items() if b is not None}


def _of(site: Site, d: OpeningDetail) -> tuple[Deviation, ...]:
    return tuple(v for v in site.deviations if v.opening == d.opening.name)


def audit_one(
    site: Site,
    layout: Layout,
    d: OpeningDetail,
    parts: Sequence[Part],
    bodies: Mapping[str, Body],
    deviations: Sequence[Deviation] = (),
    without: frozenset[str] = frozenset(),
) -> Audit:
    """Audit one opening.

    Args:
        parts: its own pieces and panels.
        deviations: work as built or as feared; each changes the assembly or its sealing, never a rule.
        without: sealing left out on purpose: a kind ("bead", "tape" ...) or a lap ("back-pan/side-wall").
    """
    work = at_bench(site, d)
    seals = standard_seals(metals()[work.metal].join)
    dropped = {"no-sealant": ("bead", "solder", "hem", "seam", "reglet"), "no-tape": ("tape",)}
    named = [how for v in deviations for how in dropped.get(v.what, ())]
    seals = replace(seals, without=frozenset(named) | without)
    built, kinds = _build(site, layout, work, parts, bodies, deviations)
    cleats = [n for n, k in kinds.items() if k == "offset-cleat"]
    level = _level(site, d)
    sights = list(look(built, work.walls.up, cleats))
    found = (c for s in sights for c in _crossings(site, work, s, kinds, seals, level))
    crossings = (*found, *dams(site, work, sights, kinds, seals.hem, seals.tape))
    standing = weakest(crossings, level) if level is not None else None
    opened = tuple(_opened(sights, work, kinds, seals))
    return Audit(d.opening.name, standing, weakest(crossings, None), level, opened, crossings)


def _opened(sights: Sequence[Sight], work: Work, kinds: Mapping[str, str], seals: Seals) -> Iterator[Crossing]:
    """Laps on the roof that show along most of a run and are neither sealed nor hooked: one place for each."""
    runs: dict[str, list[tuple[bool, Sight]]] = {}
    for s in sights:
        if s.over is not None or s.under in (None, WALL) or not lies(s.edge.normal, work.walls.up):
            continue
        held = s.hooked is not None and seals.hem > 0
        held = held or seals.rating(kinds[s.edge.sheet], kinds[s.under or WALL]) > 0
        runs.setdefault(f"{s.edge.sheet}>{s.under}", []).append((held, s))
    for seam, places in sorted(runs.items()):
        bare = [s for held, s in places if not held]
        if len(bare) >= SHOWS and len(bare) > len(places) / 2:
            at = bare[len(bare) // 2].at
            yield Crossing(OUTSIDE, seam, 0.0, 0.0, 0.0, seam, at)


def _level(site: Site, d: OpeningDetail) -> float | None:
    """Elevation of the standing water behind a flat pan; behind a cricket none stands."""
    if d.water is None or d.water.depth <= 0:
        return None
    theta = site.roof.theta
    return d.opening.back * math.sin(theta) + d.water.depth * math.cos(theta)


def _build(
    site: Site,
    layout: Layout,
    work: Work,
    parts: Sequence[Part],
    bodies: Mapping[str, Body],
    deviations: Sequence[Deviation],
) -> tuple[Assembly, dict[str, str]]:
    built, kinds = Assembly(), {WALL: WALL}
    gone = {f"back-{v.where}" if v.where else "back" for v in deviations if v.what == "open-corner"}
    for part in parts:
        if part.kind in LEFT_OUT or part.id not in bodies:
            continue
        if part.kind == "corner-patch" and any(part.where.startswith(g) for g in gone):
            continue
        kinds[part.id] = part.kind
        last = part.kind == "counterflashing"
        built.ranks[part.id] = (
            RANK_LAST if last else LAYERS.get(part.kind, 0) + 0.5 * part.id.endswith("cricket-right")
        )
        moved = add(shift(work, part), _misplaced(work, part, deviations))
        skip = () if part.strip is None else _legs(site, layout.strips[part.strip], moved)
        built.lay(part.id, bodies[part.id], moved, skip)
    built.ranks[WALL] = -1.0
    built.facets += [Facet(WALL, ring, n) for ring, n in _faces(work)]
    for v in deviations:
        CHANGES.get(v.what, _unchanged)(work, built, kinds, v)
    return built, kinds


def _misplaced(work: Work, part: Part, deviations: Sequence[Deviation]) -> Point:
    """A reversed lap: the side-wall flashing lies over the pan's leg instead of under it."""
    for v in deviations:
        if v.what == "reversed-lap" and part.kind == "side-wall" and v.where in ("", part.where):
            return scale(work.walls.up, 6 * work.thickness / math.cos(work.walls.lean))
    return (0.0, 0.0, 0.0)


def _legs(site: Site, strip: Strip, moved: Point) -> tuple[tuple[Point, Point], ...]:
    """Edges of a panel that are no way in here: its formed legs, its turned-up rake edge, eave and ridge."""
    top = site.roof.slope
    lines = [((x, -2.0, 0.0), (x, top + 2.0, 0.0)) for x in (strip.left, strip.right)]
    lines += [((x, -2.0, 1.0), (x, top + 2.0, 1.0)) for x in (strip.left, strip.right)]
    lines += [((strip.left, y, 0.0), (strip.right, y, 0.0)) for y in (0.0, top)]
    return tuple((add(a, moved), add(b, moved)) for a, b in lines)


def _faces(work: Work) -> list[tuple[tuple[Point, ...], Point]]:
    """The opening's four faces, from a little under the deck to their top."""
    o, walls = work.opening, work.walls
    up = scale(walls.up, 1.0 / math.cos(walls.lean))
    ring = [(o.left, o.up), (o.right, o.up), (o.right, o.back), (o.left, o.back)]
    low = [add((x, y, 0.0), up, -1.0) for x, y in ring]
    high = [add((x, y, 0.0), up, o.height) for x, y in ring]
    out = [walls.front().normal, walls.side("right").normal, walls.back().normal, walls.side("left").normal]
    return [((low[i], low[(i + 1) % 4], high[(i + 1) % 4], high[i]), out[i]) for i in range(4)]


def _crossings(
    site: Site, work: Work, s: Sight, kinds: Mapping[str, str], seals: Seals, level: float | None
) -> Iterator[Crossing]:
    """At one place on an edge: off the sheet to what lies beyond it, and from there in under the sheet."""
    o, theta = work.opening, site.roof.theta
    x, y, z = s.at
    steep = not lies(s.edge.normal, work.walls.up)
    if s.over == WALL or inside_wall(work, s.at, steep) or off_the_roof(site, s.at):
        return
    above = OUTSIDE if s.over is None else gap(work, kinds, s.over, s.edge.sheet, s.at)
    below = DECK if s.under in (None, WALL) else gap(work, kinds, s.edge.sheet, s.under or "", s.at)
    mine, under = kinds[s.edge.sheet], kinds.get(s.under or WALL, WALL)
    rating = seals.rating(mine, under)
    if patched(work, s.at, kinds):
        # The reliefs where bends meet at a wall corner's foot are filled by the patch's own solder or sealant.
        rating = max(rating, seals.rating("corner-patch", WALL))
    if mine == "cricket" and under == WALL and abs(x - o.left - o.width / 2) < work.measures.ridge_lap:
        # The ridge seam, and the relief at both its ends, are folded, laid flat and sealed.
        rating = max(rating, seals.rating("cricket", "cricket"))
    along = None
    if steep:
        side = abs(s.edge.normal[0]) > 0.5
        along = y - z * math.tan(work.walls.lean) if side else x
    bay = work.detail.bay
    reach = 0.0 if work.detail.water is None else work.detail.water.depth / math.tan(theta)
    pooled = (
        level is not None and o.back - POOL_BELOW <= y <= o.back + max(reach, 12.0) and bay.left <= x <= bay.right
    )
    # Water slips in over the sheet below, not over the edge: a raised flange's mouth is at the panel's level.
    low = 0.0 if steep else s.gap
    crest = y * math.sin(theta) + (z - low) * math.cos(theta)
    foot = min(crest, y * math.sin(theta))
    seam = f"{s.edge.sheet}>{s.under or 'deck'}"
    beyond = _beyond(work, kinds, s)
    edge = Crossing(above, below, crest, foot, rating, seam, s.at, along, pooled)
    if above == OUTSIDE or beyond is None or beyond == below:
        yield edge
        return
    top = y * math.sin(theta) + z * math.cos(theta)
    off = Crossing(above, beyond, top, min(top, foot), 0.0, f"{s.edge.sheet}>edge", s.at, along, pooled)
    yield off
    if beyond != DECK:
        yield replace(edge, above=beyond)


def _beyond(work: Work, kinds: Mapping[str, str], s: Sight) -> str | None:
    """The space just off an edge that another sheet covers; None where the cover ends with it."""
    if s.over_out is None or s.over_out == s.edge.sheet:
        return None
    if s.under_out in (None, WALL):
        return DECK
    if s.under_out == s.over_out or s.under_out == s.edge.sheet:
        return None
    return gap(work, kinds, s.over_out, s.under_out or "", s.at)


def _unchanged(work: Work, built: Assembly, kinds: dict[str, str], v: Deviation) -> None:
    """A deviation that changes sealing or places only."""


def _short_hem(work: Work, built: Assembly, kinds: dict[str, str], v: Deviation) -> None:
    """The upper panels' hems no longer reach their cleats."""
    short = work.measures.upper_hem - work.measures.slack
    built.edges = [
        replace(e, hem=(e.hem[0], e.hem[1] - short)) if e.hem and e.sheet.endswith("-upper") else e
        for e in built.edges
    ]


def _pan_cut(work: Work, built: Assembly, kinds: dict[str, str], v: Deviation) -> None:
    """The notch runs 1 in into the flat of the side panel, at its lower end."""
    for n in work.detail.notches:
        hand = "left" if n.rib < work.opening.left else "right"
        if v.where not in ("", hand):
            continue
        sheet = next(
            (
                f.sheet
                for f in built.facets
                if f.sheet.endswith("-side") and any(abs(p[0] - n.rib) < 1e-6 for p in f.ring)
            ),
            None,
        )
        if sheet:
            out = 1.0 if hand == "left" else -1.0
            a, b = (n.rib, n.to_y, 0.0), (n.rib + out, n.to_y, 0.0)
            built.edges.append(Edge(sheet, a, b, (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))


def _screw(work: Work, built: Assembly, kinds: dict[str, str], v: Deviation) -> None:
    """A screw through the pan on the wet side of the cleats, without tape."""
    o = work.opening
    x = {"left": o.left, "right": o.right}.get(v.where, o.left + o.width / 2)
    y = o.back + 2.0
    sheet = next(n for n, k in kinds.items() if k in ("back-pan", "cricket"))
    z = max(p[2] for f in built.facets if f.sheet == sheet and lies(f.normal, work.walls.up) for p in f.ring)
    built.edges.append(Edge(sheet, (x, y, z), (x + 0.1, y, z), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))


CHANGES: Mapping[str, Callable[[Work, Assembly, dict[str, str], Deviation], None]] = {
    "short-hem": _short_hem,
    "pan-cut": _pan_cut,
    "screw-in-water": _screw,
}
"""Deviations that change the assembly's edges."""
