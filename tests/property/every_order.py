"""Every order of folds, one after the other: what the exact search must agree with. No bound, nothing kept."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lapwright.shop.bending.search import Move, Pose, change


def cheapest(moves: Sequence[Move], every: int) -> float:
    """Cost of the cheapest order, infinite where there is none. Walks the orders of all tasks, depth first."""

    def go(done: int, pose: Pose | None, spent: float, best: float) -> float:
        if done == every:
            return spent
        for move in moves:
            if done & move.adds or move.needs & ~done or move.why_not(done):
                continue
            cost = spent + move.cost + change(pose, move.pose)[2]
            if cost < best - 1e-9:
                best = min(best, go(done | move.adds, move.pose or pose, cost, best))
        return best

    return go(0, None, 0.0, math.inf)
