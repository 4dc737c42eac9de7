"""The roof so far and what goes on now, painted in working order: what is laid later hides what lies under it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass, field

from lapwright.detail.measures import rib_face
from lapwright.detail.model import Detail, Part
from lapwright.draw.features import Window, apart
from lapwright.draw.layers import Layer, Placed, cut_all, place_all
from lapwright.draw.marks import corners, rim
from lapwright.draw.opening import seen
from lapwright.draw.plan import Plan, line
from lapwright.draw.sheet import Sheet
from lapwright.geom.flat import cut_by, extent
from lapwright.geom.space import Flat
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.metal.slice import Cut
from lapwright.metal.work import Work
from lapwright.site.model import Opening, Site

WIDE_RIB = 1.6
"""A rib narrower than this on the sheet is drawn as one line. [pt]"""


@dataclass(frozen=True, slots=True)
class Roofed:
    """Everything that can be drawn, by id; what many steps show is worked out once."""

    site: Site
    layout: Layout
    detail: Detail
    parts: dict[str, Part]
    made: dict[str, Piece | RoofPanel]
    _rings: dict[str, tuple[tuple[Flat, ...], ...]] = field(default_factory=dict)
    _reach: dict[str, Window] = field(default_factory=dict)
    _placed: dict[int, tuple[Work, tuple[Placed, ...]]] = field(default_factory=dict)
    _cuts: dict[tuple[int, Cut], dict[int, list[Layer]]] = field(default_factory=dict)

    def rings(self, name: str) -> tuple[tuple[Flat, ...], ...]:
        """The faces of a part from above, copies and all; lines for those that stand edge on. [in]"""
        if name not in self._rings:
            once = list(self._once(name))
            copies = self.parts[name].copies
            self._rings[name] = tuple(tuple((x + k, y) for x, y in ring) for k in copies for ring in once)
        return self._rings[name]

    def reach(self, name: str) -> Window:
        """What a part may draw on, ribs and notches with it. [in]"""
        if name not in self._reach:
            made, points = self.made[name], [p for ring in self.rings(name) for p in ring]
            if isinstance(made, RoofPanel):
                points += [(n.rib, y) for n in made.notches for y in (n.from_y, n.to_y)]
            u0, v0, u1, v1 = extent(points) if points else (0.0, 0.0, 0.0, 0.0)
            face = 2 * rib_face(self.site)
            self._reach[name] = (u0 - face, v0 - face, u1 + face, v1 + face)
        return self._reach[name]

    def cut(self, opening: int, cut: Cut, names: Set[str]) -> tuple[Work, list[Layer]]:
        """An opening, and the layers that a plane cuts of some parts round it, in the parts' own order."""
        if opening not in self._placed:
            pieces = [m for m in self.made.values() if isinstance(m, Piece)]
            panels = [m for m in self.made.values() if isinstance(m, RoofPanel)]
            self._placed[opening] = place_all(self.site, self.layout, self.detail, pieces, panels, opening)
        work, placed = self._placed[opening]
        known = self._cuts.setdefault((opening, cut), {})
        for i, one in enumerate(placed):
            if one.part.id in names and i not in known:
                known[i] = cut_all(work, (one,), cut)
        return work, [layer for i, one in enumerate(placed) if one.part.id in names for layer in known[i]]

    def _once(self, name: str) -> Iterator[tuple[Flat, ...]]:
        made = self.made[name]
        if isinstance(made, RoofPanel):
            yield made.outline
        elif made.body is not None:
            for face in sorted(made.body.faces, key=lambda f: min(p[2] for p in f.corners)):
                ring = seen(face)
                if len(ring) > 1:
                    yield ring
        else:
            yield made.blank.outline


def roofed(
    site: Site, layout: Layout, detail: Detail, pieces: Sequence[Piece], panels: Sequence[RoofPanel]
) -> Roofed:
    """Gather what can be drawn."""
    made: dict[str, Piece | RoofPanel] = {p.id: p for p in pieces}
    made |= {p.id: p for p in panels}
    return Roofed(site, layout, detail, {p.id: p for p in detail.parts}, made)


def paint_openings(sheet: Sheet, plan: Plan, detail: Detail, hidden: bool = False) -> None:
    """Every opening as a hole in the roof: its outline and a cross; hidden: where its faces are under the metal."""
    for d in detail.openings:
        ring, edge = corners(d.opening), rim(d.opening)
        if hidden:
            outline(sheet, plan, edge, "hidden", 0.5)
            continue
        fill(sheet, plan, edge, "paper")
        for a, b in ((ring[0], ring[2]), (ring[1], ring[3])):
            line(sheet, plan, a, b, "cross", 0.3)
        outline(sheet, plan, edge, "wall", 1.5)


def paint(sheet: Sheet, plan: Plan, roof: Roofed, name: str, now: bool) -> None:
    """One part: light, or heavy and hatched when it goes on now."""
    if apart(roof.reach(name), plan.window):
        return
    rings = roof.rings(name)
    for ring in rings:
        if len(ring) > 2:
            fill(sheet, plan, ring, "paper")
    for ring in rings:
        if now and len(ring) > 2:
            fill(sheet, plan, ring, "hatch")
        outline(sheet, plan, ring, "now" if now else "on", 1.5 if now else 0.5)
    made = roof.made[name]
    if isinstance(made, RoofPanel):
        for x, low, high in ribs_of(roof, made):
            _rib(sheet, plan, roof, (x, low, high), now)
        for notch in made.notches:
            if notch.cut in ("outer-leg", "lap-lock", "leg-off"):
                line(sheet, plan, (notch.rib, notch.from_y), (notch.rib, notch.to_y), "notch", 1.5)


def ribs_of(roof: Roofed, panel: RoofPanel) -> list[tuple[float, float, float]]:
    """Where this panel's legs stand: x, from y, to y. [in]"""
    strip = roof.layout.strips[panel.strip]
    out = []
    for x, is_rib in ((strip.left, strip.left_is_rib), (strip.right, strip.right_is_rib)):
        ys = [y for px, y in panel.outline if abs(px - x) < 1e-6]
        if not is_rib or len(ys) < 2:
            continue
        low, high = min(ys), max(ys)
        for n in panel.notches:
            if abs(n.rib - x) < 1e-6 and n.cut != "flange-off":
                a, b = sorted((n.from_y, n.to_y))
                low = max(low, b) if a <= low + 1e-6 else low
                high = min(high, a) if b >= high - 1e-6 else high
        if high > low:
            out.append((x, low, high))
    return out


def _rib(sheet: Sheet, plan: Plan, roof: Roofed, rib: tuple[float, float, float], now: bool) -> None:
    x, low, high = rib
    face = rib_face(roof.site)
    if 2 * face * plan.scale < WIDE_RIB:
        line(sheet, plan, (x, low), (x, high), "now-rib" if now else "on-rib", 0.5)
        return
    ring = ((x - face, low), (x + face, low), (x + face, high), (x - face, high))
    fill(sheet, plan, ring, "paper")
    outline(sheet, plan, ring, "now-rib" if now else "on-rib", 0.4)


def fill(sheet: Sheet, plan: Plan, ring: Sequence[Flat], how: str) -> None:
    """Fill a shape of the roof as far as the window shows it."""
    shown = clipped(ring, plan.window)
    if len(shown) > 2:
        sheet.ring([plan.at(p) for p in shown], "fill", how)  # type: ignore[arg-type]


def outline(sheet: Sheet, plan: Plan, ring: Sequence[Flat], layer: str, price: float) -> None:
    """Outline a shape of the roof [in], or draw a standing face as its line."""
    ends = [*ring[1:], ring[0]] if len(ring) > 2 else ring[1:]
    for a, b in zip(ring, ends, strict=False):
        line(sheet, plan, a, b, layer, price)


def clipped(ring: Sequence[Flat], window: Window) -> list[Flat]:
    """The part of a shape inside a window. [in]"""
    x0, y0, x1, y1 = window
    out = list(ring)
    for point, inward in (
        ((x0, y0), (1.0, 0.0)),
        ((x1, y1), (-1.0, 0.0)),
        ((x0, y0), (0.0, 1.0)),
        ((x1, y1), (0.0, -1.0)),
    ):
        if len(out) < 3:
            return []
        out = cut_by(out, point, inward)
    return out


def shown_box(opening: Opening, window: Window) -> Window | None:
    """The part of an opening that a window shows. [in]"""
    ring = corners(opening)
    x0, y0 = max(ring[0][0], window[0]), max(ring[0][1], window[1])
    x1, y1 = min(ring[2][0], window[2]), min(ring[2][1], window[3])
    return (x0, y0, x1, y1) if x1 > x0 and y1 > y0 else None


def draw_edges(sheet: Sheet, plan: Plan, site: Site) -> None:
    """The roof's own edges, where the window shows them."""
    w, h = site.roof.eave, site.roof.slope
    for a, b in (((0.0, h), (0.0, 0.0)), ((w, 0.0), (w, h)), ((w, h), (0.0, h))):
        line(sheet, plan, a, b, "edge", 1.5, "edge")
    line(sheet, plan, (0.0, 0.0), (w, 0.0), "eave", 1.5, "edge")
