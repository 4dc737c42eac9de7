"""What part of the roof a step's picture shows, and at what scale; long plain runs up the slope are left out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from lapwright.draw.axis import Axis, moved, plain
from lapwright.draw.features import Window
from lapwright.draw.plan import Plan, Rect
from lapwright.draw.sheet import Sheet
from lapwright.geom.space import Flat
from lapwright.site.model import Site

AROUND = 5.0
"""Roof shown round what the step is about. [in]"""
LEAST_HIGH = 22.0
"""No picture shows less of the slope than this. [in]"""
PAST_EDGE = 1.5
"""Drawn beyond the roof's own edges. [in]"""
LARGEST = 7.0
"""Points to the inch, at most."""
LONG, KEPT = 26.0, 7.0
"""A longer run up the slope on which nothing is marked may be left out but for its ends. [in]"""
EDGE_KEPT = 2.0
"""What stays in sight along the window's own edge. [in]"""
GAP = 15.0
"""Room of a run that is left out. [pt]"""
WORTH = 1.2
"""A run is left out only where the picture grows by this factor."""

Parts = tuple[tuple[float, float], ...]
"""Runs up the slope that are shown. [in]"""


def window_of(site: Site, bay: Window | None, points: Iterable[Flat]) -> Window:
    """All of the points and the bay's width, with roof around them, inside the roof. [in]"""
    ps = list(points)
    xs, ys = [p[0] for p in ps], [p[1] for p in ps]
    if bay is not None:
        xs += [bay[0], bay[2]]
    low, high = min(ys) - AROUND, max(ys) + AROUND
    spare = max(0.0, LEAST_HIGH - (high - low)) / 2
    return inside_roof(site, (min(xs) - AROUND, low - spare, max(xs) + AROUND, high + spare))


def inside_roof(site: Site, window: Window) -> Window:
    """A window no farther out than the roof's edges and a little. [in]"""
    x0, y0, x1, y1 = window
    return (
        max(x0, -PAST_EDGE),
        max(y0, -PAST_EDGE),
        min(x1, site.roof.eave + PAST_EDGE),
        min(y1, site.roof.slope + PAST_EDGE),
    )


def lay(window: Window, stops: Iterable[float], room: Rect, margins: Rect, largest: float = LARGEST) -> Plan:
    """Fit a window into a room, leaving plain runs between the stops out where that makes it larger.

    Args:
        window: What is shown. [in]
        stops: Heights up the slope near which nothing is left out. [in]
        room: Where on the sheet. [pt]
        margins: Room for lines and figures left, below, right and above. [pt]
        largest: Points to the inch, at most.
    """
    wide = room[2] - room[0] - margins[0] - margins[2]
    high = room[3] - room[1] - margins[1] - margins[3]
    parts, scale = _parts(window, stops, min(largest, wide / (window[2] - window[0])), high)
    x = plain(window[0], window[2], 0.0, scale)
    y = _stepped(parts, scale)
    used = x(window[2]), y(window[3])
    at = room[0] + margins[0] + (wide - used[0]) / 2, room[1] + margins[1] + (high - used[1]) / 2
    return Plan(moved(x, at[0]), moved(y, at[1]), window, room)


def height_of(plan: Plan) -> float:
    """How high the window is on the sheet. [pt]"""
    return plan.frame[3] - plan.frame[1]


def _parts(window: Window, stops: Iterable[float], widest: float, room: float) -> tuple[Parts, float]:
    low, high = window[1], window[3]
    inner = sorted({s for s in stops if low < s < high} | {low, high})
    gaps = [_kept(a, b, low, high) for a, b in pairwise(inner) if b - a > LONG]
    gaps.sort(key=lambda g: (g[0] - g[1], g[0]))
    best: tuple[Parts, float] = (((low, high),), min(widest, room / (high - low)))
    for k in range(1, len(gaps) + 1):
        out = sorted(gaps[:k])
        shown = (high - low) - sum(b - a for a, b in out)
        scale = min(widest, (room - k * GAP) / shown)
        if scale > best[1] * WORTH:
            edges = [low, *(p for gap in out for p in gap), high]
            best = (tuple(zip(edges[::2], edges[1::2], strict=True)), scale)
    return best


def _kept(a: float, b: float, low: float, high: float) -> tuple[float, float]:
    """A run less the ends of it that stay in sight. [in]"""
    return (a + (KEPT if a > low else EDGE_KEPT), b - (KEPT if b < high else EDGE_KEPT))


def _stepped(parts: Parts, scale: float) -> Axis:
    knots: list[tuple[float, float]] = []
    breaks: list[float] = []
    place = 0.0
    for a, b in parts:
        if knots:
            breaks.append(place + GAP / 2)
            place += GAP
        knots.append((a, place))
        place += (b - a) * scale
        knots.append((b, place))
    return Axis(tuple(knots), tuple(breaks))


def draw_breaks(sheet: Sheet, plan: Plan) -> None:
    """A white band and two zigzags wherever a run up the slope is left out."""
    x0, _, x1, _ = plan.frame
    for y in plan.y.breaks:
        half = GAP / 2 - 3.5
        band = ((x0 - 2, y - half), (x1 + 2, y - half), (x1 + 2, y + half), (x0 - 2, y + half))
        sheet.ring(band, "mask", "paper")
        sheet.crowd.block(band)
        for side in (-half, half):
            sheet.run(_zigzag(x0 - 4, x1 + 4, y + side), "break")


def _zigzag(x0: float, x1: float, y: float) -> Sequence[Flat]:
    m = (x0 + x1) / 2
    return ((x0, y), (m - 4, y), (m - 1.5, y + 2.6), (m + 1.5, y - 2.6), (m + 4, y), (x1, y))
