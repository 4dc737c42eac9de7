"""What the leak audit found, as findings: ways in at or near the water, laps that show and hold nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lapwright.findings import Finding
from lapwright.leaks.audit import Audit
from lapwright.leaks.margins import margin
from lapwright.leaks.search import Crossing
from lapwright.leaks.telling import sheet_key
from lapwright.rules import breaks, finding, rule
from lapwright.site.model import Site


def leaks(site: Site, audits: Sequence[Audit]) -> tuple[Finding, ...]:
    """Every leak finding of the job; margins are measured over the water that stands or runs there. [in]"""
    return tuple(f for a in audits for f in (*_ways(site, a), *_laps(a)))


def _ways(site: Site, a: Audit) -> Iterator[Finding]:
    for how, way in (("standing", a.standing), ("running", a.running)):
        if way is None:
            continue
        left = margin(site, way, how)
        for which in ("leak.way-in", "leak.margin"):
            if breaks(rule(which), left):
                yield finding(which, a.opening, left, None, water=f"leaks.water.{how}", **_place(way.decided))
                break


def _laps(a: Audit) -> Iterator[Finding]:
    for which, laps in (("leak.against-flow", a.against), ("leak.open-lap", a.opened)):
        for lap in laps:
            yield finding(which, a.opening, None, None, **_place(lap))


def _place(c: Crossing) -> dict[str, float | str]:
    """A seam and where it is. [in]"""
    over, under = c.seam.split(">")
    return {"over": sheet_key(over), "under": sheet_key(under), "x": c.at[0], "y": c.at[1]}
