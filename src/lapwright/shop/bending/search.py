"""The exact search: what is done, how the piece lies, what comes next.

A* over (tasks done, pose). A pose is the way the moving side points on the blank and which side of the sheet
looks up. Rolling the piece over about its bend line (a flip) also swaps its ends; a turn swaps them alone, or
brings another line to the tool. The bound counts the cheapest way to do each task that is left, a flip where a
task needs the other side up, and a turn for each further direction of lines; it is never too high, so the first
plan that comes out is the cheapest, and a search that runs dry proves that there is none.

Costs are house rules: an operation 1 and what its tool adds, a turn 2, a flip 3.

Source: P. Hart, N. Nilsson, B. Raphael, IEEE Trans. SSC 4(2), 1968 (from memory).
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from lapwright.shop.bending.model import Kind

TURN, FLIP = 2.0, 3.0
_FAR = float("inf")


@dataclass(frozen=True, slots=True)
class Pose:
    """heading: where the moving side points on the blank, whole degrees 0 to 359. paint_up: painted side up."""

    heading: int
    paint_up: bool

    @property
    def axis(self) -> int:
        """Direction of the lines that can be folded in this pose, whole degrees 0 to 179."""
        return self.heading % 180


@dataclass(frozen=True, slots=True)
class Move:
    """One operation that may be tried.

    adds, needs: tasks it does and tasks that must be done before, as bits. pose: how the piece must lie, None where
    a hand tool takes it as it lies. why_not: reason against it with these tasks done, "" when there is none. never:
    a reason that holds whatever is done, when there is one. at_once: closes a hem that then lies flat.
    """

    adds: int
    needs: int
    pose: Pose | None
    cost: float
    kind: Kind
    tool: str
    bends: tuple[str, ...]
    clamped: str
    angle_deg: float
    heading: int
    why_not: Callable[[int], str]
    never: str = ""
    at_once: bool = False


@dataclass(slots=True)
class Found:
    """What a search found. moves in order; reached: the fullest sets of tasks that could be done.

    refused: for each task bit, why each tool was refused, most often first (only where a plan is missing).
    """

    moves: tuple[Move, ...] = ()
    cost: float = 0.0
    solved: bool = False
    expanded: int = 0
    ever: int = 0
    fullest: int = 0
    refused: dict[int, dict[tuple[str, str], int]] = field(default_factory=dict)


_State = tuple[int, Pose | None]


def change(a: Pose | None, b: Pose | None) -> tuple[bool, bool, float]:
    """From one pose to the next: flip?, turn?, cost. Laying the piece down the first time is free."""
    if a is None or b is None:
        return False, False, 0.0
    flip = a.paint_up != b.paint_up
    turn = a.axis != b.axis or (a.heading != b.heading) != flip
    return flip, turn, FLIP * flip + TURN * turn


def search(moves: Sequence[Move], every: int, eager: bool = True) -> Found:
    """The cheapest order that does every task.

    Args:
        moves: everything that may be tried; ties go to the one that stands first.
        every: the bits of all tasks.
        eager: close a hem that then lies flat as soon as it is folded, where its cheapest tool can in the same pose.
            Closed it is in nobody's way and closing it at once costs no turn, so no cheaper order is lost; a test
            holds that against every order. (A hem with a gap may be in the way more when closed: it may wait.)
    """
    found = Found()
    open_to = _sorted_by_task(moves, every, found)
    bound = _Bound([m for mine in open_to.values() for m in mine], every)
    start: _State = (0, None)
    best: dict[_State, float] = {start: 0.0}
    came: dict[_State, tuple[_State, Move]] = {}
    heap: list[tuple[float, int, int, _State]] = [(bound(0, None), 0, 0, start)]
    closed: set[_State] = set()
    ticket = 0
    while heap:
        _, _, _, state = heapq.heappop(heap)
        if state in closed:
            continue
        closed.add(state)
        done, pose = state
        found.expanded += 1
        found.ever |= done
        if done.bit_count() > found.fullest.bit_count():
            found.fullest = done
        if done == every:
            return _trace(found, state, came, best[state])
        sofar = best[state]
        for move in _next(open_to, every & ~done, done, pose, eager):
            after = (done | move.adds, move.pose or pose)
            cost = sofar + move.cost + change(pose, move.pose)[2]
            if after in closed or cost >= best.get(after, _FAR) - 1e-9:
                continue
            why = move.why_not(done)
            if why:
                _refuse(found, move, why)
                continue
            best[after] = cost
            came[after] = (state, move)
            ticket += 1
            # Of equals the one with more done comes first, then the one that was found first.
            heapq.heappush(heap, (cost + bound(*after), -after[0].bit_count(), ticket, after))
    return found


def _sorted_by_task(moves: Sequence[Move], every: int, found: Found) -> dict[int, list[Move]]:
    """Moves by the lowest task they do; those that can never be made are refused once and for all."""
    out: dict[int, list[Move]] = {1 << n: [] for n in range(every.bit_length())}
    for move in moves:
        if move.never:
            _refuse(found, move, move.never)
        else:
            out[move.adds & -move.adds].append(move)
    return out


def _next(
    open_to: dict[int, list[Move]], left: int, done: int, pose: Pose | None, eager: bool
) -> Iterator[Move]:
    """Moves that do only tasks that are left and whose own tasks come first are done."""
    closing: list[Move] = []
    for bit, mine in open_to.items():
        if left & bit:
            fitting = [m for m in mine if not done & m.adds and not m.needs & ~done]
            if eager and fitting and fitting[0].at_once:
                # Only by the cheapest way to close it: a dearer tool at hand may not shut out a cheaper one later.
                least = min(m.cost for m in mine)
                able = (m for m in fitting if m.pose in (pose, None) and m.cost == least and not m.why_not(done))
                here = next(able, None)
                if here is not None:
                    yield here
                    return
            closing += fitting
    yield from closing


def _refuse(found: Found, move: Move, why: str) -> None:
    seen = found.refused.setdefault(move.adds & -move.adds, {})
    seen[move.tool, why] = seen.get((move.tool, why), 0) + 1


def _trace(
    found: Found,
    state: _State,
    came: dict[_State, tuple[_State, Move]],
    cost: float,
) -> Found:
    moves: list[Move] = []
    while state in came:
        state, move = came[state]
        moves.append(move)
    found.moves, found.cost, found.solved = tuple(reversed(moves)), cost, True
    return found


class _Bound:
    """What is left to pay at least: each task's cheapest move, and poses that must still be taken up."""

    def __init__(self, moves: Sequence[Move], every: int) -> None:
        self.every = every
        self.bits = [1 << n for n in range(every.bit_length())]
        self.least: dict[int, float] = {}
        self.poses: dict[int, frozenset[Pose | None]] = {}
        for b in self.bits:
            mine = [m for m in moves if m.adds & b]
            self.least[b] = min((m.cost / m.adds.bit_count() for m in mine), default=0.0)
            self.poses[b] = frozenset(m.pose for m in mine)
        self.kept: dict[int, tuple[float, frozenset[frozenset[Pose]]]] = {}
        self.changes: dict[tuple[frozenset[frozenset[Pose]], Pose | None], float] = {}

    def __call__(self, done: int, pose: Pose | None) -> float:
        left = self.every & ~done
        if left not in self.kept:
            mine = [b for b in self.bits if left & b]
            # A task that may be done by hand, as the piece lies, asks for no pose.
            asked = frozenset(frozenset(p for p in self.poses[b] if p) for b in mine if None not in self.poses[b])
            self.kept[left] = (sum(self.least[b] for b in mine), asked)
        least, asked = self.kept[left]
        key = (asked, pose)
        if key not in self.changes:
            self.changes[key] = _least_changes(asked, pose)
        return least + self.changes[key]


def _least_changes(asked: frozenset[frozenset[Pose]], pose: Pose | None) -> float:
    """Cheapest walk through poses, from this one, that takes up one of each set asked for."""
    heap: list[tuple[float, int, Pose | None, frozenset[frozenset[Pose]]]] = [(0.0, 0, pose, asked)]
    seen: set[tuple[Pose | None, frozenset[frozenset[Pose]]]] = set()
    ticket = 0
    while heap:
        cost, _, here, left = heapq.heappop(heap)
        left = frozenset(s for s in left if here not in s)
        if not left:
            return cost
        if (here, left) in seen:
            continue
        seen.add((here, left))
        for there in sorted({p for s in left for p in s}, key=lambda p: (p.heading, p.paint_up)):
            ticket += 1
            heapq.heappush(heap, (cost + change(here, there)[2], ticket, there, left))
    return 0.0
