"""Names with leaders: a name keeps off everything drawn, its leader only off names and other leaders.

Knows no roofing word.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lapwright.draw.crowd import Crowd
from lapwright.draw.display import Text, oriented, text_width
from lapwright.draw.sheet import Sheet
from lapwright.geom.flat import heading
from lapwright.geom.space import Flat

SIZE, HALF, PAD = 8.0, 6.0, 2.0
REACHES = (13.0, 18.0, 24.0, 31.0, 40.0, 52.0, 66.0, 84.0, 106.0, 132.0, 165.0, 205.0)
TURNS = tuple((turn, math.cos(math.radians(turn)), math.sin(math.radians(turn))) for turn in range(0, 360, 15))
"""Ways a leader may go: degrees, cosine, sine."""
PER_REACH = 1 / 36
"""What a point of leader costs."""
ALONG_DEG = 25.0
"""A leader nearer to its own line's direction than this is hard to follow. [deg]"""
ALONG_PRICE = 2.0
LEADER_ON_TEXT, LEADER_ON_LEADER = 14.0, 5.0


@dataclass(slots=True)
class _Place:
    at: Flat
    start: Flat
    target: Flat
    price: float


class Namer:
    """Writes names on a sheet. ways: what a leader pays for crossing. [pt]"""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.ways = Crowd((0.0, 0.0), (sheet.width, sheet.height))

    def busy(self, a: Flat, b: Flat, name: float, leader: float) -> None:
        """A line that a name, and a leader, had better not cross."""
        self.sheet.crowd.busy(a, b, name)
        self.ways.busy(a, b, leader)

    def write(self, line: Sequence[Flat], text: str) -> bool:
        """Name a broken line. [pt] False where there is no room at all."""
        wide = text_width(text, SIZE) + 2 * PAD
        best, cost = None, math.inf
        for place in _places(list(_targets(line)), wide):
            if place.price >= cost:
                break
            total = place.price + self._price(place, wide, cost - place.price)
            if total < cost:
                best, cost = place, total
        if best is not None:
            self._put(best, wide, text)
        return best is not None

    def _price(self, place: _Place, wide: float, limit: float) -> float:
        (x, y), crowd = place.at, self.sheet.crowd
        box = (x - wide / 2, y - HALF, x + wide / 2, y + HALF)
        if not crowd.free_level(*box):
            return math.inf
        price = crowd.price_level(*box, "", limit)
        if price >= limit or not crowd.open_way(place.start, place.target):
            return math.inf
        return price + self.ways.price_way(place.start, place.target, "", limit)

    def _put(self, place: _Place, wide: float, text: str) -> None:
        self.sheet.line(place.start, place.target, "leader", LEADER_ON_TEXT)
        self.ways.busy(place.start, place.target, LEADER_ON_LEADER)
        self.sheet.circle(place.target, 1.3, "leader", "ink")
        self.sheet.ring(oriented(place.at, 0.0, -wide / 2 + 1, wide / 2 - 1, HALF - 1.0), "mask", "paper")
        self.sheet.text(Text(place.at, text, "text", SIZE, "middle"))


def _targets(line: Sequence[Flat]) -> Iterator[tuple[Flat, float, float]]:
    """Places along a broken line to point at, the direction there [deg], and how far off the middle."""
    whole = sum(math.dist(a, b) for a, b in itertools.pairwise(line))
    for share in (0.5, 0.3, 0.7, 0.1, 0.9):
        left = share * whole
        for a, b in itertools.pairwise(line):
            d = math.dist(a, b)
            if left <= d and d > 0:
                run = heading(a, b)
                at = (a[0] + left * run[0], a[1] + left * run[1])
                yield at, math.degrees(math.atan2(run[1], run[0])), abs(share - 0.5)
                break
            left -= d


def _places(targets: Sequence[tuple[Flat, float, float]], wide: float) -> Iterator[_Place]:
    """Every place for a name, the cheapest first, so that the search can stop at the first that none can beat."""
    ways = []
    for target, own, off in targets:
        for turn, c, s in TURNS:
            lean = abs((turn - own + 90.0) % 180.0 - 90.0)
            ways.append((off + (ALONG_PRICE if lean < ALONG_DEG else 0.0), target, c, s))
    ways.sort(key=lambda way: way[0])
    alike = [list(some) for _, some in itertools.groupby(ways, key=lambda way: way[0])]
    prices = sorted((reach * PER_REACH + some[0][0], reach, k) for reach in REACHES for k, some in enumerate(alike))
    for price, reach, k in prices:
        for _, target, c, s in alike[k]:
            start = (target[0] + reach * c, target[1] + reach * s)
            yield _Place(_beside(start, c, s, wide), start, target, price)


def _beside(start: Flat, c: float, s: float, wide: float) -> Flat:
    """The middle of a name whose box its leader leaves at `start`: by an end, or by its lower or upper edge."""
    if abs(c) > 0.5:
        return (start[0] + math.copysign(wide / 2, c), start[1])
    return (start[0] + c * wide / 2, start[1] + math.copysign(HALF, s))
