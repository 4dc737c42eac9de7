"""Screws, clips, wedges, rivets and solder: counted from the runs they hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lapwright import tables
from lapwright.detail.model import Detail
from lapwright.geom import SAME
from lapwright.metal.model import Piece, RoofPanel
from lapwright.metal.sleeve import STATIONS
from lapwright.shop import rates
from lapwright.shop.beads import hood_rim, of, perimeter, ring_length, wall_runs
from lapwright.site.model import Opening, Site

UNNAILED = frozenset({"outer-leg", "leg-off", "flange-off"})
"""Notches over which a panel keeps no nailing flange."""

WALL_SPACING = {"wedges": rates.WEDGE, "screws-walls": rates.WALL_SCREW}
"""Between two fixings of a counterflashing, by use. [in]"""


@dataclass(frozen=True, slots=True)
class Fixings:
    """So many of one fixing for one use. use: ends the keys `shop.item.` and `shop.basis.`.

    spacing: between two of them. [in]
    """

    use: str
    count: int
    spacing: float


def screws(detail: Detail, pieces: Sequence[Piece]) -> tuple[Fixings, ...]:
    """Screws of cleats, hook strips and pans. The dams of the lower panels are held by the apron's strip."""
    # A cricket's flange takes none: its cleats' screws hold it.
    pans = [d.pan for d in detail.openings if d.pan is not None and d.cricket is None and d.planned]
    rows = (
        _along("screws-cleats", of(pieces, "offset-cleat"), rates.CLEAT_SCREW),
        _along("screws-hook-strips", of(pieces, "hook-strip"), rates.STRIP_SCREW),
        Fixings("screws-pans", sum(rates.spaced(p.width, rates.STRIP_SCREW) for p in pans), rates.STRIP_SCREW),
    )
    return tuple(r for r in rows if r.count)


def dam_screws(detail: Detail, panels: Sequence[RoofPanel]) -> tuple[Fixings, ...]:
    """Screws that fix each panel's turned-up end under the opening's downslope face, hidden by the apron."""
    planned = {d.opening.name: d.opening for d in detail.openings if d.method != "none" and d.pipe is None}
    below = [p for p in panels if p.role in ("side", "lower") and p.opening in planned]
    widths = [_shared(p, planned[p.opening or ""]) for p in below]
    count = sum(rates.spaced(w, rates.STRIP_SCREW) for w in widths if w > SAME)
    return (Fixings("screws-dams", count, rates.STRIP_SCREW),) if count else ()


def _shared(panel: RoofPanel, opening: Opening) -> float:
    """Width of a panel's strip that lies straight downslope of the opening. [in]"""
    xs = [x for x, _ in panel.outline]
    return min(max(xs), opening.right) - max(min(xs), opening.left)


def wall_fixings(detail: Detail, pieces: Sequence[Piece]) -> tuple[Fixings, ...]:
    """Wedges where the counterflashing stands in a reglet (masonry), screws elsewhere."""
    openings = {d.opening.name: d.opening for d in detail.openings}
    counts = {"wedges": 0, "screws-walls": 0}
    for p in of(pieces, "counterflashing"):
        opening = openings.get(p.opening or "")
        if opening is not None:
            use = "wedges" if opening.kind == "masonry-chimney" else "screws-walls"
            counts[use] += p.quantity * sum(rates.spaced(run, WALL_SPACING[use]) for run in wall_runs(p, opening))
    return tuple(Fixings(use, count, WALL_SPACING[use]) for use, count in counts.items() if count)


def panel_fixings(site: Site, panels: Sequence[RoofPanel]) -> Fixings:
    """Nailing-flange screws or clips along the leading legs, less the stretches with no flange."""
    use = "clips" if site.panel.fixing == "clip" else "screws-flanges"
    held = [length for p in panels if (length := held_leg(site, p)) > SAME]
    return Fixings(use, sum(rates.spaced(length, rates.PANEL_FIXING) for length in held), rates.PANEL_FIXING)


def held_leg(site: Site, panel: RoofPanel) -> float:
    """Length of a panel's leading leg that is fixed to the deck: none at a roof edge, where it is ripped off. [in]"""
    xs = [x for x, _ in panel.outline]
    leading = max(xs) if site.panel.lay == "left-to-right" else min(xs)
    if not SAME < leading < site.roof.eave - SAME:
        return 0.0
    ring = zip(panel.outline, (*panel.outline[1:], panel.outline[0]), strict=True)
    leg = sum(abs(b[1] - a[1]) for a, b in ring if abs(a[0] - leading) < SAME and abs(b[0] - leading) < SAME)
    bare = (n for n in panel.notches if n.cut in UNNAILED and abs(n.rib - leading) < SAME)
    return max(0.0, leg - sum(abs(n.to_y - n.from_y) for n in bare))


def rivets(pieces: Sequence[Piece]) -> int:
    """Rivets round the corner patches of metals that are not soldered."""
    held = (p for p in of(pieces, "corner-patch") if tables.metals()[p.metal].join == "rivet")
    return sum(p.quantity * rates.spaced(perimeter(p), rates.RIVET) - p.quantity for p in held)


def pipe_rivets(detail: Detail, pieces: Sequence[Piece]) -> int:
    """Rivets of pipes: one in each tab, along the seams of sleeve and collar, in a split lap, round a hood."""
    count = 0
    for d in (d for d in detail.openings if d.pipe is not None and d.planned):
        own = [p for p in pieces if p.opening == d.opening.name and p.is_metal]
        for p in own:
            if p.kind == "storm-collar":
                count += rates.spaced(d.measures.collar, rates.RIVET)
            elif tables.metals()[p.metal].join != "rivet":
                continue
            elif p.kind == "sleeve":
                count += STATIONS + rates.spaced(d.measures.upstand, rates.RIVET)
            elif p.kind == "rib-hood":
                count += rates.spaced(hood_rim(p), rates.RIVET)
            elif p.id.endswith("base-plate-upslope") and d.pan is not None:
                sides = (d.opening.left - d.pan.left, d.pan.right - d.opening.right)
                count += sum(rates.spaced(side, rates.RIVET) for side in sides)
    return count


def pipe_solder(detail: Detail, pieces: Sequence[Piece]) -> float:
    """Soldered seams of pipes: round the foot, up the sleeve, across a split lap, round a hood. [in]"""
    total = 0.0
    for d in (d for d in detail.openings if d.pipe is not None and d.planned):
        metal = [p for p in pieces if p.opening == d.opening.name and p.is_metal]
        own = [p for p in metal if tables.metals()[p.metal].join == "solder"]
        for p in own:
            if p.kind == "sleeve" and d.pipe is not None:
                total += ring_length(d.pipe) + d.pipe.height
            elif p.kind == "rib-hood":
                total += hood_rim(p)
            elif p.id.endswith("base-plate-upslope") and d.pan is not None:
                total += d.pan.width - d.opening.width
    return total


def solder(pieces: Sequence[Piece]) -> float:
    """Soldered seam round the corner patches of metals that are soldered. [in]"""
    held = (p for p in of(pieces, "corner-patch") if tables.metals()[p.metal].join == "solder")
    return sum(p.quantity * perimeter(p) for p in held)


def _along(use: str, pieces: Sequence[Piece], spacing: float) -> Fixings:
    return Fixings(use, sum(p.quantity * rates.spaced(p.blank.width, spacing) for p in pieces), spacing)
