"""The cutting plan of one sheet: every blank where it lies, the cuts in their order, the offcuts that are left."""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.draw.display import Display, Pen, Text, oriented, text_width
from lapwright.draw.heading import ROW, fold, write_heading
from lapwright.draw.nest_numbers import SIZE, write_numbers
from lapwright.draw.nest_views import View, crossing, right_across, views_of
from lapwright.draw.pens import PENS
from lapwright.draw.sheet import Sheet
from lapwright.shop.nest.job import JobSheet
from lapwright.words import Speaker

MOST_OFFCUTS = 8
OUTLINE = 1.0
"""What a number pays for crossing the outline of a blank; it keeps off where it can. [-]"""

NEST_PENS = (Pen("stock", 1.2), Pen("shear", 0.5, (5, 2.5)), Pen("offcut", 0.0), Pen("placed", 1.0))


def draw_sheet(number: int, sheet: JobSheet, speaker: Speaker) -> Display:
    """Draw one sheet with its cuts, its numbers and what is left.

    Args:
        number: Of this sheet among all of the job.
        sheet: From nest_job.
        speaker: Language and unit of the job.

    Returns:
        A sheet 7 inches wide and 8 1/2 high.
    """
    paper = Sheet()
    title = sheet_title(number, sheet, speaker)
    way = "nest.draw.sheared" if sheet.plan is not None else "nest.draw.free"
    upper = write_heading(paper, title, [sheet_facts(sheet, speaker), speaker.say(way)])
    lower = _tables(paper, sheet, speaker)
    runs, close_ups = views_of(sheet, paper.width, lower, upper)
    for run in runs:
        _draw_view(paper, sheet, run)
        _figures(paper, sheet, run, speaker)
    for view in close_ups:
        _draw_view(paper, sheet, view)
        _letter(paper, view, runs)
    write_numbers(paper, sheet, runs, close_ups)
    return paper.finish((*PENS, *NEST_PENS), title)


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


def _rows(sheet: JobSheet, speaker: Speaker) -> list[str]:
    """What the numbers mean, then the larger offcuts."""
    counts: dict[int, int] = {}
    for lying in sheet.lying:
        counts[lying.number] = counts.get(lying.number, 0) + 1
    first = {lying.number: lying for lying in reversed(sheet.lying)}
    rows = [
        speaker.say(
            "nest.draw.part" if count == 1 else "nest.draw.parts", n=n, id=first[n].id, count=count,
            width=first[n].blank.width, height=first[n].blank.height,
        )
        for n, count in sorted(counts.items())
    ]  # fmt: skip
    offcuts = sheet.offcuts()[:MOST_OFFCUTS]
    return rows + [speaker.say("nest.draw.offcut", width=o.width, height=o.height) for o in offcuts]


def cut_rows(sheet: JobSheet, speaker: Speaker) -> tuple[tuple[str, str, str], ...]:
    """Every cut in order: number, across or along, and how far from the sheet's lower left corner."""
    cuts = sheet.plan.cuts if sheet.plan is not None else ()
    return tuple((str(c.n), speaker.say(f"nest.draw.{c.way}"), speaker.length(c.at)) for c in cuts)


def _tables(paper: Sheet, sheet: JobSheet, speaker: Speaker) -> float:
    """Write blanks, offcuts and the note at the foot. Returns: where the drawing may end, up from here. [pt]"""
    note = fold(speaker.say("nest.draw.note"), SIZE, paper.width - 6)
    y = 3.0 + ROW * len(note)
    for j, row in enumerate(note):
        paper.text(Text((3.0, y - ROW * j - ROW / 2), row, "text", SIZE))
    y = _columns(paper, _rows(sheet, speaker), y)
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


def _draw_view(paper: Sheet, sheet: JobSheet, view: View) -> None:
    paper.ring(view.ring(), "offcut", "dots")
    for lying in sheet.lying:
        part = view.clipped([lying.at(p) for p in lying.blank.outline])
        if part:
            paper.ring([view.at(p) for p in part], "placed", "paper", OUTLINE)
    for _, (a, b) in crossing(sheet.plan.cuts if sheet.plan is not None else (), view):
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


def _figures(paper: Sheet, sheet: JobSheet, run: View, speaker: Speaker) -> None:
    """How far along the stock the run begins and ends, and each cut that goes right across."""
    x = run.x - 3
    low, high = round(run.low[1], 6), round(run.high[1], 6)
    marks = {low, high}
    if sheet.plan is not None:
        marks |= {round(c.at, 6) for c in sheet.plan.cuts if right_across(c, sheet) and low < c.at < high}
    for at in sorted(marks, key=lambda m: (m not in (low, high), m)):
        y = run.at((0.0, at))[1]
        said = speaker.length(at)
        if paper.crowd.free(oriented((x, y), 0.0, -text_width(said, SIZE), 0.0, SIZE * 0.6)):
            paper.text(Text((x, y), said, "text", SIZE, "end"))
