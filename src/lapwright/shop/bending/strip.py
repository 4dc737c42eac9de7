"""A piece whose bends are all parallel and run its whole width, as a section: flats and folds in a row.

    first |==flat==)fold(==flat==)fold(==flat==| last       across the blank, `across` upward
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from lapwright.geom.flat import heading, turn
from lapwright.geom.space import Flat
from lapwright.metal.develop import Developed, Zone
from lapwright.metal.model import Bend, JointKind

PARALLEL = math.sin(math.radians(0.1))
"""Sine of the angle below which two bend lines are parallel. House rule."""

SLIVER = 0.1
"""Metal past the end of a bend line counts when it reaches this far to both sides of the line. House rule. [in]"""


@dataclass(frozen=True, slots=True)
class Fold:
    """One bend of a strip. up: toward the paint. radius: inside; metal: its allowance; length of its line. [in]

    child_after: the face that the bend carries (a hem's flap) follows it across, and does not lie before it.
    """

    id: str
    up: bool
    angle_deg: float
    radius: float
    metal: float
    length: float
    kind: JointKind
    child_after: bool = True

    @property
    def is_hem(self) -> bool:
        """Is it folded, then closed?"""
        return self.kind != "bend"


@dataclass(frozen=True, slots=True)
class Strip:
    """Flats and the folds between them, in order across the blank.

    flats: widths between tangent lines, one more than folds. [in] faces: their names. across: direction from the
    first flat to the last, in the blank. length: of the whole piece along its bends. [in]
    """

    flats: tuple[float, ...]
    folds: tuple[Fold, ...]
    faces: tuple[str, ...]
    thickness: float
    length: float
    across: Flat

    @property
    def heading_deg(self) -> float:
        """The way `across` points on the blank."""
        return math.degrees(math.atan2(self.across[1], self.across[0])) % 360.0


def strip_of(flat: Developed) -> Strip | None:
    """The section of a developed piece, or None where its bend lines cross, branch or share a line with other metal.

    Args:
        flat: the developed piece, with at least one bend.
    """
    if not flat.bends:
        return None
    run = heading(flat.bends[0].start, flat.bends[0].end)
    if any(abs(turn(run, heading(b.start, b.end))) > PARALLEL for b in flat.bends):
        return None
    if any(shared_metal(flat, b) > SLIVER for b in flat.bends):
        return None
    across = (-run[1], run[0])
    if across[0] < -1e-9 or (abs(across[0]) <= 1e-9 and across[1] < 0):
        across = (-across[0], -across[1])
    row = _row(flat, across)
    return None if row is None else _strip(flat, across, row)


def shared_metal(flat: Developed, bend: Bend) -> float:
    """Length of metal that the bend's line, run on past both its ends, would also fold. [in]

    Slivers (relief nicks, hems that end short of a corner) do not count.
    """
    a, b = bend.start, bend.end
    run = heading(a, b)
    out = (-run[1], run[0])
    long = math.dist(a, b)
    least = math.inf
    for off in (-SLIVER, 0.0, SLIVER):
        at = (a[0] + off * out[0], a[1] + off * out[1])
        extra = 0.0
        for low, high in chords(flat.blank.outline, at, run):
            extra += max(0.0, min(high, 0.0) - low) + max(0.0, high - max(low, long))
        least = min(least, extra)
    return least


def chords(ring: tuple[Flat, ...], at: Flat, run: Flat) -> list[tuple[float, float]]:
    """Where the line through `at` along `run` lies inside a ring, as distances from `at`. [in]"""
    cuts = []
    for p, q in zip(ring, [*ring[1:], ring[0]], strict=True):
        hp = turn(run, (p[0] - at[0], p[1] - at[1]))
        hq = turn(run, (q[0] - at[0], q[1] - at[1]))
        if (hp > 0) != (hq > 0):
            k = hp / (hp - hq)
            x, y = p[0] + k * (q[0] - p[0]) - at[0], p[1] + k * (q[1] - p[1]) - at[1]
            cuts.append(x * run[0] + y * run[1])
    cuts.sort()
    return list(zip(cuts[::2], cuts[1::2], strict=False))


def _row(flat: Developed, across: Flat) -> list[int] | None:
    """Zones in order across, when each follows the last with one flat between; else None."""
    zones = flat.zones

    def place(i: int) -> float:
        z = zones[i]
        return sum(_along(p, across) for p in (*z.near, *z.far)) / 4

    order = sorted(range(len(zones)), key=place)
    for i, j in pairwise(order):
        shared = {zones[i].parent, zones[i].child} & {zones[j].parent, zones[j].child}
        if len(shared) != 1 or place(j) - place(i) < 1e-6:
            return None
    ends = [z.parent for z in zones] + [z.child for z in zones]
    return None if any(ends.count(name) > 2 for name in ends) else order


def _strip(flat: Developed, across: Flat, order: list[int]) -> Strip:
    zones, bends = flat.zones, flat.bends
    names = [_far_name(zones, order)]
    for i in order:
        z = zones[i]
        names.append(z.child if names[-1] == z.parent else z.parent)
    rings = {r.face: r.ring for r in flat.regions}
    lows, highs = [], []
    for i in order:
        levels = [_along(zones[i].near[0], across), _along(zones[i].far[0], across)]
        lows.append(min(levels))
        highs.append(max(levels))
    first = min(_along(p, across) for p in rings[names[0]])
    last = max(_along(p, across) for p in rings[names[-1]])
    flats = [lows[0] - first]
    flats += [max(0.0, b - a) for a, b in zip(highs, lows[1:], strict=False)]
    flats.append(last - highs[-1])
    folds = [
        Fold(
            bends[i].id, bends[i].way == "up", bends[i].angle_deg, bends[i].radius, zones[i].metal,
            math.dist(bends[i].start, bends[i].end), bends[i].kind, zones[i].child == names[k + 1],
        )
        for k, i in enumerate(order)
    ]  # fmt: skip
    run = (across[1], -across[0])
    spread = [_along(p, run) for p in flat.blank.outline]
    return Strip(tuple(flats), tuple(folds), tuple(names), flat.thickness, max(spread) - min(spread), across)


def _far_name(zones: tuple[Zone, ...], order: list[int]) -> str:
    """The face before the first zone: the one of its two that the second zone does not share."""
    first = zones[order[0]]
    if len(order) == 1:
        # Which of the two lies lower across is told by the zone itself.
        return first.parent if _parent_is_low(zones, order) else first.child
    second = zones[order[1]]
    return first.child if first.parent in (second.parent, second.child) else first.parent


def _parent_is_low(zones: tuple[Zone, ...], order: list[int]) -> bool:
    z = zones[order[0]]
    run = heading(*z.near)
    out = (run[1], -run[0])
    return out[0] > 1e-9 or (abs(out[0]) <= 1e-9 and out[1] > 0)


def _along(p: Flat, direction: Flat) -> float:
    return p[0] * direction[0] + p[1] * direction[1]
