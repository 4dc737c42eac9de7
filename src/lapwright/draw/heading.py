"""The words at the head of a sheet and the legend at its foot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from lapwright.draw.display import Circle, Line, Mark, Polyline, Text, text_width
from lapwright.draw.sheet import Sheet
from lapwright.words import Speaker

TITLE, BODY = 11.0, 8.5
LEAD = 1.35
SAMPLE = 34.0
"""Length of a line in the legend. [pt]"""
ROW = 12.0


@dataclass(frozen=True, slots=True)
class Words:
    """What is written round a drawing: title, rows under it, layers of the legend, sentences at the foot."""

    title: str
    facts: tuple[str, ...]
    layers: tuple[str, ...]
    notes: tuple[str, ...]


def write_words(sheet: Sheet, words: Words, speaker: Speaker) -> tuple[float, float]:
    """Heading and legend.

    Returns:
        Between which heights the drawing may lie: lower, upper. [pt]
    """
    upper = write_heading(sheet, words.title, words.facts)
    return write_legend(sheet, words.layers, speaker, words.notes), upper


def write_heading(sheet: Sheet, title: str, rows: Iterable[str]) -> float:
    """Title and rows, folded to the sheet's width.

    Returns:
        Where the drawing may start, down from here. [pt]
    """
    y = sheet.height - 9.0
    for size, bold, text in [(TITLE, True, title), *((BODY, False, r) for r in rows)]:
        for part in fold(text, size, sheet.width - 6):
            sheet.text(Text((3.0, y), part, "text", size, "start", 0.0, bold))
            y -= size * LEAD
    sheet.line((0, y), (sheet.width, y), "table")
    return y - 4.0


def fold(text: str, size: float, width: float) -> list[str]:
    """Break a text between words, and inside a word longer than a line. [pt]"""
    room = max(int(width / text_width("x", size)), 1)
    rows = [""]
    for word in text.split():
        while len(word) > room:
            rows += [word[:room], ""]
            word = word[room:]
        if not rows[-1]:
            rows[-1] = word
        elif len(rows[-1]) + 1 + len(word) <= room:
            rows[-1] += " " + word
        else:
            rows.append(word)
    return [r for r in rows if r] or [""]


def write_legend(sheet: Sheet, keys: Sequence[str], speaker: Speaker, extra: Sequence[str] = ()) -> float:
    """A sample of each line used, then sentences.

    Args:
        sheet: The sheet.
        keys: Layers used, each with a phrase `draw.legend.<layer>`.
        speaker: Who says it.
        extra: Whole sentences under the samples.

    Returns:
        Where the drawing may end, up from here. [pt]
    """
    names = [speaker.say(f"draw.legend.{k.replace('-', '_')}") for k in keys]
    sentences = [row for text in extra for row in fold(text, 8.0, sheet.width - 6)]
    columns = _columns(names, sheet.width)
    wide = sheet.width / columns
    rows = -(-len(keys) // columns)
    y = 3.0 + ROW * (rows + len(sentences))
    sheet.line((0, y + 4), (sheet.width, y + 4), "table")
    for i, (key, name) in enumerate(zip(keys, names, strict=True)):
        x, here = (i % columns) * wide, y - ROW * (i // columns) - ROW / 2
        sheet.marks += sample(key, x + 3, here)
        sheet.text(Text((x + SAMPLE + 9, here), name, "text", 8.0))
    for j, row in enumerate(sentences):
        sheet.text(Text((3.0, y - ROW * (rows + j) - ROW / 2), row, "text", 8.0))
    return y + 8.0


def _columns(names: Sequence[str], width: float) -> int:
    longest = max((text_width(n, 8.0) for n in names), default=0.0) + SAMPLE + 15
    return max(1, min(4, int(width / longest)))


def sample(layer: str, x: float, y: float, length: float = SAMPLE) -> list[Mark]:
    """How a line of the drawing looks, from x on at the height y. [pt]"""
    if layer == "hole":
        return [Circle((x + length / 2, y), 2.5, layer)]
    if layer == "decides":
        return [Circle((x + length / 2, y), 5.0, layer)]
    if layer == "balloon":
        ball = Circle((x + length / 2, y), 5.5, layer)
        return [ball, Text((x + length / 2, y), "1", "text", 8.0, "middle", 0.0, True)]
    if layer == "wall":
        box = ((x, y - 4.5), (x + length, y - 4.5), (x + length, y + 4.5), (x, y + 4.5))
        return [Polyline(box, layer, closed=True, fill="hatch")]
    line = Line((x, y), (x + length, y), layer)
    if layer == "datum":
        tip = ((x + length / 2 - 3, y - 6), (x + length / 2 + 3, y - 6), (x + length / 2, y))
        return [line, Polyline(tip, layer, closed=True, fill="ink")]
    return [line]
