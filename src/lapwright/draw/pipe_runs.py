"""Where sealant and rivets round a pipe lie, seen from above: for the sealing map and the pictures of the steps."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from lapwright import tables
from lapwright.detail.model import OpeningDetail, Pipe
from lapwright.geom.space import Flat
from lapwright.metal.model import Piece
from lapwright.metal.sleeve import STATIONS
from lapwright.shop import rates
from lapwright.shop.beads import of

FIRST, NEXT, TAB = 0.5, 0.9, 0.45
"""Rings lie this far outside the hole, and from one another; rivets this far out on the tabs. House rule. [in]"""

INSIDE = 1.0
"""A bead across a split plate's lap lies this far inside either edge of it. House rule. [in]"""


def ring(pipe: Pipe, out: float, corners: int = 48) -> tuple[Flat, ...]:
    """A closed line so far outside the plate's hole. [in]"""
    (x, y), a, b = pipe.centre, pipe.across / 2 + out, pipe.along / 2 + out
    turns = [2 * math.pi * k / corners for k in range(corners)]
    points = tuple((x + a * math.cos(t), y + b * math.sin(t)) for t in turns)
    return (*points, points[0])


def plate_rings(pipe: Pipe) -> list[tuple[Flat, ...]]:
    """Between plate and panel."""
    return [ring(pipe, FIRST), ring(pipe, FIRST + NEXT)]


def foot(pipe: Pipe) -> tuple[Flat, ...]:
    """Under a sleeve's tabs, where the sleeve itself stands."""
    return ring(pipe, TAB)


def rivets_of(pipe: Pipe) -> tuple[Flat, ...]:
    """One in each tab."""
    return ring(pipe, TAB, STATIONS)[:-1]


def across_lap(d: OpeningDetail, pipe: Pipe) -> list[tuple[Flat, ...]]:
    """Two beads in a split plate's lap on either side of the pipe."""
    pan, half = d.pan, d.measures.plate_lap / 2 - INSIDE
    if pan is None or pipe.rib is None:
        return []
    x0, x1, y = d.opening.left, d.opening.right, pipe.centre[1]
    return [((a, y + k), (b, y + k)) for k in (-half, half) for a, b in ((pan.left, x0), (x1, pan.right))]


def lap_rivets(d: OpeningDetail, pipe: Pipe) -> list[tuple[Flat, ...]]:
    """Along the middle of a split plate's lap."""
    pan, y = d.pan, pipe.centre[1]
    if pan is None or pipe.rib is None:
        return []
    out = []
    for a, b in ((pan.left, d.opening.left), (d.opening.right, pan.right)):
        n = rates.spaced(b - a, rates.RIVET)
        out.append(tuple((a + (b - a) * k / (n - 1), y) for k in range(n)))
    return out


def hood_lines(piece: Piece) -> list[tuple[Flat, ...]]:
    """Along the middles of a rib hood's three flanges."""
    out: list[tuple[Flat, ...]] = []
    for f in piece.body.faces if piece.body is not None else ():
        if f.name.endswith("flange"):
            xs, ys = [p[0] for p in f.corners], [p[1] for p in f.corners]
            x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
            upslope = f.name.startswith("end")
            out.append(((min(xs), y), (max(xs), y)) if upslope else ((x, min(ys)), (x, max(ys))))
    return out


def riveted(pieces: Sequence[Piece], kind: str) -> list[Piece]:
    """Pieces of a kind whose metal is riveted and sealed, not soldered."""
    return [p for p in of(pieces, kind) if tables.metals()[p.metal].join == "rivet"]


def pipe_beads(d: OpeningDetail, pieces: Sequence[Piece]) -> Iterator[tuple[str, list[tuple[Flat, ...]]]]:
    """Every bead round a pipe by its use in the takeoff."""
    pipe = d.pipe
    if pipe is None:
        return
    yield "bead-plate-rings", plate_rings(pipe)
    sealed = bool(riveted(pieces, "sleeve"))
    yield "bead-sleeves", [foot(pipe)] if sealed else []
    yield "bead-split", across_lap(d, pipe) if sealed else []
    yield "bead-hoods", [one for p in riveted(pieces, "rib-hood") for one in hood_lines(p)]
    yield "bead-collars", [] if pipe.hot else [ring(pipe, 0.0)]
