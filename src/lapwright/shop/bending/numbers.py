"""The number of every bend: first fold first. One number, on the blank, in its order of folds and in plan.json."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TypeVar

from lapwright.metal.model import Piece, RoofPanel
from lapwright.shop.bending.model import BendPlan

OneItem = TypeVar("OneItem", Piece, RoofPanel)


def numbered(items: Iterable[OneItem], plans: Mapping[str, BendPlan]) -> tuple[OneItem, ...]:
    """The same items, their bends numbered as they are folded; where no order was found they keep their habit's.

    Args:
        items: pieces or panels.
        plans: as `orders_for` gives them.
    """
    return tuple(_numbered(item, plans[item.id]) if item.id in plans else item for item in items)


def _numbered(item: OneItem, plan: BendPlan) -> OneItem:
    if not plan.feasible:
        return item
    order = numbers_of(plan)
    return replace(item, bends=tuple(replace(b, order=order[b.id]) for b in item.bends))


def numbers_of(plan: BendPlan) -> dict[str, int]:
    """Every bend's number, from 1. Bends made in one stroke follow each other; a hem counts when it is folded."""
    row = dict.fromkeys(bend for operation in plan.operations for bend in operation.bends)
    return {bend: n for n, bend in enumerate(row, start=1)}
