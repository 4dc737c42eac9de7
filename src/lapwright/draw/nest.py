"""The cutting plan of one sheet: every blank where it lies, the cuts in their order, the offcuts that are left.

A long coil is drawn in runs side by side, broken where a cut goes right across if there is such a place:

    +---+---+    +---+---+
    | 1 | 2 |    | 4     |       the second run goes on where the first ends
    |   +---+    +---+---+
    |   | 3 |    | 5 |   |
    +---+---+    +---+---+
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from lapwright.draw.callout import Label, write_at
from lapwright.draw.display import Display, Pen, Text, oriented, text_width
from lapwright.draw.heading import ROW, fold, write_heading
from lapwright.draw.pens import PENS
from lapwright.draw.sheet import Sheet
from lapwright.geom import SAME
from lapwright.geom.space import Flat
from lapwright.shop.nest.cuts import Cut
from lapwright.shop.nest.job import JobSheet, Lying
from lapwright.words import Speaker

SIDE = 46.0
"""Room left of a run for its figures. [pt]"""
GAP = 14.0
"""Between two runs. [pt]"""
SIZE = 8.0
BALL = 6.6
"""Radius of the ball round the number of a cut. [pt]"""
TINY = 0.02
"""A strip of a blank thinner than this is not drawn where a run ends. [in]"""
MOST_RUNS = 6
LEAST_OFFCUT = 3.0
"""Offcuts narrower than this are not listed. House rule. [in]"""
MOST_OFFCUTS = 8

NEST_PENS = (Pen("stock", 1.2), Pen("shear", 0.5, (5, 2.5)), Pen("offcut", 0.0), Pen("placed", 1.0))


@dataclass(frozen=True, slots=True)
class Run:
    """One stretch of the sheet on the paper: from and to along the stock [in], where it starts [pt], scale."""

    low: float
    high: float
    x: float
    y: float
    scale: float

    def at(self, p: Flat) -> Flat:
        """A point of the stock on the paper. [pt]"""
        return (self.x + p[0] * self.scale, self.y + (p[1] - self.low) * self.scale)


def draw_sheet(sheet: JobSheet, speaker: Speaker) -> Display:
    """Draw one sheet with its cuts, its numbers and what is left.

    Args:
        sheet: From nest_job.
        speaker: Language and unit of the job.

    Returns:
        A sheet 7 inches wide and 8 1/2 high.
    """
    paper = Sheet()
    title = speaker.say("nest.draw.title", metal=_metal(sheet, speaker), n=sheet.n, of=sheet.of)
    upper = write_heading(paper, title, _facts(sheet, speaker))
    lower = _table(paper, sheet, speaker)
    runs = _runs(sheet, (paper.width, lower, upper))
    for run in runs:
        _draw_run(paper, sheet, run, speaker)
    # What fits where it belongs first; then leaders, for blanks before cuts.
    small = _number_parts(paper, sheet, runs)
    short = _number_cuts(paper, sheet, runs)
    for target, number in small:
        if not write_at(paper, target, Label("", number)):
            _anywhere(paper, target, number, False)
    for lines, number in short:
        (x0, y0), (x1, y1) = lines[0]
        _anywhere(paper, ((x0 + x1) / 2, (y0 + y1) / 2), number, True)
    return paper.finish((*PENS, *NEST_PENS), title)


def _metal(sheet: JobSheet, speaker: Speaker) -> str:
    key = f"metals.{sheet.metal}"
    return speaker.say(key) if speaker.knows(key) else sheet.metal


def _facts(sheet: JobSheet, speaker: Speaker) -> list[str]:
    stock = sheet.stock
    key = "nest.draw.coil" if stock.by_length else "nest.draw.stock"
    size = speaker.say(key, id=stock.id, width=stock.width, height=stock.height, used=sheet.used_height)
    way = "nest.draw.sheared" if sheet.plan is not None else "nest.draw.free"
    return [size, speaker.say(way)]


def _used(sheet: JobSheet) -> float:
    """What is drawn of the stock: a sheet whole, a roll as far as it is used. [in]"""
    stock = sheet.stock
    return sheet.used_height if stock.by_length or stock.height > 2 * sheet.used_height else stock.height


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
    offcuts = [o for o in sheet.plan.offcuts if min(o.width, o.height) >= LEAST_OFFCUT] if sheet.plan else []
    if sheet.stock.by_length:
        offcuts = [o for o in offcuts if o.y < sheet.used_height - SAME]
    return rows + [speaker.say("nest.draw.offcut", width=o.width, height=o.height) for o in offcuts[:MOST_OFFCUTS]]


def _table(paper: Sheet, sheet: JobSheet, speaker: Speaker) -> float:
    """Write the rows in as many columns as fit. Returns: where the drawing may end, up from here. [pt]"""
    rows = _rows(sheet, speaker)
    note = fold(speaker.say("nest.draw.note"), SIZE, paper.width - 6)
    widest = max((text_width(r, SIZE) for r in rows), default=0.0) + 5
    columns = max(1, min(4, int(paper.width / widest)))
    high = -(-len(rows) // columns)
    top = 3.0 + ROW * (high + len(note))
    paper.line((0, top + 4), (paper.width, top + 4), "table")
    for i, row in enumerate(rows):
        at = (3.0 + (i // high) * paper.width / columns, top - ROW * (i % high) - ROW / 2)
        for k, part in enumerate(fold(row, SIZE, paper.width / columns - 6)[:1]):
            paper.text(Text((at[0], at[1] - k * ROW), part, "text", SIZE))
    for j, row in enumerate(note):
        paper.text(Text((3.0, top - ROW * (high + j) - ROW / 2), row, "text", SIZE))
    return top + 10.0


def _runs(sheet: JobSheet, room: tuple[float, float, float]) -> list[Run]:
    """As many runs as make the drawing largest."""
    width, lower, upper = room
    used = _used(sheet)
    best: tuple[float, list[float]] = (0.0, [0.0, used])
    for count in range(1, MOST_RUNS + 1):
        ends = _ends(sheet, used, count)
        longest = max(b - a for a, b in pairwise(ends))
        wide = (width - (SIDE + GAP) * count) / count / sheet.stock.width
        scale = min(wide, (upper - lower - 14) / longest)
        if scale > best[0] * 1.02:
            best = (scale, ends)
    scale, ends = best
    step = sheet.stock.width * scale + SIDE + GAP
    start = (width - step * (len(ends) - 1)) / 2 + SIDE
    return [Run(a, b, start + i * step, lower + 4, scale) for i, (a, b) in enumerate(pairwise(ends))]


def _ends(sheet: JobSheet, used: float, count: int) -> list[float]:
    """Where the runs end: near equal parts, at a cut that goes right across where there is one near. [in]"""
    across = [c.at for c in sheet.plan.cuts if _right_across(c, sheet)] if sheet.plan is not None else []
    out = [0.0]
    for n in range(1, count):
        wanted = used * n / count
        near = min(across, key=lambda y: abs(y - wanted), default=wanted)
        at = near if abs(near - wanted) < used / count / 2 else wanted
        if out[-1] + SAME < at < used - SAME:
            out.append(at)
    return [*out, used]


def _right_across(cut: Cut, sheet: JobSheet) -> bool:
    """Does it part everything beyond it from everything before it?"""
    if cut.way != "across":
        return False
    return all(a[1] > cut.at - TINY or b[1] < cut.at + TINY for a, b in (x.corners() for x in sheet.lying))


def _draw_run(paper: Sheet, sheet: JobSheet, run: Run, speaker: Speaker) -> None:
    width = sheet.stock.width
    low, high = run.at((0.0, run.low)), run.at((width, run.high))
    ring = (low, (high[0], low[1]), high, (low[0], high[1]))
    paper.ring(ring, "offcut", "dots")
    for lying in sheet.lying:
        points = [lying.at(p) for p in lying.blank.outline]
        for part in _clipped(points, run.low, run.high):
            paper.ring([run.at(p) for p in part], "placed", "paper")
    for cut in sheet.plan.cuts if sheet.plan is not None else ():
        for a, b in _ends_in(cut, run):
            paper.line(run.at(a), run.at(b), "shear")
    paper.ring(ring, "stock")
    _figures(paper, sheet, run, speaker)


def _figures(paper: Sheet, sheet: JobSheet, run: Run, speaker: Speaker) -> None:
    """The stock's width under the run, and how far along the stock each full cut lies."""
    x = run.x - 3
    marks = {round(run.low, 6), round(run.high, 6)}
    if sheet.plan is not None:
        marks |= {round(c.at, 6) for c in sheet.plan.cuts if _right_across(c, sheet) and run.low < c.at < run.high}
    last = -1e9
    for at in sorted(marks, key=lambda m: (m not in (round(run.low, 6), round(run.high, 6)), m)):
        y = run.at((0.0, at))[1]
        box = oriented((x, y), 0.0, -text_width(speaker.length(at), SIZE), 0.0, SIZE * 0.6)
        if paper.crowd.free(box) or last < -1e8:
            paper.text(Text((x, y), speaker.length(at), "text", SIZE, "end"))
            last = y


def _clipped(points: Sequence[Flat], low: float, high: float) -> list[list[Flat]]:
    """The part of a ring between two heights, as closed rings. [in]"""
    out = list(points)
    for level, sign in ((low, 1), (high, -1)):
        kept: list[Flat] = []
        for p, q in zip(out, [*out[1:], *out[:1]], strict=True):
            inside_p, inside_q = sign * (p[1] - level) >= 0, sign * (q[1] - level) >= 0
            if inside_p:
                kept.append(p)
            if inside_p != inside_q:
                t = (level - p[1]) / (q[1] - p[1])
                kept.append((p[0] + t * (q[0] - p[0]), level))
        out = kept
    flat = len(out) < 3 or max(p[1] for p in out) - min(p[1] for p in out) < TINY
    return [] if flat else [out]


def _ends_in(cut: Cut, run: Run) -> Iterator[tuple[Flat, Flat]]:
    """The stretch of a cut that lies in this run. [in]"""
    if cut.way == "across":
        if run.low - SAME < cut.at < run.high + SAME:
            yield (cut.start, cut.at), (cut.end, cut.at)
        return
    low, high = max(cut.start, run.low), min(cut.end, run.high)
    if high - low > SAME:
        yield (cut.at, low), (cut.at, high)


def _number_parts(paper: Sheet, sheet: JobSheet, runs: Sequence[Run]) -> list[tuple[Flat, str]]:
    """The number of every blank on its own metal. Returns: where there is no room for it, and which. [pt]"""
    beside = []
    for run in runs:
        for lying in sheet.lying:
            (x0, y0), (x1, y1) = lying.corners()
            y0, y1 = max(y0, run.low), min(y1, run.high)
            if y1 - y0 >= TINY and not _on_metal(paper, lying, run, (x0, y0, x1, y1)):
                beside.append((run.at(((x0 + x1) / 2, (y0 + y1) / 2)), str(lying.number)))
    return beside


def _on_metal(paper: Sheet, lying: Lying, run: Run, box: tuple[float, float, float, float]) -> bool:
    x0, y0, x1, y1 = box
    ring = [run.at(lying.at(p)) for p in lying.blank.outline]
    for u, v in _spread():
        at = run.at((x0 + u * (x1 - x0), y0 + v * (y1 - y0)))
        mark = Text(at, str(lying.number), "text", SIZE, "middle", 0.0, True)
        if all(_holds(ring, corner) for corner in mark.box()) and paper.crowd.free(mark.box()):
            paper.text(mark)
            return True
    return False


def _spread() -> Iterator[Flat]:
    """Places in a rectangle, from its middle outward, as shares of its sides."""
    for d in (0.0, 0.12, 0.24, 0.36):
        for du, dv in ((0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, -1), (1, -1), (-1, 1)):
            yield (0.5 + du * d, 0.5 + dv * d)


def _holds(ring: Sequence[Flat], at: Flat) -> bool:
    """Does a point lie on the metal (even-odd rule)? [in]"""
    odd = False
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (a[1] > at[1]) != (b[1] > at[1]) and at[0] < a[0] + (at[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1]):
            odd = not odd
    return odd


def _number_cuts(
    paper: Sheet, sheet: JobSheet, runs: Sequence[Run]
) -> list[tuple[list[tuple[Flat, Flat]], str]]:
    """A ball with its number on every cut, short cuts first. Returns: lines with no room for it, and which. [pt]"""
    short = []
    cuts = sheet.plan.cuts if sheet.plan is not None else ()
    for cut in sorted(cuts, key=lambda c: (c.end - c.start, c.n)):
        lines = [(run.at(p), run.at(q)) for run in runs for p, q in _ends_in(cut, run)]
        if not any(_ball(paper, a, b, str(cut.n)) for a, b in lines):
            short.append((lines, str(cut.n)))
    return short


def _anywhere(paper: Sheet, target: Flat, number: str, ball: bool) -> None:
    """A number at the nearest free place, its leader across whatever lies between."""
    across = range(int(BALL) + 2, int(paper.width - BALL), 5)
    places = [(float(x), float(y)) for x in across for y in range(int(BALL) + 2, int(paper.height - BALL), 5)]
    for at in sorted(places, key=lambda p: math.dist(p, target)):
        if paper.crowd.free(oriented(at, 0.0, -BALL, BALL, BALL)):
            paper.line(target, at, "leader")
            paper.circle(target, 1.2, "leader", "ink")
            if ball:
                _ball(paper, at, at, number)
            else:
                mark = Text(at, number, "text", SIZE, "middle", 0.0, True)
                paper.ring(mark.box(), "mask", "paper")
                paper.text(mark)
            return


def _ball(paper: Sheet, a: Flat, b: Flat, text: str) -> bool:
    for t in (0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92, 0.42, 0.58):
        at = (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
        box = oriented(at, 0.0, -BALL, BALL, BALL)
        if paper.crowd.free(box):
            paper.circle(at, BALL, "balloon", "paper")
            paper.text(Text(at, text, "text", SIZE, "middle"))
            paper.crowd.block(box)
            return True
    return False


def cut_rows(sheet: JobSheet, speaker: Speaker) -> tuple[str, ...]:
    """Every cut as a line of text, in order, for a table beside the plan."""
    cuts = sheet.plan.cuts if sheet.plan is not None else ()
    return tuple(
        speaker.say(f"nest.draw.cut_{c.way}", n=c.n, at=c.at, start=c.start, end=c.end) for c in cuts
    )
