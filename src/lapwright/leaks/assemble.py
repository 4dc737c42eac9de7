"""Every sheet of one opening put in its place, with the work as it was built or is feared."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from lapwright.detail.model import Part
from lapwright.geom.space import Point, add, scale
from lapwright.layout.model import Layout, Strip
from lapwright.leaks.at_pipe import lay_hole, no_way_in, pipe_walls
from lapwright.leaks.layers import STANDS, Assembly, Edge, height, within
from lapwright.leaks.rays import Facet
from lapwright.leaks.seals import WALL
from lapwright.metal.model import Body
from lapwright.metal.place import LAYERS, shift
from lapwright.metal.work import Work
from lapwright.site.model import Deviation, Site

LEFT_OUT = ("membrane", "hook-strip", "closure", "backing-plate", "storm-collar")
"""Kinds that hold or carry but are not counted as layers that keep water out: the audit is stricter for it. A storm
collar shuts a sleeve's upper end, which therefore is no edge here; what seals it to the pipe is the pipe's own."""

LAID_SECOND = ("cricket-right", "base-plate-upslope")
"""Halves that lap over their fellows."""

BESIDE = 0.5
"""A stray screw at a corner goes in this far beside the opening. House rule. [in]"""

RANK_LAST = 99.0
"""Counterflashing lies over everything it touches."""


def build(
    site: Site,
    layout: Layout,
    work: Work,
    parts: Sequence[Part],
    bodies: Mapping[str, Body],
    deviations: Sequence[Deviation],
    without: frozenset[str] = frozenset(),
) -> tuple[Assembly, dict[str, str]]:
    """Every sheet in place, and the kind of each by its id.

    Args:
        deviations: each changes edges or places, never a rule.
        without: pieces left out, by kind or id.
    """
    built, kinds = Assembly(), {WALL: WALL}
    gone = {f"back-{v.where}" if v.where else "back" for v in deviations if v.what == "open-corner"}
    for part in parts:
        if part.kind in LEFT_OUT or part.id not in bodies or without & {part.kind, part.id}:
            continue
        if part.kind == "corner-patch" and any(part.where.startswith(g) for g in gone):
            continue
        kinds[part.id] = part.kind
        last = part.kind == "counterflashing"
        built.ranks[part.id] = (
            RANK_LAST if last else LAYERS.get(part.kind, 0) + 0.5 * part.id.endswith(LAID_SECOND)
        )
        moved = add(shift(work, part), _misplaced(work, part, deviations))
        skip = () if part.strip is None else _legs(site, layout.strips[part.strip], moved)
        body = bodies[part.id]
        if work.detail.pipe is not None:
            skip = (*skip, *no_way_in(work, part, body, moved))
        built.lay(part.id, body, moved, skip)
        if part.kind == "base-plate":
            lay_hole(built, work, part.id, moved)
    built.ranks[WALL] = -1.0
    standing = _faces(work) if work.detail.pipe is None else pipe_walls(work)
    built.facets += [Facet(WALL, ring, n) for ring, n in standing]
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
    # Behind a cricket the middle is dry: water runs off by its valleys, past the corners.
    beside = {"left": o.left - BESIDE, "right": o.right + BESIDE}
    x = beside.get(v.where, beside["left"] if work.detail.method == "cricket" else o.left + o.width / 2)
    drill(built, x, o.back + 2.0)


def drill(built: Assembly, x: float, y: float, across: float = 0.1) -> None:
    """A hole through everything that lies at a place of the roof. [in]"""
    for f in list(built.facets):
        if f.sheet != WALL and abs(f.normal[2]) > STANDS and within(f.ring, x, y):
            built.pierce(f, (x, y, height(f, x, y)), across)


CHANGES: Mapping[str, Callable[[Work, Assembly, dict[str, str], Deviation], None]] = {
    "short-hem": _short_hem,
    "pan-cut": _pan_cut,
    "screw-in-water": _screw,
}
"""Deviations that change the assembly's edges."""
