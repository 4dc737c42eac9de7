"""One operation as a small picture: a section at its tool, or a blank with its line."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from lapwright.draw.display import Fill
from lapwright.draw.sheet import Sheet
from lapwright.geom.flat import cut_by, heading
from lapwright.geom.space import Flat
from lapwright.metal.develop import Developed
from lapwright.shop.bending.bench import Tasks, profile, tasks_of, turned_deg
from lapwright.shop.bending.machine import machine_for
from lapwright.shop.bending.model import Operation
from lapwright.shop.bending.strip import Strip
from lapwright.shop.bending.tools import Folder, HandTool, Kit

AROUND = 1.5
"""So much of a folder shows round the fold line at least. [in]"""

HELD = 3.0
"""So much of the held part is drawn at least; what lies beyond twice the moving part's reach is broken off. [in]"""

ARROW, MARGIN = 5.0, 11.0
"""Length of an arrow's head, and room for arrows round a blank. [pt]"""

Place = Callable[[Flat], Flat]


@dataclass(frozen=True, slots=True)
class Box:
    """Where a picture lies on the sheet. [pt]"""

    left: float
    low: float
    right: float
    high: float

    def fit(self, points: Sequence[Flat]) -> Place:
        """A place on the sheet for each point of the metal, so that all of these fit."""
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        wide, tall = max(max(xs) - min(xs), 1e-6), max(max(ys) - min(ys), 1e-6)
        scale = min((self.right - self.left) / wide, (self.high - self.low) / tall)
        x0 = (self.left + self.right - scale * (min(xs) + max(xs))) / 2
        y0 = (self.low + self.high - scale * (min(ys) + max(ys))) / 2
        return lambda p: (x0 + scale * p[0], y0 + scale * p[1])

    def within(self, by: float) -> Box:
        """The same box, smaller by this much on every side. [pt]"""
        return Box(self.left + by, self.low + by, self.right - by, self.high - by)


# ---- a strip at its tool -----------------------------------------------------------------------


def draw_section_step(
    sheet: Sheet, box: Box, strip: Strip, operation: Operation, done: Sequence[str], brake: Kit
) -> None:
    """The profile before and after one operation, the held part to the left, and the tool.

    Args:
        done: bends made before; a hem folded and not closed as its id and "?".
    """
    tasks = tasks_of(strip)
    bits = _bits(strip, tasks, done)
    before, after, broken = _lines(strip, tasks, operation, bits)
    tool = brake.tool(operation.tool)
    held = [] if isinstance(tool, Folder) else list(_hand_tool(tool, after))
    near = [(-AROUND, -AROUND / 2), (AROUND, AROUND), *(p for ring, _ in held for p in ring)]
    at = box.fit([*before, *after, *near])
    if isinstance(tool, Folder):
        _draw_folder(sheet, box, at, tool, strip.thickness)
    for ring, fill in held:
        sheet.ring([at(p) for p in ring], "tool", fill)
    if broken:
        x, y = at(before[0])
        sheet.run([(x + 1.5, y - 7), (x - 1.5, y - 2), (x + 1.5, y + 2), (x - 1.5, y + 7)], "arrow")
    sheet.run([at(p) for p in before], "before")
    sheet.run([at(p) for p in after], "after")
    if operation.kind != "joggle":
        _draw_swing(sheet, at, before, after)


def _bits(strip: Strip, tasks: Tasks, done: Sequence[str]) -> int:
    bits = 0
    for k, f in enumerate(strip.folds):
        if f.id in done:
            bits |= tasks.fold[k] | tasks.close[k]
        elif f"{f.id}?" in done:
            bits |= tasks.fold[k]
    return bits


def _lines(strip: Strip, tasks: Tasks, operation: Operation, bits: int) -> tuple[list[Flat], list[Flat], bool]:
    """Before and after, the fold at 0, 0, the held part to the left, up as the operation lies. [in]

    Also whether a long held part was broken off.
    """
    k = next(i for i, f in enumerate(strip.folds) if f.id == operation.bend)
    side = 1 if round(strip.heading_deg) % 360 == round(operation.heading_deg) % 360 else -1
    up = operation.face_up == "painted"
    after = bits
    for i, f in enumerate(strip.folds):
        if f.id in operation.bends:
            after |= tasks.fold[i] | (tasks.close[i] if operation.kind == "hem-close" else 0)
    free = profile(strip, tasks, k, side, bits, up)
    held = profile(strip, tasks, k, -side, bits, up)
    reach = max(HELD, 2 * max(math.hypot(*p) for p in free))
    if operation.kind == "joggle" or max(p[0] for p in held) < 1.5 * reach:
        reach = math.inf

    def line(b: int) -> list[Flat]:
        return [*_held(strip, tasks, (k, -side), b, up, reach), *_moved(strip, tasks, (k, side), b, up)]

    return line(bits), line(after), reach < math.inf


def _held(strip: Strip, tasks: Tasks, at: tuple[int, int], bits: int, up: bool, reach: float) -> list[Flat]:
    """The held part, outermost point first, broken off where it first gets beyond `reach`. [in]"""
    line = profile(strip, tasks, *at, bits, up)
    kept = [line[0]]
    for p, q in pairwise(line):
        if q[0] > reach:
            share = (reach - p[0]) / (q[0] - p[0])
            kept.append((reach, p[1] + share * (q[1] - p[1])))
            break
        kept.append(q)
    return [(-x, z) for x, z in reversed(kept)]


def _moved(strip: Strip, tasks: Tasks, at: tuple[int, int], bits: int, up: bool) -> list[Flat]:
    k, side = at
    free = profile(strip, tasks, k, side, bits, up)
    turn = math.radians(turned_deg(strip, tasks, k, bits)) * (1 if strip.folds[k].up == up else -1)
    c, s = math.cos(turn), math.sin(turn)
    moved = [(x * c - z * s, x * s + z * c) for x, z in free]
    if abs(turn) > math.radians(150.0):
        # A closed hem lies one sheet off the flat it is folded on.
        moved = [(x, z + math.copysign(2 * strip.folds[k].radius + strip.thickness, turn)) for x, z in moved]
    return moved


def _draw_folder(sheet: Sheet, box: Box, at: Place, tool: Folder, thickness: float) -> None:
    machine = machine_for(tool, thickness)
    for ring, fill in ((machine.beam, True), (machine.carrier, True), (machine.bed, True), (machine.leaf, False)):
        if ring is None:
            continue
        seen = [at(p) for p in ring.corners]
        for point, inward in (
            ((box.left, 0.0), (1.0, 0.0)),
            ((box.right, 0.0), (-1.0, 0.0)),
            ((0.0, box.low), (0.0, 1.0)),
            ((0.0, box.high), (0.0, -1.0)),
        ):
            seen = cut_by(seen, point, inward) if seen else []
        if seen:
            sheet.ring(seen, "tool", "hatch" if fill else "dots")


def _hand_tool(tool: HandTool, after: list[Flat]) -> Iterator[tuple[list[Flat], Fill]]:
    """Jaws on the flange, a bar on the line, or two bars: sections, each with its fill. [in]"""
    tall = 0.3
    if tool.kind == "seamers":
        tip, root = after[-1], after[-2]
        run = heading(root, tip)
        for side in (1.0, -1.0):
            square = (-run[1] * side, run[0] * side)
            corners = ((-0.4, 0.05), (0.9, 0.05), (0.9, 0.25), (-0.4, 0.25))
            yield [_off(tip, run, square, a, b) for a, b in corners], "dots"
        return
    boxes = [(-tool.width, 0.04, 0.0, 0.04 + tall)]
    if tool.kind == "joggle":
        # One bar behind the step, one before it, each as thick as the step is high.
        step = after[-1][1]
        tall = abs(step) - 0.06
        low, high = (-0.04 - tall, step + 0.04) if step < 0 else (0.04, step - 0.04 - tall)
        boxes = [(-tool.width, low, -0.05, low + tall), (0.08, high, tool.width, high + tall)]
    for x0, z0, x1, z1 in boxes:
        yield [(x0, z0), (x1, z0), (x1, z1), (x0, z1)], "hatch"


def _off(p: Flat, run: Flat, square: Flat, along: float, out: float) -> Flat:
    return (p[0] + along * run[0] + out * square[0], p[1] + along * run[1] + out * square[1])


def _draw_swing(sheet: Sheet, at: Place, before: list[Flat], after: list[Flat]) -> None:
    """An arc from where the moving part was to where it comes, near its root."""
    a, b = at(before[-1]), at(after[-1])
    o = at((0.0, 0.0))
    reach = min(22.0, 0.7 * math.dist(o, a), 0.7 * math.dist(o, b))
    start, end = math.atan2(a[1] - o[1], a[0] - o[0]), math.atan2(b[1] - o[1], b[0] - o[0])
    while end - start > math.pi:
        end -= 2 * math.pi
    while start - end > math.pi:
        end += 2 * math.pi
    if reach < 6.0 or abs(end - start) < 0.15:
        return
    steps = [start + (end - start) * k / 12 for k in range(13)]
    points = [(o[0] + reach * math.cos(t), o[1] + reach * math.sin(t)) for t in steps]
    sheet.run(points, "arrow")
    _head(sheet, points[-2], points[-1])


def _head(sheet: Sheet, before: Flat, tip: Flat) -> None:
    run = heading(before, tip)
    square = (-run[1], run[0])
    back = [_off(tip, run, square, -ARROW, side * ARROW / 3) for side in (1.0, -1.0)]
    sheet.ring([tip, *back], "arrow", "ink")


# ---- a blank with its line ---------------------------------------------------------------------


def draw_blank_step(sheet: Sheet, box: Box, flat: Developed, operation: Operation, done: Sequence[str]) -> None:
    """The blank in plan: the line in hand heavy, lines that are folded double, those to come dotted."""
    at = box.within(MARGIN).fit(flat.blank.outline)
    sheet.ring([at(p) for p in flat.blank.outline], "blank")
    for cut in flat.blank.cuts:
        sheet.line(at(cut[0]), at(cut[1]), "blank")
    made = {d.rstrip("?") for d in done}
    for b in flat.bends:
        a, e = at(b.start), at(b.end)
        if b.id in operation.bends:
            sheet.line(a, e, "line-now")
        elif b.id in made:
            run = heading(a, e)
            for off in (0.9, -0.9):
                square = (-run[1] * off, run[0] * off)
                sheet.line(_off(a, run, square, 0.0, 1.0), _off(e, run, square, 0.0, 1.0), "line-done")
        else:
            sheet.line(a, e, "line-todo")
    first = next(b for b in flat.bends if b.id == operation.bend)
    _draw_way(sheet, at, first.start, first.end, operation.heading_deg)


def _draw_way(sheet: Sheet, at: Place, start: Flat, end: Flat, heading_deg: float) -> None:
    """From the held part to the part that moves, across the middle of the line."""
    a, b = at(start), at(end)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    run = (math.cos(math.radians(heading_deg)), math.sin(math.radians(heading_deg)))
    tail, tip = (_off(middle, run, (0.0, 0.0), k, 0.0) for k in (-7.0, 10.0))
    sheet.line(tail, tip, "arrow")
    _head(sheet, tail, tip)
