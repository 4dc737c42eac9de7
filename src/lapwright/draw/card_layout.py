"""How wide and high a blank's card is, and where on it the whole blank and its close-ups lie.

Every way to lay it is tried: the one of which most stand on a page wins, and of those the one drawn largest.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from lapwright.draw.close_up import LARGEST, Spot, dense_spots
from lapwright.draw.features import Window, whole
from lapwright.draw.fit import FULL_SIZE, Fitting, Room
from lapwright.draw.running import PITCH
from lapwright.draw.view import NEAR_END, View, shown
from lapwright.metal.model import Bend, Blank
from lapwright.words import Speaker

FULL, HALF = 522.0, 254.0
"""Widths of a card: across the page, or two side by side. [pt]"""
PAGE, GAP = 614.0, 12.0
"""Paper for cards under each other on one page, and between two of them. [pt]"""
HEIGHTS = (92.0, 114.0, 138.0, 166.0, 200.0, 238.0, 290.0, 380.0, 500.0)
"""Room for the whole blank that is tried. [pt]"""
NEAR_HEIGHTS = (96.0, 108.0, 122.0, 130.0, 148.0, 172.0, 200.0)
"""Room for one close-up that is tried. [pt]"""
NEAR_WIDTHS = (172.0, 144.0)
"""Room across for one close-up beside a blank. [pt]"""
MANY = 4
"""Close-ups that may stand in a row under a blank, where there are so many."""
CROWDED = 20
"""From this many figures along one margin on, those of fine places stand on their close-ups only."""
LARGER = 1.12
"""Another way is worth trying when it draws the blank so much larger."""
READS = 0.5
"""A blank may be drawn this much smaller than at its largest on the page."""
CLEAR_SCALE = 24.0
"""From a third of its size up no blank need be drawn larger. [pt/in]"""
SMALL = 3.0
"""A blank no larger than this may be drawn half as large again as it is. [in]"""
ABOVE = 17.0
"""Room above the metal for a label. [pt]"""
LEAST_FRAME = 30.0
"""No close-up is drawn lower or narrower. [pt]"""
LETTER = 11.0
"""Room for a close-up's letter above it. [pt]"""
GAIN = 1.5
"""A close-up is at least this much larger than the blank."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A card before it is drawn. view: of the whole blank, None on a card of close-ups only. [pt]

    spots: the fine places, all of them. near: those shown larger on this card, each with its view.
    elsewhere: places whose figures only their close-ups give, where the whole blank has no room for them. [in]
    """

    width: float
    height: float
    view: View | None
    spots: tuple[Spot, ...]
    near: tuple[tuple[Spot, View], ...]
    elsewhere: tuple[Window, ...] = ()

    @property
    def scale(self) -> float:
        """Of the whole blank. [pt/in]"""
        return self.view.scale if self.view is not None else 0.0


def layouts(
    blank: Blank, bends: tuple[Bend, ...], speaker: Speaker, head: Callable[[float], float]
) -> Iterator[tuple[Laid, ...]]:
    """Ways to lay a blank and its close-ups on cards, the one that takes the least paper first.

    The later ones draw the blank larger, for when its labels find no room; the last gives it a page of its own.

    Args:
        blank, bends: The metal.
        speaker: Prints the figures.
        head: Height of the heading at a width. [pt]
    """
    fitting = Fitting(blank, bends, whole(blank), speaker)
    largest = FULL_SIZE if max(blank.width, blank.height) > SMALL else 1.5 * FULL_SIZE
    fullest = fitting.into((2.0, 0.0, FULL - 2.0, HEIGHTS[-1]), largest, True, ABOVE).scale
    layer = _Layer(fitting, largest, min(READS * fullest, CLEAR_SCALE), speaker, {}, {}, {})
    across = head(FULL)
    ways = [(HALF, head(HALF), 1, 0.0), (FULL, across, 3, 0.0), (FULL, across, MANY, 0.0)]
    ways += [(FULL, across, n, near) for near in NEAR_WIDTHS for n in (1, 2)]
    best: Laid | None = None
    for way in ways:
        for laid in layer.readable(*way, math.inf if best is None else paper(best.width, best.height)):
            if best is None or _worth(laid) < _worth(best):
                best = laid
    if best is not None:
        yield (best,)
        least = LARGER * best.scale
        more = [laid for way in ways for laid in layer.readable(*way, math.inf) if laid.scale > least]
        yield from ((laid,) for laid in sorted(more, key=_worth))
    yield layer.apart(across)


def _worth(laid: Laid) -> tuple[float, bool, float]:
    """Less is better: paper, then no tall narrow cards, then the larger drawing."""
    return (paper(laid.width, laid.height), laid.height > 1.5 * laid.width, -laid.scale)


def paper(width: float, height: float) -> float:
    """The share of a page that a card of this size takes, others like it on the rest. [pt]"""
    under_each_other = math.floor((PAGE + GAP) / (height + GAP))
    return (1.0 if width > HALF else 0.5) / max(under_each_other, 0.5)


_Shown = tuple[View, tuple[Spot, ...], tuple[Window, ...]]


@dataclass(frozen=True, slots=True)
class _Layer:
    """Tries ways to lay one blank. clear: least scale that reads [pt/in].

    seen: fittings of close-ups by window; views: what reads in a room so wide and high, with its fine places;
    reads: the scale at which a close-up reads in a room so wide and high.
    """

    fitting: Fitting
    largest: float
    clear: float
    speaker: Speaker
    seen: dict[tuple[float, ...], Fitting]
    views: dict[tuple[float, float], _Shown | None]
    reads: dict[tuple[Window, float, float], float]

    def readable(self, width: float, head: float, columns: int, near: float, most: float) -> Iterator[Laid]:
        """Cards of this kind that read and take no more paper than `most`, from the lowest up.

        Close-ups stand under the blank, or beside it in columns `near` wide. [pt]
        """
        main = width - columns * near if near else width - 2.0
        for high in HEIGHTS:
            if head + high > PAGE or paper(width, head + high) > most:
                return
            here = self._view(main, high)
            if here is None:
                continue
            made = self._with_spots(width, head, here, columns, near)
            if made is not None and made.height <= PAGE:
                most = min(most, paper(width, made.height))
                yield made
            if here[0].frame[3] + ABOVE + 12 < here[0].high[1]:
                # The blank is as large as its width lets it be: more height is only white paper.
                return

    def _view(self, main: float, high: float) -> _Shown | None:
        """The blank in a room so wide and high, with its fine places; None where it does not read there. [pt]"""
        if (main, high) not in self.views:
            self.views[main, high] = self._read(main, high)
        return self.views[main, high]

    def _read(self, main: float, high: float) -> _Shown | None:
        view = self.fitting.into((2.0, 0.0, main, high), self.largest, True, ABOVE)
        if view.scale < self.clear:
            return None
        if figures_fit(self.fitting, view):
            return view, dense_spots(view), ()
        if len(self.fitting.vs) <= CROWDED:
            return None
        spots = dense_spots(view)
        windows = tuple(s.window for s in spots)
        return (view, spots, windows) if figures_fit(self.fitting, view, windows) else None

    def apart(self, head: float) -> tuple[Laid, ...]:
        """The blank as large as a page holds it, its close-ups on cards of their own."""
        room = (2.0, 0.0, FULL - 2.0, PAGE - head)
        view = self.fitting.into(room, self.largest, True, ABOVE)
        spots = dense_spots(view)
        windows = () if figures_fit(self.fitting, view) else tuple(s.window for s in spots)
        firsts = [s for s in spots if not s.repeats]
        columns, each = self._grid(firsts)
        rows = max(1, int((PAGE - head) / each))
        out = [Laid(FULL, head + room[3], view, spots, (), windows)]
        for some in (firsts[i : i + columns * rows] for i in range(0, len(firsts), columns * rows)):
            high = each * -(-len(some) // columns)
            cells = [_cell(i, columns, FULL / columns, each, high, 0.0) for i in range(len(some))]
            near = tuple((s, self._near(s, c)) for s, c in zip(some, cells, strict=True))
            out.append(Laid(FULL, head + high, None, spots, near))
        return tuple(out)

    def _grid(self, spots: list[Spot]) -> tuple[int, float]:
        """Columns and height of the cells in which all of some close-ups read, as far as any do. [pt]"""
        for columns in (3, 2, 1):
            high = self._near_height(spots, FULL / columns, 0.0) if spots else None
            if high is not None:
                return columns, high
        return 1, NEAR_HEIGHTS[-1]

    def _with_spots(self, width: float, head: float, here: _Shown, columns: int, near: float) -> Laid | None:
        view, spots, elsewhere = here
        firsts = [s for s in spots if not s.repeats]
        n = len(firsts)
        if n < columns and (near or columns == MANY):
            return None
        columns = max(1, min(columns, n))
        rows = -(-n // columns)
        wide = near or width / columns
        each = self._near_height(firsts, wide, GAIN * view.scale) if firsts else 0.0
        if each is None:
            return None
        high = view.high[1]
        if near:
            high = max(high, rows * each)
            view = _raised(self, view, high)
            cells = [_cell(i, columns, wide, high / rows, high, width - columns * wide) for i in range(n)]
        else:
            low = rows * each
            view = _moved(self, view, low)
            high += low
            cells = [_cell(i, columns, wide, each, low, 0.0) for i in range(n)]
        nears = tuple((s, self._near(s, c)) for s, c in zip(firsts, cells, strict=True))
        return Laid(width, head + high, view, spots, nears, elsewhere)

    def _near_height(self, spots: list[Spot], wide: float, least: float) -> float | None:
        """The lowest room in which every close-up reads at `least` points to the inch. [pt] None where none does."""
        need = max(self._fitting(s).lower for s in spots) + ABOVE + LETTER + LEAST_FRAME
        for high in NEAR_HEIGHTS:
            if high >= need and all(self._reads_at(s, wide, high) >= least for s in spots):
                return high
        return None

    def _reads_at(self, spot: Spot, wide: float, high: float) -> float:
        """The scale of a close-up in a room so wide and high [pt/in]; less than any where it does not read there."""
        key = (spot.window, wide, high)
        if key not in self.reads:
            view = self._near(spot, (0.0, 0.0, wide, high))
            x0, y0, x1, y1 = view.frame
            legible = min(x1 - x0, y1 - y0) >= LEAST_FRAME and figures_fit(self._fitting(spot), view)
            self.reads[key] = view.scale if legible else -math.inf
        return self.reads[key]

    def _near(self, spot: Spot, room: Room) -> View:
        x0, y0, x1, y1 = room
        return self._fitting(spot).into((x0 + 2, y0 + 1, x1 - 2, y1 - LETTER + 1), LARGEST, False, ABOVE)

    def _fitting(self, spot: Spot) -> Fitting:
        if spot.window not in self.seen:
            whole_blank = self.fitting
            near = Fitting(whole_blank.blank, whole_blank.bends, spot.window, self.speaker)
            self.seen[spot.window] = near
        return self.seen[spot.window]


def figures_fit(fitting: Fitting, view: View, elsewhere: Sequence[Window] = ()) -> bool:
    """Do the running dimensions stand clear of the corner where both margins meet?"""
    us, vs = shown(fitting.us, elsewhere), shown(fitting.vs, elsewhere)
    x0, y0, _, _ = view.frame
    beside = len(vs) * PITCH <= view.high[1] - y0 + NEAR_END
    return beside and (len(us) + 1) // 2 * PITCH <= view.high[0] - x0 + NEAR_END


def _moved(layer: _Layer, view: View, up: float) -> View:
    """The same view, further up the card. [pt]"""
    (x0, y0), (x1, y1) = view.low, view.high
    return layer.fitting.into((x0, y0 + up, x1, y1 + up), layer.largest, True, ABOVE)


def _raised(layer: _Layer, view: View, high: float) -> View:
    """The view in a higher room, as large as it was: its fine places must stay the same. [pt]"""
    spare = high - view.high[1]
    moved = _moved(layer, view, spare / 2)
    return View(moved.blank, moved.bends, moved.u, moved.v, moved.window, (view.low[0], 0.0), (view.high[0], high))


def _cell(i: int, columns: int, wide: float, high: float, upper: float, left: float) -> Room:
    """The i-th cell of a grid that hangs from `upper`. [pt]"""
    x, y = left + (i % columns) * wide, upper - (i // columns) * high
    return (x, y - high, x + wide, y)


