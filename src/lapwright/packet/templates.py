"""templates.pdf: every cut that is no straight line, at true size on paper, with what each template is for.

The pages carry the packet's title block, so both check bars and a stamp stand on every one of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from lapwright.draw.blank import Item
from lapwright.draw.display import Display
from lapwright.draw.svg import to_svg
from lapwright.draw.template import PAGE, draw_template, legend
from lapwright.draw.template_alike import Template, Use, templates_of
from lapwright.draw.template_places import SetLine, Spot, spots_of
from lapwright.packet.compose import Paper, set_pages
from lapwright.packet.drawings import cut_items
from lapwright.packet.say import Voice
from lapwright.packet.shelves import Sized, shelve
from lapwright.packet.title_block import labels, title_block
from lapwright.packet.worked import WorkedJob
from lapwright.words import Speaker

STEP = {"in": 0.5, "mm": 10 / 25.4}
"""A template in the middle of a blank is laid a whole number of these from an edge. [in]"""
SLACK = 1 / 16
"""What paper and printer may be out over one sheet. House rule. [in]"""
HOW = ("print", "sheet", "whole", "lay", "over", "tiles", "prick", "paper")


@dataclass(frozen=True, slots=True)
class Sheets:
    """One template as it is printed: its name, what it is for, how often, its tiles."""

    name: str
    uses: tuple[str, ...]
    count: int
    tiles: tuple[Display, ...]


def templates_pdf(job: WorkedJob, sheets: Sequence[Sheets], paper: Paper) -> bytes:
    """Set the templates.

    Args:
        job: A worked-out job; a stopped one is stamped on every page.
        sheets: Its templates (see templates).
        paper: The sheet to print on; the pages are the same on both, only the margins differ.

    Returns:
        A PDF; the same job gives the same bytes.
    """
    return set_pages(pages_of(job, sheets), paper, "templates.typ")


def templates(job: WorkedJob) -> tuple[Sheets, ...]:
    """Every template of a job, drawn, in the order of the cut list; none where every blank is a plain rectangle."""
    speaker = Speaker(job.site.units)
    spots = [spot for item in cut_items(job) for spot in spots_of(item, STEP[job.site.units])]
    out = []
    for n, template in enumerate(templates_of(spots), 1):
        name, uses = f"T{n}", tuple(_uses(template, speaker))
        out.append(Sheets(name, uses, template.count, draw_template(name, template, uses, speaker)))
    return tuple(out)


def pages_of(job: WorkedJob, sheets: Sequence[Sheets]) -> dict[str, Any]:
    """What the pages print, as plain data."""
    voice = Voice(Speaker(job.site.units))
    tiles = [Sized(tile, tile.width, tile.height) for s in sheets for tile in s.tiles]
    key = legend(PAGE[0], voice.speaker)
    return {
        **title_block(job),
        "t": labels("templates.label."),
        "how": [voice.say(f"templates.how.{k}", {"slack": SLACK}) for k in HOW],
        "legend": to_svg(key),
        "templates": [_row(s) for s in sheets],
        "sheets": [
            [[{"title": tile.title, "svg": to_svg(tile)} for tile in shelf] for shelf in page]
            for page in shelve(tiles, PAGE[0], lambda _: PAGE[1])
        ],
    }


def _row(sheets: Sheets) -> dict[str, Any]:
    return {
        "name": sheets.name,
        "count": str(sheets.count),
        "uses": list(sheets.uses),
        "first": sheets.tiles[0].title,
        "tiles": len(sheets.tiles),
    }


def _uses(template: Template, speaker: Speaker) -> list[str]:
    """A sentence for each place, places that differ in nothing but the blank in one."""
    ids: dict[str, list[str]] = {}
    for use in template.uses:
        ids.setdefault(_place(use, "{id}", speaker), []).append(_id(use.spot.item, speaker))
    return [said.replace("{id}", ", ".join(some)) for said, some in ids.items()]


def _id(item: Item, speaker: Speaker) -> str:
    count = getattr(item, "quantity", 1)
    return item.id if count == 1 else speaker.say("templates.times", id=item.id, count=count)


def _place(use: Use, name: str, speaker: Speaker) -> str:
    spot = use.spot
    kind = "whole" if spot.is_whole else "place"
    return speaker.say(
        f"templates.{kind}_over" if use.over else f"templates.{kind}",
        id=name,
        where=_where(spot, speaker),
        upright=_line(spot.upright, speaker),
        level=_line(spot.level, speaker),
    )


def _line(line: SetLine, speaker: Speaker) -> str:
    edge = speaker.say(f"templates.edge.{line.edge}")
    return speaker.say("templates.off_edge" if line.off else "templates.on_edge", off=line.off, edge=edge)


def _where(spot: Spot, speaker: Speaker) -> str:
    """Which part of the blank it is, in a word or two."""
    u0, v0, u1, v1 = spot.window
    wide, high = spot.blank.width, spot.blank.height
    upright = "" if (u0 <= 0) == (u1 >= wide) else "left" if u0 <= 0 else "right"
    level = "" if (v0 <= 0) == (v1 >= high) else "lower" if v0 <= 0 else "upper"
    say = speaker.say
    if upright and level:
        words = {k: say(f"templates.where.{k}") for k in (upright, level)}
        return say("templates.where.corner", level=words[level], upright=words[upright])
    return say(f"templates.where.{upright or level or 'middle'}")
