"""Where beads, tapes and fixings of one opening lie on the roof: the takeoff's uses, as lines and dots. Inches.

Lines show where a run goes, not every wrinkle of it; how much of it is bought is the takeoff's to say.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from lapwright import tables
from lapwright.detail.cricket import rib_ends
from lapwright.detail.model import OpeningDetail, Pan
from lapwright.draw.pipe_runs import hood_lines, lap_rivets, pipe_beads, riveted, rivets_of
from lapwright.geom.space import Flat
from lapwright.metal.model import Piece, RoofPanel
from lapwright.shop import rates
from lapwright.shop.beads import of
from lapwright.site.model import Site

Look = Literal["bead", "tape", "screw", "wedge"]

INSIDE = 0.6
"""A bead up a rib is drawn this far inside the pan's edge, so that both lines can be told apart. [in]"""
APART = 0.9
"""Between the two runs of tape under a cleat or a panel's end. [in]"""
ON_DECK = 0.6
"""A face whose corners all lie this near the roof is on it. [in]"""


@dataclass(frozen=True, slots=True)
class Shown:
    """One use of the takeoff (`bead-hems`): how it looks, and its lines [in] or, for fixings, its dots [in]."""

    use: str
    look: Look
    paths: tuple[tuple[Flat, ...], ...]


def shown(
    site: Site, detail: OpeningDetail, pieces: Sequence[Piece], panels: Sequence[RoofPanel]
) -> tuple[Shown, ...]:
    """Every run and every row of fixings round one opening, in the takeoff's order; empty ones left out.

    Args:
        site, detail: The roof and the opening as decided.
        pieces, panels: The opening's own; pieces without a body are left out.
    """
    if not detail.planned:
        return ()
    pieces = [p for p in pieces if p.body is not None]
    rows = (*_beads(detail, pieces), *_tapes(detail, pieces, panels), *_fixings(site, detail, pieces, panels))
    return tuple(Shown(use, look, kept) for use, look, paths in rows if (kept := tuple(p for p in paths if p)))


def _beads(d: OpeningDetail, pieces: Sequence[Piece]) -> Iterator[tuple[str, Look, Iterable[tuple[Flat, ...]]]]:
    pan, o = d.pan, d.opening
    if pan is not None:
        rails = zip((pan.left + INSIDE, pan.right - INSIDE), rib_ends(d), strict=True)
        yield "bead-pan-ribs", "bead", [((x, pan.downslope), (x, y)) for x, y in rails]
        if d.pipe is None:
            yield "bead-pan-laps", "bead", [_to_and_fro(d, pan, "left"), _to_and_fro(d, pan, "right")]
    for use, lines in pipe_beads(d, pieces):
        yield use, "bead", lines
    yield "bead-halves", "bead", _halves(d)
    yield "bead-hems", "bead", [_between_ribs(d, _off_line(d.cleat_line, -d.measures.lip))]
    laps = []
    for p in of(pieces, "side-wall"):
        x0, y0, x1, _ = footprint(p)
        laps += [((x0, y), (x1, y)) for y in (y0 + 0.25 * d.measures.side_lap, y0 + 0.75 * d.measures.side_lap)]
    yield "bead-side-laps", "bead", laps
    riveted = [p for p in of(pieces, "corner-patch") if tables.metals()[p.metal].join == "rivet"]
    yield "bead-patches", "bead", [_ring(footprint(p)) for p in riveted]
    yield "bead-plates", "bead", _plates(d, pieces)
    yield "bead-closures", "bead", [_ring(footprint(p)) for p in of(pieces, "closure")]
    if o.kind == "masonry-chimney" and of(pieces, "counterflashing"):
        yield "bead-reglets", "bead", [_ring((o.left, o.up, o.right, o.back))]


def _tapes(
    d: OpeningDetail, pieces: Sequence[Piece], panels: Sequence[RoofPanel]
) -> Iterator[tuple[str, Look, Iterable[tuple[Flat, ...]]]]:
    if of(pieces, "offset-cleat"):
        yield "tape-cleats", "tape", [_between_ribs(d, _off_line(d.cleat_line, by)) for by in (0.35, 0.35 + APART)]
    ends = []
    for p in (p for p in panels if p.role == "side"):
        y = max(y for _, y in p.outline)
        xs = [x for x, v in p.outline if v > y - 1e-3]
        ends += [((min(xs), y - k), (max(xs), y - k)) for k in (0.5, 0.5 + APART)]
    yield "tape-side-panels", "tape", ends
    yield "tape-side-hems", "tape", [_outer(d, p) for p in of(pieces, "side-wall")]
    yield "tape-hook-strips", "tape", [_long(p) for p in of(pieces, "hook-strip")]


def _fixings(
    site: Site, d: OpeningDetail, pieces: Sequence[Piece], panels: Sequence[RoofPanel]
) -> Iterator[tuple[str, Look, Iterable[tuple[Flat, ...]]]]:
    base = [*pairwise(_between_ribs(d, _off_line(d.cleat_line, d.measures.cleat_base / 2)))]
    if of(pieces, "offset-cleat"):
        yield "screws-cleats", "screw", [_along(run, rates.CLEAT_SCREW) for run in base]
    strips = [_along(_long(p), rates.STRIP_SCREW) for p in of(pieces, "hook-strip")]
    yield "screws-hook-strips", "screw", strips
    if d.pan is not None and d.cricket is None:
        y = d.pan.upslope - INSIDE
        yield "screws-pans", "screw", [_along(((d.pan.left + 1, y), (d.pan.right - 1, y)), rates.STRIP_SCREW)]
    if d.pipe is None:
        yield "screws-dams", "screw", [_along(run, rates.STRIP_SCREW) for run in _dams(d, panels)]
    counter, o = of(pieces, "counterflashing"), d.opening
    if counter:
        masonry = o.kind == "masonry-chimney"
        spacing = rates.WEDGE if masonry else rates.WALL_SCREW
        ring = _ring((o.left, o.up, o.right, o.back))
        sides = [_along(side, spacing) for side in pairwise(ring)]
        yield ("wedges", "wedge", sides) if masonry else ("screws-walls", "screw", sides)
    for use, look in (("rivets", "rivet"), ("solder", "solder")):
        joined = [p for p in of(pieces, "corner-patch") if tables.metals()[p.metal].join == look]
        yield use, "screw", [_ring(footprint(p))[:4] for p in joined]
    if d.pipe is not None:
        soldered = not riveted(pieces, "sleeve")
        hoods = (x for p in of(pieces, "rib-hood") for x in hood_lines(p))
        places = [*lap_rivets(d, d.pipe), rivets_of(d.pipe), *hoods]
        yield "solder-pipes" if soldered else "rivets-pipes", "screw", places


def footprint(piece: Piece) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of what of a piece lies on the roof, or of all of it. [in]"""
    faces = [f.corners for f in piece.body.faces] if piece.body is not None else []
    flat = [c for c in faces if all(abs(p[2]) <= ON_DECK for p in c)] or faces
    xs, ys = [p[0] for c in flat for p in c], [p[1] for c in flat for p in c]
    return (min(xs), min(ys), max(xs), max(ys))


def _to_and_fro(d: OpeningDetail, pan: Pan, hand: str) -> tuple[Flat, ...]:
    """The passes across one leg, from its end to the end of the side panel beneath."""
    o = d.opening
    x0, x1 = (pan.left + INSIDE, o.left) if hand == "left" else (o.right, pan.right - INSIDE)
    lap = o.back + d.measures.overrun - pan.downslope
    passes = rates.spaced(lap, rates.LAP_PASS)
    out: list[Flat] = []
    for i in range(passes):
        y = pan.downslope + lap * i / (passes - 1)
        # Above the back face the leg is part of the pan: its passes reach no further than the opening's side.
        out += [(x0, y), (x1, y)] if i % 2 == 0 else [(x1, y), (x0, y)]
    return tuple(out)


def _halves(d: OpeningDetail) -> list[tuple[Flat, ...]]:
    """Two beads beyond a cricket's ridge and one along it, as seen from above; those on the wall stand on edge."""
    c = d.cricket
    if c is None:
        return []
    x, foot, head = c.ridge_head[0], c.ridge_foot[1], c.ridge_head[1]
    apex = head + d.measures.valley_flange / math.cos(c.valley_angle)
    return [((x, foot), (x, head)), *(((x + k, head), (x + k, apex)) for k in (-APART / 2, APART / 2))]


def _off_line(line: Sequence[Flat], by: float) -> tuple[Flat, ...]:
    """A run of lines moved upslope, square to each of them. [in]"""
    moved = []
    for a, b in pairwise(line):
        length = math.dist(a, b)
        nx, ny = (a[1] - b[1]) / length * by, (b[0] - a[0]) / length * by
        moved.append(((a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny)))
    if not moved:
        return ()
    corners = [_meet(*one, *two) for one, two in pairwise(moved)]
    return (moved[0][0], *corners, moved[-1][1])


def _between_ribs(d: OpeningDetail, line: tuple[Flat, ...]) -> tuple[Flat, ...]:
    """A line along the cleats, cut off where the pan's edges stop it: it was drawn to the ribs' centres. [in]"""
    if d.pan is None or len(line) < 2:
        return line
    stop = d.measures.rib_stop
    first = _at(line[0], line[1], d.pan.left + stop)
    last = _at(line[-1], line[-2], d.pan.right - stop)
    return (first, *line[1:-1], last)


def _at(a: Flat, b: Flat, x: float) -> Flat:
    """The point of the line through a and b that stands at x. [in]"""
    if abs(b[0] - a[0]) < 1e-9:
        return a
    return (x, a[1] + (x - a[0]) * (b[1] - a[1]) / (b[0] - a[0]))


def _meet(a: Flat, b: Flat, c: Flat, d: Flat) -> Flat:
    """Where two lines cross; the first one's end where they run on in one line."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    turn = ux * vy - uy * vx
    if abs(turn) < 1e-9:
        return b
    t = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / turn
    return (a[0] + t * ux, a[1] + t * uy)


def _ring(box: tuple[float, float, float, float]) -> tuple[Flat, ...]:
    x0, y0, x1, y1 = box
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0))


def _plates(d: OpeningDetail, pieces: Sequence[Piece]) -> list[tuple[Flat, ...]]:
    """A square at every turn of the finished edge that has a plate under it."""
    if not of(pieces, "backing-plate"):
        return []
    half = d.measures.plate / 2
    turns = _off_line(d.cleat_line, -d.measures.lip)[1:-1]
    return [_ring((x - half, y - half, x + half, y + half)) for x, y in turns]


def _outer(d: OpeningDetail, piece: Piece) -> tuple[Flat, ...]:
    """Along the hem of a side-wall flashing."""
    x0, y0, x1, y1 = footprint(piece)
    x = x0 + 2 * APART if piece.hand == "left" else x1 - 2 * APART
    return ((x, y0), (x, y1))


def _long(piece: Piece) -> tuple[Flat, ...]:
    """Down the middle of a strip, the long way."""
    x0, y0, x1, y1 = footprint(piece)
    if x1 - x0 > y1 - y0:
        return ((x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2))
    return (((x0 + x1) / 2, y0), ((x0 + x1) / 2, y1))


def _along(run: Sequence[Flat], spacing: float) -> tuple[Flat, ...]:
    """One at each end of a straight run, the gaps no wider than `spacing`. [in]"""
    a, b = run[0], run[-1]
    n = rates.spaced(math.dist(a, b), spacing)
    return tuple((a[0] + (b[0] - a[0]) * i / (n - 1), a[1] + (b[1] - a[1]) * i / (n - 1)) for i in range(n))


def _dams(d: OpeningDetail, panels: Sequence[RoofPanel]) -> Iterator[tuple[Flat, Flat]]:
    o = d.opening
    for p in (p for p in panels if p.role in ("side", "lower")):
        xs = [x for x, _ in p.outline]
        left, right = max(min(xs), o.left), min(max(xs), o.right)
        if right - left > 1e-6:
            yield (left, o.up - INSIDE), (right, o.up - INSIDE)
