"""The numbers of a cutting plan: one on every blank, one in a ball on every cut; each once, where it has room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cache

from lapwright.draw.callout import Label, write_at
from lapwright.draw.display import Text, oriented, text_width
from lapwright.draw.nest_parts import Part
from lapwright.draw.nest_views import View, crossing
from lapwright.draw.sheet import Sheet
from lapwright.geom.space import Flat
from lapwright.shop.nest.cuts import Cut
from lapwright.shop.nest.job import Lying

SIZE = 8.0
BALL, SMALL_BALL = 6.6, 5.6
"""Radius of the ball round the number of a cut, and on a short cut. [pt]"""
RIM = 0.75
"""Between a long number and the ball round it. [pt]"""
SPOTS = (0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92, 0.42, 0.58)
"""Places along a cut that are tried for its ball. [-]"""
FAR = 150
"""A number stands no farther from what it names. [pt]"""

Line = tuple[Flat, Flat]


def write_numbers(paper: Sheet, part: Part, runs: Sequence[View], close_ups: Sequence[View]) -> tuple[int, int]:
    """Number everything: what fits where it belongs first, then leaders, for blanks before cuts. [pt]

    Returns:
        How many numbers stand on a leader across other things, and how many found no place.
    """
    blanks = [(view, x) for view, x in _blanks(part, runs, close_ups) if not _on_metal(paper, x, view)]
    lines = {cut.n: _lines(cut, runs, close_ups) for cut in part.cuts}
    short = [
        cut
        for cut in sorted(part.cuts, key=lambda c: (c.end - c.start, c.n))
        if not any(_ball(paper, a, b, cut.n, BALL) for a, b in lines[cut.n])
        and not any(_ball(paper, a, b, cut.n, SMALL_BALL) for a, b in lines[cut.n])
    ]
    found = []
    for view, lying in blanks:
        target = _middle(view, lying)
        if not write_at(paper, target, Label("", str(lying.number))):
            found.append(_anywhere(paper, target, lying.number, ball=False))
    for cut in short:
        (x0, y0), (x1, y1) = lines[cut.n][0]
        found.append(_anywhere(paper, ((x0 + x1) / 2, (y0 + y1) / 2), cut.n, ball=True))
    return found.count(True), found.count(False)


def _blanks(part: Part, runs: Sequence[View], close_ups: Sequence[View]) -> Iterator[tuple[View, Lying]]:
    """Every blank with the view that numbers it: a close-up that holds it whole, else every run that shows it."""
    for lying in part.lying:
        close = [v for v in close_ups if v.holds(*lying.corners())]
        shown = [v for v in runs if v.clipped([lying.at(p) for p in lying.blank.outline])]
        for view in close[:1] or shown:
            yield view, lying


def _lines(cut: Cut, runs: Sequence[View], close_ups: Sequence[View]) -> list[Line]:
    """Where a cut may carry its number: in a close-up that shows it whole, else in the runs. [pt]"""
    across = cut.way == "across"
    ends = ((cut.start, cut.at), (cut.end, cut.at)) if across else ((cut.at, cut.start), (cut.at, cut.end))
    views = [v for v in close_ups if v.holds(*ends)][:1] or runs
    return [(v.at(a), v.at(b)) for v in views for _, (a, b) in crossing([cut], v)]


def _middle(view: View, lying: Lying) -> Flat:
    (x0, y0), (x1, y1) = lying.corners()
    low, high = max(y0, view.low[1]), min(y1, view.high[1])
    return view.at(((x0 + x1) / 2, (low + high) / 2))


def _on_metal(paper: Sheet, lying: Lying, view: View) -> bool:
    """Write the number of a blank on its own metal, if there is room."""
    (x0, y0), (x1, y1) = lying.corners()
    y0, y1 = max(y0, view.low[1]), min(y1, view.high[1])
    ring = [view.at(lying.at(p)) for p in lying.blank.outline]
    places = (view.at((x0 + u * (x1 - x0), y0 + v * (y1 - y0))) for u, v in _spread())
    marks = (Text(at, str(lying.number), "text", SIZE, "middle", 0.0, True) for at in places)
    whole = [m for m in marks if all(_holds(ring, p) for p in m.box()) and paper.crowd.free(m.box())]
    for mark in whole:
        if mark is whole[-1] or paper.crowd.price(mark.box(), "", 0.0) == 0.0:
            paper.text(mark)
            return True
    return False


def _spread() -> Iterator[Flat]:
    """Places in a rectangle, from its middle outward, as shares of its sides."""
    for d in (0.0, 0.12, 0.24, 0.36):
        for du, dv in ((0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, -1), (1, -1), (-1, 1)):
            yield (0.5 + du * d, 0.5 + dv * d)


def _holds(ring: Sequence[Flat], at: Flat) -> bool:
    """Does a point lie on the metal (even-odd rule)? [pt]"""
    odd = False
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (a[1] > at[1]) != (b[1] > at[1]) and at[0] < a[0] + (at[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1]):
            odd = not odd
    return odd


def _ball(paper: Sheet, a: Flat, b: Flat, number: int, radius: float) -> bool:
    """A ball on a line, at the first place that is free."""
    radius = _radius(number, radius)
    for t in SPOTS:
        at = (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
        if _free(paper, at, radius):
            _put_ball(paper, at, number, radius)
            return True
    return False


def _radius(number: int, least: float) -> float:
    """Radius of a ball that holds a number. [pt]"""
    return max(least, text_width(str(number), SIZE) / 2 + RIM)


def _free(paper: Sheet, at: Flat, radius: float) -> bool:
    return paper.crowd.free(oriented(at, 0.0, -radius, radius, radius))


def _put_ball(paper: Sheet, at: Flat, number: int, radius: float) -> None:
    paper.circle(at, radius, "balloon", "paper")
    paper.text(Text(at, str(number), "text", SIZE, "middle"))
    paper.crowd.block(oriented(at, 0.0, -radius, radius, radius))


@cache
def _rings() -> tuple[Flat, ...]:
    """Places round a point, the nearest first. [pt]"""
    steps = range(-FAR, FAR + 1, 5)
    return tuple(sorted(((float(x), float(y)) for x in steps for y in steps), key=lambda p: (math.hypot(*p), p)))


def _anywhere(paper: Sheet, target: Flat, number: int, ball: bool) -> bool:
    """A number at the nearest free place, its leader across whatever lies between. False where there is none."""
    radius = _radius(number, BALL)
    for dx, dy in _rings():
        at = (target[0] + dx, target[1] + dy)
        inside = radius + 1 < at[0] < paper.width - radius - 1 and radius + 1 < at[1] < paper.height - radius - 1
        if inside and math.hypot(dx, dy) > radius and _free(paper, at, radius):
            paper.line(target, at, "leader")
            paper.circle(target, 1.2, "leader", "ink")
            if ball:
                _put_ball(paper, at, number, radius)
            else:
                mark = Text(at, str(number), "text", SIZE, "middle", 0.0, True)
                paper.ring(mark.box(), "mask", "paper")
                paper.text(mark)
            return True
    return False
