"""What is written round a step's picture: its heading, its legend, the list of its marks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lapwright.draw.display import Circle, Line, Mark, Polyline, Text, text_width
from lapwright.draw.heading import fold
from lapwright.draw.sheet import Sheet
from lapwright.draw.step_marks import Lettered
from lapwright.draw.step_model import WIDTH, AreaView
from lapwright.geom.space import Flat
from lapwright.words import Speaker

COLUMN = 166.0
"""The list and the small sections beside the picture. [pt]"""
TITLE, BODY = 9.5, 8.0
HEAD = 15.0
ROW = 11.0
LIST_ROW = 10.5
SAMPLE = 22.0
BALL = 6.0
FIXINGS = ("screw", "rivet", "wedge", "clip")


def write_head(sheet: Sheet, title: str, speaker: Speaker) -> None:
    """The step's number and title, and the arrow that says which way is up the slope."""
    y = sheet.height - 7.0
    upslope = speaker.say("stepdraw.upslope")
    room = sheet.width - text_width(upslope, BODY) - 24.0
    sheet.text(Text((2.0, y), _cut(title, TITLE, room), "text", TITLE, "start", 0.0, True))
    sheet.text(Text((sheet.width - 14.0, y), upslope, "text", BODY, "end"))
    x = sheet.width - 7.0
    sheet.line((x, y - 6.0), (x, y + 2.0), "now")
    sheet.ring([(x - 3.0, y), (x + 3.0, y), (x, y + 6.5)], "leader", "ink")


def _cut(text: str, size: float, room: float) -> str:
    letters = int(room / text_width("x", size))
    return text if len(text) <= letters else text[: letters - 1].rstrip() + "\N{HORIZONTAL ELLIPSIS}"


def legend_rows(keys: Sequence[str], datum: str, speaker: Speaker) -> list[list[tuple[str, str]]]:
    """Samples with their words, as many a row as fit; datum: the edge that running figures start from."""
    rows: list[list[tuple[str, str]]] = [[]]
    used = 0.0
    for key in keys:
        name = "running" if key == "pull" and datum else key
        word = speaker.say(f"stepdraw.legend.{name}", edge=datum)
        wide = SAMPLE + 5.0 + text_width(word, BODY) + 12.0
        if rows[-1] and used + wide > WIDTH:
            rows.append([])
            used = 0.0
        rows[-1].append((key, word))
        used += wide
    return rows


def write_legend(sheet: Sheet, rows: Sequence[Sequence[tuple[str, str]]]) -> None:
    """The legend along the foot of the sheet."""
    for j, row in enumerate(rows):
        x, y = 2.0, 2.0 + ROW * (len(rows) - j) - ROW / 2
        for key, word in row:
            sheet.marks += _sample(key, (x, y))
            sheet.text(Text((x + SAMPLE + 4.0, y), word, "text", BODY))
            x += SAMPLE + 5.0 + text_width(word, BODY) + 12.0


def _sample(key: str, at: Flat) -> list[Mark]:
    x, y = at
    box = ((x, y - 4.0), (x + SAMPLE, y - 4.0), (x + SAMPLE, y + 4.0), (x, y + 4.0))
    if key in ("now", "on", "off", "zone"):
        return [Polyline(box, key, closed=True, fill="hatch" if key == "now" else "")]
    if key == "opening":
        return [Polyline(box, "wall", closed=True), Line(box[0], box[2], "cross"), Line(box[1], box[3], "cross")]
    if key in FIXINGS:
        return fixing_at((x + SAMPLE / 2, y), key)
    if key == "pull":
        tip = ((x + SAMPLE, y), (x + SAMPLE - 5.0, y + 1.7), (x + SAMPLE - 5.0, y - 1.7))
        dot = Circle((x + 2.0, y), 1.7, "leader", "ink")
        return [Line((x + 2.0, y), (x + SAMPLE, y), "leader"), dot, Polyline(tip, "leader", closed=True, fill="ink")]
    return [Line((x, y), (x + SAMPLE, y), key)]


def fixing_at(p: Flat, key: str, arm: float = 2.2) -> list[Mark]:
    """One fixing: a cross for a screw, a dot for a rivet, a square for a clip, a wedge for a wedge. [pt]"""
    (x, y), a = p, arm
    if key == "rivet":
        return [Circle(p, 0.8 * a, "screw", "ink")]
    if key == "clip":
        ring = ((x - a, y - a), (x + a, y - a), (x + a, y + a), (x - a, y + a))
        return [Polyline(ring, "screw", closed=True, fill="paper")]
    if key == "wedge":
        return [Polyline(((x - a, y + a), (x + a, y + a), (x, y - 1.4 * a)), "screw", closed=True, fill="paper")]
    return [Line((x - a, y - a), (x + a, y + a), "screw"), Line((x - a, y + a), (x + a, y - a), "screw")]


def list_rows(
    marks: Iterable[Lettered], areas: Iterable[AreaView], notes: Iterable[str], width: float = COLUMN
) -> list[tuple[str, str]]:
    """(letter or number, text) rows of the list beside the picture, folded to its width [pt]."""
    out: list[tuple[str, str]] = []
    named = [(m.letter, m.mark.what) for m in marks if m.letter]
    named += [(a.number, a.text) for a in areas if a.number and a.text]
    for sign, text in named:
        for i, part in enumerate(fold(text, BODY, width - 2 * BALL - 6.0)):
            out.append((sign if i == 0 else "", part))
    for text in notes:
        out += [("*" if i == 0 else "", part) for i, part in enumerate(fold(text, BODY, width - 2 * BALL - 6.0))]
    return out


def write_list(sheet: Sheet, rows: Sequence[tuple[str, str]], x: float, upper: float) -> None:
    """The list, downward from `upper`. [pt]"""
    for i, (sign, text) in enumerate(rows):
        y = upper - LIST_ROW * (i + 0.5) - 1.0
        if sign == "*":
            sheet.circle((x + BALL, y), 1.5, "leader", "ink")
        elif sign:
            sheet.text(Text((x + BALL, y), sign, "text", BODY, "middle", 0.0, True))
            sheet.circle((x + BALL, y), BALL - 1.1, "balloon")
        sheet.text(Text((x + 2 * BALL + 4.0, y), text, "text", BODY))
