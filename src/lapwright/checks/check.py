"""Ask every check; the worst findings come first."""

from __future__ import annotations

from collections.abc import Iterable

from lapwright.checks import drainage, laps, metals, pipes, ribs, room, sides, slope, stock, upstand
from lapwright.checks.case import Case, Subject
from lapwright.detail.model import Detail
from lapwright.findings import Finding
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.site.model import Site

SUBJECTS: tuple[Subject, ...] = (
    slope.slope,
    room.room,
    pipes.pipes,
    drainage.cricket,
    drainage.clearance,
    drainage.depth,
    drainage.own_roof,
    drainage.snow,
    upstand.upstands,
    upstand.walls,
    upstand.covers,
    upstand.curbs,
    laps.headlaps,
    laps.slants,
    sides.clearance,
    sides.flanges,
    sides.legs,
    sides.ribs,
    sides.ridges,
    slope.strips,
    sides.edges,
    ribs.ribs,
    stock.stock,
    metals.thickness,
    metals.contacts,
    metals.runoff,
    slope.bends,
    slope.seams,
    laps.lifts,
)
"""Every check, in the order a reader wants their findings."""

LEVELS = {"stop": 0, "caution": 1, "note": 2}


def check(
    site: Site, layout: Layout, detail: Detail, pieces: tuple[Piece, ...], panels: tuple[RoofPanel, ...]
) -> tuple[Finding, ...]:
    """Everything a person must know before cutting: STOPs, then cautions, then notes.

    Args:
        site: The job as measured.
        layout: Ribs, strips and bays.
        detail: What was decided for each opening, and every lap.
        pieces: The metal made for the openings.
        panels: The panels as cut.
    """
    case = Case(site, layout, detail, tuple(p for p in pieces if p.is_metal), panels)
    found = [f for subject in SUBJECTS for f in subject(case)]
    return worst_first(found)


def worst_first(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """STOPs, then cautions, then notes; otherwise in the order they were found."""
    return tuple(sorted(found, key=lambda f: LEVELS[f.level]))
