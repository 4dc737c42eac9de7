"""The cost of the rib layout against its start: four rows of steps, the start that was chosen, the next best."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lapwright.draw.display import Display, Text
from lapwright.draw.heading import write_heading
from lapwright.draw.pens import PENS
from lapwright.draw.sheet import Sheet
from lapwright.layout.start import Stretch
from lapwright.words import Speaker

ROWS = ("conflicts", "slivers", "interrupted", "waste")
LEFT, RIGHT, FOOT, BETWEEN = 92.0, 24.0, 46.0, 22.0
SIZE, NAMED = 8.5, 11.0
FULL = 1.25
"""The highest cost of a row stands this share under its upper edge."""


def draw_costs(
    title: str,
    facts: Sequence[str],
    stretches: Sequence[Stretch],
    marks: Mapping[str, float],
    speaker: Speaker,
) -> Display:
    """Draw each cost over every start.

    Args:
        title, facts: Over the drawing.
        stretches: From 0 to the coverage, one after the other. [in]
        marks: Starts to point out, each by its name in `ribs.mark`. [in]
        speaker: Language and unit of the job.
    """
    sheet = Sheet()
    upper = write_heading(sheet, title, facts)
    coverage = stretches[-1].high
    scale = (sheet.width - LEFT - RIGHT) / coverage
    upper -= NAMED * len(marks)
    high = (upper - FOOT) / len(ROWS)
    for k, row in enumerate(ROWS):
        base = FOOT + (len(ROWS) - 1 - k) * high
        _row(sheet, row, stretches, (base, high - BETWEEN), scale, speaker)
    _axis(sheet, stretches, scale, speaker)
    _marks(sheet, marks, (FOOT, upper), scale, speaker)
    return sheet.finish(PENS, title)


def _row(
    sheet: Sheet,
    row: str,
    stretches: Sequence[Stretch],
    place: tuple[float, float],
    scale: float,
    speaker: Speaker,
) -> None:
    """One cost as steps over the starts, with its highest and lowest figure. [pt]"""
    base, high = place
    values = [float(getattr(s.cost, row)) for s in stretches]
    least = min(values) if row == "waste" else 0.0
    rise = high / FULL / max(max(values) - least, 1e-9)
    sheet.line((LEFT, base), (sheet.width - RIGHT, base), "table")
    sheet.text(Text((3.0, base + high / 2), speaker.say(f"ribs.row.{row}"), "text", SIZE, "start", 0.0, True))
    points = []
    for s, value in zip(stretches, values, strict=True):
        y = base + (value - least) * rise
        if s.high > s.low:
            points += [(LEFT + s.low * scale, y), (LEFT + s.high * scale, y)]
        else:
            sheet.circle((LEFT + s.low * scale, y), 2.0, "hole")
    sheet.run(points, "wall")
    for value in sorted({min(values), max(values)}):
        said = speaker.say("ribs.area", area=value) if row == "waste" else f"{value:g}"
        sheet.text(Text((LEFT - 5, base + (value - least) * rise), said, "text", 8.0, "end"))


def _axis(sheet: Sheet, stretches: Sequence[Stretch], scale: float, speaker: Speaker) -> None:
    """Starts at which something changes, as many as there is room to name. [in]"""
    taken = -1e9
    coverage = stretches[-1].high
    for x in (0.0, coverage, *sorted({s.low for s in stretches if s.low})):
        at = LEFT + x * scale
        if x not in (0.0, coverage) and (at - taken < 18 or LEFT + coverage * scale - at < 18):
            continue
        if x != coverage:
            taken = at
        sheet.line((at, FOOT - 3), (at, FOOT), "table")
        sheet.text(Text((at, FOOT - 7), speaker.length(x), "text", 8.0, "end", 90.0))
    sheet.text(Text((3.0, FOOT - 20), speaker.say("ribs.head_start"), "text", SIZE, "start", 0.0, True))


def _marks(
    sheet: Sheet, marks: Mapping[str, float], between: tuple[float, float], scale: float, speaker: Speaker
) -> None:
    """A line down through all rows at each start that is pointed out, named over it. [in]"""
    for k, (name, x) in enumerate(marks.items()):
        at, said = LEFT + x * scale, f"{speaker.say(f'ribs.mark.{name}')} {speaker.length(x)}"
        text = Text((at, between[1] + 4 + k * NAMED), said, "text", 8.0, "middle", 0.0, name == "chosen")
        half = text.width / 2 + 3
        middle = (min(max(at, LEFT - 20 + half), sheet.width - half), text.at[1])
        sheet.line((at, between[0]), (at, text.at[1] - 5), "cleat" if name == "chosen" else "hidden")
        box = replace(text, at=middle).box()
        sheet.ring(box, "mask", "paper")
        sheet.text(replace(text, at=middle))
