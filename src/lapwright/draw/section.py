"""Sections round one opening: cut through the folded, placed metal by a plane and drawn to scale."""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.detail.model import Detail
from lapwright.draw.display import Display
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.site.model import Site
from lapwright.words import Speaker

KEYS = ("upslope", "side", "apron", "rib", "corner")
"""Sections in page order. "rib" is left out where no rib of the bay is notched."""


def draw_sections(
    site: Site,
    layout: Layout,
    detail: Detail,
    pieces: Sequence[Piece],
    panels: Sequence[RoofPanel],
    opening: int,
    speaker: Speaker,
) -> dict[str, Display]:
    """Draw the sections of one opening, in the order of KEYS.

    Args:
        site, layout, detail: The job as decided.
        pieces, panels: All the metal of the job, with bodies.
        opening: Index into detail.openings.
        speaker: Language and unit of the job.

    Returns:
        Sheets by key; empty for an opening that is not detailed.
    """
    return {}
