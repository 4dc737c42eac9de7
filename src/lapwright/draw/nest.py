"""The cutting plan of one sheet: every blank where it lies, the cuts in their order, the offcuts that are left.

One drawing where it can be read there, else as many as it takes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from lapwright.draw.display import Display, Pen, Text, oriented, text_width
from lapwright.draw.heading import ROW, fold, write_heading
from lapwright.draw.nest_numbers import SIZE, write_numbers
from lapwright.draw.nest_parts import Part, halves, numbered, whole
from lapwright.draw.nest_views import View, crossing, views_of
from lapwright.draw.pens import PENS
from lapwright.draw.sheet import Sheet
from lapwright.shop.nest.job import JobSheet
from lapwright.words import Speaker

MOST_OFFCUTS = 8
OUTLINE = 1.0
"""What a number pays for crossing the outline of a blank; it keeps off where it can. [-]"""

LEAST_ROOM, LEAST_SCALE, LEAST_GAIN = 300.0, 2.0, 1.5
"""A drawing can be read that is so high [pt], an inch of metal so large [pt], its close-ups so much larger [-];"""
MOST_LEADERS = 20
"""and on which no more numbers stand away from what they name. House rules. [-]"""
FEW = 4
"""So few blanks are always on one drawing. [-]"""

NEST_PENS = (Pen("stock", 1.2), Pen("shear", 0.5, (5, 2.5)), Pen("offcut", 0.0), Pen("placed", 1.0))


def draw_sheet(number: int, sheet: JobSheet, speaker: Speaker) -> tuple[Display, ...]:
    """Draw one sheet with its cuts, its numbers and what is left.

    Args:
        number: Of this sheet among all of the job.
        sheet: From nest_job.
        speaker: Language and unit of the job.

    Returns:
        One drawing, or one for each part of a sheet on which there is too much for one; each 7 inches wide and
        8 1/2 high.
    """
    kept: list[Part] = []
    left = [whole(sheet)]
    while left:
        part = left.pop(0)
        drawing, readable = _draw(number, part, speaker, trial=True)
        if readable and part.of == 1:
            return (drawing,)
        if readable:
            kept.append(part)
        else:
            left = halves(part) + left
    return tuple(_draw(number, part, speaker)[0] for part in numbered(kept))


def _draw(number: int, part: Part, speaker: Speaker, trial: bool = False) -> tuple[Display, bool]:
    """One drawing, and whether it can be read; a trial on which the words leave no room is not gone on with."""
    paper, sheet = Sheet(), part.sheet
    title = sheet_title(number, sheet, speaker)
    way = speaker.say("nest.draw.sheared" if sheet.plan is not None else "nest.draw.free")
    facts = [sheet_facts(sheet, speaker), way]
    if part.of > 1:
        title = speaker.say("nest.draw.title_part", title=title, n=part.n, of=part.of)
        facts.insert(1, speaker.say("nest.draw.stretch", low=part.low, high=part.high))
    upper = write_heading(paper, title, facts)
    lower = _tables(paper, part, speaker)
    few = len(part.lying) <= FEW
    readable = few or upper - lower >= LEAST_ROOM
    if readable or not trial:
        runs, close_ups = views_of(part, paper.width, lower, upper)
        for run in runs:
            _draw_view(paper, part, run)
            _figures(paper, part, run, speaker)
        for view in close_ups:
            _draw_view(paper, part, view)
            _letter(paper, view, runs)
        leaders, missed = write_numbers(paper, part, runs, close_ups)
        least = min((v.scale for v in close_ups), default=LEAST_GAIN * runs[0].scale)
        large = runs[0].scale >= LEAST_SCALE and least >= LEAST_GAIN * runs[0].scale
        readable = few or (large and leaders <= MOST_LEADERS and not missed)
    return paper.finish((*PENS, *NEST_PENS), title), readable


def sheet_title(number: int, sheet: JobSheet, speaker: Speaker) -> str:
    """A sheet's number, metal, and which of that metal it is."""
    return speaker.say("nest.draw.title", number=number, metal=f"metals.{sheet.metal}", n=sheet.n, of=sheet.of)


def stock_name(sheet: JobSheet, speaker: Speaker) -> str:
    """What a sheet is called: by its own name where the job lists it, else by its form."""
    return sheet.stock.id if sheet.row.at_hand else speaker.say(f"nest.form.{sheet.row.form}")


def sheet_facts(sheet: JobSheet, speaker: Speaker) -> str:
    """What a sheet is, whether it is at hand, and how much of it becomes blanks."""
    stock = sheet.stock
    key = f"nest.draw.{'hand' if sheet.row.at_hand else 'buy'}_{'length' if stock.by_length else 'whole'}"
    size = speaker.say(
        key, id=stock_name(sheet, speaker), form=f"nest.form.{sheet.row.form}",
        width=stock.width, height=stock.height, used=sheet.used_height,
    )  # fmt: skip
    share = speaker.say("nest.draw.share", count=len(sheet.lying), share=100 * sheet.share)
    return f"{size} {share}"


def _rows(part: Part, speaker: Speaker) -> list[str]:
    """What the numbers mean, then the larger offcuts. A blank is counted where it begins."""
    first = {x.number: x for x in reversed(part.lying)}
    begun = Counter(x.number for x in part.lying if part.begins(x))
    gone_on = {x.number for x in part.lying if not part.begins(x)}
    rows = []
    for n, x in sorted(first.items()):
        size = {"n": n, "id": x.id, "width": x.blank.width, "height": x.blank.height}
        if begun[n]:
            rows.append(speaker.say(f"nest.draw.{'part' if begun[n] == 1 else 'parts'}", count=begun[n], **size))
        if n in gone_on:
            rows.append(speaker.say("nest.draw.part_on", **size))
    offcuts = part.offcuts()[:MOST_OFFCUTS]
    return rows + [speaker.say("nest.draw.offcut", width=o.width, height=o.height) for o in offcuts]


def cut_rows(sheet: JobSheet, speaker: Speaker) -> tuple[tuple[str, str, str], ...]:
    """Every cut in order: number, across or along, and how far from the sheet's lower left corner."""
    cuts = sheet.plan.cuts if sheet.plan is not None else ()
    return tuple((str(c.n), speaker.say(f"nest.draw.{c.way}"), speaker.length(c.at)) for c in cuts)


def _tables(paper: Sheet, part: Part, speaker: Speaker) -> float:
    """Write blanks, offcuts and the note at the foot. Returns: where the drawing may end, up from here. [pt]"""
    note = fold(speaker.say("nest.draw.note"), SIZE, paper.width - 6)
    y = 3.0 + ROW * len(note)
    for j, row in enumerate(note):
        paper.text(Text((3.0, y - ROW * j - ROW / 2), row, "text", SIZE))
    y = _columns(paper, _rows(part, speaker), y)
    paper.line((0, y + 4), (paper.width, y + 4), "table")
    return y + 10.0


def _columns(paper: Sheet, rows: Sequence[str], foot: float) -> float:
    """Rows in as many columns as fit, column by column, standing on `foot`. Returns: where they end. [pt]"""
    widest = max((text_width(r, SIZE) for r in rows), default=0.0) + 8
    columns = max(1, int(paper.width / widest))
    high = -(-len(rows) // columns)
    wide = paper.width / -(-len(rows) // max(high, 1)) if rows else paper.width
    for i, text in enumerate(rows):
        at = (3.0 + (i // high) * wide, foot + ROW * (high - i % high) - ROW / 2)
        paper.text(Text(at, fold(text, SIZE, wide - 6)[0], "text", SIZE))
    return foot + ROW * high


def _draw_view(paper: Sheet, part: Part, view: View) -> None:
    paper.ring(view.ring(), "offcut", "dots")
    for lying in part.lying:
        shown = view.clipped([lying.at(p) for p in lying.blank.outline])
        if shown:
            paper.ring([view.at(p) for p in shown], "placed", "paper", OUTLINE)
    for _, (a, b) in crossing(part.cuts, view):
        paper.line(view.at(a), view.at(b), "shear")
    paper.ring(view.ring(), "window" if view.letter else "stock")


def _letter(paper: Sheet, view: View, runs: Sequence[View]) -> None:
    """The letter of a close-up over it, and on the frame that it enlarges."""
    (x0, _), _, (x1, y1), _ = view.ring()
    paper.text(Text(((x0 + x1) / 2, y1 + 6), view.letter, "text", SIZE + 1, "middle", 0.0, True))
    run = next(r for r in runs if r.holds(view.low, view.high))
    frame = [run.at(p) for p in (view.low, (view.high[0], view.low[1]), view.high, (view.low[0], view.high[1]))]
    paper.ring(frame, "window", "paper")
    middle = ((frame[0][0] + frame[2][0]) / 2, (frame[0][1] + frame[2][1]) / 2)
    paper.text(Text(middle, view.letter, "text", SIZE + 1, "middle", 0.0, True))
    paper.block(frame[0], frame[2])


def _figures(paper: Sheet, part: Part, run: View, speaker: Speaker) -> None:
    """How far along the stock the run begins and ends, and each cut that goes right across."""
    x = run.x - 3
    low, high = round(run.low[1], 6), round(run.high[1], 6)
    marks = {low, high} | {round(at, 6) for at in part.across if low < at < high}
    for at in sorted(marks, key=lambda m: (m not in (low, high), m)):
        y = run.at((0.0, at))[1]
        said = speaker.length(at)
        if paper.crowd.free(oriented((x, y), 0.0, -text_width(said, SIZE), 0.0, SIZE * 0.6)):
            paper.text(Text((x, y), said, "text", SIZE, "end"))
