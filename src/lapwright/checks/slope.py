"""The roof itself: its slope, its strips, its seams and the bends asked of its metal."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.checks.case import LEFT, RIGHT, Case, held
from lapwright.findings import Finding
from lapwright.rules import finding, with_limit

LEAST_STRIP = 1 / 3
"""An edge strip's least share of the coverage. House rule."""


def slope(case: Case) -> Iterator[Finding]:
    """Is the roof steep enough for standing seams, and for a skylight without a curb?"""
    rise = case.site.roof.rise
    yield from held("slope.standing-seam", case.site.name, rise)


def strips(case: Case) -> Iterator[Finding]:
    """Are the strips at the roof's edges wide enough to hold? One strip alone is both edges."""
    asked = with_limit("strip.narrow", case.site.panel.coverage * LEAST_STRIP)
    edges = [(case.layout.strips[0], LEFT), (case.layout.strips[-1], RIGHT)]
    for strip, side in edges[:1] if len(case.layout.strips) == 1 else edges:
        yield from held(asked, case.site.name, strip.width, side=side)


def seams(case: Case) -> Iterator[Finding]:
    """On an existing roof, must a folded seam be opened beside the bay?"""
    if case.site.roof.work == "existing" and case.site.panel.folded:
        for work in case.benches():
            yield finding("seam.unlock", work.opening.name)


def bends(case: Case) -> Iterator[Finding]:
    """Are the bends as round as coated sheet asks?"""
    for work in case.benches():
        yield from held("bend.radius", work.opening.name, work.measures.bend_radius)
