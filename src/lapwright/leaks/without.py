"""What one sealing, lap or piece is there for: the same opening audited with it and without it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lapwright.detail.model import Detail, OpeningDetail, Part
from lapwright.geom.space import Point
from lapwright.layout.model import Layout
from lapwright.leaks.assemble import LEFT_OUT
from lapwright.leaks.audit import Audit, audit_one
from lapwright.leaks.seals import standard_seals
from lapwright.leaks.search import Crossing, Way, metal_alone, ways, weakest
from lapwright.metal.model import Body
from lapwright.metal.work import at_bench
from lapwright.site.model import Deviation, Site
from lapwright.tables import metals

DROPS = 0.02
"""A head that falls by less has not changed. House rule. [in]"""


@dataclass(frozen=True, slots=True)
class Difference:
    """One opening with a seam and without it."""

    without: str
    before: Audit
    after: Audit

    @property
    def water(self) -> str:
        """The water whose weakest way falls most: "standing", "running", or nothing where none falls."""
        falls = {
            how: _head(getattr(self.before, how)) - _head(getattr(self.after, how))
            for how in ("standing", "running")
            if getattr(self.after, how) is not None
        }
        best = max(falls, key=lambda how: falls[how], default="")
        return best if best and falls[best] > DROPS else ""

    @property
    def alone(self) -> tuple[Crossing, float, float] | None:
        """The place whose head falls most with all sealing dead, and its heads before and after. [in]"""
        before, after = (_onto_the_deck(metal_alone(a.crossings)) for a in (self.before, self.after))
        falls = {k: before[k].head - after[k].head for k in before if k in after}
        worst = max(sorted(falls), key=lambda k: falls[k], default=None)
        if worst is None or falls[worst] <= DROPS:
            return None
        return before[worst].crossings[-1], before[worst].head, after[worst].head


def _onto_the_deck(crossings: Sequence[Crossing]) -> dict[tuple[str, Point], Way]:
    """The weakest way through every place onto the deck, running water, by seam and place."""
    found: dict[tuple[str, Point], Way] = {}
    for way in ways(crossings, None):
        found.setdefault((way.crossings[-1].seam, way.crossings[-1].at), way)
    return found


def _head(way: Way | None) -> float:
    return float("inf") if way is None else way.head


def alone(a: Audit) -> tuple[float | None, float | None]:
    """Heads that shape and laps hold with all sealing dead: against standing and running water. [in]"""
    bare = metal_alone(a.crossings)
    heads = [None if way is None else way.head for way in (
        weakest(bare, a.level) if a.level is not None else None, weakest(bare, None)
    )]  # fmt: skip
    return heads[0], heads[1]


def leave_out(
    site: Site,
    layout: Layout,
    detail: Detail,
    d: OpeningDetail,
    bodies: Mapping[str, Body],
    without: str,
    deviations: Sequence[Deviation] = (),
) -> Difference:
    """Audit one opening with a seam and without it.

    Args:
        bodies: every folded body by id.
        without: one of `can_leave_out`.
    """
    parts = parts_of(detail, d)
    before, after = (audit_one(site, layout, d, parts, bodies, deviations, frozenset(w)) for w in ((), (without,)))
    return Difference(without, before, after)


def parts_of(detail: Detail, d: OpeningDetail) -> list[Part]:
    """The parts of one opening."""
    k = detail.openings.index(d)
    return [p for p in detail.parts if p.opening == k]


def can_leave_out(site: Site, detail: Detail, d: OpeningDetail) -> tuple[tuple[str, ...], ...]:
    """What may be left out of one opening: kinds of sealing, laps by their kinds, kinds of piece."""
    parts = {p.id: p.kind for p in parts_of(detail, d) if p.kind not in LEFT_OUT}
    lapped = {f"{parts[lap.over]}/{parts[lap.under]}" for lap in detail.laps if {lap.over, lap.under} <= parts.keys()}
    seals = standard_seals(metals()[at_bench(site, d).metal].join)
    there = set(parts.values())
    held = {how for (over, under), how in seals.laps.items() if over in there and under in (*there, "wall")}
    return tuple(sorted(held)), tuple(sorted(lapped)), tuple(sorted(there - {"panel"}))
