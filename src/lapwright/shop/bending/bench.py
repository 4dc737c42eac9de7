"""May this bend of a strip be made now? The section of the piece against the tools.

A bend parts the strip in two. What one side looks like depends only on the folds done on that side, so every
answer is kept by (bend, side, folds done there), and a whole position is put together from the two sides.

Tasks are bits: fold k of the strip is one, the closing of a hem another.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from lapwright.geom.space import Flat
from lapwright.shop.bending.machine import (
    NEAR,
    Cloud,
    barred,
    barred_ways,
    cloud_of,
    keys_of,
    machine_for,
    swings_into,
)
from lapwright.shop.bending.model import HEM_OPEN_DEG
from lapwright.shop.bending.strip import Strip
from lapwright.shop.bending.tools import Folder

Side = int
"""-1: toward the first flat of the strip; +1: toward the last."""

LEVEL = -1e9
"""Stands for the polar angle of a side that is too near the fold line to have one."""


FEW = 6
"""Whether something stays in the way is looked at while no more tasks than these are left on its side."""


@dataclass(frozen=True, slots=True)
class Tasks:
    """Which bit is what. fold[k], close[k]: bits of fold k, 0 where it is no hem.

    before[k], after[k]: the bits on its two sides.
    """

    fold: tuple[int, ...]
    close: tuple[int, ...]
    before: tuple[int, ...]
    after: tuple[int, ...]
    all: int


def tasks_of(strip: Strip) -> Tasks:
    """Number the tasks of a strip."""
    fold, close, n = [], [], 0
    for f in strip.folds:
        fold.append(1 << n)
        close.append(1 << (n + 1) if f.is_hem else 0)
        n += 2 if f.is_hem else 1
    both = [a | b for a, b in zip(fold, close, strict=True)]
    before = [sum(both[:k]) for k in range(len(both))]
    after = [sum(both[k + 1 :]) for k in range(len(both))]
    return Tasks(tuple(fold), tuple(close), tuple(before), tuple(after), (1 << n) - 1)


def turned_deg(strip: Strip, tasks: Tasks, k: int, done: int) -> float:
    """How far fold k stands turned."""
    if not done & tasks.fold[k]:
        return 0.0
    f = strip.folds[k]
    return f.angle_deg if not f.is_hem or done & tasks.close[k] else min(HEM_OPEN_DEG, f.angle_deg)


def profile(strip: Strip, tasks: Tasks, k: int, side: Side, done: int, paint_up: bool) -> list[Flat]:
    """The mid-sheet line from fold k outward to one end, as a broken line from 0, 0 along +x; z up. [in]

    Fold k itself is flat here. paint_up: the painted side looks up.
    """
    step = 0 if side < 0 else 1
    x, z, angle = strip.folds[k].metal / 2 + strip.flats[k + step], 0.0, 0.0
    line: list[Flat] = [(0.0, 0.0), (x, z)]
    for j in range(k + side, -1 if side < 0 else len(strip.folds), side):
        f, wide = strip.folds[j], strip.flats[j + step]
        a = math.radians(turned_deg(strip, tasks, j, done))
        if a == 0.0:
            wide += f.metal
        else:
            half = a / 2 if f.up == paint_up else -a / 2
            chord = 2 * (f.radius + strip.thickness / 2) * math.sin(a / 2)
            x, z = x + chord * math.cos(angle + half), z + chord * math.sin(angle + half)
            line.append((x, z))
            angle += 2 * half
        x, z = x + wide * math.cos(angle), z + wide * math.sin(angle)
        line.append((x, z))
    return line


class Half:
    """One side of a bend with some folds done: its line from 0, 0 along +x, its extremes, and its points."""

    __slots__ = (
        "_behind", "_cloud", "_keys", "corners", "high", "highest_deg", "low", "lowest_deg", "reach", "rises_at",
    )  # fmt: skip

    def __init__(self, corners: list[Flat], thickness: float, gap: float) -> None:
        self.corners = corners
        self.low, self.high = min(p[1] for p in corners), max(p[1] for p in corners)
        far = [p for p in corners if math.hypot(*p) > NEAR * thickness]
        angles = [math.degrees(math.atan2(p[1], p[0])) for p in far]
        self.highest_deg, self.lowest_deg = max(angles, default=LEVEL), min(angles, default=-LEVEL)
        self.reach = max(math.hypot(*p) for p in corners)
        self.rises_at = math.inf if max(self.high, -self.low) <= gap else _rises_at(corners, gap)
        self._cloud: Cloud | None = None
        self._behind: Cloud | None = None
        self._keys: Cloud | None = None

    @property
    def cloud(self) -> Cloud:
        """The line as points."""
        if self._cloud is None:
            self._cloud = cloud_of(self.corners)
        return self._cloud

    @property
    def held(self) -> Cloud:
        """The line as points, behind the fold line."""
        if self._behind is None:
            self._behind = self.cloud * (-1.0, 1.0)
        return self._behind

    @property
    def held_keys(self) -> Cloud:
        """The held line's outline for `swings_into`."""
        if self._keys is None:
            self._keys = keys_of(self.held)
        return self._keys


def _rolled(cloud: Cloud, angle_deg: float) -> Cloud:
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    turned: Cloud = cloud @ np.array([[c, s], [-s, c]])
    return turned


def _rises_at(corners: list[Flat], gap: float) -> float:
    """Nearest distance from 0, 0 of metal that leaves the level of the bed; infinite when all lies flat. [in]"""
    out = math.inf
    for a, b in pairwise(corners):
        if max(abs(a[1]), abs(b[1])) > gap:
            out = min(out, _nearest(a, b))
    return out


def _nearest(a: Flat, b: Flat) -> float:
    dx, dz = b[0] - a[0], b[1] - a[1]
    k = max(0.0, min(1.0, -(a[0] * dx + a[1] * dz) / (dx * dx + dz * dz or 1.0)))
    return math.hypot(a[0] + k * dx, a[1] + k * dz)


class Bench:
    """One strip at one folder. keep: remember answers (a test turns it off)."""

    def __init__(self, strip: Strip, folder: Folder, keep: bool = True) -> None:
        self.strip, self.folder, self.keep = strip, folder, keep
        self.tasks = tasks_of(strip)
        self.machine = machine_for(folder, strip.thickness)
        self._halves: dict[tuple[int, Side, int], Half] = {}
        self._held: dict[tuple[int, Side, int], str] = {}
        self._free: dict[tuple[int, Side, int], str] = {}
        self._bars: dict[tuple[int, Side, int, float, bool], tuple[bool, ...]] = {}
        self._stuck: dict[tuple[bool, int, Side, int], bool] = {}

    def why_not(self, k: int, side: Side, closing: bool, done: int) -> str:
        """Why fold k cannot be made (or its hem closed) with `side` moving; "" when it can.

        The side of the sheet that looks up is given by the fold: it goes up.
        """
        t = self.tasks
        held, free = (t.before[k] & done, t.after[k] & done) if side > 0 else (t.after[k] & done, t.before[k] & done)
        if self.strip.length > self.folder.length:
            return "length"
        if closing:
            return self._why_not_close(k, side, held, free)
        why = self._why_not_held(k, side, held) or self._why_not_free(k, side, free)
        if why:
            return why
        if held and self._strikes_itself(k, side, held, free):
            return "self"
        return "" if self._comes_out(k, side, held, free) else "trapped"

    def turn(self, k: int) -> float:
        """How far the leaf turns at fold k."""
        f = self.strip.folds[k]
        return min(HEM_OPEN_DEG, f.angle_deg, self.folder.most_deg) if f.is_hem else f.angle_deg

    def flap_side(self, k: int) -> Side:
        """On which side of a hem its flap is."""
        return 1 if self.strip.folds[k].child_after else -1

    def first_flat(self, k: int, side: Side, done: int) -> float:
        """From fold k to the first fold done on that side, or to the end: what a leaf drives or a beam holds. [in]"""
        s, t = self.strip, self.tasks
        step = 0 if side < 0 else 1
        wide = s.folds[k].metal / 2 + s.flats[k + step]
        for j in range(k + side, -1 if side < 0 else len(s.folds), side):
            if done & t.fold[j]:
                return wide
            wide += s.folds[j].metal + s.flats[j + step]
        return wide

    def never(self, k: int, side: Side) -> str:
        """Why fold k cannot be made with `side` moving, whatever is done before; "" when that is open."""
        if self.strip.length > self.folder.length:
            return "length"
        f = self.strip.folds[k]
        if not f.is_hem and f.angle_deg > self.folder.most_deg + 1e-9:
            return "nose"
        if self.first_flat(k, side, 0) < self.folder.land:
            return "land"
        return "grip" if self.first_flat(k, -side, 0) < self.folder.grip else ""

    def dead(self, k: int, side: Side, closing: bool, done: int) -> bool:
        """Is it certain that fold k can be made (or its hem closed) neither now nor after more folds?

        More folds only narrow the flat beside it. What else is in the way is looked at where few folds are left
        that may take it out of the way.
        """
        t = self.tasks
        held, free = (t.before[k], t.after[k]) if side > 0 else (t.after[k], t.before[k])
        if closing:
            return side == self.flap_side(k) and self._stays(self._why_not_held, k, side, held & done, held)
        return (
            self.first_flat(k, side, free & done) < self.folder.land
            or self.first_flat(k, -side, held & done) < self.folder.grip
            or self._stays(self._why_not_held, k, side, held & done, held)
            or self._stays(self._why_not_free, k, side, free & done, free)
        )

    def _stays(self, why_not: Callable[[int, Side, int], str], k: int, side: Side, done: int, every: int) -> bool:
        """Is one side refused with these folds done, and with any more of its own?"""
        if not why_not(k, side, done):
            return False
        key = (why_not == self._why_not_free, k, side, done)
        if key not in self._stuck:
            left = every & ~done
            # A hem is closed only once it is folded.
            pairs = zip(self.tasks.fold, self.tasks.close, strict=True)
            more = [bit & left for fold, close in pairs for bit in (fold, close if fold & done else 0)]
            self._stuck[key] = left.bit_count() <= FEW and all(
                self._stays(why_not, k, side, done | bit, every) for bit in more if bit
            )
        return self._stuck[key]

    # ---- one side at a time --------------------------------------------------------------------

    def _why_not_held(self, k: int, side: Side, held: int) -> str:
        key = (k, side, held)
        if key not in self._held or not self.keep:
            self._held[key] = self._work_out_held(k, side, held)
        return self._held[key]

    def _work_out_held(self, k: int, side: Side, held: int) -> str:
        if self.first_flat(k, -side, held) < self.folder.grip:
            return "grip"
        half = self._half(k, -side, held)
        if max(p[0] for p in half.corners) > self.folder.throat:
            return "throat"
        gap = self.machine.gap
        if half.rises_at > self.machine.reach:
            return ""
        if half.high > gap and any(ring.holds_any(half.held) for ring in self.machine.uppers):
            return "beam"
        return "bed" if half.low < -gap and self.machine.bed.holds_any(half.held) else ""

    def _why_not_free(self, k: int, side: Side, free: int) -> str:
        key = (k, side, free)
        if key not in self._free or not self.keep:
            self._free[key] = self._work_out_free(k, side, free)
        return self._free[key]

    def _work_out_free(self, k: int, side: Side, free: int) -> str:
        f, m = self.strip.folds[k], self.machine
        if not f.is_hem and f.angle_deg > self.folder.most_deg + 1e-9:
            return "nose"
        if self.first_flat(k, side, free) < self.folder.land:
            return "land"
        half = self._half(k, side, free)
        if half.low < -m.gap and m.leaf.holds_any(half.cloud):
            return "leaf"
        if not m.may_meet(half.reach, half.highest_deg + self.turn(k), half.lowest_deg):
            return ""
        return "swing" if swings_into(half.cloud, m.keys, self.turn(k), self.strip.thickness) else ""

    def _why_not_close(self, k: int, side: Side, held: int, free: int) -> str:
        """Closing: the flap lies under the beam. With the hem's own side moving, the rest lies behind it as for the
        fold; with the rest toward the operator, the hem goes in first.
        """
        flap = self.first_flat(k, self.flap_side(k), 0)
        if flap * math.sin(math.radians(180.0 - HEM_OPEN_DEG)) + 2 * self.strip.folds[k].radius > self.folder.opening:
            return "trapped"
        if side == self.flap_side(k):
            return self._why_not_held(k, side, held)
        half, m = self._half(k, side, free), self.machine
        if -m.gap <= half.low and half.high <= m.gap:
            return ""
        if any(ring.holds_any(half.cloud, -flap) for ring in (*m.uppers, m.bed)):
            return "beam"
        return "leaf" if m.leaf.holds_any(half.cloud, -flap) else ""

    # ---- both sides together -------------------------------------------------------------------

    def _strikes_itself(self, k: int, side: Side, held: int, free: int) -> bool:
        still, moving = self._half(k, -side, held), self._half(k, side, free)
        if moving.reach < still.rises_at:
            return False
        return swings_into(moving.cloud, still.held_keys, self.turn(k), self.strip.thickness)

    def _comes_out(self, k: int, side: Side, held: int, free: int) -> bool:
        """Is there a way in before the fold, and a way out after it?"""
        return all(
            any(
                not self._is_barred(k, -side, held, 180.0, n) and not self._is_barred(k, side, free, angle, n)
                for n in range(len(self.machine.ways))
            )
            for angle in (0.0, self.turn(k))
        )

    def _is_barred(self, k: int, side: Side, done: int, angle_deg: float, way: int) -> bool:
        """The plainest way out is asked for alone: most trims take it."""
        key = (k, side, done, angle_deg, way == 0)
        if key not in self._bars or not self.keep:
            half = self._half(k, side, done)
            self._bars[key] = self._bars_plain(half, angle_deg) if way == 0 else self._bars_ways(half, angle_deg)
        return self._bars[key][0 if way == 0 else way]

    def _bars_plain(self, half: Half, angle_deg: float) -> tuple[bool, ...]:
        m = self.machine
        if angle_deg == 180.0:
            return ((half.low < -m.gap or half.high > m.gap) and barred(half.held, m),)
        c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
        if all(p[0] * c - p[1] * s >= -m.back for p in half.corners):
            return (False,)
        return (barred(_rolled(half.cloud, angle_deg), m),)

    def _bars_ways(self, half: Half, angle_deg: float) -> tuple[bool, ...]:
        return barred_ways(half.held if angle_deg == 180.0 else _rolled(half.cloud, angle_deg), self.machine)

    def _half(self, k: int, side: Side, done: int) -> Half:
        key = (k, side, done)
        if key not in self._halves or not self.keep:
            line = profile(self.strip, self.tasks, k, side, done, self.strip.folds[k].up)
            self._halves[key] = Half(line, self.strip.thickness, self.machine.gap)
        return self._halves[key]
