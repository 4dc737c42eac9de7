"""Where sealant and butyl tape go, and how long each run is: measured from the pieces that are joined.

pan leg      wall        to and fro: a pass every 3 in across the leg,
|~~~~~~~~~~~~|           from the leg's end to the side panel's end
|~~~~~~~~~~~~|
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from lapwright import tables
from lapwright.detail.cricket import rib_ends
from lapwright.detail.model import Cricket, Detail, OpeningDetail, Pan, Pipe
from lapwright.geom import SAME
from lapwright.metal.model import Piece, RoofPanel
from lapwright.shop import rates
from lapwright.site.model import Opening

RINGS = 2
"""Rings of sealant under a pipe's plate, round its hole. House rule."""


@dataclass(frozen=True, slots=True)
class Run:
    """So much bead or tape for one use. use: ends the keys `shop.item.` and `shop.basis.`. length [in]"""

    use: str
    length: float


def sealant_runs(detail: Detail, pieces: Sequence[Piece]) -> tuple[Run, ...]:
    """Every bead of gunned sealant, by use; uses with no length are left out. [in]"""
    planned = [d for d in detail.openings if d.pan is not None and d.planned]
    masonry = {d.opening.name: d.opening for d in detail.openings if d.opening.kind == "masonry-chimney"}
    reglets = [p for p in of(pieces, "counterflashing") if p.opening in masonry]
    sealed = [p for p in of(pieces, "corner-patch") if tables.metals()[p.metal].join == "rivet"]
    runs = (
        Run("bead-pan-ribs", sum(_up_both_ribs(d, d.pan) for d in planned if d.pan)),
        Run("bead-pan-laps", sum(_leg_laps(d, d.pan) for d in planned if d.pan and d.pipe is None)),
        *pipe_runs(planned, pieces),
        Run("bead-halves", sum(_between_halves(d, d.cricket) for d in planned if d.cricket)),
        Run("bead-hems", sum(line_length(d.cleat_line) for d in planned)),
        Run("bead-side-laps", _each(2 * p.blank.height * p.quantity for p in of(pieces, "side-wall"))),
        Run("bead-patches", _round(sealed)),
        Run("bead-plates", _round(of(pieces, "backing-plate"))),
        Run("bead-closures", _round(of(pieces, "closure"))),
        Run("bead-reglets", _each(sum(wall_runs(p, masonry[p.opening or ""])) for p in reglets)),
    )
    return tuple(r for r in runs if r.length > SAME)


def pipe_runs(planned: Sequence[OpeningDetail], pieces: Sequence[Piece]) -> Iterator[Run]:
    """Beads round the pipes: rings under the plate, under the sleeve's tabs, in a split plate's lap, round hoods."""
    piped = [(d, d.pipe) for d in planned if d.pipe is not None]
    sealed, lapped = (
        {p.opening for p in of(pieces, kind) if tables.metals()[p.metal].join == "rivet"}
        for kind in ("sleeve", "base-plate")
    )
    yield Run("bead-plate-rings", _each(RINGS * ring_length(p) for _, p in piped))
    yield Run("bead-sleeves", _each(ring_length(p) + p.height for d, p in piped if d.opening.name in sealed))
    split = [d for d, p in piped if p.rib is not None and d.opening.name in lapped]
    yield Run("bead-split", _each(2 * (d.pan.width - d.opening.width) for d in split if d.pan))
    hoods = [p for p in of(pieces, "rib-hood") if tables.metals()[p.metal].join == "rivet"]
    yield Run("bead-hoods", _each(hood_rim(p) * p.quantity for p in hoods))
    yield Run("bead-collars", _each(math.pi * p.diameter for _, p in piped if not p.hot))


def ring_length(pipe: Pipe) -> float:
    """Once round a pipe's hole in its plate (Ramanujan's mean of the ellipse, from memory). [in]"""
    a, b = pipe.across / 2, pipe.along / 2
    return math.pi * (3 * (a + b) - math.sqrt((3 * a + b) * (a + 3 * b)))


def hood_rim(piece: Piece) -> float:
    """Along the three flanges of a rib hood. [in]"""
    flanges = [j.edge for j in piece.body.joints if j.child.endswith("flange")] if piece.body is not None else []
    return sum(math.dist(a, b) for a, b in flanges)


def tape_runs(pieces: Sequence[Piece], panels: Sequence[RoofPanel]) -> tuple[Run, ...]:
    """Every run of butyl tape, by use; uses with no length are left out. [in]"""
    ends = [upper_end_width(p) for p in panels if p.role == "side"]
    runs = (
        Run("tape-cleats", _each(2 * p.blank.width * p.quantity for p in of(pieces, "offset-cleat"))),
        Run("tape-side-panels", _each(2 * w for w in ends)),
        Run("tape-side-hems", _each(p.blank.width * p.quantity for p in of(pieces, "side-wall"))),
        Run("tape-hook-strips", _each(p.blank.width * p.quantity for p in of(pieces, "hook-strip"))),
    )
    return tuple(r for r in runs if r.length > SAME)


def wall_runs(piece: Piece, opening: Opening) -> tuple[float, ...]:
    """The straight runs of wall that a counterflashing is held along: its own side, or all four under a cap. [in]

    Its blank is longer: tabs turn round the corners, and a plumb wall's blank leans.
    """
    across, along = opening.width, opening.length
    runs = {"cap": (across, along, across, along), "left": (along,), "right": (along,)}
    return runs.get(piece.name.rpartition(".")[2], (across,))


def of(pieces: Iterable[Piece], kind: str) -> list[Piece]:
    """The pieces of one kind."""
    return [p for p in pieces if p.kind == kind]


def perimeter(piece: Piece) -> float:
    """Once round a blank. [in]"""
    ring = piece.blank.outline
    return sum(math.dist(a, b) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))


def line_length(line: Sequence[tuple[float, float]]) -> float:
    """Length of a run of straight lines. [in]"""
    return sum(math.dist(a, b) for a, b in pairwise(line))


def upper_end_width(panel: RoofPanel) -> float:
    """Width of a panel at its upslope end, as it lies. [in]"""
    end = max(y for _, y in panel.outline)
    xs = [x for x, y in panel.outline if y > end - 1e-3]
    return max(xs) - min(xs)


def _up_both_ribs(detail: OpeningDetail, pan: Pan) -> float:
    return sum(y - pan.downslope for y in rib_ends(detail))


def _between_halves(detail: OpeningDetail, cricket: Cricket) -> float:
    """A cricket's halves: two beads in the lap beyond the ridge's head and up the back face, one in the seam."""
    assert detail.pan is not None
    beyond = detail.measures.valley_flange / math.cos(cricket.valley_angle)
    lean = math.atan2(cricket.ridge_foot[1] - cricket.corner[1], cricket.ridge_foot[2])
    ridge = math.dist(cricket.ridge_foot, cricket.ridge_head)
    return 2 * (beyond + detail.pan.upstand / math.cos(lean)) + ridge


def _leg_laps(detail: OpeningDetail, pan: Pan) -> float:
    """Both legs to and fro, from the leg's end to the end of the side panel beneath. [in]"""
    o = detail.opening
    lap = o.back + detail.measures.overrun - pan.downslope
    passes = rates.spaced(lap, rates.LAP_PASS)
    return passes * ((o.left - pan.left) + (pan.right - o.right))


def _round(pieces: Iterable[Piece]) -> float:
    return _each(perimeter(p) * p.quantity for p in pieces)


def _each(lengths: Iterable[float]) -> float:
    return sum(lengths, 0.0)
