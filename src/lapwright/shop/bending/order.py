"""The order in which a piece is folded: strips by their section, pieces with crossing bends by what is reachable."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from lapwright.metal.develop import Developed, develop
from lapwright.metal.model import Piece, RoofPanel
from lapwright.shop.bending.crossing import crossing_moves
from lapwright.shop.bending.cures import cures_for, fitting_reason
from lapwright.shop.bending.model import BendPlan, Blocked, FaceUp, Operation
from lapwright.shop.bending.search import Found, Move, Pose, change, search
from lapwright.shop.bending.shape import named, shape_of
from lapwright.shop.bending.strip import strip_of
from lapwright.shop.bending.strip_moves import moves_of, offsets
from lapwright.shop.bending.tools import Folder, Kit, Tool

Item = Piece | RoofPanel


def bend_order(piece: Item, brake: Kit) -> BendPlan:
    """The cheapest order of folds with the tools of a kit, or the bends that cannot be made.

    Args:
        piece: a piece, or a panel that is worked on; one without a body or a bend needs no operation.
        brake: the tools; a panel is folded with the roof's tools, since its ribs are formed already.
    """
    if piece.body is None or not piece.bends:
        return BendPlan((), True)
    tools = brake.roof if isinstance(piece, RoofPanel) else brake.shop
    shape = shape_of(develop(piece.body))
    return named(_plan(shape.flat, tuple(tools)), shape)


def orders_for(pieces: Sequence[Piece], panels: Sequence[RoofPanel], brake: Kit) -> dict[str, BendPlan]:
    """A plan for every metal piece and every panel that has a bend, by id. Membrane is dressed by hand: no plan."""
    items: list[Item] = [*(p for p in pieces if p.is_metal), *panels]
    return {i.id: bend_order(i, brake) for i in items if i.body is not None and i.bends}


@lru_cache(maxsize=512)
def _plan(flat: Developed, tools: tuple[Tool, ...]) -> BendPlan:
    strip = strip_of(flat)
    moves, every = moves_of(strip, tools) if strip is not None else crossing_moves(flat, tools)
    found = search(moves, every)
    if not found.solved:
        return BendPlan((), False, _blocked(found, moves, every, offsets(strip) if strip else frozenset()))
    found.moves = _folder_first(found.moves)
    if strip is None:
        found.moves = _alike_together(found.moves)
    return BendPlan(_operations(found), True, (), _by_hand(found, moves, tools), found.cost)


def _folder_first(moves: tuple[Move, ...]) -> tuple[Move, ...]:
    """The same operations at the same cost, hand tools as late as they may be: one walk to the folder, not three."""
    row = list(moves)
    for _ in row:
        done = 0
        for k in range(len(row) - 1):
            a, b = row[k], row[k + 1]
            free = a.pose is None and b.pose is not None and not b.needs & ~done
            if free and not b.why_not(done) and not a.why_not(done | b.adds):
                row[k], row[k + 1] = b, a
            done |= row[k].adds
    return tuple(row)


def _alike_together(moves: tuple[Move, ...]) -> tuple[Move, ...]:
    """At the same cost, folds that are alike after each other: both tabs, then both hems."""
    row = moves
    for i in range(len(moves) - 2):
        if _are_alike(row[i], row[i + 1]):
            continue
        for j in range(i + 2, len(row)):
            trial = (*row[: i + 1], row[j], *row[i + 1 : j], *row[j + 1 :])
            if _are_alike(row[i], row[j]) and _cost_of(trial) <= _cost_of(row) + 1e-9:
                row = trial
                break
    return row


def _are_alike(a: Move, b: Move) -> bool:
    return (a.kind, a.tool, a.angle_deg) == (b.kind, b.tool, b.angle_deg)


def _cost_of(row: Sequence[Move]) -> float:
    """What an order costs, infinite where one of its moves cannot be made in its turn."""
    done, pose, cost = 0, None, 0.0
    for move in row:
        if move.needs & ~done or move.why_not(done):
            return math.inf
        cost += move.cost + change(pose, move.pose)[2]
        done, pose = done | move.adds, move.pose or pose
    return cost


def _operations(found: Found) -> tuple[Operation, ...]:
    """The moves as operations; where one move stands for a whole hem, its closing follows at once."""
    out: list[Operation] = []
    pose: Pose | None = None
    closed = {move.bends for move in found.moves if move.kind == "hem-close"}
    for move in found.moves:
        flip, turn, _ = change(pose, move.pose)
        pose = move.pose or pose
        up: FaceUp = "painted" if pose is None or pose.paint_up else "unpainted"
        made = Operation(
            move.bends, move.kind, move.tool, move.clamped, up, flip, turn, move.angle_deg, float(move.heading)
        )
        out.append(made)
        if move.kind == "hem-fold" and move.bends not in closed:
            out.append(replace(made, kind="hem-close", flip=False, turn=False, angle_deg=180.0))
    return tuple(out)


def _blocked(found: Found, moves: Sequence[Move], every: int, steps: frozenset[str]) -> tuple[Blocked, ...]:
    """Bends that are lost from the start; else those made in no order; else those missing from the fullest order."""
    missing = found.lost or every & ~found.ever or every & ~found.fullest
    out: dict[tuple[str, ...], Blocked] = {}
    for move in moves:
        if not move.adds & missing or (move.kind == "hem-close" and move.needs & missing) or move.bends in out:
            continue
        if len(move.bends) > 1:
            continue
        reason, tool = fitting_reason(found.refused.get(move.adds & -move.adds, {}), moves)
        out[move.bends] = Blocked(move.bends[0], reason, cures_for(reason, move.bends[0] in steps), tool)
    return tuple(out.values())


def _by_hand(found: Found, moves: Sequence[Move], tools: Sequence[Tool]) -> tuple[Blocked, ...]:
    """Bends made by hand although there is a folder, and what kept it off when their turn came."""
    folders = {t.key for t in tools if isinstance(t, Folder)}
    out: list[Blocked] = []
    done = 0
    for move in found.moves:
        if folders and move.tool not in folders and move.kind != "hem-close":
            for bend in move.bends:
                # Of a joggle each bend alone could be made; the second of them could not.
                before = done | (move.adds if len(move.bends) > 1 else 0)
                tried = [m for m in moves if m.tool in folders and bend in m.bends and m.kind != "hem-close"]
                why = {(m.tool, m.never or m.why_not(before & ~m.adds)): 1 for m in tried}
                reason, tool = fitting_reason({k: n for k, n in why.items() if k[1]}, moves)
                out.append(Blocked(bend, reason, cures_for(reason), tool))
        done |= move.adds
    return tuple(out)
