"""The roof seen square to it, on a sheet: a window of it, to scale, with running dimensions."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from lapwright.draw.axis import Axis, moved, plain
from lapwright.draw.display import Text
from lapwright.draw.features import Window, clip
from lapwright.draw.heading import Words, write_words
from lapwright.draw.running import CLEAR, Figure, Side, draw_running, fits, margin
from lapwright.draw.sheet import HEIGHT, Sheet
from lapwright.geom.space import Flat
from lapwright.words import Speaker

Rect = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Plan:
    """A window of the roof [in] on a sheet; room is all it may use, figures included. [pt]"""

    x: Axis
    y: Axis
    window: Window
    room: Rect

    def at(self, p: Flat) -> Flat:
        """A point of the roof on the sheet. [pt]"""
        return (self.x(p[0]), self.y(p[1]))

    @property
    def frame(self) -> Rect:
        """The window on the sheet. [pt]"""
        x0, y0, x1, y1 = self.window
        return (self.x(x0), self.y(y0), self.x(x1), self.y(y1))

    @property
    def scale(self) -> float:
        """Points to the inch."""
        return (self.x(self.window[2]) - self.x(self.window[0])) / (self.window[2] - self.window[0])


def lay_plan(window: Window, room: Rect, margins: Rect) -> Plan:
    """Fit a window of the roof into a room, in its middle.

    Args:
        window: What is shown. [in]
        room: Where on the sheet. [pt]
        margins: Room for figures left, below, right and above. [pt]
    """
    x0, y0, x1, y1 = window
    wide = room[2] - room[0] - margins[0] - margins[2]
    high = room[3] - room[1] - margins[1] - margins[3]
    scale = min(wide / (x1 - x0), high / (y1 - y0))
    x = moved(plain(x0, x1, 0.0, scale), room[0] + margins[0] + (wide - (x1 - x0) * scale) / 2)
    y = moved(plain(y0, y1, 0.0, scale), room[1] + margins[1] + (high - (y1 - y0) * scale) / 2)
    return Plan(x, y, window, room)


def lay_sheet(words: Words, window: Window, margins: Rect, speaker: Speaker) -> tuple[Sheet, Plan]:
    """A sheet with its words, no higher than the plan between them needs."""
    sheet = Sheet()
    plan = _between(sheet, words, window, margins, speaker)
    sheet = Sheet(height=HEIGHT - spare(plan, margins))
    return sheet, _between(sheet, words, window, margins, speaker)


def _between(sheet: Sheet, words: Words, window: Window, margins: Rect, speaker: Speaker) -> Plan:
    lower, upper = write_words(sheet, words, speaker)
    return lay_plan(window, (2.0, lower, sheet.width - 2.0, upper), margins)


def spare(plan: Plan, margins: Rect) -> float:
    """How much lower the room could be at the same scale. [pt]"""
    _, y0, _, y1 = plan.frame
    return plan.room[3] - plan.room[1] - margins[1] - margins[3] - (y1 - y0)


def line(sheet: Sheet, plan: Plan, a: Flat, b: Flat, layer: str, price: float = 1.0, owner: str = "") -> None:
    """A line of the roof, as far as the window shows it. [in]"""
    part = clip(a, b, plan.window)
    if part is not None:
        sheet.line(plan.at(part[0]), plan.at(part[1]), layer, price, owner)


def run(
    sheet: Sheet, plan: Plan, points: Sequence[Flat], layer: str, closed: bool = False, price: float = 1.0
) -> None:
    """A run of lines of the roof, as far as the window shows it. [in]"""
    ends = [*points[1:], points[0]] if closed else points[1:]
    for a, b in zip(points, ends, strict=False):
        line(sheet, plan, a, b, layer, price)


def figures(
    plan: Plan, along: str, entries: Iterable[tuple[float, Flat]], show: Callable[[float], str], datum: float
) -> list[Figure]:
    """Figures along x or y, each once, for a margin to the left or below.

    Args:
        plan: The view.
        along: "x" (lower margin) or "y" (left or right margin).
        entries: (coordinate, point its line starts at) pairs; the first with a printed figure wins. [in]
        show: Prints the distance from the datum.
        datum: Where distances count from. [in]
    """
    out: dict[str, Figure] = {}
    index = 0 if along == "x" else 1
    low, high = plan.window[index], plan.window[index + 2]
    for value, start in sorted(entries):
        text = show(value - datum)
        if low - 1e-6 <= value <= high + 1e-6 and text not in out:
            axes = (plan.x, plan.y) if along == "x" else (plan.y, plan.x)
            across = start[1 - index]
            out[text] = Figure(axes[0](value), axes[1](across), text)
    return list(out.values())


def write_figures(sheet: Sheet, plan: Plan, side: Side, figs: Sequence[Figure]) -> None:
    """Write figures in one margin; thinned evenly where the margin cannot hold them all."""
    fx0, fy0, fx1, fy1 = plan.frame
    edge = {"left": fx0, "right": fx1, "lower": fy0, "upper": fy1}[side]
    index = 1 if side in ("left", "right") else 0
    low, high = plan.room[index], plan.room[index + 2]
    keep = sorted(figs, key=lambda f: f.along)
    while not fits(keep, low, high):
        keep = keep[::2]
    edge += -CLEAR if side in ("left", "lower") else CLEAR
    draw_running(sheet, side, keep, edge, low, high)


def room_for(texts: Iterable[str]) -> float:
    """The margin such figures need. [pt]"""
    return margin([Figure(0.0, 0.0, t) for t in texts]) + CLEAR


def write_upright(sheet: Sheet, plan: Plan, low: Flat, high: Flat, text: str) -> bool:
    """Write up the slope inside a rectangle of the roof [in], where it fits and nothing else is written."""
    (x0, y0), (x1, y1) = plan.at(low), plan.at(high)
    found: list[tuple[float, Text]] = []
    for t in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
        mark = Text(((x0 + x1) / 2, y0 + t * (y1 - y0)), text, "text", 8.0, "middle", 90.0)
        ring = mark.box()
        inside = x0 <= min(p[0] for p in ring) and max(p[0] for p in ring) <= x1
        tall = y0 <= min(p[1] for p in ring) and max(p[1] for p in ring) <= y1
        if inside and tall and sheet.crowd.free(ring):
            found.append((sheet.crowd.price(ring), mark))
    if found:
        mark = min(found, key=lambda row: row[0])[1]
        sheet.ring(mark.box(), "mask", "paper")
        sheet.text(mark)
    return bool(found)
