"""The exact search: what is done, how the piece lies, what comes next.

A* over (tasks done, pose). A pose is the way the moving side points on the blank and which side of the sheet
looks up. Rolling the piece over about its bend line (a flip) also swaps its ends; a turn swaps them alone, or
brings another line to the tool. The bound counts the cheapest way to do each task that is left, a flip where a
task needs the other side up, and a turn for each further direction of lines; it is never too high, so the first
plan that comes out is the cheapest, and a search that runs dry proves that there is none. Whether a move can be
made is asked only when its turn has come: most never have theirs.

Costs are house rules: an operation 1 and what its tool adds, a turn 2, a flip 3.

Source: P. Hart, N. Nilsson, B. Raphael, IEEE Trans. SSC 4(2), 1968 (from memory).
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import count

from lapwright.shop.bending.model import Kind

TURN, FLIP = 2.0, 3.0


@dataclass(frozen=True, slots=True)
class Pose:
    """heading: where the moving side points on the blank, whole degrees 0 to 359. paint_up: painted side up."""

    heading: int
    paint_up: bool

    @property
    def axis(self) -> int:
        """Direction of the lines that can be folded in this pose, whole degrees 0 to 179."""
        return self.heading % 180


def _unsure(done: int) -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Move:
    """One operation that may be tried.

    adds, needs: tasks it does and tasks that must be done before, as bits. pose: how the piece must lie, None where
    a hand tool takes it as it lies. why_not: reason against it with these tasks done, "" when there is none. never:
    a reason that holds whatever is done, when there is one. at_once: closes a hem that then lies flat. dead: is it
    certain that with these tasks done it can be made neither now nor after more of them? May say no when unsure.
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
    dead: Callable[[int], bool] = _unsure


@dataclass(slots=True)
class Found:
    """What a search found. moves in order; ever: tasks that could be done in some order; fullest: most in one.

    lost: tasks that can be done in no order, where that is certain from the start. refused: for each task bit, why
    each tool was refused, and how often (only where a plan is missing).
    """

    moves: tuple[Move, ...] = ()
    cost: float = 0.0
    solved: bool = False
    expanded: int = 0
    ever: int = 0
    fullest: int = 0
    lost: int = 0
    refused: dict[int, dict[tuple[str, str], int]] = field(default_factory=dict)


_State = tuple[int, Pose | None]
_Chain = tuple[Move, ...]
_Step = tuple[_State, float, _Chain, int]
"""The state before, what it cost so far, and which move of which chain was made there."""
_Entry = tuple[float, int, int, float, _State, _Step | None]
"""Least whole cost, less tasks done, ticket, cost so far, the state, and how it was reached."""


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
    chains = {bit: _chains(mine) for bit, mine in open_to.items()}
    start: _State = (0, None)
    came: dict[_State, _Step | None] = {}
    heap: list[_Entry] = [(bound(*start), 0, 0, 0.0, start, None)]
    tickets = count(1)

    def reach(state: _State, sofar: float, chain: _Chain, k: int) -> None:
        """Queue the state to which the next move of a chain would lead."""
        done, pose = state
        if k < len(chain):
            move = chain[k]
            after = (done | move.adds, move.pose or pose)
            if after not in came:
                cost = sofar + move.cost + change(pose, move.pose)[2]
                # Of equals the one with more done comes first, then the one that was found first.
                order = (cost + bound(*after), -after[0].bit_count(), next(tickets))
                heapq.heappush(heap, (*order, cost, after, (state, sofar, chain, k)))

    while heap:
        _, _, _, sofar, state, step = heapq.heappop(heap)
        if state in came:
            continue
        if step is not None:
            before, spent, chain, k = step
            why = chain[k].why_not(before[0])
            if why:
                _refuse(found, chain[k], why)
                reach(before, spent, chain, k + 1)
                continue
        came[state] = step
        done, pose = state
        found.expanded += 1
        found.ever |= done
        if done.bit_count() > found.fullest.bit_count():
            found.fullest = done
        if done == every:
            return _trace(found, state, came, sofar)
        if bound.lost(done):
            _tell_lost(found, bound, done)
            continue
        at_once = _closing(open_to, every & ~done, done, pose) if eager else None
        for chain in [(at_once,)] if at_once else _next(chains, every & ~done, done):
            reach(state, sofar, chain, 0)
    return found


def _tell_lost(found: Found, bound: _Bound, done: int) -> None:
    """Whatever comes next some tasks stay undone: keep only why."""
    lost = bound.lost(done)
    if not done:
        found.lost = lost
    for bit, moves in bound.by_bit.items():
        for _, move in moves if bit & lost else ():
            why = "" if move.adds & done else move.why_not(done)
            if why:
                _refuse(found, move, why)


def _sorted_by_task(moves: Sequence[Move], every: int, found: Found) -> dict[int, list[Move]]:
    """Moves by the lowest task they do; those that can never be made are refused once and for all."""
    out: dict[int, list[Move]] = {1 << n: [] for n in range(every.bit_length())}
    for move in moves:
        if move.never:
            _refuse(found, move, move.never)
        else:
            out[move.adds & -move.adds].append(move)
    return out


def _chains(moves: Sequence[Move]) -> list[_Chain]:
    """Moves that lead to the same place, the cheapest first: the next is asked for only where that is refused."""
    out: dict[tuple[int, int, Pose | None], list[Move]] = {}
    for move in moves:
        out.setdefault((move.adds, move.needs, move.pose), []).append(move)
    return [tuple(sorted(mine, key=lambda m: m.cost)) for mine in out.values()]


def _next(chains: dict[int, list[_Chain]], left: int, done: int) -> Iterator[_Chain]:
    """Chains that do only tasks that are left and whose own tasks come first are done."""
    for bit, mine in chains.items():
        if left & bit:
            yield from (c for c in mine if not done & c[0].adds and not c[0].needs & ~done)


def _closing(open_to: dict[int, list[Move]], left: int, done: int, pose: Pose | None) -> Move | None:
    """A hem that is closed at once, as the piece lies."""
    for bit, mine in open_to.items():
        if left & bit and mine and mine[0].at_once and not mine[0].needs & ~done:
            # Only by the cheapest way to close it: a dearer tool at hand may not shut out a cheaper one later.
            least = min(m.cost for m in mine)
            able = (m for m in mine if m.pose in (pose, None) and m.cost == least and not m.why_not(done))
            here = next(able, None)
            if here is not None:
                return here
    return None


def _refuse(found: Found, move: Move, why: str) -> None:
    seen = found.refused.setdefault(move.adds & -move.adds, {})
    seen[move.tool, why] = seen.get((move.tool, why), 0) + 1


def _trace(found: Found, state: _State, came: dict[_State, _Step | None], cost: float) -> Found:
    moves: list[Move] = []
    while (step := came[state]) is not None:
        state, _, chain, k = step
        moves.append(chain[k])
    found.moves, found.cost, found.solved = tuple(reversed(moves)), cost, True
    return found


class _Bound:
    """What is left to pay at least: each task's cheapest move that is not dead, and poses still to be taken up."""

    def __init__(self, moves: Sequence[Move], every: int) -> None:
        self.every = every
        self.by_bit: dict[int, list[tuple[float, Move]]] = {}
        for bit in (1 << n for n in range(every.bit_length())):
            mine = [(m.cost / m.adds.bit_count(), m) for m in moves if m.adds & bit]
            self.by_bit[bit] = sorted(mine, key=lambda one: one[0])
        self.kept: dict[int, tuple[float, frozenset[frozenset[Pose]], int]] = {}
        self.changes: dict[tuple[frozenset[frozenset[Pose]], Pose | None], float] = {}

    def __call__(self, done: int, pose: Pose | None) -> float:
        """Infinite where a task that is left can no longer be done."""
        least, asked, lost = self._left(done)
        if lost:
            return math.inf
        key = (asked, pose)
        if key not in self.changes:
            self.changes[key] = _least_changes(asked, pose)
        return least + self.changes[key]

    def lost(self, done: int) -> int:
        """Tasks that are left and can no longer be done."""
        return self._left(done)[2]

    def _left(self, done: int) -> tuple[float, frozenset[frozenset[Pose]], int]:
        if done not in self.kept:
            self.kept[done] = self._work_out(done)
        return self.kept[done]

    def _work_out(self, done: int) -> tuple[float, frozenset[frozenset[Pose]], int]:
        whole, lost, asked = 0.0, 0, set()
        for bit, moves in self.by_bit.items():
            if bit & done:
                continue
            least, poses = math.inf, set()
            for share, move in moves:
                # A move dearer by a turn and a flip spares no more than it costs: another pose is the cheaper way.
                if share >= least + TURN + FLIP:
                    break
                if move.pose not in poses and not move.adds & done and not move.dead(done):
                    least = min(least, share)
                    poses.add(move.pose)
            if not poses:
                lost |= bit
                continue
            whole += least
            # A task that may be done by hand, as the piece lies, asks for no pose.
            if None not in poses:
                asked.add(frozenset(p for p in poses if p))
        return whole, frozenset(asked), lost


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
