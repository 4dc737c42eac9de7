"""Put one opening together, look at every edge, and find the weakest way in for standing and running water."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from lapwright.detail.model import Detail, OpeningDetail, Part
from lapwright.layout.model import Layout
from lapwright.leaks.assemble import build
from lapwright.leaks.crossings import beds, crossings_at, held_at
from lapwright.leaks.layers import Sight, look
from lapwright.leaks.seals import WALL, Seals, standard_seals
from lapwright.leaks.search import OUTSIDE, Crossing, Way, weak_places, weakest
from lapwright.leaks.spaces import Scene, dams, scene_of
from lapwright.metal.model import Body, Piece, RoofPanel
from lapwright.metal.work import at_bench
from lapwright.site.model import Deviation, Site
from lapwright.tables import metals

SHOWS = 4
"""A bare lap counts from so many looks along it (2 in). House rule."""

SHOWS_TO_FLOW = 2
"""The same for a lap that faces up the slope (1 in). House rule."""

DEEP = 1e6
"""Lower than anything on a roof. [in]"""

FACES = 0.5
"""An edge faces up the slope when it looks within 60 degrees of straight up. House rule."""


@dataclass(frozen=True, slots=True)
class Audit:
    """What was found for one opening. standing, running: weakest ways; None where no way leads to the deck.

    opened: laps that show, seal nothing and hook on nothing, by "over>under" and place.
    against: those of them that face up the slope, so that water runs straight into them.
    level: elevation of the standing water, None where none stands. [in]
    """

    opening: str
    standing: Way | None
    running: Way | None
    level: float | None
    opened: tuple[Crossing, ...]
    crossings: tuple[Crossing, ...]
    against: tuple[Crossing, ...] = ()

    @property
    def weakest(self) -> Way | None:
        """The way that asks the least head; of equals, the one on which fewer seams have to fail."""
        found = [w for w in (self.standing, self.running) if w is not None]
        return min(found, key=lambda w: (round(w.head, 3), w.holding), default=None)

    def places(self, most: int = 4) -> tuple[tuple[Literal["standing", "running"], Way], ...]:
        """The weakest ways by where they are decided, standing water's first."""
        standing = weak_places(self.crossings, self.level, most) if self.level is not None else ()
        return (
            *(("standing", w) for w in standing),
            *(("running", w) for w in weak_places(self.crossings, None, most)),
        )


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
    seals: Seals | None = None,
) -> Audit:
    """Audit one opening.

    Args:
        parts: its own pieces and panels.
        deviations: work as built or as feared; each changes the assembly or its sealing, never a rule.
        without: left out on purpose: a kind of sealing ("bead", "tape" ...), a lap with its sealing and its
            whole length ("back-pan/side-wall"), a piece by kind or id ("corner-patch").
        seals: what is sealed and trusted with what; None for the standard detail.
    """
    work = at_bench(site, d)
    seals = seals or standard_seals(metals()[work.metal].join)
    dropped = {"no-sealant": ("bead", "patch", "solder", "hem", "seam"), "no-tape": ("tape",)}
    named = [how for v in deviations for how in dropped.get(v.what, ())]
    seals = replace(seals, without=frozenset(named) | without)
    built, kinds = build(site, layout, work, parts, bodies, deviations, without)
    cleats = [n for n, k in kinds.items() if k == "offset-cleat"]
    level = _level(site, d)
    sights = list(look(built, work.walls.up, cleats, site.panel.rib_height))
    scene = scene_of(site, work, built.facets, kinds, seals, level)
    found = (c for s in sights for c in crossings_at(scene, s))
    crossings = tuple(_cut_back(c, kinds, without) for c in (*found, *dams(scene, sights)))
    standing = weakest(crossings, level) if level is not None else None
    laps = tuple(_opened(sights, scene))
    opened, against = (tuple(lap for faces, lap in laps if faces == which) for which in (False, True))
    return Audit(d.opening.name, standing, weakest(crossings, None), level, opened, crossings, against)


def _cut_back(c: Crossing, kinds: Mapping[str, str], without: frozenset[str]) -> Crossing:
    """A lap that is left out has no length either: water in its mouth is at its end."""
    if not without:
        return c
    over, _, under = c.above.split(" ")[0].partition("|")
    if under and f"{kinds[over]}/{kinds[under]}" in without:
        return replace(c, crest=-DEEP, foot=-DEEP)
    return c


def _opened(sights: Sequence[Sight], scene: Scene) -> Iterator[tuple[bool, Crossing]]:
    """Laps on the roof that show along most of a run and are neither sealed nor hooked: one place for each.

    Yields:
        Does the lap face up the slope? And where it is.
    """
    runs: dict[tuple[str, bool], list[tuple[bool, Sight]]] = {}
    for s in sights:
        faces = -s.edge.inward[1] > FACES
        if not (s.over is None or faces) or not _may_show(s, scene):
            continue
        held = s.hooked is not None and scene.seals.hem > 0
        held = held or held_at(scene, s)[0] > 0
        runs.setdefault((f"{s.edge.sheet}>{s.under}", faces), []).append((held, s))
    for (seam, faces), places in sorted(runs.items()):
        bare = [s for held, s in places if not held]
        if len(bare) >= (SHOWS_TO_FLOW if faces else SHOWS) and len(bare) > len(places) / 2:
            at = bare[len(bare) // 2].at
            yield faces, Crossing(OUTSIDE, seam, 0.0, 0.0, 0.0, seam, at)


def _may_show(s: Sight, scene: Scene) -> bool:
    """Is it a lap of two lying sheets? A cleat's lip hooks; a panel's edge in a rib's width is the rib's."""
    kind = scene.kinds[s.edge.sheet]
    if s.under in (None, WALL) or s.steep:
        return False
    if scene.turned_up_before(s):
        return False
    return kind != "offset-cleat" or beds(scene, s, kind)


def _level(site: Site, d: OpeningDetail) -> float | None:
    """Elevation of the standing water behind a flat pan; behind a cricket none stands."""
    if d.water is None or d.water.depth <= 0:
        return None
    theta = site.roof.theta
    return d.opening.back * math.sin(theta) + d.water.depth * math.cos(theta)
