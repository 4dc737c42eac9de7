"""How a sheet of metal stands on the paper: in runs side by side, and in close-ups of what is small.

    +---+---+    +---+---+      +-------+
    | 1 | 2 |    | 4     |      | A     |     the second run goes on where the first ends;
    |   +---+    +---+---+      |       |     what is too small to carry its number is drawn again, larger
    |   | 3 |    | 5 | A |      +-------+
    +---+---+    +---+---+
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from lapwright.draw.nest_parts import TINY, Part
from lapwright.geom import SAME
from lapwright.geom.space import Flat
from lapwright.shop.nest.cuts import Cut
from lapwright.shop.nest.job import Lying

SIDE = 46.0
"""Room left of a run for its figures. [pt]"""
GAP = 14.0
"""Between two runs. [pt]"""
COLUMN = 150.0
"""Room right of the runs for close-ups, where there are any. [pt]"""
MOST_RUNS = 6
WORTH = 1.15
"""One run more must make the drawing so much larger: it tears blanks in two. [-]"""
SMALL, SHORT = 16.0, 60.0
"""A blank narrower than the first on the paper, and no longer than the second, is small. [pt]"""
NEAR = 2.0
"""Small blanks no farther apart than this stand in one close-up. [in]"""
EDGE = 0.25
"""Metal that is shown round the small blanks of a close-up. [in]"""
GAIN = 3.0
"""A close-up is so many times the scale of its run at least; what it takes is limited so. [-]"""
LARGE = 34.0
"""The narrowest blank of a close-up is drawn so wide, where there is room. [pt]"""
MOST_TALL = 170.0
"""Height of one close-up. [pt]"""


@dataclass(frozen=True, slots=True)
class View:
    """A part of the sheet: its near and far corner on the stock [in], where that lies on the paper [pt], the scale.

    letter: of a close-up; a run has none.
    """

    low: Flat
    high: Flat
    x: float
    y: float
    scale: float
    letter: str = ""

    def at(self, p: Flat) -> Flat:
        """A point of the stock on the paper. [pt]"""
        return (self.x + (p[0] - self.low[0]) * self.scale, self.y + (p[1] - self.low[1]) * self.scale)

    def ring(self) -> tuple[Flat, Flat, Flat, Flat]:
        """Its outline on the paper. [pt]"""
        (x0, y0), (x1, y1) = self.at(self.low), self.at(self.high)
        return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))

    def holds(self, low: Flat, high: Flat) -> bool:
        """Does a rectangle lie in it whole? [in]"""
        inside = (self.low[i] - SAME <= low[i] and high[i] <= self.high[i] + SAME for i in (0, 1))
        return all(inside)

    def clipped(self, points: Sequence[Flat]) -> list[Flat]:
        """The part of a closed ring that lies in it; none where that is a sliver. [in]"""
        out = list(points)
        for axis in (0, 1):
            out = _beyond(_beyond(out, axis, self.low[axis], 1), axis, self.high[axis], -1)
        flat = len(out) < 3 or any(max(p[a] for p in out) - min(p[a] for p in out) < TINY for a in (0, 1))
        return [] if flat else out

    def stretch(self, cut: Cut) -> tuple[Flat, Flat] | None:
        """The stretch of a cut that lies in it. [in]"""
        axis = 0 if cut.way == "across" else 1
        low, high = max(cut.start, self.low[axis]), min(cut.end, self.high[axis])
        beside = self.low[1 - axis] - SAME < cut.at < self.high[1 - axis] + SAME
        if not beside or high - low < SAME:
            return None
        return ((low, cut.at), (high, cut.at)) if axis == 0 else ((cut.at, low), (cut.at, high))


def _beyond(points: Sequence[Flat], axis: int, level: float, sign: int) -> list[Flat]:
    """A ring without what lies on the wrong side of a level. [in]"""
    kept: list[Flat] = []
    for p, q in zip(points, [*points[1:], *points[:1]], strict=True):
        inside_p, inside_q = sign * (p[axis] - level) >= 0, sign * (q[axis] - level) >= 0
        if inside_p:
            kept.append(p)
        if inside_p != inside_q:
            t = (level - p[axis]) / (q[axis] - p[axis])
            kept.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
    return kept


def views_of(part: Part, width: float, lower: float, upper: float) -> tuple[list[View], list[View]]:
    """Runs and close-ups.

    Args:
        part: What is drawn.
        width, lower, upper: The paper they may take. [pt]

    Returns:
        The runs, and the close-ups, which stand to their right.
    """
    runs = _runs(part, width, lower, upper)
    if not _clusters(part, runs):
        return runs, []
    runs = _runs(part, width - COLUMN, lower, upper)
    return runs, _close_ups(_clusters(part, runs), width - COLUMN + GAP, width, (lower, upper))


def _runs(part: Part, width: float, lower: float, upper: float) -> list[View]:
    """As many runs as make the drawing largest."""
    best: tuple[float, list[float]] = (0.0, [part.low, part.high])
    for count in range(1, MOST_RUNS + 1):
        ends = _ends(part, count)
        longest = max(b - a for a, b in pairwise(ends))
        wide = (width - (SIDE + GAP) * count) / count / part.stock.width
        scale = min(wide, (upper - lower - 14) / longest)
        if scale > best[0] * WORTH:
            best = (scale, ends)
    scale, ends = best
    step = part.stock.width * scale + SIDE + GAP
    start = (width - step * (len(ends) - 1)) / 2 + SIDE
    across = part.stock.width
    tall = max(b - a for a, b in pairwise(ends)) * scale
    return [
        View((0.0, a), (across, b), start + i * step, lower + 4 + tall - (b - a) * scale, scale)
        for i, (a, b) in enumerate(pairwise(ends))
    ]


def _ends(part: Part, count: int) -> list[float]:
    """Where the runs end: near equal parts, at a cut that goes right across where there is one near. [in]"""
    used = part.high - part.low
    out = [part.low]
    for n in range(1, count):
        wanted = part.low + used * n / count
        near = min(part.across, key=lambda y: abs(y - wanted), default=wanted)
        at = near if abs(near - wanted) < used / count / 2 else wanted
        if out[-1] + SAME < at < part.high - SAME:
            out.append(at)
    return [*out, part.high]


Window = tuple[Flat, Flat, float]
"""Near and far corner, and the narrowest blank inside. [in]"""


def _clusters(part: Part, runs: Sequence[View]) -> list[Window]:
    """Small blanks of one run, as many together as a close-up takes; a single one needs none."""
    heaps: list[tuple[View, list[Lying]]] = []
    for run in runs:
        for lying in sorted(part.lying, key=lambda x: x.corners()):
            if run.holds(*lying.corners()) and _small(lying, run.scale):
                mine = next((h[1] for h in heaps if h[0] is run and _together(run, [*h[1], lying])), None)
                if mine is None:
                    heaps.append((run, [lying]))
                else:
                    mine.append(lying)
    found = [_window(run, heap) for run, heap in heaps if len(heap) > 1]
    return sorted(found, key=lambda w: (-w[1][1], w[0]))


def _sides(lying: Lying) -> tuple[float, float]:
    (x0, y0), (x1, y1) = lying.corners()
    return x1 - x0, y1 - y0


def _small(lying: Lying, scale: float) -> bool:
    sides = _sides(lying)
    return min(sides) * scale < SMALL and max(sides) * scale < SHORT


def _together(run: View, heap: Sequence[Lying]) -> bool:
    """Does one close-up take them all, the last of them near some other?"""
    if len(heap) > 1 and not any(_near(heap[-1], other) for other in heap[:-1]):
        return False
    low, high, _ = _window(run, heap)
    wide, tall = (COLUMN - GAP - 4) / (GAIN * run.scale), MOST_TALL / (GAIN * run.scale)
    return high[0] - low[0] <= wide and high[1] - low[1] <= tall


def _near(a: Lying, b: Lying) -> bool:
    (ax0, ay0), (ax1, ay1) = a.corners()
    (bx0, by0), (bx1, by1) = b.corners()
    return ax0 - NEAR < bx1 and bx0 - NEAR < ax1 and ay0 - NEAR < by1 and by0 - NEAR < ay1


def _window(run: View, heap: Sequence[Lying]) -> Window:
    boxes = [x.corners() for x in heap]
    low = tuple(max(min(b[0][i] for b in boxes) - EDGE, run.low[i]) for i in (0, 1))
    high = tuple(min(max(b[1][i] for b in boxes) + EDGE, run.high[i]) for i in (0, 1))
    return (low[0], low[1]), (high[0], high[1]), min(min(_sides(x)) for x in heap)


def _close_ups(windows: Sequence[Window], left: float, right: float, room: tuple[float, float]) -> list[View]:
    """One under the other from the upper end, all shrunk alike where they are too tall."""
    sizes = []
    for low, high, narrowest in windows:
        wide, tall = high[0] - low[0], high[1] - low[1]
        sizes.append(min(LARGE / narrowest, (right - left - 4) / wide, MOST_TALL / tall))
    # a row of words over each
    heights = [scale * (w[1][1] - w[0][1]) for scale, w in zip(sizes, windows, strict=True)]
    shrink = min(1.0, (room[1] - room[0] - 20.0 * len(windows)) / sum(heights))
    out: list[View] = []
    y = room[1] - 4
    for i, ((low, high, _), size) in enumerate(zip(windows, sizes, strict=True)):
        scale = size * shrink
        y -= (high[1] - low[1]) * scale + 12
        x = left + (right - left - (high[0] - low[0]) * scale) / 2
        out.append(View(low, high, x, y, scale, letter(i)))
        y -= 8
    return out


def letter(i: int) -> str:
    """A, B ... Z, AA, AB ...

    >>> letter(0), letter(27)
    ('A', 'AB')
    """
    return (letter(i // 26 - 1) if i >= 26 else "") + chr(ord("A") + i % 26)


def crossing(cuts: Sequence[Cut], view: View) -> Iterator[tuple[Cut, tuple[Flat, Flat]]]:
    """Every cut that a view shows, and its stretch there. [in]"""
    for cut in cuts:
        line = view.stretch(cut)
        if line is not None:
            yield cut, line
