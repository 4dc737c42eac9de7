"""What a person must know of the folds: bends no tool makes, lines shared with other metal, bends made by hand."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from lapwright import rules
from lapwright.findings import Finding, Level
from lapwright.geom.flat import signed_area
from lapwright.metal.develop import develop
from lapwright.metal.model import Piece, RoofPanel
from lapwright.shop.bending.model import BendPlan, Blocked

Item = Piece | RoofPanel

LONG, DEEP = 4.0, 2.0
"""A flange with a longer line, and deeper than this, is more than a tab that hand seamers turn. House rule. [in]"""


def findings_of(
    pieces: Sequence[Piece], panels: Sequence[RoofPanel], plans: Mapping[str, BendPlan], told: bool = True
) -> tuple[Finding, ...]:
    """The findings of every plan: what is blocked, then shared lines, then what is made by hand.

    Args:
        pieces, panels: those the plans were made for.
        plans: as `orders_for` gives them.
        told: has the shop told its tools? A bend that only a kit nobody vouches for cannot make stops no job.
    """
    items: list[Item] = [*pieces, *panels]
    planned = [(i, plans[i.id]) for i in items if i.id in plans]
    return (
        *(f for item, plan in planned for f in _blocked(item, plan, told)),
        *(f for item, plan in planned if isinstance(item, Piece) for f in _shared_lines(item, plan)),
        *_by_hand([(item, plan) for item, plan in planned if isinstance(item, Piece)]),
    )


def _blocked(item: Item, plan: BendPlan, told: bool) -> Iterator[Finding]:
    """Each bend that no tool of the kit makes. One whose line is shared has three ways, none of them a folder's."""
    for b in plan.blocked:
        if b.reason == "shared-line":
            yield _shared_line(item, b.bend, "caution")
            continue
        yield rules.finding(
            "bend.blocked", item.opening or item.id, level="stop" if told else "caution", piece=item.id, bend=b.bend,
            reason=f"bending.reason.{b.reason}", other=f"bending.cure.{b.cures[0]}",
        )  # fmt: skip


def _shared_lines(piece: Piece, plan: BendPlan) -> Iterator[Finding]:
    """A note for each line that no long folder reaches, where the flange is more than a tab."""
    for b in plan.by_hand:
        if b.reason == "shared-line" and _length(piece, b.bend) > LONG and _moving_part(piece, b.bend) > DEEP:
            yield _shared_line(piece, b.bend, "note")


def _shared_line(item: Item, bend: str, level: Level) -> Finding:
    return rules.finding(
        "bend.shared-line", item.opening or item.id, _length(item, bend), level, piece=item.id, bend=bend
    )


def _length(item: Item, bend: str) -> float:
    """Of a bend's line. [in]"""
    line = next(x for x in item.bends if x.id == bend)
    return math.dist(line.start, line.end)


def _moving_part(piece: Piece, bend: str) -> float:
    """How deep the flange beyond a bend is: its area over the line's length. [in]"""
    assert piece.body is not None
    region = next(r for r in develop(piece.body).regions if r.face == bend.split("/")[-1])
    return abs(signed_area(region.ring)) / _length(piece, bend)


def _by_hand(planned: Sequence[tuple[Item, BendPlan]]) -> Iterator[Finding]:
    """One note for each opening: how many bends are made by hand, on which pieces."""
    rows: dict[str, list[tuple[str, tuple[Blocked, ...]]]] = {}
    for item, plan in planned:
        if plan.by_hand:
            rows.setdefault(item.opening or item.id, []).append((item.id, plan.by_hand))
    for where, mine in rows.items():
        count = sum(len(bends) for _, bends in mine)
        yield rules.finding("bend.by-hand", where, count=count, pieces=", ".join(item for item, _ in mine))
