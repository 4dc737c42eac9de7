"""The order of folds of every piece: its steps as pictures, and the blank folding as a moving picture.

Pieces alike share one place on the pages; one that a single operation folds is told there in a line.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from lapwright.draw.bending import draw_order, draw_singles, is_section, tool_name, what_of
from lapwright.draw.blank import Item
from lapwright.draw.display import Display
from lapwright.draw.fold_svg import fold_animation
from lapwright.metal.develop import Developed, develop
from lapwright.metal.model import Piece
from lapwright.packet.worked import WorkedJob
from lapwright.shop.bending.model import BendPlan
from lapwright.shop.bending.numbers import numbers_of
from lapwright.shop.bending.shape import shape_of
from lapwright.words import Speaker


@dataclass(frozen=True, slots=True)
class FoldSheet:
    """The steps of one piece. ids: the pieces it is for; on_page: its place in the packet, or a file only."""

    ids: tuple[str, ...]
    sheet: Display
    section: bool
    on_page: bool


def fold_sheets(job: WorkedJob, items: Sequence[Item], speaker: Speaker) -> Iterator[FoldSheet]:
    """A sheet for every piece that is folded; the first of those alike stands on a page for all of them.

    Args:
        job: A worked-out job.
        items: What is cut for it.
        speaker: Language and unit of the job.
    """
    for alike in _alike(items, job.orders):
        plan = job.orders[alike[0][0].id]
        shown = len(plan.operations) > 1 or not plan.feasible
        for k, (item, _) in enumerate(alike):
            also = [] if k else list(_others(alike, speaker))
            sheet = draw_order(item, job.orders[item.id], speaker, job.kit, also)
            yield FoldSheet(tuple(one.id for one, _ in alike[k:]), sheet, is_section(item), shown and not k)


def _alike(items: Sequence[Item], orders: Mapping[str, BendPlan]) -> list[list[tuple[Item, int]]]:
    """Pieces of one shape together, each with its hand, in the order in which the first of them comes."""
    groups: dict[tuple[Developed, bool], list[tuple[Item, int]]] = {}
    for item in items:
        if item.id in orders and item.body is not None:
            shape = shape_of(develop(item.body))
            # Panels are folded on the roof, with other tools.
            groups.setdefault((shape.flat, isinstance(item, Piece)), []).append((item, shape.hand))
    return list(groups.values())


def _others(alike: Sequence[tuple[Item, int]], speaker: Speaker) -> Iterator[str]:
    first = alike[0][1]
    for key, wanted in (("same", True), ("mirror", False)):
        ids = [item.id for item, hand in alike[1:] if (hand == first) == wanted]
        if ids:
            yield speaker.say(f"bending.{key}", ids=", ".join(ids))


def single_folds(job: WorkedJob, items: Sequence[Item], speaker: Speaker) -> Display | None:
    """The pieces that one operation folds, a line each; None where there are none."""
    rows = []
    for item in items:
        plan = job.orders.get(item.id)
        if plan is not None and plan.feasible and len(plan.operations) == 1:
            (o,) = plan.operations
            what = what_of(o, numbers_of(plan), {b.id: b.way for b in item.bends}, speaker)
            values = {"what": what, "tool": tool_name(o.tool, speaker), "lies": speaker.say(f"bending.{o.face_up}")}
            rows.append(speaker.say("bending.single", id=item.id, **values))
    return draw_singles(rows, speaker) if rows else None


def moving_pictures(job: WorkedJob, items: Sequence[Item], speaker: Speaker) -> Iterator[tuple[str, str]]:
    """Id and moving picture of every piece that is folded."""
    for item in items:
        plan = job.orders.get(item.id)
        if plan is not None and plan.feasible:
            yield item.id, fold_animation(item, plan, speaker)
