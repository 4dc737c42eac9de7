"""One view of a blank on a sheet: outline, slits, holes, bends, break lines, figures and labels."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from lapwright.draw.axis import Axis
from lapwright.draw.callout import Label, write_along, write_at
from lapwright.draw.features import Hole, Value, Window, clip, edges, inside, read_hole, values, whole
from lapwright.draw.running import CLEAR, Figure, draw_running, fits
from lapwright.draw.sheet import Sheet
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank
from lapwright.words import Speaker

CUT_PRICE, BEND_PRICE = 4.0, 4.0
NEAR_END = 6.0
"""How far figures may stand past the end of the metal without being pushed. [pt]"""
LEAST_HOLE = 1.1
"""A hole is drawn no smaller than this. [pt]"""


@dataclass(frozen=True, slots=True)
class View:
    """A part of a blank, and where it lies on the sheet. window [in]; low, high: the room round it [pt]."""

    blank: Blank
    bends: tuple[Bend, ...]
    u: Axis
    v: Axis
    window: Window
    low: Flat
    high: Flat

    def at(self, p: Flat) -> Flat:
        """A point of the metal on the sheet. [pt]"""
        return (self.u(p[0]), self.v(p[1]))

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """The window on the sheet: least x, least y, greatest x, greatest y. [pt]"""
        u0, v0, u1, v1 = self.window
        return (self.u(u0), self.v(v0), self.u(u1), self.v(v1))

    @property
    def scale(self) -> float:
        """Points to the inch, outside any break."""
        runs = [r for axis in (self.u, self.v) for r in pairwise(axis.knots)]
        return max((b[1] - a[1]) / (b[0] - a[0]) for a, b in runs)

    @property
    def is_whole(self) -> bool:
        """Does it show the whole blank?"""
        return self.window == whole(self.blank)


def draw_view(sheet: Sheet, view: View, speaker: Speaker, elsewhere: Sequence[Window] = ()) -> None:
    """Draw the metal and its running dimensions, less those of places that are dimensioned elsewhere."""
    _draw_metal(sheet, view)
    _draw_breaks(sheet, view)
    draw_figures(sheet, view, speaker, elsewhere)


def label_view(sheet: Sheet, view: View, speaker: Speaker) -> None:
    """Label bends and holes, where there is room among what is drawn."""
    _label_bends(sheet, view, speaker)
    _label_holes(sheet, view, speaker)


def _draw_metal(sheet: Sheet, view: View) -> None:
    if view.is_whole:
        sheet.ring([view.at(p) for p in view.blank.outline], "cut", price=CUT_PRICE)
    else:
        for a, b in edges(view.blank):
            _clipped(sheet, view, a, b, "cut", CUT_PRICE)
    for a, b in view.blank.cuts:
        _clipped(sheet, view, a, b, "slit", CUT_PRICE)
    for bend in view.bends:
        _clipped(sheet, view, bend.start, bend.end, f"bend-{bend.way}", BEND_PRICE, bend.id)
    for ring in view.blank.holes:
        _draw_hole(sheet, view, ring)


def _clipped(sheet: Sheet, view: View, a: Flat, b: Flat, layer: str, price: float, owner: str = "") -> None:
    part = clip(a, b, view.window)
    if part is not None:
        sheet.line(view.at(part[0]), view.at(part[1]), layer, price, owner)


def _draw_hole(sheet: Sheet, view: View, ring: Sequence[Flat]) -> None:
    hole = read_hole(ring)
    if not inside(hole.centre, view.window):
        return
    if hole.diameter is None:
        sheet.ring([view.at(p) for p in ring], "cut", price=CUT_PRICE)
        return
    centre, radius = view.at(hole.centre), _drawn_radius(view, hole)
    sheet.circle(centre, radius, "hole", "paper")
    inner = 0.8 * radius
    sheet.block((centre[0] - inner, centre[1] - inner), (centre[0] + inner, centre[1] + inner))


def _drawn_radius(view: View, hole: Hole) -> float:
    return max((hole.diameter or 0.0) / 2 * view.scale, LEAST_HOLE)


def _draw_breaks(sheet: Sheet, view: View) -> None:
    for x in view.u.breaks:
        _break(sheet, view, x, 0)
    for y in view.v.breaks:
        _break(sheet, view, y, 1)


def _break(sheet: Sheet, view: View, place: float, axis: int) -> None:
    """Two zigzags across the metal and a white gap between them."""
    low, high = _crossed(view, place, axis)
    middle, wide, reach = (low + high) / 2, 3.0, 5.0

    def at(along: float, across: float) -> Flat:
        return (along, across) if axis == 0 else (across, along)

    a, b = low - reach, high + reach
    gap = (at(place - wide, a), at(place + wide, a), at(place + wide, b), at(place - wide, b))
    sheet.ring(gap, "mask", "paper")
    sheet.crowd.block(gap)
    for side in (-wide, wide):
        p = place + side
        tooth = ((p, middle - 4), (p - 3, middle - 1.5), (p + 3, middle + 1.5), (p, middle + 4))
        zigzag = ((p, a), *tooth, (p, b))
        sheet.run([at(*q) for q in zigzag], "break")


def _crossed(view: View, place: float, axis: int) -> tuple[float, float]:
    """From where to where the metal is crossed by a break at `place`. [pt]"""
    points = [(view.at(a), view.at(b)) for a, b in edges(view.blank)]
    passing = [a[1 - axis] for a, b in points if min(a[axis], b[axis]) <= place <= max(a[axis], b[axis])]
    return (min(passing), max(passing))


def draw_figures(sheet: Sheet, view: View, speaker: Speaker, elsewhere: Sequence[Window] = ()) -> None:
    """Running dimensions: u along the lower margin, v along the left one, from the datum edges."""
    x0, y0, x1, y1 = view.frame
    us, vs = figures(view, 0, speaker, elsewhere), figures(view, 1, speaker, elsewhere)
    draw_running(sheet, "left", vs, x0 - CLEAR, *_margin(vs, (y0, y1), (view.low[1], view.high[1])))
    near, far = us, []
    if not fits(us, max(x0 - NEAR_END, view.low[0]), view.high[0]):
        near, far = us[::2], us[1::2]
    draw_running(sheet, "lower", near, y0 - CLEAR, *_margin(near, (x0, x1), (view.low[0], view.high[0])))
    if far:
        draw_running(sheet, "upper", far, y1 + CLEAR, *_margin(far, (x0, x1), (view.low[0], view.high[0])))


def _margin(
    figs: Sequence[Figure], metal: tuple[float, float], room: tuple[float, float]
) -> tuple[float, float]:
    """Keep to the metal's own length where the figures fit there, else go on past its far end. [pt]

    Only where that is too short too do they use the whole margin, round the corner where both margins meet.
    """
    own = (max(metal[0] - NEAR_END, room[0]), min(metal[1] + NEAR_END, room[1]))
    if fits(figs, *own):
        return own
    past = (own[0], room[1])
    return past if fits(figs, *past) else room


def figures(view: View, axis: int, speaker: Speaker, elsewhere: Sequence[Window] = ()) -> list[Figure]:
    """The figures along one margin; each line starts at the feature nearest that margin."""
    out = []
    for value in shown(values(axis, view.blank, view.bends, view.window, speaker.length), elsewhere):
        along = (view.u, view.v)[axis](value.value)
        out.append(Figure(along, _start(view, axis, value), value.text))
    return out


def shown(rows: Iterable[Value], elsewhere: Sequence[Window]) -> list[Value]:
    """The values with at least one point outside the places that are dimensioned elsewhere. [in]"""
    return [r for r in rows if not all(any(inside(p, w) for w in elsewhere) for p in r.points)]


def _start(view: View, axis: int, value: Value) -> float:
    return (view.v, view.u)[axis](min(p[1 - axis] for p in value.points))


def bend_text(bend: Bend, speaker: Speaker) -> str:
    """What a bend's label says: way, angle, and the hem it makes."""
    return speaker.say(f"draw.{bend.kind.replace('-', '_')}_{bend.way}", angle=bend.angle_deg)


def _label_bends(sheet: Sheet, view: View, speaker: Speaker) -> None:
    shown = [(bend, clip(bend.start, bend.end, view.window)) for bend in view.bends]
    lines = [(bend, view.at(part[0]), view.at(part[1])) for bend, part in shown if part is not None]
    for bend, a, b in sorted(lines, key=lambda row: (-math.dist(row[1], row[2]), row[0].order)):
        label = Label(str(bend.order), bend_text(bend, speaker))
        write_along(sheet, a, b, label, bend.id)


def _label_holes(sheet: Sheet, view: View, speaker: Speaker) -> None:
    """One label for all round holes of one size, at the first of them."""
    sizes: dict[str, list[Hole]] = {}
    for hole in map(read_hole, view.blank.holes):
        if hole.diameter is not None and inside(hole.centre, view.window):
            sizes.setdefault(speaker.length(hole.diameter), []).append(hole)
    for size, holes in sorted(sizes.items()):
        key = "draw.hole" if len(holes) == 1 else "draw.holes"
        label = Label("", speaker.say(key, size=size, count=len(holes)))
        write_at(sheet, view.at(holes[0].centre), label, radius=_drawn_radius(view, holes[0]))


def draw_datum(sheet: Sheet, view: View) -> None:
    """Heavy lines with triangles along the two edges that every figure is measured from."""
    x0, y0, x1, y1 = view.frame
    x, y = x0 - CLEAR, y0 - CLEAR
    sheet.line((x, y), (x, y1), "datum", 3.0)
    sheet.line((x, y), (x1, y), "datum", 3.0)
    for along in (y0 + 8, y1 - 8):
        sheet.ring([(x - 6, along + 3), (x - 6, along - 3), (x, along)], "datum", "ink")
    for along in (x0 + 8, x1 - 8):
        sheet.ring([(along - 3, y - 6), (along + 3, y - 6), (along, y)], "datum", "ink")
