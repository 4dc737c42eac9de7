"""What laps over what: headlaps, the slant of the cleat line, the lift of the panels above."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from lapwright.checks.case import Case, held
from lapwright.findings import Finding
from lapwright.metal.cleat import lift
from lapwright.metal.cricket import half_lap
from lapwright.rules import RELIEF_PER_LIFT


def headlaps(case: Case) -> Iterator[Finding]:
    """Does every sheet run far enough up under the one above: pan, apron, side-wall flashing?"""
    for work in case.walled():
        m, name = work.measures, work.opening.name
        highest = max(y for _, y in work.detail.cleat_line)
        if work.detail.cricket is not None:
            yield from held("headlap", name, m.valley_flange - m.valley_setback, part="findings.part.cricket")
            yield from held("headlap", name, 2 * half_lap(work), part="findings.part.halves")
        else:
            yield from held("headlap", name, work.pan.upslope - highest, part="findings.part.back-pan")
        yield from held("headlap", name, m.apron_flange, part="findings.part.apron")
        yield from held("headlap", name, m.side_lap, part="findings.part.side-wall")


def slants(case: Case) -> Iterator[Finding]:
    """Does any run of the cleat line slant too far from level?"""
    for work in case.benches():
        runs = pairwise(work.detail.cleat_line)
        yield from held("hem.steepest", work.opening.name, max(_slant_deg(a, b) for a, b in runs))


def _slant_deg(a: tuple[float, float], b: tuple[float, float]) -> float:
    return math.degrees(math.atan2(abs(b[1] - a[1]), abs(b[0] - a[0])))


def lifts(case: Case) -> Iterator[Finding]:
    """Do the panels above ride up further than a snap lock can close over?"""
    if not case.site.panel.folded:
        for work in case.benches():
            up = lift(work)
            yield from held("panel.lift", work.opening.name, up, relief=RELIEF_PER_LIFT * up)
