"""How high the metal stands: upstands, the walls behind them, and what covers them."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.checks.case import Case, held
from lapwright.detail.measures import stands
from lapwright.findings import Finding
from lapwright.metal.counterflashing import wall_rise
from lapwright.metal.side_wall import height
from lapwright.metal.work import Work
from lapwright.rules import breaks, rule, with_limit

CURB_BELOW = 3.0
"""A skylight asks for a curb on roofs flatter than this. Source: IRC R308.6.8, from memory. [in/12in]"""


def upstands(case: Case) -> Iterator[Finding]:
    """Do the upstands stand high enough, square to the roof? Too low to be flashing is one finding, not two."""
    for work in case.walled():
        up = height(work)
        least = breaks(rule("upstand.least"), up)
        yield from held("upstand.least" if least else "upstand.height", work.opening.name, up)


def walls(case: Case) -> Iterator[Finding]:
    """Does the wall stand as high as the metal on it and the counterflashing above?"""
    for work in case.walled():
        reach = with_limit("upstand.wall", stands(case.site, work.opening))
        yield from held(reach, work.opening.name, height(work) + _above(work) + wall_rise(work))


def _above(work: Work) -> float:
    """Wall that the counterflashing takes above the upstand. [in]"""
    m, o = work.measures, work.opening
    if o.kind == "masonry-chimney":
        return m.reglet_above
    return m.reglet_above + m.behind_wrap if o.framed else 0.0


def covers(case: Case) -> Iterator[Finding]:
    """Does the counterflashing lap far enough down over the upstand?"""
    for work in case.walled():
        m = work.measures
        yield from held("counterflashing.cover", work.opening.name, min(m.cover, height(work) - m.hem))


def curbs(case: Case) -> Iterator[Finding]:
    """On a low slope, does a skylight stand on a curb?"""
    if case.site.roof.rise < CURB_BELOW:
        for work in case.walled():
            if work.opening.kind == "skylight":
                yield from held("skylight.curb", work.opening.name, work.opening.height)
