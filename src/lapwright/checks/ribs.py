"""Where the ribs stand: why the first one was put there, or where it would do better."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.checks.case import Case
from lapwright.findings import Finding
from lapwright.layout.start import Cost, choose_start, cost_of
from lapwright.rules import finding

GRAVE = ("conflicts", "slivers", "interrupted")
"""Costs worth moving a rib for; wasted metal alone is not."""


def ribs(case: Case) -> Iterator[Finding]:
    """Explain a chosen start by the next best; say where a given one costs ribs or slivers. Laid ribs stay."""
    site, start = case.site, case.layout.start
    if start is not None:
        if start.runner_up is not None:
            other, cost = start.runner_up
            what, more = _more(cost, start.cost)
            yield finding("ribs.chosen", site.name, first=start.first, next=other, what=what, more=more)
        return
    if site.panel.first_rib is None or site.roof.work == "existing" or not site.openings:
        return
    best, own = choose_start(site), cost_of(site, site.panel.first_rib)
    if any(getattr(own, key) != getattr(best.cost, key) for key in GRAVE):
        what, more = _more(own, best.cost)
        yield finding("ribs.better", site.name, first=best.first, what=what, more=more)


def _more(worse: Cost, best: Cost) -> tuple[str, float]:
    """The first cost that sets them apart, as a phrase's key, and by how much."""
    for key in GRAVE:
        if more := getattr(worse, key) - getattr(best, key):
            return f"ribs.what.{key}", more
    return "ribs.what.waste", round((worse.waste - best.waste) / 144, 1)
