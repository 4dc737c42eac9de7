"""The sections of one folder, and what a profile touches there.

Coordinates of a section: x toward the operator, z up, the fold line at 0, 0 at mid-sheet. A profile is a cloud of
points, close enough together that nothing of a tool slips between them.

A fold turns every point of the free side on a circle about 0, 0. So what it strikes on its way is found without
steps: outlines of the tools are kept by radius, and a point strikes the first outline that its circle meets
within the angle of the fold.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lapwright.geom.space import Flat
from lapwright.shop.bending.tools import Folder

Cloud = NDArray[np.floating[Any]]
"""Rows of x, z. [in]"""

PITCH = 1 / 16
"""Greatest distance of neighbouring points of a profile. [in]"""

BIN = 1 / 32
"""Width of a ring of radii in which an outline is looked up. [in]"""

HEM_ROOM = 1.25
"""Beam and leaf give way over a closed hem: their sections keep this many thicknesses off mid-sheet. House rule."""

NEAR = 6.0
"""Nearer to the fold line than this many thicknesses nothing is looked up: there the sheet is the fold itself."""

RAY = 100.0
"""Parts the keys of neighbouring rings of radii; greater than any angle. [rad]"""


class Ring:
    """A tool's section: its corners, moved to where it stands. [in]"""

    def __init__(self, points: Sequence[Flat], x: float, z: float) -> None:
        self.corners = [(px + x, pz + z) for px, pz in points]
        ends = zip(self.corners, [*self.corners[1:], self.corners[0]], strict=True)
        self.edges = [(a, b) for a, b in ends if a[1] != b[1]]
        xs, zs = [p[0] for p in self.corners], [p[1] for p in self.corners]
        self.left, self.right, self.lower, self.upper = min(xs), max(xs), min(zs), max(zs)

    def holds_any(self, cloud: Cloud, dx: float = 0.0, dz: float = 0.0) -> bool:
        """Does any point, moved by dx, dz, lie inside (even-odd rule)? [in]"""
        x, z = self._between(cloud, dx, dz)
        near = x > self.left
        if not near.any():
            return False
        x, z = x[near], z[near]
        within = np.zeros(len(x), dtype=bool)
        for (x0, z0), (x1, z1) in self.edges:
            within ^= ((z0 > z) != (z1 > z)) & (x < x0 + (z - z0) * ((x1 - x0) / (z1 - z0)))
        return bool(within.any())

    def bars_pull(self, cloud: Cloud) -> bool:
        """Does it keep any point from being drawn straight out? [in]"""
        x, z = self._between(cloud, 0.0, 0.0)
        return len(x) > 0 and any(
            (((z0 > z) != (z1 > z)) & (x < x0 + (z - z0) * ((x1 - x0) / (z1 - z0)))).any()
            for (x0, z0), (x1, z1) in self.edges
        )

    def _between(self, cloud: Cloud, dx: float, dz: float) -> tuple[Cloud, Cloud]:
        """Points level with the ring and not past its operator's side."""
        x, z = cloud[:, 0], cloud[:, 1]
        near = (x < self.right - dx) & (z > self.lower - dz) & (z < self.upper - dz)
        return x[near] + dx, z[near] + dz


class Machine:
    """One folder set for one thickness.

    gap: what lies nearer to mid-sheet than this passes under the beam and over the bed. back: how far the nose
    stands behind the fold line. reach: beyond this far from the line there is no tool. [in]
    """

    def __init__(self, folder: Folder, thickness: float) -> None:
        self.folder, self.thickness = folder, thickness
        self.gap = HEM_ROOM * thickness
        nose = math.radians(folder.nose_deg)
        # The nose stands back so far that a flange folded to the limit lies along it.
        self.back = (self.gap * math.cos(nose) + thickness) / math.sin(nose)
        self.beam = Ring(folder.beam, -self.back, self.gap)
        self.carrier = Ring(folder.carrier, -self.back, self.gap) if folder.carrier else None
        self.bed = Ring(folder.bed, 0.0, -self.gap)
        self.leaf = Ring(folder.leaf, 0.0, -self.gap)
        self.uppers = (self.beam,) if self.carrier is None else (self.beam, self.carrier)
        self.beam_keys = keys_of(outline(self.beam))
        fixed = [self.bed] if self.carrier is None else [self.bed, self.carrier]
        self.fixed_keys = keys_of(np.vstack([outline(ring) for ring in fixed]))
        self.keys = np.sort(np.concatenate([self.beam_keys, self.fixed_keys]))
        self.reach = max(math.hypot(*p) for ring in (*self.uppers, self.bed) for p in ring.corners)
        self.ways = ways_out(folder.opening)
        self._slope = math.dist(self.beam.corners[0], self.beam.corners[1])
        past = [p for ring in self.uppers for p in ring.corners if p[1] > self.gap + 1e-9]
        self._first_deg = min(math.degrees(math.atan2(p[1], p[0])) for p in past)

    def may_meet(self, reach: float, high_deg: float, low_deg: float) -> bool:
        """May something meet a tool on its way, by its reach [in] and the polar angles it comes to and starts from?

        False below the nose's slope, as far as that goes, and below every corner of the beam beyond; unless it
        hangs back under the line. [deg]
        """
        clear = self.folder.most_deg if reach <= self._slope else min(self.folder.most_deg, self._first_deg)
        return high_deg > clear or low_deg <= -90.0


@lru_cache(maxsize=64)
def machine_for(folder: Folder, thickness: float) -> Machine:
    """A folder set for one thickness [in]; the same one for the same asking."""
    return Machine(folder, thickness)


def cloud_of(line: Sequence[Flat]) -> Cloud:
    """A broken line as points no farther apart than PITCH. [in]"""
    corners = np.array(line, dtype=float)
    along = np.array([0.0, *accumulate(map(math.dist, line, line[1:]))])
    at = np.concatenate([along, np.arange(PITCH, along[-1], PITCH)])
    return np.column_stack([np.interp(at, along, corners[:, 0]), np.interp(at, along, corners[:, 1])])


def outline(ring: Ring) -> Cloud:
    """A tool's edge as points half a ring of radii apart. [in]"""
    parts = []
    for a, b in zip(ring.corners, [*ring.corners[1:], ring.corners[0]], strict=True):
        n = max(1, math.ceil(math.dist(a, b) / (BIN / 2)))
        parts.append(np.array(a) + np.outer(np.arange(n) / n, np.subtract(b, a)))
    return np.vstack(parts)


def keys_of(cloud: Cloud) -> Cloud:
    """Sorted keys, ring of radii first, angle second, each angle once more a turn later."""
    radius = np.hypot(cloud[:, 0], cloud[:, 1])
    angle = np.arctan2(cloud[:, 1], cloud[:, 0])
    base = np.floor(radius / BIN) * RAY
    keys = np.concatenate([base + angle, base + angle + 2 * math.pi])
    keys.sort()
    return keys


def swings_into(cloud: Cloud, keys: Cloud, turned_deg: float, thickness: float) -> bool:
    """Does any point, turned up to `turned_deg` about 0, 0, meet an outline? [in, deg]"""
    radius = np.hypot(cloud[:, 0], cloud[:, 1])
    far = radius > NEAR * thickness
    if not far.any() or not len(keys):
        return False
    radius = radius[far]
    start = np.floor(radius / BIN) * RAY + np.arctan2(cloud[far, 1], cloud[far, 0])
    # A hair is left at both ends: lying against a tool is no collision.
    hair = 0.5 * thickness / radius
    found = np.searchsorted(keys, start + hair)
    last = np.append(keys, np.inf)
    return bool((last[found] < start + math.radians(turned_deg) - hair).any())


@dataclass(frozen=True, slots=True)
class Way:
    """A way out: stops at (x, z over the lifted beam, z over the bed), then a straight pull. [in]"""

    stops: tuple[tuple[float, float, float], ...]


def ways_out(opening: float) -> tuple[Way, ...]:
    """Ways to draw a piece out toward the operator, the plainest first: lift the beam, lift the piece, pull.

    Args:
        opening: how far the beam lifts. [in]

    The last ones pull while the beam lifts, for a flange that leans over the nose.
    """
    made = [Way(((0.0, 0.0, 0.0),))]
    rises = [opening * k / 6 for k in range(1, 7)]
    for pull in (0.0, 1.0):
        for share in (0.0, 0.25, 0.5):
            piece = share * opening
            made.append(Way(tuple((pull * h, min(h, piece) - h, min(h, piece)) for h in rises)))
    return tuple(made)


def barred(cloud: Cloud, machine: Machine) -> bool:
    """Do beam, carrier or bed bar the plainest way out, straight off the bed?"""
    return any(ring.bars_pull(cloud) or ring.holds_any(cloud) for ring in (*machine.uppers, machine.bed))


def barred_ways(cloud: Cloud, machine: Machine) -> tuple[bool, ...]:
    """For each way out, whether beam, carrier or bed bar it: every stop of every way in one sweep."""
    stops = np.array([stop for way in machine.ways for stop in way.stops])
    ends = np.cumsum([len(way.stops) for way in machine.ways])
    held = np.zeros(len(stops), dtype=bool)
    pulled = np.zeros(len(ends), dtype=bool)
    for ring, column in [(ring, 1) for ring in machine.uppers] + [(machine.bed, 2)]:
        x, z = cloud[:, :1] + stops[:, 0], cloud[:, 1:2] + stops[:, column]
        within = np.zeros(x.shape, dtype=bool)
        beyond = np.zeros(x.shape, dtype=bool)
        for (x0, z0), (x1, z1) in ring.edges:
            passed = ((z0 > z) != (z1 > z)) & (x < x0 + (z - z0) * ((x1 - x0) / (z1 - z0)))
            within ^= passed
            beyond |= passed
        held |= within.any(axis=0)
        pulled |= beyond[:, ends - 1].any(axis=0)
    return tuple((np.logical_or.reduceat(held, [0, *ends[:-1]]) | pulled).tolist())
