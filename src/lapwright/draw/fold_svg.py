"""The blank folding in its order: one SVG that moves by itself, without a script.

Every frame is drawn whole, the far parts first, and shown for its share of the time. A program that does not play
animations shows the folded piece. Painted side white, other side grey.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from html import escape

from lapwright.draw.bending import what_of
from lapwright.draw.blank import Item, title_of
from lapwright.draw.svg import FAMILY
from lapwright.geom.space import Flat, Frame, Point, dot
from lapwright.metal.develop import Developed, Zone, develop, part_slits
from lapwright.shop.bending.model import BendPlan, Operation
from lapwright.shop.bending.numbers import numbers_of
from lapwright.shop.bending.partial import rolled
from lapwright.words import Speaker

WIDTH, HEIGHT, EDGE, FOOT = 504.0, 400.0, 12.0, 30.0
"""The picture, the air round it, and the room for words under it. [pt]"""

FRAMES, REST = 5, 4
"""Pictures of one operation's movement, and how many pictures long the piece rests after it."""

SECONDS = 0.14
"""How long one picture stands. [s]"""

ARC_DEG = 45.0
"""Widest facet of a bend."""

TOWARD_EYE: Point = (-1 / math.sqrt(3), -1 / math.sqrt(3), 1 / math.sqrt(3))
"""Isometric: the eye looks along u and v and down alike. Source: geometry."""

SIZE = 9.0
"""Of the words. [pt]"""


@dataclass(frozen=True, slots=True)
class _Facet:
    """A flat of one frame: its corners on paper, how far away it is, which side is seen, whether it moves now."""

    points: tuple[Flat, ...]
    far: float
    painted: bool
    rim: bool


@dataclass(frozen=True, slots=True)
class _Frame:
    """Everything drawn at one time, what is said under it, and how many pictures long it stands."""

    facets: tuple[_Facet, ...]
    words: str
    long: int


def fold_animation(piece: Item, plan: BendPlan, speaker: Speaker) -> str:
    """A self-contained SVG of the blank folding, 7 inches wide, seen from one corner and above.

    Args:
        piece: the piece or panel the plan was made for.
        plan: its plan; one that is not feasible shows the flat blank.
        speaker: says each operation.

    Raises:
        ValueError: the piece has no body.
    """
    if piece.body is None:
        raise ValueError("a piece without a body has nothing to fold")
    flat = develop(piece.body)
    title = speaker.say("bending.animation", title=title_of(piece, speaker))
    ways = {b.id: b.way for b in flat.bends}
    numbers = numbers_of(plan)
    labels = [what_of(o, numbers, ways, speaker) for o in plan.operations]
    return _svg(tuple(_frames(flat, plan.operations, labels)), title)


def _frames(flat: Developed, operations: Sequence[Operation], labels: Sequence[str]) -> Iterator[_Frame]:
    angles = [0.0] * len(flat.bends)
    parts = _Parts(flat)
    yield _Frame(parts.at(angles), "", 2 * REST)
    for operation, label in zip(operations, labels, strict=True):
        moving = [i for i, b in enumerate(flat.bends) if b.id in operation.bends]
        start = [angles[i] for i in moving]
        for step in range(1, FRAMES + 1):
            for i, a in zip(moving, start, strict=True):
                angles[i] = a + (operation.angle_deg - a) * step / FRAMES
            yield _Frame(parts.at(angles), label, 1 if step < FRAMES else REST)
    yield _Frame(parts.at(angles), "", 3 * REST)


class _Parts:
    """The facets of a piece; a part that has not moved since it was last drawn is the same facet."""

    def __init__(self, flat: Developed) -> None:
        self.flat = flat
        self.rings = {r.face: part_slits(list(r.ring))[0] for r in flat.regions}
        root = flat.regions[0].face
        self.frames: dict[str, Frame] = {root: Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))}
        self.turned: list[float | None] = [None] * len(flat.zones)
        self.faces = {root: self._face(root)}
        self.bends: list[tuple[_Facet, ...]] = [()] * len(flat.zones)

    def at(self, angles: Sequence[float]) -> tuple[_Facet, ...]:
        """All facets, with each bend turned so far. [deg]"""
        moved: set[str] = set()
        for i, (z, angle) in enumerate(zip(self.flat.zones, angles, strict=True)):
            if angle == self.turned[i] and z.parent not in moved:
                continue
            self.turned[i] = angle
            moved.add(z.child)
            parent = self.frames[z.parent]
            self.frames[z.child] = parent if angle == 0.0 else rolled(parent, z, angle, self.flat.thickness)
            self.faces[z.child] = self._face(z.child)
            self.bends[i] = tuple(_bend(parent, self.frames[z.child], z, angle, self.flat.thickness))
        return (*self.faces.values(), *(facet for bend in self.bends for facet in bend))

    def _face(self, face: str) -> _Facet:
        frame = self.frames[face]
        return _facet([frame.space(p) for p in self.rings[face]], frame.ez, True)


def _bend(parent: Frame, child: Frame, z: Zone, angle: float, thickness: float) -> Iterator[_Facet]:
    """The metal between two flats: as far as it is bent, in facets; what is not bent yet, flat with the child."""
    steps = max(1, math.ceil(angle / ARC_DEG))
    last = tuple(parent.space(p) for p in z.near)
    for k in range(1, steps + 1):
        part = rolled(parent, z, angle * k / steps, thickness)
        bent = min(1.0, angle * k / steps / z.angle_deg)
        line = tuple(part.space(_between(a, b, bent)) for a, b in zip(z.near, z.far, strict=True))
        yield _facet([last[0], last[1], line[1], line[0]], part.ez, False)
        last = line
    end = tuple(child.space(p) for p in z.far)
    if angle < z.angle_deg:
        yield _facet([last[0], last[1], end[1], end[0]], child.ez, False)


def _between(a: Flat, b: Flat, share: float) -> Flat:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _facet(corners: Sequence[Point], normal: Point, rim: bool) -> _Facet:
    n = len(corners)
    middle = tuple(sum(p[k] for p in corners) / n for k in range(3))
    far = -dot((middle[0], middle[1], middle[2]), TOWARD_EYE)
    return _Facet(tuple(map(_on_paper, corners)), far, dot(normal, TOWARD_EYE) > 0, rim)


def _on_paper(p: Point) -> Flat:
    """Isometric: right, up. [in]"""
    return ((p[0] - p[1]) / math.sqrt(2), (p[0] + p[1]) / math.sqrt(6) + p[2] * math.sqrt(2 / 3))


def _svg(frames: Sequence[_Frame], title: str) -> str:
    points = [p for f in frames for facet in f.facets for p in facet.points]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    room = (WIDTH - 2 * EDGE, HEIGHT - 2 * EDGE - FOOT)
    scale = min(room[0] / (max(xs) - min(xs)), room[1] / (max(ys) - min(ys)))
    x0 = WIDTH / 2 - scale * (min(xs) + max(xs)) / 2
    y0 = EDGE + room[1] / 2 + scale * (min(ys) + max(ys)) / 2

    def at(p: Flat) -> str:
        return f"{x0 + scale * p[0]:.1f},{y0 - scale * p[1]:.1f}"

    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH / 72:g}in" height="{HEIGHT / 72:.4f}in" '
        f'viewBox="0 0 {WIDTH:g} {HEIGHT:g}" font-family="{FAMILY}" font-size="{SIZE:g}" stroke-linejoin="round">',
        f"<title>{escape(title, quote=False)}</title>",
        f'<rect width="{WIDTH:g}" height="{HEIGHT:g}" fill="#fff"/>',
        f'<text x="{EDGE:g}" y="{HEIGHT - EDGE - 12:g}">{escape(title, quote=False)}</text>',
    ]
    whole = sum(f.long for f in frames)
    kept: dict[str, str] = {}
    named: dict[int, str] = {}
    begun = 0
    for n, frame in enumerate(frames):
        shown = _shown(begun / whole, (begun + frame.long) / whole, whole * SECONDS)
        begun += frame.long
        rows.append(f'<g visibility="{"visible" if n == len(frames) - 1 else "hidden"}">{shown}')
        for facet in sorted(frame.facets, key=lambda one: -one.far):
            # A part that does not move is written once and shown again.
            if id(facet) not in named:
                named[id(facet)] = kept.setdefault(_polygon(facet, at), f"p{len(kept)}")
            rows.append(f'<use href="#{named[id(facet)]}"/>')
        if frame.words:
            words = escape(frame.words, quote=False)
            rows.append(f'<text x="{EDGE:g}" y="{HEIGHT - EDGE:g}" font-weight="bold">{words}</text>')
        rows.append("</g>")
    parts = [f'<polygon id="{name}" {made}' for made, name in kept.items()]
    return "\n".join([*rows[:1], "<defs>", *parts, "</defs>", *rows[1:], "</svg>"]) + "\n"


def _polygon(facet: _Facet, at: Callable[[Flat], str]) -> str:
    fill = "#fff" if facet.painted else "#bbb"
    line = ' stroke="#000" stroke-width="0.9"' if facet.rim else f' stroke="{fill}" stroke-width="0.3"'
    return f'points="{" ".join(map(at, facet.points))}" fill="{fill}"{line}/>'


def _shown(start: float, end: float, seconds: float) -> str:
    """Visible from one share of the time to another, over and over."""
    times, values = ["0"], ["visible" if start == 0.0 else "hidden"]
    for at, value in ((start, "visible"), (end, "hidden")):
        if 0.0 < at < 1.0:
            times.append(f"{at:.5f}")
            values.append(value)
    return (
        f'<animate attributeName="visibility" calcMode="discrete" dur="{seconds:.2f}s" repeatCount="indefinite" '
        f'values="{";".join(values)}" keyTimes="{";".join(times)}"/>'
    )
