"""Free cuts: a beam search over skylines.

    cap  ..................        The lowest gap is filled next, at its left corner or, in a quick search, against
         |   __                    its taller wall. What can never be filled any more counts as waste at once, and a
         |  |  |____   _           state whose waste is more than the box can spare is dropped. Of all states with as
         |__|  |    |_| |          many rectangles placed, the `width` most promising are kept.
         0     gap -> ^    W

Source: the skyline and the beam are old; the guide (waste over mean area of what is placed) follows
Libralesso and Fontan, European Journal of Operational Research 290 (2021), from memory.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lapwright.shop.budget import Budget
from lapwright.shop.nest.grid import Kind, Spot

WALL = 1 << 80
"""Height of the walls left and right of the stock. [steps]"""


@dataclass(frozen=True, slots=True)
class Guide:
    """What is promising: (waste share + blend) / mean area ** power, less `snug` for every side that fits. [-]"""

    blend: float = 0.1
    power: float = 1.0
    snug: float = 0.05


GUIDES = (Guide(), Guide(0.1, 0.5, 0.1), Guide(0.03, 1.0, 0.05))


@dataclass(frozen=True, slots=True)
class Found:
    """What a search ended with. whole: is everything placed?

    sure: nothing was dropped, so a search that is not whole proves that no packing fits.
    """

    spots: tuple[Spot, ...]
    area: int
    whole: bool
    sure: bool


@dataclass(slots=True)
class _State:
    """One skyline. free: a bit for every rectangle not placed; xs has one more than ys."""

    free: int
    xs: tuple[int, ...]
    ys: tuple[int, ...]
    waste: int
    area: int
    before: _State | None
    spot: Spot | None

    def spots(self) -> tuple[Spot, ...]:
        out: list[Spot] = []
        state: _State | None = self
        while state is not None:
            if state.spot is not None:
                out.append(state.spot)
            state = state.before
        return tuple(reversed(out))


_Way = tuple[int, int, int, int, int]
"""Width, height, bits, area, kind's number."""

_Child = tuple[float, int, _State, _Way | None]


def pack(
    width: int,
    cap: int,
    kinds: Sequence[Kind],
    beam: int,
    budget: Budget,
    guide: Guide = GUIDES[0],
    *,
    fill: bool = False,
    full: bool = False,
    bonus: Sequence[float] | None = None,
) -> Found:
    """Place every rectangle in a box, or as many as it takes.

    Args:
        width: Of the box. [steps]
        cap: Its height. [steps]
        kinds: What to place.
        beam: States kept at a time.
        budget: Work allowed; a search that is cut off is not sure.
        guide: What is promising.
        fill: Not everything need fit; the fullest box wins.
        full: Try every corner, so that a search that drops nothing is a proof.
        bonus: Per kind, multiplies the guide; lower is placed sooner.
    """
    return _Search(width, cap, kinds, budget, guide, fill, full, bonus).run(beam)


class _Search:
    def __init__(
        self,
        width: int,
        cap: int,
        kinds: Sequence[Kind],
        budget: Budget,
        guide: Guide,
        fill: bool,
        full: bool,
        bonus: Sequence[float] | None,
    ) -> None:
        self.width, self.cap, self.budget, self.guide = width, cap, budget, guide
        self.fill, self.full = fill, full
        self.bonus = list(bonus) if bonus is not None else [1.0] * len(kinds)
        self.count = sum(k.count for k in kinds)
        self.slack = width * cap - (0 if fill else sum(k.area * k.count for k in kinds))
        self.ways: list[_Way] = []
        self.all = 0
        place = 0
        for i, k in enumerate(kinds):
            bits = ((1 << k.count) - 1) << place
            place += k.count
            self.all |= bits
            self.ways += [(w, h, bits, k.area, i) for w, h in k.ways() if w <= width and h <= cap]
        self.ways.sort()
        self.sure = full

    def run(self, beam: int) -> Found:
        """Level by level; a level holds the states with so many rectangles placed."""
        nothing = Found((), 0, self.count == 0, self.sure)
        if self.slack < 0 or not self.count:
            return nothing
        states = [_State(self.all, (0, self.width), (0,), 0, 0, None, None)]
        best = states[0]
        for level in range(1, self.count + 1):
            children: list[_Child] = []
            for state in states:
                children += self._children(state, level)
            if not self.budget.spend(len(children) + 20 * len(states)):
                self.sure = False
                break
            children.sort(key=lambda c: c[:2])
            states = self._grown(children, beam)
            if not states:
                break
            top = max(states, key=lambda s: s.area) if self.fill else states[0]
            best = top if top.area > best.area else best
        return Found(best.spots(), best.area, best.free == 0, self.sure)

    def _children(self, state: _State, level: int) -> Iterator[_Child]:
        """What may come next in the lowest gap, each with its rank; lower is better."""
        g, cap, slack, bonus = self.guide, self.cap, self.slack, self.bonus
        ys, xs, free, waste, area = state.ys, state.xs, state.free, state.waste, state.area
        y = min(ys)
        k = ys.index(y)
        gap = xs[k + 1] - xs[k]
        left = (ys[k - 1] if k else WALL) - y
        right = (ys[k + 1] if k + 1 < len(ys) else WALL) - y
        low = left if left < right else right
        ways = [o for o in self.ways if o[2] & free]
        narrowest = ways[0][0] if ways else 0
        number = 0
        for way in ways:
            w, h, _, a, kind = way
            if w > gap:
                break
            if y + h > cap:
                continue
            rest = gap - w
            lost = waste + (rest * (low if low < h else h) if rest < narrowest else 0)
            if lost > slack:
                continue
            placed = area + a
            snug = (h == left) + (h == right) + (rest == 0)
            rank = (lost / (placed + lost) + g.blend) / (placed / level) ** g.power
            number += 1
            yield rank * (1 - g.snug * snug) * bonus[kind], number, state, way
        if self.full and low < WALL // 2 and waste + gap * low <= slack:
            yield WALL, 0, state, None

    def _grown(self, children: Sequence[_Child], beam: int) -> list[_State]:
        """The best children as states, each skyline once."""
        out: list[_State] = []
        seen: set[tuple[int, tuple[int, ...], tuple[int, ...]]] = set()
        queue = list(children)
        at = 0
        while at < len(queue):
            if len(out) >= beam:
                self.sure = False
                break
            _, _, state, way = queue[at]
            at += 1
            if way is None:
                # the whole gap is given up: the same number of rectangles, so it grows again at this level
                queue += self._given_up(state)
                continue
            grown = self._placed(state, way)
            if grown is None:
                continue
            key = (grown.free, grown.xs, grown.ys)
            if key not in seen:
                seen.add(key)
                out.append(grown)
        return out

    def _given_up(self, state: _State) -> list[_Child]:
        xs, ys = list(state.xs), list(state.ys)
        y = min(ys)
        k = ys.index(y)
        low = min(ys[k - 1] if k else WALL, ys[k + 1] if k + 1 < len(ys) else WALL)
        waste = state.waste + (xs[k + 1] - xs[k]) * (low - y)
        ys[k] = low
        _join(xs, ys)
        settled = self._settle(xs, ys, state.free, waste)
        if settled is None:
            return []
        raised = _State(state.free, tuple(xs), tuple(ys), settled, state.area, state, None)
        placed = (self.all.bit_count() - state.free.bit_count()) + 1
        more = list(self._children(raised, placed))
        if not self.budget.spend(len(more) + 20):
            self.sure = False
            return []
        return more

    def _placed(self, state: _State, way: _Way) -> _State | None:
        """The skyline with one rectangle more; None where it wastes more than there is to spare."""
        w, h, bits, a, kind = way
        xs, ys = list(state.xs), list(state.ys)
        y = min(ys)
        k = ys.index(y)
        left = ys[k - 1] if k else WALL
        right = ys[k + 1] if k + 1 < len(ys) else WALL
        x = xs[k]
        if w == xs[k + 1] - x:
            ys[k] = y + h
        elif self.full or left >= right:
            xs.insert(k + 1, x + w)
            ys.insert(k, y + h)
        else:
            x = xs[k + 1] - w
            xs.insert(k + 1, x)
            ys.insert(k + 1, y + h)
        _join(xs, ys)
        mine = state.free & bits
        free = state.free ^ (mine & -mine)
        waste = self._settle(xs, ys, free, state.waste)
        if waste is None:
            return None
        return _State(free, tuple(xs), tuple(ys), waste, state.area + a, state, (kind, x, y, w, h))

    def _settle(self, xs: list[int], ys: list[int], free: int, waste: int) -> int | None:
        """Raise every lowest gap into which nothing fits. Returns: the waste, None when it is too much."""
        if not free:
            return waste
        ways = [o for o in self.ways if o[2] & free]
        while True:
            y = min(ys)
            k = ys.index(y)
            gap, room = xs[k + 1] - xs[k], self.cap - y
            for w, h, _, _, _ in ways:
                if w > gap:
                    break
                if h <= room:
                    return waste
            low = min(ys[k - 1] if k else WALL, ys[k + 1] if k + 1 < len(ys) else WALL)
            if low == WALL:
                return waste if self.fill else None
            waste += gap * (low - y)
            if waste > self.slack:
                return None
            ys[k] = low
            _join(xs, ys)


def _join(xs: list[int], ys: list[int]) -> None:
    """Make one of neighbours at the same height."""
    for i in range(len(ys) - 1, 0, -1):
        if ys[i] == ys[i - 1]:
            del ys[i], xs[i]
