"""Where the water goes upslope of an opening: does a book ask for a cricket, does a level trough ice up?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from lapwright.checks.case import Case, held
from lapwright.detail.choose import question
from lapwright.detail.framing import clearance_of
from lapwright.detail.model import OpeningDetail
from lapwright.findings import Finding, Level
from lapwright.rules import Rule, cricket_asked, cricket_finding, cricket_let_off, finding, tall_flashing, with_limit
from lapwright.site.model import Site


def cricket(case: Case) -> Iterator[Finding]:
    """Does the job's rule set ask for a cricket, or let this opening off?

    A note where one is planned, so that the reason is printed; otherwise the finding stops the job, and
    where the job itself forces a flat pan it says so. A clause that lets the opening off is said too.
    """
    for d in case.detail.openings:
        if d.pipe is None:
            yield from _asked(case.site, d)


def _asked(site: Site, d: OpeningDetail) -> Iterator[Finding]:
    o, asks = d.opening, question(site, d.opening, d.measures)
    bites = cricket_asked(**asks)
    if bites is not None:
        found = cricket_finding(o.name, asks["rule_set"], *bites, flat_pan_asked=o.method == "flat-pan")
        found = replace(found, level="note") if d.method == "cricket" else found
        yield _tall(found, site, d, asks["up_wall"])
    let_off = cricket_let_off(**asks)
    if let_off is not None and d.method != "cricket":
        yield _let_off(o.name, asks["rule_set"], *let_off)


def _tall(found: Finding, site: Site, d: OpeningDetail, up_wall: float) -> Finding:
    """The other cure where the rule set has one: flashing high up the wall, and up the roof as high."""
    asked = tall_flashing(site.weather.rule_set, d.opening.width)
    if asked is None:
        return found
    theta = site.roof.theta
    wall = max(asked, up_wall)
    square = wall * math.cos(theta) if d.opening.face == "plumb" else wall / math.cos(theta)
    values = {**found.values, "least": asked, "wall": wall, "square": square, "roof": wall / math.sin(theta)}
    return replace(found, values=values, mended="findings.cricket.tall")


def _let_off(where: str, rule_set: str, row: Rule, measured: float, reason: str) -> Finding:
    """Say which clause lets an opening off. Only a skylight flashed as its maker says is one: look at that."""
    found = cricket_finding(where, rule_set, replace(row, id="cricket.let-off"), measured, flat_pan_asked=False)
    level: Level = "caution" if reason == "skylight" else "note"
    return replace(found, level=level, values={**found.values, "reason": f"findings.cricket.off.{reason}"})


def clearance(case: Case) -> Iterator[Finding]:
    """Is it known how far a cricket's framing has to keep from the wall?"""
    for d in case.detail.openings:
        if d.method == "cricket" and clearance_of(d.opening.kind, d.measures.framing_clear) is None:
            yield finding("cricket.clearance", d.opening.name)


def depth(case: Case) -> Iterator[Finding]:
    """Does water stand deeper behind a flat pan than its turn-ups and laps are trusted to?"""
    for d in case.detail.openings:
        if d.method == "flat-pan" and d.water is not None:
            yield from held(with_limit("water.depth", d.water.limit), d.opening.name, d.water.depth)


def own_roof(case: Case) -> Iterator[Finding]:
    """Does an opening carry a roof of its own, whose water nobody has counted?"""
    for d in case.detail.openings:
        if d.opening.kind == "wall" and d.planned:
            yield finding("wall.own-roof", d.opening.name)


def snow(case: Case) -> Iterator[Finding]:
    """Is a flat pan, a level trough, planned in snow country?"""
    if case.site.weather.snow:
        for d in case.detail.openings:
            if d.method == "flat-pan":
                yield finding("pan.snow", d.opening.name)
