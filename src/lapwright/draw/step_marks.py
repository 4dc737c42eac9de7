"""The marks of a step as tape pulls: a dot on the real edge, an arrow at the mark, letter and distance on it."""

from __future__ import annotations

import math
import string
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from lapwright.draw.callout import Label, write_along
from lapwright.draw.display import Text, text_width
from lapwright.draw.plan import Plan
from lapwright.draw.sheet import Sheet
from lapwright.draw.spread import holds, spread
from lapwright.draw.step_model import WIDTH, MarkView
from lapwright.geom.space import Flat
from lapwright.words import Speaker

ARROW, BARB = 5.0, 1.7
LANE = 15.0
"""Room of one line beside the picture. [pt]"""
STUB = 10.0
"""Length of the line outside a distance too short for its arrow. [pt]"""
SIZE = 8.0
PITCH = 10.0
MOST_ROWS = 3
TAIL = 10.0
"""From the picture to the line that running figures hang on. [pt]"""


@dataclass(frozen=True, slots=True)
class Lettered:
    """A mark, its letter in the step's list ("" when it hangs on a running line), and its printed distance."""

    mark: MarkView
    letter: str
    text: str


def lettered(marks: Sequence[MarkView], speaker: Speaker) -> tuple[Lettered, ...]:
    """A, B, C ... in the order of the step's marks; those on a running line and mere distances have none."""
    letters = iter(string.ascii_uppercase + string.ascii_lowercase)
    out = []
    for m in marks:
        plain = m.lane == "lower" or not m.listed
        out.append(Lettered(m, "" if plain else next(letters), speaker.length(m.distance, feet=True)))
    return tuple(out)


def margins_for(marks: Sequence[Lettered]) -> tuple[float, float, float]:
    """Room the lines beside and below the picture need: left, lower, right. [pt]"""
    left, right = (sum(m.mark.lane == side for m in marks) for side in ("left", "right"))
    below = [text_width(m.text, SIZE) for m in marks if m.mark.lane == "lower"]
    lower = TAIL + rows_for(len(below)) * (max(below) + 8.0) if below else 0.0
    return 5.0 + LANE * left, lower, 5.0 + LANE * right


def rows_for(count: int) -> int:
    """How many rows so many upright figures take under a whole roof."""
    return min(max(1, math.ceil(count * PITCH / (WIDTH - 24.0))), MOST_ROWS)


Pull = tuple[Lettered, Flat, Flat]
"""A mark and both ends of its line. [pt]"""


def draw_mark_lines(sheet: Sheet, plan: Plan, marks: Iterable[Lettered]) -> list[Pull]:
    """All the lines, so that every name and figure can see them; running figures are written at once."""
    laid: list[Pull] = []
    lanes = {"left": 0, "right": 0}
    running = []
    for one in marks:
        if one.mark.axis in ("z", "wall"):
            continue
        if one.mark.lane == "lower":
            running.append(one)
            continue
        if one.mark.lane in lanes:
            lanes[one.mark.lane] += 1
        laid.append((one, *_line_of(plan, one.mark, lanes)))
    for one, a, b in laid:
        draw_pull(sheet, a, b, one.letter + one.text)
    if running:
        _draw_running(sheet, plan, running)
    return laid


def write_mark_figures(sheet: Sheet, laid: Iterable[Pull]) -> None:
    """Letter and distance of every pull; the shortest, which have the least choice of place, first."""
    for one, a, b in sorted(laid, key=lambda row: math.dist(row[1], row[2])):
        write_pull(sheet, a, b, one)


def _line_of(plan: Plan, m: MarkView, lanes: dict[str, int]) -> tuple[Flat, Flat]:
    """Both ends on the sheet: where the mark is, or in the next free lane beside the picture."""
    x0, _, x1, _ = plan.frame
    if m.axis == "x":
        return plan.at((m.from_at, m.across)), plan.at((m.at, m.across))
    a, b = plan.at((m.across, m.from_at)), plan.at((m.across, m.at))
    if m.lane == "left":
        x = x0 - 3.0 - LANE * lanes["left"] + LANE / 2
        return (x, a[1]), (x, b[1])
    if m.lane == "right":
        x = x1 + 3.0 + LANE * lanes["right"] - LANE / 2
        return (x, a[1]), (x, b[1])
    return a, b


def draw_leads(sheet: Sheet, plan: Plan, marks: Iterable[Lettered]) -> None:
    """Thin lines from the features to the lanes beside the picture."""
    lanes = {"left": 0, "right": 0}
    for one in marks:
        m = one.mark
        if m.axis != "y" or m.lane not in lanes:
            continue
        lanes[m.lane] += 1
        a, b = _line_of(plan, m, lanes)
        x = plan.x(m.across)
        out = -1.0 if m.lane == "left" else 1.0
        edge = plan.frame[0] if m.lane == "left" else plan.frame[2]
        sheet.line((edge, a[1]), (a[0] + out * 3.0, a[1]), "dimension", 0.4)
        sheet.line((x, b[1]), (b[0] + out * 3.0, b[1]), "dimension", 0.4)


def draw_pull(sheet: Sheet, a: Flat, b: Flat, owner: str) -> None:
    """A line with a dot at its start and an arrow at its end; turned outward where there is no room. [pt]"""
    d = math.dist(a, b)
    if d < 1e-6:
        return
    run = ((b[0] - a[0]) / d, (b[1] - a[1]) / d)
    if d >= ARROW + 4.0:
        sheet.line(a, b, "leader", 9.0, owner)
        sheet.circle(a, 1.7, "leader", "ink")
        sheet.crowd.busy((a[0] - 3.0, a[1] - 1.0), (a[0] + 3.0, a[1] + 1.0), 9.0, owner)
        _arrow(sheet, b, run)
        return
    before = (a[0] - STUB * run[0], a[1] - STUB * run[1])
    after = (b[0] + STUB * run[0], b[1] + STUB * run[1])
    sheet.line(before, a, "leader", 9.0, owner)
    sheet.line(after, b, "leader", 9.0, owner)
    sheet.circle(before, 1.7, "leader", "ink")
    _arrow(sheet, a, run)
    _arrow(sheet, b, (-run[0], -run[1]))


def write_pull(sheet: Sheet, a: Flat, b: Flat, one: Lettered) -> bool:
    """Letter and distance on the line, else beside it with a leader; else the letter alone. [pt]"""
    owner = one.letter + one.text
    full = write_along(sheet, a, b, Label(one.letter, one.text), owner)
    return full or write_along(sheet, a, b, Label(one.letter or "?", ""), owner)


def _arrow(sheet: Sheet, tip: Flat, run: Flat) -> None:
    tail = (tip[0] - ARROW * run[0], tip[1] - ARROW * run[1])
    side = (-run[1] * BARB, run[0] * BARB)
    ring = (tip, (tail[0] + side[0], tail[1] + side[1]), (tail[0] - side[0], tail[1] - side[1]))
    sheet.ring(ring, "leader", "ink")


def _draw_running(sheet: Sheet, plan: Plan, marks: Sequence[Lettered]) -> None:
    """One line below the picture from the real edge past every mark, each with its arrow and upright figure."""
    y0 = plan.frame[1]
    y = y0 - TAIL
    start = plan.x(marks[0].mark.from_at)
    ends = sorted((plan.x(m.mark.at), m.text) for m in marks)
    far = max((e for e, _ in ends), key=lambda e: abs(e - start))
    way = 1.0 if far > start else -1.0
    sheet.line((start, y), (far, y), "leader", 2.0)
    sheet.line((start, y - 4.0), (start, y0 + 3.0), "leader", 1.0)
    sheet.circle((start, y), 1.7, "leader", "ink")
    for at, _ in ends:
        sheet.line((at, y), (at, y0 + 3.0), "dimension", 0.4)
        _arrow(sheet, (at, y), (way, 0.0))
    count = rows_for(len(ends))
    deep = max(text_width(text, SIZE) for _, text in ends) + 8.0
    low, high = plan.room[0] + PITCH / 2, plan.room[2] - PITCH / 2
    for k in range(count):
        shown = _thinned(ends[k::count], low, high)
        under = y - k * deep
        places = spread([e for e, _ in shown], PITCH, low, high)
        for (at, text), place in zip(shown, places, strict=True):
            sheet.line((at, y), (at, under), "dimension", 0.4)
            sheet.line((at, under), (place, under - 6.0), "dimension", 1.0)
            sheet.text(Text((place, under - 7.5), text, "text", SIZE, "end", 90.0))


def _thinned(ends: list[tuple[float, str]], low: float, high: float) -> list[tuple[float, str]]:
    """On a roof so wide that no row holds them, every other figure: the step's list has them all."""
    keep = ends
    while not holds(len(keep), PITCH, low, high):
        keep = keep[::2]
    return keep
