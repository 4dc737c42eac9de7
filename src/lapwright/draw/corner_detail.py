"""The back corner, large: cut just above the roof and seen from above, and seen from its side.

 from above                         from the right
   |   pan   o------- tongue           tab ||  wall     The tab's foot stands off the pan: what is open
   |        /|  wall                  _____||           under it is drawn and measured, not described.
   |  leg  | | side                   pan  o\\
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from lapwright.draw.corner_metal import Corner, patch_reach, tab_foot
from lapwright.draw.corner_views import ABOVE_ROOF, MARGIN_X, MARGIN_Y, Board, draw_from_above, draw_from_side
from lapwright.draw.display import Display, Pen
from lapwright.draw.heading import fold, write_heading
from lapwright.draw.section_foot import foot_height, write_foot
from lapwright.draw.section_view import SECTION_PENS
from lapwright.draw.sheet import HEIGHT, WIDTH, Sheet
from lapwright.geom.space import X, Y, Z
from lapwright.metal.slice import Cut
from lapwright.words import Speaker

LEAST_PAST = 1 / 16
"""A patch that goes less than this past the tab's tip does not cover it. House rule. [in]"""
LARGEST = 72.0
"""Points to the inch at full size."""
AROUND = 0.5
"""Room round the patch. [in]"""
ROW = 12.0

PENS: tuple[Pen, ...] = (
    *SECTION_PENS,
    Pen("under", 0.7, (3, 2)),
    Pen("fold", 0.4, (8, 2, 1.5, 2)),
    Pen("patch-edge", 1.0, (6, 1.8, 1.2, 1.8)),
    Pen("seen", 0.9),
    Pen("open", 0.8),
)
LEGEND = ("flashing", "seen", "under", "fold", "patch-edge", "open", "wall")


def draw_corner(corner: Corner, speaker: Speaker) -> Display:
    """Two views of the right back corner: from above, and from its side."""
    title = speaker.say("sections.title_corner", name=corner.work.opening.name)
    near, tip = tab_foot(corner)
    facts = [speaker.say("sections.corner_facts")]
    weak = speaker.say("sections.corner_open", near=near[1], tip=tip[1])
    past = patch_reach(corner)
    kept = speaker.say("sections.corner_covered" if past >= LEAST_PAST else "sections.corner_bare", past=past)
    notes = [weak + " " + kept, speaker.say("sections.corner_other")]
    lower = foot_height(LEGEND, _rows(1.0, notes, speaker), speaker) + ROW
    sheet = Sheet()
    boards = _boards(corner, write_heading(sheet, title, facts), lower)
    drop = max(0.0, min(b.extent()[1] for b in boards) - MARGIN_Y - lower)
    sheet = Sheet(height=HEIGHT - drop)
    write_heading(sheet, title, facts)
    boards = [replace(b, home=(b.home[0], b.home[1] - drop)) for b in boards]
    draw_from_above(sheet, corner, boards[0], speaker)
    draw_from_side(sheet, corner, boards[1], speaker)
    write_foot(sheet, LEGEND, _rows(72.0 / boards[0].scale, notes, speaker), speaker)
    return sheet.finish(PENS, title)


def _rows(scale: float, notes: Sequence[str], speaker: Speaker) -> list[str]:
    texts = [speaker.say("sections.corner_scale", scale=round(scale, 2)), *notes]
    return [row for t in texts for row in fold(t, 8.0, WIDTH - 6)]


def _boards(corner: Corner, upper: float, lower: float) -> list[Board]:
    """Both views at one scale, one under the other."""
    o = corner.work.opening
    patch = corner.work.measures.patch / 2
    above = Cut((0.0, 0.0, ABOVE_ROOF), X, Y)
    side = Cut((o.right, 0.0, 0.0), Y, Z)
    first = (o.right - patch - AROUND, o.back - patch - AROUND, o.right + patch + AROUND, o.back + patch + AROUND)
    second = (o.back - patch - AROUND, -0.2, o.back + patch + AROUND, 2.0)
    turn = corner.work.site.roof.theta
    sizes = [Board(above, first, 1.0, 0.0).extent(), Board(side, second, 1.0, turn).extent()]
    high = sum(b[3] - b[1] for b in sizes)
    wide = max(b[2] - b[0] for b in sizes)
    room = upper - lower - 4 * MARGIN_Y - 2 * ROW
    scale = min(LARGEST, room / high, (WIDTH - 2 * MARGIN_X) / wide)
    out, y = [], upper - ROW
    for axes, window, lean in ((above, first, 0.0), (side, second, turn)):
        board = Board(axes, window, scale, lean)
        x0, y0, x1, y1 = board.extent()
        home = (WIDTH / 2 - (x0 + x1) / 2, y - MARGIN_Y - y1)
        out.append(replace(board, home=home))
        y -= y1 - y0 + 2 * MARGIN_Y + ROW
    return out
