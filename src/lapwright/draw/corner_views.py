"""The two views of a back corner: cut just above the roof and seen from above, and seen from its side."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from lapwright.draw.corner_metal import Corner, opening_under, tab_foot, tab_of, tab_width, tongue_of
from lapwright.draw.dimension import Span, draw_dimension
from lapwright.draw.display import Text
from lapwright.draw.features import Window, clip
from lapwright.draw.heading import BODY
from lapwright.draw.layers import Placed
from lapwright.draw.naming import Namer
from lapwright.draw.sheet import WIDTH, Sheet
from lapwright.draw.stage import runs_in
from lapwright.geom.flat import along
from lapwright.geom.space import Flat, Point, add, dot, sub, unit
from lapwright.metal.model import Body, Face
from lapwright.metal.slice import Cut, chains, slice_sheet
from lapwright.words import Speaker

ABOVE_ROOF = 1.0
"""The view from above is cut this far off the roof, square to it. [in]"""
MARGIN_X, MARGIN_Y = 120.0, 20.0
"""Room beside, above and below a view. [pt]"""


@dataclass(frozen=True, slots=True)
class Board:
    """A view of the corner on the sheet. axes: looking square to them. scale: points to the inch."""

    axes: Cut
    window: Window
    scale: float
    turn: float
    home: Flat = (0.0, 0.0)

    def turned(self, v: Flat) -> Flat:
        """A direction of the view on the sheet."""
        c, s = math.cos(self.turn), math.sin(self.turn)
        return (v[0] * c - v[1] * s, v[0] * s + v[1] * c)

    def at(self, p: Flat) -> Flat:
        """A place in the view on the sheet. [pt]"""
        x, y = self.turned((p[0] * self.scale, p[1] * self.scale))
        return (self.home[0] + x, self.home[1] + y)

    def see(self, p: Point) -> Flat:
        """A point of the roof as the view shows it. [in]"""
        return self.axes.flat(p)

    def extent(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y of the window on the sheet. [pt]"""
        u0, v0, u1, v1 = self.window
        points = [self.at(p) for p in ((u0, v0), (u1, v0), (u1, v1), (u0, v1))]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return (min(xs), min(ys), max(xs), max(ys))


def _title(sheet: Sheet, board: Board, text: str) -> None:
    sheet.text(Text((3.0, board.extent()[3] + MARGIN_Y - 4.0), text, "text", BODY, bold=True))


def _room(sheet: Sheet, board: Board) -> None:
    _, y0, _, y1 = board.extent()
    sheet.crowd.low, sheet.crowd.high = (2.0, y0 - MARGIN_Y), (WIDTH - 2.0, y1 + MARGIN_Y - 10.0)


# --- from above ---------------------------------------------------------------------------------


def draw_from_above(sheet: Sheet, corner: Corner, board: Board, speaker: Speaker) -> None:
    """The roof side of the metal, and everything that stands, cut one inch off the roof."""
    _title(sheet, board, speaker.say("sections.corner_above", height=ABOVE_ROOF))
    _room(sheet, board)
    namer = Namer(sheet)
    o, lean = corner.work.opening, math.tan(corner.work.walls.lean)
    u0, v0, _, _ = board.window
    wall = [(u0, v0), (o.right, v0), (o.right, o.back + ABOVE_ROOF * lean), (u0, o.back + ABOVE_ROOF * lean)]
    sheet.ring([board.at(p) for p in wall], "mask", "hatch")
    for share in (0.2, 0.4, 0.6, 0.8):
        y = v0 + share * (wall[2][1] - v0)
        namer.busy(board.at((u0, y)), board.at((o.right, y)), 2.0, 0.0)
    for a, b in ((wall[1], wall[2]), (wall[2], wall[3])):
        sheet.line(board.at(a), board.at(b), "wall")
        namer.busy(board.at(a), board.at(b), 6.0, 1.0)
    base = _edges(corner.body(corner.side), ("base",), corner.side.moved)
    _strokes(namer, board, base, "under")
    _strokes(
        namer,
        board,
        _pan_edges(corner),
        "seen",
    )
    _strokes(
        namer, board, _edges(corner.body(corner.patch), ("side foot", "end foot"), corner.patch.moved), "patch-edge"
    )
    for one, pen in ((corner.side, "flashing"), (corner.pan, "flashing"), (corner.patch, "patch-edge")):
        for run in _cut(board, one):
            _stroke(namer, board, run, pen)
    _hole(sheet, corner, board)
    _figures_above(sheet, corner, board, speaker)
    _names_above(namer, corner, board, speaker)


def _edges(body: Body, faces: Sequence[str], moved: Point) -> Iterator[tuple[Point, Point, bool]]:
    """Edges of faces in place, and whether each is a bend."""
    folds = [j.edge for j in body.joints] + [j.child_edge for j in body.joints]
    for face in body.faces:
        if face.name in faces:
            for a, b in _sides(face):
                yield add(a, moved), add(b, moved), any(_same((a, b), f) for f in folds)


def _pan_edges(corner: Corner) -> Iterator[tuple[Point, Point, bool]]:
    """Edges of what lies of the pan, or of the cricket's half."""
    body = corner.body(corner.pan)
    return _edges(body, (body.faces[0].name, "plane"), corner.pan.moved)


def _sides(face: Face) -> list[tuple[Point, Point]]:
    return list(zip(face.corners, [*face.corners[1:], face.corners[0]], strict=True))


def _same(a: tuple[Point, Point], b: tuple[Point, Point]) -> bool:
    return any(math.dist(a[0], p) < 1e-7 and math.dist(a[1], q) < 1e-7 for p, q in (b, b[::-1]))


def _strokes(namer: Namer, board: Board, edges: Iterable[tuple[Point, Point, bool]], pen: str) -> None:
    for a, b, is_fold in edges:
        part = clip(board.see(a), board.see(b), board.window)
        if part is not None:
            _stroke(namer, board, part, "fold" if is_fold else pen)


def _stroke(namer: Namer, board: Board, run: Sequence[Flat], pen: str) -> None:
    points = [board.at(p) for p in run]
    namer.sheet.run(points, pen)
    for a, b in itertools.pairwise(points):
        namer.busy(a, b, 6.0, 0.6)


def _stop(corner: Corner) -> tuple[Point, float] | None:
    """The stop hole of the cut at this corner: its middle in place, and its diameter. [in]"""
    x = corner.work.opening.right
    holes = [(p, d) for _, p, d in corner.body(corner.pan).holes if abs(p[0] - x) < 1.0]
    return (add(holes[0][0], corner.pan.moved), holes[0][1]) if holes else None


def _hole(sheet: Sheet, corner: Corner, board: Board) -> None:
    stop = _stop(corner)
    if stop is not None:
        sheet.circle(board.at(board.see(stop[0])), stop[1] / 2 * board.scale, "open", "paper")


def _figures_above(sheet: Sheet, corner: Corner, board: Board, speaker: Speaker) -> None:
    """How far off the opening the leg's edge runs."""
    right, low = corner.work.opening.right, board.window[1]
    ends = [p[0] for p in corner.body(corner.pan).faces[0].corners if right + 1e-6 < p[0] < right + 2.0]
    if ends:
        a, b = board.at((right, low)), board.at((max(ends), low))
        text = speaker.say("sections.figure.cut", value=max(ends) - right)
        _dimension(sheet, a, b, (1.0, 0.0), (0.0, 1.0), (0.0, a[1] - 10.0), text)


def _dimension(sheet: Sheet, a: Flat, b: Flat, run: Flat, out: Flat, through: Flat, text: str) -> None:
    draw_dimension(sheet, Span(a, b, run, out, through), text)


def _names_above(namer: Namer, corner: Corner, board: Board, speaker: Speaker) -> None:
    m = corner.work.measures
    cuts = {
        one.part.kind: [
            run for line in chains(slice_sheet(one.sheet, board.axes)) for run in runs_in(line, board.window)
        ]
        for one in (corner.side, corner.pan, corner.patch)
    }
    base = [e for e in _pan_edges(corner) if not e[2]]
    slant = [(board.see(a), board.see(b)) for a, b, _ in base if abs(abs(a[0] - b[0]) - abs(a[1] - b[1])) < 0.1]
    near = [s for s in slant if abs(s[0][0] - corner.work.opening.right) < 1.5]
    stop = _stop(corner)
    for key, run, values in (
        ("tongue", _longest(cuts[corner.pan.part.kind]), {}),
        ("tab", _near_end(cuts[corner.pan.part.kind]), {"value": tab_width(corner)}),
        ("side_upstand", _longest(cuts["side-wall"]), {}),
        ("side_tab", _near_end(cuts["side-wall"]), {"value": m.side_tab}),
        ("cut45", near[0] if near else None, {}),
        ("patch", _longest(cuts["corner-patch"]), {"value": m.patch}),
    ):
        if run is not None:
            namer.write([board.at(p) for p in run], _say(corner, key, speaker, **values))
    if stop is not None:
        rim = along(board.at(board.see(stop[0])), (1.0, 0.0), stop[1] / 2 * board.scale)
        namer.write([rim, along(rim, (0.0, 1.0), 0.1)], speaker.say("sections.corner.stop", value=stop[1]))


def _cut(board: Board, one: Placed) -> list[tuple[Flat, ...]]:
    """What the view's own plane cuts of a piece, inside the window. [in]"""
    return [run for line in chains(slice_sheet(one.sheet, board.axes)) for run in runs_in(line, board.window)]


def _say(corner: Corner, key: str, speaker: Speaker, **values: float) -> str:
    """A label; a cricket's pieces have names of their own."""
    own = f"sections.corner.{key}_{corner.pan.part.kind}"
    return speaker.say(own if speaker.knows(own) else f"sections.corner.{key}", **values)


def _longest(runs: Sequence[Sequence[Flat]]) -> Sequence[Flat] | None:
    """The longest straight stretch of some lines."""
    pairs = [(a, b) for run in runs for a, b in itertools.pairwise(run)]
    return max(pairs, key=lambda p: math.dist(*p)) if pairs else None


def _near_end(runs: Sequence[Sequence[Flat]]) -> Sequence[Flat] | None:
    """The second longest stretch: a tab beside its upstand."""
    pairs = sorted((p for run in runs for p in itertools.pairwise(run)), key=lambda p: -math.dist(*p))
    return pairs[1] if len(pairs) > 1 else None


# --- from the side ------------------------------------------------------------------------------


def draw_from_side(sheet: Sheet, corner: Corner, board: Board, speaker: Speaker) -> None:
    """The side wall as it is seen standing beside it, the slope as it is."""
    _title(sheet, board, speaker.say("sections.corner_side"))
    _room(sheet, board)
    namer = Namer(sheet)
    pan, side, patch = corner.pan, corner.side, corner.patch
    _strokes(namer, board, _edges(corner.body(side), ("upstand",), side.moved), "under")
    hole = [(y + pan.moved[1], z + pan.moved[2]) for y, z in opening_under(corner)]
    sheet.ring([board.at(p) for p in hole], "open", "dots")
    _strokes(namer, board, _edges(corner.body(pan), (tab_of(corner).name,), pan.moved), "seen")
    for one in (side, pan):
        beside = replace(board, axes=replace(board.axes, origin=(_beside(one, corner), 0.0, 0.0)))
        for run in _cut(beside, one):
            _stroke(namer, board, run, "flashing")
    faces = ("side wall", "side foot")
    _strokes(namer, board, _edges(corner.body(patch), faces, patch.moved), "patch-edge")
    _figures_side(sheet, corner, board, speaker)
    _names_side(namer, corner, board, hole, speaker)


def _beside(one: Placed, corner: Corner) -> float:
    """x of a cut through a piece just inside the opening's side, or just outside it for a side-wall flashing."""
    o = corner.work.opening
    return o.right + (0.5 if one.part.kind == "side-wall" else -0.5)


def _figures_side(sheet: Sheet, corner: Corner, board: Board, speaker: Speaker) -> None:
    moved = corner.pan.moved
    tip = tab_foot(corner)[1]
    foot, top = (tip[0] + moved[1], moved[2]), (tip[0] + moved[1], tip[1] + moved[2])
    square, level = board.turned((0.0, 1.0)), board.turned((1.0, 0.0))
    a, b = board.at(foot), board.at(top)
    through = along(a, level, -1.1 * board.scale)
    _dimension(sheet, a, b, square, level, through, speaker.say("sections.figure.hole", value=tip[1]))
    up, window = corner.work.walls.up, board.window
    # As high up the wall as the window shows of it.
    rise = min(window[3] / up[2], (window[2] - corner.work.opening.back) / max(up[1], 1e-9)) - 0.1
    edge = (corner.work.opening.back + rise * up[1] + moved[1], rise * up[2] + moved[2])
    out = board.turned((-corner.work.walls.out_back[1], -corner.work.walls.out_back[2]))
    start = board.at(edge)
    end = along(start, out, tab_width(corner) * board.scale)
    raised = along(start, board.turned((up[1], up[2])), 10.0)
    text = speaker.say("sections.figure.tab", value=tab_width(corner))
    _dimension(sheet, start, end, out, board.turned((up[1], up[2])), raised, text)


def _names_side(namer: Namer, corner: Corner, board: Board, hole: Sequence[Flat], speaker: Speaker) -> None:
    pan, side, patch = corner.pan, corner.side, corner.patch

    up = corner.work.walls.up

    def edge(one: Placed, face: str, rising: bool) -> list[Flat]:
        """The longest edge of a face that runs up the wall, or that does not; the farthest downslope of those."""
        rows = []
        for a, b, _ in _edges(corner.body(one), (face,), one.moved):
            part = clip(board.see(a), board.see(b), board.window)
            if part is not None and (abs(dot(unit(sub(b, a)), up)) > 0.98) == rising:
                rows.append(part)
        return [board.at(p) for p in max(rows, key=lambda r: (round(math.dist(*r), 3), -r[0][0]))]

    near, tip = tab_foot(corner)
    middle = [board.at(hole[1]), board.at(hole[2])]
    patch_name = speaker.say("sections.corner.patch", value=corner.work.measures.patch)
    namer.write(middle, speaker.say("sections.corner.open", near=near[1], tip=tip[1]))
    namer.write(edge(pan, tab_of(corner).name, True), speaker.say("sections.corner.tab", value=tab_width(corner)))
    namer.write(edge(patch, "side wall", False), patch_name)
    namer.write(edge(side, "upstand", True), speaker.say("sections.corner.side_upstand"))
    for one, face, key in (
        (pan, tongue_of(corner).name, "tongue"),
        (pan, corner.body(pan).faces[0].name, "base"),
        (side, "base", "side_base"),
    ):
        cut = replace(board.axes, origin=(_beside(one, corner), 0.0, 0.0))
        flats = [t for t in slice_sheet(one.sheet, cut) if t.face == face]
        best = _longest([run for t in flats for run in runs_in(t.points, board.window)])
        if best is not None:
            namer.write([board.at(p) for p in best], _say(corner, key, speaker))
