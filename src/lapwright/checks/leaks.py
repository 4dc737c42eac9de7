"""What the leak audit found, as findings: ways in at or near the water, laps that show and hold nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lapwright.findings import Finding
from lapwright.leaks.audit import Audit
from lapwright.leaks.search import Way
from lapwright.rules import breaks, finding, rule
from lapwright.site.model import Site
from lapwright.water.flow import film


def leaks(site: Site, audits: Sequence[Audit]) -> tuple[Finding, ...]:
    """Every leak finding of the job; margins are measured over the water that stands or runs there. [in]"""
    return tuple(f for a in audits for f in (*_ways(site, a), *_laps(a)))


def running_depth(site: Site) -> float:
    """Depth of the sheet of rain at the foot of the whole slope. [in]"""
    return film(site.weather.rain, site.roof.slope + site.weather.roof_above, site.roof.theta).depth


def _ways(site: Site, a: Audit) -> Iterator[Finding]:
    for how, way, stands in (("standing", a.standing, 0.0), ("running", a.running, running_depth(site))):
        if way is None:
            continue
        margin = way.head - stands
        for which in ("leak.way-in", "leak.margin"):
            if breaks(rule(which), margin):
                yield finding(which, a.opening, margin, None, water=f"findings.leak.water.{how}", **_place(way))
                break


def _laps(a: Audit) -> Iterator[Finding]:
    for which, laps in (("leak.against-flow", a.against), ("leak.open-lap", a.opened)):
        for lap in laps:
            over, under = lap.seam.split(">")
            yield finding(which, a.opening, over=over, under=under, x=lap.at[0], y=lap.at[1])


def _place(way: Way) -> dict[str, float | str]:
    """Every seam on the way, and where it is decided: at the crossing that asks the whole head."""
    here = way.decided
    seams = " - ".join(c.seam.replace(">", " / ") for c in way.crossings)
    return {"path": seams, "x": here.at[0], "y": here.at[1]}
