"""Audited roofs to spoil: every example's openings, and how a spoilt one is told from a sound one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from lapwright.checks.leaks import leaks
from lapwright.detail.model import OpeningDetail, Part
from lapwright.job import Job, run
from lapwright.leaks.audit import Audit, audit_one, bodies_of
from lapwright.leaks.seals import Seals, standard_seals
from lapwright.leaks.search import by_seam, low_places, metal_alone
from lapwright.leaks.without import parts_of
from lapwright.metal.model import Body
from lapwright.metal.work import at_bench
from lapwright.site.model import Deviation, Site
from lapwright.site.read import read_job
from lapwright.tables import metals

EXAMPLES = Path(__file__).parents[1] / "examples"
SOUND = 1e-6


@dataclass(frozen=True)
class Case:
    """One planned opening of a job, sound."""

    name: str
    job: Job
    d: OpeningDetail
    parts: tuple[Part, ...]
    bodies: Mapping[str, Body]
    sound: Audit

    @property
    def site(self) -> Site:
        return self.job.site

    def audit(
        self,
        deviations: Sequence[Deviation] = (),
        bodies: Mapping[str, Body] | None = None,
        without: frozenset[str] = frozenset(),
        seals: Seals | None = None,
    ) -> Audit:
        use = self.bodies if bodies is None else bodies
        return audit_one(self.site, self.job.layout, self.d, self.parts, use, deviations, without, seals)

    @property
    def seals(self) -> Seals:
        return standard_seals(metals()[at_bench(self.site, self.d).metal].join)

    def as_feared(self, what: str, where: str = "") -> Audit:
        return self.audit((Deviation(self.d.opening.name, what, where),))


def cases_of(site: Site, name: str = "") -> tuple[Case, ...]:
    """Every planned opening of a site, its deviations left off."""
    job = run(replace(site, deviations=()))
    bodies = bodies_of(job.pieces, job.panels)
    audits = iter(job.audits)
    return tuple(
        Case(name or d.opening.name, job, d, tuple(parts_of(job.detail, d)), bodies, next(audits))
        for d in job.detail.openings
        if d.planned
    )


@cache
def examples() -> tuple[Case, ...]:
    """Every planned opening of every example roof."""
    found = []
    for path in sorted(EXAMPLES.glob("*/job.toml")):
        site = read_job(path.read_text(encoding="utf-8"), path.name)
        cases = cases_of(site)
        found += [replace(c, name=f"{path.parent.name}: {c.d.opening.name}") for c in cases]
    return tuple(found)


def told(site: Site, a: Audit) -> set[tuple[str, float, float, str]]:
    """Findings as (rule, place, level)."""
    return {
        (f.rule, round(float(f.values["x"]), 1), round(float(f.values["y"]), 1), f.level) for f in leaks(site, (a,))
    }


def found_by(case: Case, spoilt: Audit) -> str:
    """How the audit shows that work is spoilt: a new finding, a lower margin, or "" where neither is there."""
    if told(case.site, spoilt) - told(case.site, case.sound):
        return "finding"
    for how in ("standing", "running"):
        before, after = getattr(case.sound, how), getattr(spoilt, how)
        if after is not None and (before is None or after.head < before.head - SOUND):
            return "margin"
    return ""


def found_in_the_metal(case: Case, spoilt: Audit) -> str:
    """The same; or, behind another line that holds, by a seam that holds less or is low over a longer run."""
    by = found_by(case, spoilt)
    if by:
        return by
    for level in (None, case.sound.level):
        for pick in (tuple, metal_alone):
            before, after = by_seam(pick(case.sound.crossings), level), by_seam(pick(spoilt.crossings), level)
            if any(after[k] < before[k] - SOUND for k in before.keys() & after.keys()):
                return "seam"
        low = [low_places(metal_alone(a.crossings), level, 0.5) for a in (case.sound, spoilt)]
        if any(low[1][k] > low[0].get(k, 0) for k in low[1]):
            return "low run"
    return ""
