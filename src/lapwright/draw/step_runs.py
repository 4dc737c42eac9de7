"""Where the sealant, the tape and the screws of a piece lie, seen from above.

The runs are those that shop/beads.py and shop/fixings.py count, laid where the hand lays them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from lapwright.detail.model import Detail, OpeningDetail, Part
from lapwright.draw.pipe_runs import across_lap, foot, hood_lines, lap_rivets, plate_rings, rivets_of
from lapwright.geom.space import Flat, Point
from lapwright.metal.model import Body, Piece, RoofPanel
from lapwright.shop import rates
from lapwright.shop.beads import upper_end_width
from lapwright.shop.fixings import UNNAILED
from lapwright.site.model import Site
from lapwright.tables import metals

FIRST_TAPE, SECOND_TAPE = 1.0, 2.5
"""Two tape runs lie this far below the upslope end of a side panel. House rule. [in]"""

PAN_SCREWS_IN = 1.0
"""Pan screws stand this far below its upslope end. House rule. [in]"""


@dataclass(frozen=True, slots=True)
class Laid:
    """A run of sealant or tape, or one row of screws, on the roof. [in]

    kind: sealant, solder, tape or screw. use: as in shop/beads.py and shop/fixings.py. points: a line, or the screws.
    """

    kind: str
    use: str
    points: tuple[Flat, ...]


def laid_with(site: Site, detail: Detail, part: Part, made: Piece | RoofPanel) -> tuple[Laid, ...]:
    """Everything that is gunned, taped and driven when a part goes on, copies and all."""
    own = None if part.opening is None else detail.openings[part.opening]
    write = ROLES[part.role] if part.role else KINDS.get(part.kind)
    if write is None:
        return ()
    once = tuple(write(site, own, part, made))
    return tuple(
        Laid(r.kind, r.use, tuple((x + along, y) for x, y in r.points)) for along in part.copies for r in once
    )


Writer = Callable[[Site, OpeningDetail | None, Part, "Piece | RoofPanel"], Iterator[Laid]]


def row(a: Flat, b: Flat, length: float, spacing: float) -> tuple[Flat, ...]:
    """Screws from a to b: as many as hold a run of `length`, none farther apart than `spacing`. [in]"""
    count = rates.spaced(length, spacing)
    return tuple(_on(a, b, i / max(count - 1, 1)) for i in range(count))


def _on(a: Flat, b: Flat, t: float) -> Flat:
    return (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))


def _drop(p: Point) -> Flat:
    return (p[0], p[1])


def _body(made: Piece | RoofPanel) -> Body:
    assert made.body is not None
    return made.body


def _closed(ring: Sequence[Flat]) -> tuple[Flat, ...]:
    return (*ring, ring[0])


def _box(body: Body) -> tuple[Flat, ...]:
    points = [_drop(p) for f in body.faces for p in f.corners]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return ((min(xs), min(ys)), (max(xs), min(ys)), (max(xs), max(ys)), (min(xs), max(ys)))


def _strip(body: Body, name: str, share: float) -> tuple[Flat, Flat]:
    """A line along a four-cornered face, `share` of its width from its first edge."""
    a, b, c, d = (_drop(p) for p in body.face(name).corners)
    return _on(a, d, share), _on(b, c, share)


def _closure(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    body = _body(made)
    ring = _box(body) if part.where == "rib" else tuple(_drop(p) for p in body.face("base").corners)
    yield Laid("sealant", "bead-closures", _closed(ring))


def _hook(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    a, b = _strip(_body(made), "base", 0.5)
    yield Laid("tape", "tape-hook-strips", (a, b))
    yield Laid("screw", "screws-hook-strips", row(a, b, math.dist(a, b), rates.STRIP_SCREW))


def _side_wall(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    """Tape under the hem; two beads across the lap over the apron."""
    assert own is not None
    base = [_drop(p) for p in _body(made).face("base").corners]
    o, m = own.opening, own.measures
    at_left = part.where == "left"
    outer = min(p[0] for p in base) if at_left else max(p[0] for p in base)
    wall = o.left if at_left else o.right
    inward = 1.0 if at_left else -1.0
    ys = [p[1] for p in base]
    x = outer + inward * m.hem / 2
    yield Laid("tape", "tape-side-hems", ((x, min(ys)), (x, max(ys))))
    for share in (0.3, 0.7):
        y = o.up - m.side_lap * (1.0 - share)
        yield Laid("sealant", "bead-side-laps", ((outer + inward * m.hem, y), (wall, y)))


def _pan(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    """Up both ribs, to and fro across the legs' laps, screws along the upslope end."""
    assert own is not None and own.pan is not None
    pan, o = own.pan, own.opening
    for x in (pan.left, pan.right):
        yield Laid("sealant", "bead-pan-ribs", ((x, pan.downslope), (x, pan.upslope)))
    for a, b in ((pan.left, o.left), (o.right, pan.right)):
        for y in _passes(own):
            yield Laid("sealant", "bead-pan-laps", ((a, y), (b, y)))
    y = pan.upslope - PAN_SCREWS_IN
    inset = PAN_SCREWS_IN
    points = row((pan.left + inset, y), (pan.right - inset, y), pan.width, rates.STRIP_SCREW)
    yield Laid("screw", "screws-pans", points)


def _cricket(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    """One half: up its own rib, to and fro across its own leg's lap, the right one along the middle; no screw."""
    assert own is not None and own.pan is not None
    pan, o = own.pan, own.opening
    rib, inner = (pan.left, o.left) if part.where == "left" else (pan.right, o.right)
    ys = [y for f in _body(made).faces for x, y in map(_drop, f.corners) if abs(x - rib) < 0.25]
    yield Laid("sealant", "bead-pan-ribs", ((rib, min(ys)), (rib, max(ys))))
    for y in _passes(own):
        yield Laid("sealant", "bead-pan-laps", (min((rib, y), (inner, y)), max((rib, y), (inner, y))))
    if own.cricket is not None and part.where == "right":
        x, foot, head = own.cricket.ridge_head[0], own.cricket.ridge_foot[1], own.cricket.ridge_head[1]
        end = head + own.measures.valley_flange / math.cos(own.cricket.valley_angle)
        yield Laid("sealant", "bead-halves", ((x, foot), (x, end)))


def _passes(own: OpeningDetail) -> list[float]:
    """Heights of the to-and-fro passes across a leg, from its end to the side panel's. [in]"""
    assert own.pan is not None
    low, high = own.pan.downslope, own.opening.back + own.measures.overrun
    passes = rates.spaced(high - low, rates.LAP_PASS)
    return [low + (high - low) * i / max(passes - 1, 1) for i in range(passes)]


def _patch(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    """Soldered round, or sealed round with its rivets in its feet: as the metal asks."""
    body = _body(made)
    assert isinstance(made, Piece)
    riveted = metals()[made.metal].join == "rivet"
    for face in (f for f in body.faces if f.name.endswith("foot")):
        ring = [_drop(p) for p in face.corners]
        yield Laid(*(("sealant", "bead-patches") if riveted else ("solder", "solder")), _closed(ring))
        if riveted:
            middle = (sum(p[0] for p in ring) / len(ring), sum(p[1] for p in ring) / len(ring))
            yield Laid("screw", "rivets", (middle,))


def _cleat(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    body = _body(made)
    assert isinstance(made, Piece)
    for share in (0.25, 0.75):
        yield Laid("tape", "tape-cleats", _strip(body, "base", share))
    a, b = _strip(body, "base", 0.5)
    inset = min(0.5, math.dist(a, b) / 4) / math.dist(a, b)
    ends = _on(a, b, inset), _on(a, b, 1.0 - inset)
    yield Laid("screw", "screws-cleats", row(*ends, made.blank.width, rates.CLEAT_SCREW))


def _plate(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    yield Laid("sealant", "bead-plates", _closed(_box(_body(made))))


def _counter(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    """A bead and wedges along a reglet; screws along anything else."""
    assert own is not None and isinstance(made, Piece)
    body = _body(made)
    edges = [j.edge for j in body.joints if j.child == "leg"]
    if part.where == "cap":
        edges = [j.edge for j in body.joints if j.child.endswith("skirt")]
    if not edges:
        corners = body.faces[0].corners
        edges = [(corners[5], corners[6])]
    masonry = own.opening.kind == "masonry-chimney"
    for a, b in ((_drop(p), _drop(q)) for p, q in edges):
        if masonry:
            yield Laid("sealant", "bead-reglets", (a, b))
        spacing, use = (rates.WEDGE, "wedges") if masonry else (rates.WALL_SCREW, "screws-walls")
        yield Laid("screw", use, row(_on(a, b, 0.06), _on(a, b, 0.94), math.dist(a, b), spacing))


def _panel_screws(site: Site, panel: RoofPanel) -> Iterator[Laid]:
    """Clips or flange screws along the leading leg, wherever it keeps its flange."""
    xs = [x for x, _ in panel.outline]
    leading = max(xs) if site.panel.lay == "left-to-right" else min(xs)
    if leading < 1e-6 or leading > site.roof.eave - 1e-6:
        return
    ys = sorted(y for x, y in panel.outline if abs(x - leading) < 1e-6)
    off = [(min(n.from_y, n.to_y), max(n.from_y, n.to_y)) for n in panel.notches if n.cut in UNNAILED]
    low, high = ys[0], ys[-1]
    for a, b in off:
        low = b if a <= low + 1e-6 < b else low
        high = a if a < high - 1e-6 <= b else high
    if high > low:
        use = "clips" if site.panel.fixing == "clip" else "screws-flanges"
        points = row((leading, low + 1.0), (leading, high - 1.0), high - low, rates.PANEL_FIXING)
        yield Laid("screw", use, points)


def _through(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    assert isinstance(made, RoofPanel)
    yield from _panel_screws(site, made)


def _dam(own: OpeningDetail, panel: RoofPanel) -> Iterator[Laid]:
    """Screws of the end that is turned up under the downslope face."""
    o = own.opening
    xs = [x for x, _ in panel.outline]
    a, b = max(min(xs), o.left), min(max(xs), o.right)
    if b - a > 1e-6:
        inset = min(0.75, (b - a) / 4)
        points = row((a + inset, o.up), (b - inset, o.up), b - a, rates.STRIP_SCREW)
        yield Laid("screw", "screws-dams", points)


def _lower(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    assert own is not None and isinstance(made, RoofPanel)
    yield from _dam(own, made)
    yield from _panel_screws(site, made)


def _side(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    """Two tape runs across the upslope end; the dam's screws; the leading leg's fixings."""
    assert own is not None and isinstance(made, RoofPanel)
    end = max(y for _, y in made.outline)
    xs = sorted(x for x, y in made.outline if y > end - 1e-3)
    if upper_end_width(made) > 0:
        for a, b in pairwise(xs):
            for down in (FIRST_TAPE, SECOND_TAPE):
                # Where the panel goes round both sides its end has a gap, the opening's width.
                if not (a >= own.opening.left - 1e-6 and b <= own.opening.right + 1e-6 and len(xs) == 4):
                    yield Laid("tape", "tape-side-panels", ((a, end - down), (b, end - down)))
    if own.pipe is None:
        yield from _dam(own, made)
    yield from _panel_screws(site, made)


def _upper(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    """A bead inside every hem; the leading leg's fixings above the pan."""
    assert own is not None and isinstance(made, RoofPanel)
    body = _body(made)
    for joint in body.joints:
        if joint.child.startswith("hem"):
            a, b = (_drop(p) for p in joint.edge)
            up = own.measures.upper_hem / 2
            yield Laid("sealant", "bead-hems", ((a[0], a[1] + up), (b[0], b[1] + up)))
    yield from _panel_screws(site, made)


def _base_plate(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    """Up both ribs, two rings round the hole; the upslope half takes the lap's beads and rivets, and the screws."""
    assert own is not None and own.pan is not None and own.pipe is not None
    pan, pipe = own.pan, own.pipe
    ys = [y for _, y in (_drop(p) for p in _body(made).face("base").corners)]
    for x in (pan.left, pan.right):
        yield Laid("sealant", "bead-pan-ribs", ((x, min(ys)), (x, max(ys))))
    if part.where != "downslope":
        for line in plate_rings(pipe):
            yield Laid("sealant", "bead-plate-rings", line)
        y = pan.upslope - PAN_SCREWS_IN
        ends = (pan.left + PAN_SCREWS_IN, y), (pan.right - PAN_SCREWS_IN, y)
        yield Laid("screw", "screws-pans", row(*ends, pan.width, rates.STRIP_SCREW))
    if part.where == "upslope":
        assert isinstance(made, Piece)
        solder = metals()[made.metal].join == "solder"
        for line in across_lap(own, pipe):
            yield Laid(*(("solder", "solder-pipes") if solder else ("sealant", "bead-split")), line)
        for line in () if solder else lap_rivets(own, pipe):
            yield Laid("screw", "rivets", line)


def _hood(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    assert isinstance(made, Piece)
    solder = metals()[made.metal].join == "solder"
    for a, b in hood_lines(made):
        yield Laid(*(("solder", "solder-pipes") if solder else ("sealant", "bead-hoods")), (a, b))
        if not solder:
            yield Laid("screw", "rivets", row(a, b, math.dist(a, b), rates.RIVET))


def _sleeve(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    assert own is not None and own.pipe is not None and isinstance(made, Piece)
    solder = metals()[made.metal].join == "solder"
    yield Laid(*(("solder", "solder-pipes") if solder else ("sealant", "bead-sleeves")), foot(own.pipe))
    if not solder:
        yield Laid("screw", "rivets", rivets_of(own.pipe))


def _collar(site: Site, own: OpeningDetail | None, part: Part, made: Piece | RoofPanel) -> Iterator[Laid]:
    """The bead at its upper edge, where it lies round the pipe as seen square to the roof; none on a hot flue."""
    assert own is not None and own.pipe is not None
    if not own.pipe.hot:
        heads = [_drop(f.corners[1]) for f in _body(made).faces]
        yield Laid("sealant", "bead-collars", _closed(heads))


KINDS: dict[str, Writer] = {
    "base-plate": _base_plate,
    "rib-hood": _hood,
    "sleeve": _sleeve,
    "storm-collar": _collar,
    "closure": _closure,
    "hook-strip": _hook,
    "side-wall": _side_wall,
    "back-pan": _pan,
    "cricket": _cricket,
    "corner-patch": _patch,
    "offset-cleat": _cleat,
    "backing-plate": _plate,
    "apex-plate": _plate,
    "counterflashing": _counter,
}
"""Pieces that are sealed, taped or screwed as they go on."""

ROLES: dict[str, Writer] = {"through": _through, "side": _side, "lower": _lower, "upper": _upper}
"""The same of panels."""
