"""Sections round one opening: cut through the folded, placed metal by a plane and drawn to scale."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lapwright.detail.model import Detail, OpeningDetail
from lapwright.draw.corner_detail import draw_corner
from lapwright.draw.corner_metal import corner_of
from lapwright.draw.display import Display
from lapwright.draw.layers import place_all
from lapwright.draw.pipe_section import draw_pipe
from lapwright.draw.section_across import notch_middle, plan_ribs, plan_side
from lapwright.draw.section_plan import Plan
from lapwright.draw.section_sheet import draw_sheet
from lapwright.draw.section_up import plan_apron, plan_upslope
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.metal.side_wall import flange
from lapwright.metal.work import Work
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
    if detail.openings[opening].method == "none":
        return {}
    if detail.openings[opening].pipe is not None:
        return draw_pipe(site, layout, detail, pieces, panels, opening, speaker)
    work, placed = place_all(site, layout, detail, pieces, panels, opening)
    plans: dict[str, tuple[Plan, ...]] = {
        "upslope": (plan_upslope(work, placed, detail),),
        "side": (plan_side(work, placed, detail),),
        "apron": (plan_apron(work, placed, detail),),
        "rib": plan_ribs(work, placed, detail),
    }
    out: dict[str, Display] = {}
    for key, some in plans.items():
        if some:
            facts, notes = tuple(_facts(key, work, some, speaker)), tuple(_notes(key, work, speaker))
            out[key] = draw_sheet(key, work, some, facts, notes, speaker)
    corner = corner_of(work, placed)
    if corner is not None:
        out["corner"] = draw_corner(corner, speaker)
    return out


def _facts(key: str, work: Work, plans: Sequence[Plan], speaker: Speaker) -> Iterator[str]:
    """Where the plane lies and how it is seen."""
    o, d = work.opening, work.detail
    if key in ("upslope", "apron"):
        across = plans[0].view.cut.origin[0] - o.left
        yield speaker.say(f"sections.where_{key}", across=across, pitch=work.site.roof.rise)
    elif key == "side":
        yield speaker.say("sections.where_side", down=o.back - plans[0].view.cut.origin[1])
    else:
        yield speaker.say("sections.where_rib", place=_place(d, speaker))


def _place(d: OpeningDetail, speaker: Speaker) -> str:
    far = notch_middle(d.notches[0]) - d.opening.back
    side = "at" if abs(far) < 1 / 64 else "above" if far > 0 else "below"
    return speaker.say(f"sections.place_{side}", far=abs(far))


def _notes(key: str, work: Work, speaker: Speaker) -> Iterator[str]:
    """What the picture cannot say."""
    if key == "upslope" and work.detail.cricket is not None:
        yield speaker.say("sections.square_close")
    if key in ("side", "apron"):
        yield speaker.say("sections.hook")
    if key in ("side", "rib"):
        yield speaker.say("sections.formed")
    if key == "side":
        bay = work.detail.bay
        word = "other_hand" if bay.right_is_rib else "other_hand_edge"
        clear = bay.right - work.opening.right
        yield speaker.say(f"sections.{word}", flange=flange(work, "right"), clear=clear)
