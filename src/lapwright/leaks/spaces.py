"""What a place is called: the gap between two sheets, inside the wall, off the roof, at a patched corner."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from lapwright.geom import SAME
from lapwright.geom.space import Plane, Point
from lapwright.leaks.at_pipe import pipe_faces
from lapwright.leaks.layers import Sight
from lapwright.leaks.rays import Facet
from lapwright.leaks.seals import Seals
from lapwright.leaks.search import Crossing
from lapwright.metal.cleat import seat
from lapwright.metal.panel import edge_at
from lapwright.metal.work import HANDS, Work
from lapwright.site.model import Site

PANS = ("back-pan", "cricket", "base-plate")

FOOT = 0.5
"""A patch fills reliefs this near its corner. House rule. [in]"""

MARGIN = 1.0
"""Nearer the roof's edges than this, edges belong to eave, ridge and rake trims. [in]"""

POOL_BELOW = 1.0
"""Standing water behind the face still reaches this far down past the corners. House rule. [in]"""

POOL_ABOVE = 12.0
"""Edges are looked at for standing water at least this far up from the face. House rule. [in]"""

PLAY = 0.25
"""A sheet turned up against a rib stands no further off its face and gap than this. House rule. [in]"""

BESIDE = 0.9
"""A sheet stands along a rib when its normal looks within about 25 degrees of across the roof."""

IN_THE_WALL = 0.005
"""A standing edge is in the wall when it is this far behind its face. [in]"""


@dataclass(frozen=True, slots=True)
class TurnedUp:
    """A sheet turned up against a bay rib: how far off the rib's centre, from where to where up the roof. [in]"""

    rib: float
    off: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Scene:
    """One opening as its edges are judged by: made once, asked at every place.

    kinds: of every sheet by its id. level: elevation of the standing water, None where none stands. [in]
    plumb: up, in the roof frame. faces: of the opening. feet: of its wall corners, by name. [in]
    pool: x and y between which water may stand, None where it cannot. [in]
    turned_up: pans beside the bay ribs.
    """

    site: Site
    work: Work
    kinds: Mapping[str, str]
    seals: Seals
    level: float | None
    plumb: Point
    faces: tuple[Plane, ...]
    feet: tuple[tuple[str, Point], ...]
    pool: tuple[float, float, float, float] | None
    turned_up: tuple[TurnedUp, ...]

    def gap(self, over: str, under: str, at: Point) -> str:
        """The name of the gap between two sheets; the cleats part the one under the upper panels in two."""
        name = f"{over}|{under}"
        if over.endswith("-upper") and self.kinds[under] in PANS:
            return f"{name} {'past' if at[1] > self.cleats_at(at[0]) else 'short of'} the cleat"
        return name

    def cleats_at(self, x: float) -> float:
        """y of the cleat line at x. [in]"""
        line = self.work.detail.cleat_line
        return edge_at(list(line), min(max(x, line[0][0]), line[-1][0]))

    def foot_at(self, p: Point) -> str:
        """Which wall corner's foot a place is at: "back-left" ..., or nothing."""
        near = FOOT - SAME
        for name, (x, y, z) in self.feet:
            if abs(p[0] - x) < near and abs(p[1] - y) < near and abs(p[2] - z) < near:
                return name
        return ""

    def in_the_wall(self, p: Point, steep: bool) -> bool:
        """Is a point in the wall itself, as a leg in its reglet is, or a lying sheet's edge at the foot of it?"""
        deep = -IN_THE_WALL if steep else 0.0
        return all(face.height(p) < deep for face in self.faces)

    def off_the_roof(self, p: Point) -> bool:
        """At the eave, the upper edge or a rake, where trims and ridge take over?"""
        roof = self.site.roof
        return not (MARGIN < p[1] < roof.slope - MARGIN and MARGIN < p[0] < roof.eave - MARGIN)

    def turned_up_before(self, s: Sight) -> bool:
        """Is a pan turned up against the rib between the bay and a panel's open edge in the rib's width?"""
        if s.over is not None or s.steep or self.kinds[s.edge.sheet] != "panel":
            return False
        x, y, _ = s.at
        return any(abs(x - t.rib) < t.off and t.low < y < t.high for t in self.turned_up)

    def pooled(self, p: Point) -> bool:
        """May standing water reach this place of the roof?"""
        if self.pool is None:
            return False
        x0, y0, x1, y1 = self.pool
        return y0 <= p[1] <= y1 and x0 <= p[0] <= x1


def scene_of(
    site: Site, work: Work, facets: Sequence[Facet], kinds: Mapping[str, str], seals: Seals, level: float | None
) -> Scene:
    """Everything about one opening that its edges are judged by.

    Args:
        facets: every sheet as it is placed.
        kinds: of every sheet by its id. level: elevation of standing water, None where none stands. [in]
    """
    theta, walls, bay, o = site.roof.theta, work.walls, work.detail.bay, work.opening
    piped = work.detail.pipe is not None
    pool = None
    if level is not None:
        depth = 0.0 if work.detail.water is None else work.detail.water.depth
        pool = (bay.left, o.back - POOL_BELOW, bay.right, o.back + max(depth / math.tan(theta), POOL_ABOVE))
    return Scene(
        site,
        work,
        kinds,
        seals,
        level,
        (0.0, math.sin(theta), math.cos(theta)),
        pipe_faces(work) if piped else (walls.back(), walls.front(), walls.side("left"), walls.side("right")),
        () if piped else tuple(feet_of(work)),
        pool,
        tuple(_turned_up(work, facets, kinds)),
    )


def _turned_up(work: Work, facets: Sequence[Facet], kinds: Mapping[str, str]) -> Iterator[TurnedUp]:
    """Where a pan's standing part lies beside a bay rib, no further off than the rib's face and a hand's play."""
    bay, m = work.detail.bay, work.measures
    reach = (m.rib_face or 0.0) + m.gap + PLAY
    for f in facets:
        if kinds[f.sheet] not in PANS or abs(f.normal[0]) < BESIDE:
            continue
        xs, ys, _ = zip(*f.ring, strict=True)
        for rib, stands in ((bay.left, bay.left_is_rib), (bay.right, bay.right_is_rib)):
            off = max(abs(x - rib) for x in xs)
            if stands and off < reach:
                yield TurnedUp(rib, off, min(ys), max(ys))


def feet_of(work: Work) -> Iterator[tuple[str, Point]]:
    """The feet of the wall corners; before a raised apron they stand on its flange."""
    o = work.opening
    base = work.site.panel.rib_height if work.raised else 0.0
    for hand, x in zip(HANDS, (o.left, o.right), strict=True):
        yield f"front-{hand}", (x, o.up + base * math.tan(work.walls.lean), base)
        yield f"back-{hand}", (x, o.back, 0.0)


def dams(scene: Scene, sights: Sequence[Sight]) -> Iterator[Crossing]:
    """Over the cleats inside the hems hooked on them, and under them through their tape."""
    _, sine, cosine = scene.plumb
    hem, tape = scene.seals.hem, scene.seals.tape
    stands = (seat(scene.work) + scene.work.measures.web) * cosine
    for s in sights:
        sheet, under = s.edge.sheet, s.under
        if s.edge.hem is None or not sheet.endswith("-upper") or under is None or scene.kinds[under] not in PANS:
            continue
        x = s.at[0]
        y = scene.cleats_at(x)
        foot = y * sine
        near, far = (scene.gap(sheet, under, (x, y + d, 0.0)) for d in (-0.1, 0.1))
        place = (x, y, 0.0)
        held = hem if s.hooked is not None else 0.0
        over, beneath = f"{sheet}>offset-cleat", f"offset-cleat>{under}"
        yield Crossing(near, far, foot + stands, foot, held, over, place, how="hem" if held else "")
        yield Crossing(near, far, foot, foot, tape, beneath, place, how="tape" if tape else "")
