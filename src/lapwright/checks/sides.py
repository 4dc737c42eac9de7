"""Beside an opening: room to the ribs, the flange that fits there, the legs that lap it."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.checks.case import LEFT, RIGHT, UPPER, Case, held
from lapwright.findings import Finding
from lapwright.metal.side_wall import flange
from lapwright.metal.work import HANDS
from lapwright.rules import breaks, finding, rule

LOW_SLOPE = 2.0
"""Below this the wider side clearance is asked. Source: MCA white paper, 2023, read in a copy. [in/12in]"""

SIDE = {"left": LEFT, "right": RIGHT}


def clearance(case: Case) -> Iterator[Finding]:
    """Is there enough roof between the opening and the rib, or roof edge, that bounds its bay?"""
    asked = "side.clearance-low-slope" if case.site.roof.rise < LOW_SLOPE else "side.clearance"
    for work in case.walled():
        o, bay = work.opening, work.detail.bay
        yield from held(asked, o.name, o.left - bay.left, side=LEFT)
        yield from held(asked, o.name, bay.right - o.right, side=RIGHT)


def ribs(case: Case) -> Iterator[Finding]:
    """Does a rib stand in a corner of an opening?"""
    for work in case.walled():
        o = work.opening
        for rib in case.layout.ribs:
            yield from held("rib.corner", o.name, abs(rib - o.left), rib=rib, side=LEFT)
            yield from held("rib.corner", o.name, abs(rib - o.right), rib=rib, side=RIGHT)


def ridges(case: Case) -> Iterator[Finding]:
    """Does a rib start again over a cricket's ridge, where the hem turns?"""
    for work in case.walled():
        if work.detail.cricket is not None:
            middle = work.opening.left + work.opening.width / 2
            for rib in work.detail.bay.interrupted:
                yield from held("rib.ridge", work.opening.name, abs(rib - middle), rib=rib)


def edges(case: Case) -> Iterator[Finding]:
    """Does the roof end at a wall? The packet has no metal for it, and says so."""
    roof = case.site.roof
    for side, edge in ((LEFT, roof.left_edge), (RIGHT, roof.right_edge), (UPPER, roof.upper_edge)):
        if edge == "wall":
            yield finding("edge.wall", case.site.name, side=side)


def flanges(case: Case) -> Iterator[Finding]:
    """Is the flange that fits beside the opening wide enough? Too narrow to hold is one finding, not two."""
    for work in case.walled():
        for hand in HANDS:
            wide = flange(work, hand)
            least = breaks(rule("side.flange-least"), wide)
            which = "side.flange-least" if least else "side.flange"
            yield from held(which, work.opening.name, wide, side=SIDE[hand])


def legs(case: Case) -> Iterator[Finding]:
    """Do the pan's legs lap the side-wall flashing far enough? It starts `side_lap` below the downslope face."""
    for work in case.walled():
        m = work.measures
        yield from held("side.lap", work.opening.name, min(m.side_run, work.opening.length + m.side_lap))
