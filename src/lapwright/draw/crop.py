"""A drawing cut in two along a level line, so that its heading can be left to the page. Knows no roofing word."""

from __future__ import annotations

from dataclasses import replace

from lapwright.draw.display import Circle, Display, Line, Mark, Polyline, reach
from lapwright.geom.space import Flat


def cut_off(sheet: Display, head: float) -> tuple[Display, Display]:
    """The strip of a sheet `head` high along its upper edge, and what is left. [pt]

    A mark that crosses the line stays whole with what is left.
    """
    level = sheet.height - head
    above = [m for m in sheet.marks if min(p[1] for p in reach(m)) >= level]
    cut = set(map(id, above))
    rest = tuple(m for m in sheet.marks if id(m) not in cut)
    strip = replace(sheet, height=head, marks=tuple(_lowered(m, level) for m in above))
    return strip, replace(sheet, height=level, marks=rest)


def _lowered(mark: Mark, by: float) -> Mark:
    def down(p: Flat) -> Flat:
        return (p[0], p[1] - by)

    if isinstance(mark, Line):
        return replace(mark, a=down(mark.a), b=down(mark.b))
    if isinstance(mark, Polyline):
        return replace(mark, points=tuple(map(down, mark.points)))
    if isinstance(mark, Circle):
        return replace(mark, centre=down(mark.centre))
    return replace(mark, at=down(mark.at))
