"""The order of folds as small pictures, one for each operation.

A strip is drawn as its section at the tool; a piece whose bends cross as its blank, the line in hand heavy.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from lapwright.draw.bend_step import Box, draw_blank_step, draw_section_step
from lapwright.draw.blank import Item, title_of
from lapwright.draw.display import Display, Pen, Text
from lapwright.draw.heading import fold, write_heading
from lapwright.draw.pens import PENS
from lapwright.draw.sheet import WIDTH, Sheet
from lapwright.metal.develop import develop
from lapwright.shop.bending.model import BendPlan, Operation
from lapwright.shop.bending.strip import strip_of
from lapwright.shop.bending.tools import Kit, default_kit
from lapwright.words import Speaker

BEND_PENS: tuple[Pen, ...] = (
    *PENS,
    Pen("before", 0.7, (2.5, 1.8)),
    Pen("after", 1.9),
    Pen("tool", 0.5),
    Pen("blank", 0.7),
    Pen("line-now", 2.6),
    Pen("line-done", 0.5),
    Pen("line-todo", 0.4, (1.5, 1.8)),
    Pen("arrow", 0.8),
)

FEW = 9
"""Up to this many operations three pictures stand in a row, more of them four."""

PICTURE, LEAD, EDGE = 86.0, 10.5, 5.0
"""Height of a picture, of a row of words, and the air round a cell. [pt]"""

LINES = 3
"""Rows of words under a picture."""


def draw_order(piece: Item, plan: BendPlan, speaker: Speaker, brake: Kit | None = None) -> Display:
    """Draw the operations of a plan, in order.

    Args:
        piece: the piece or panel the plan was made for.
        plan: its plan; one that is not feasible gives its blocked bends in words.
        speaker: Language and unit of the job.
        brake: the kit that the plan was made with, whose sections are drawn; the default kit when left out.

    Returns:
        A sheet 7 inches wide, as high as its rows; a piece of eighteen operations takes 8 1/2 inches.

    Raises:
        ValueError: the piece has no body.
    """
    if piece.body is None:
        raise ValueError("a piece without a body has no folds to draw")
    flat = develop(piece.body)
    strip = strip_of(flat)
    facts = list(_facts(plan, strip is not None, speaker))
    columns = 3 if len(plan.operations) <= FEW else 4
    high = PICTURE + LINES * LEAD + EDGE
    rows = math.ceil(len(plan.operations) / columns)
    sheet = Sheet(WIDTH, _heading_height(piece, facts, speaker) + rows * high)
    top = write_heading(sheet, speaker.say("bending.title", title=title_of(piece, speaker)), facts)
    wide = sheet.width / columns
    ways = {b.id: b.way for b in piece.bends}
    done: tuple[str, ...] = ()
    for n, operation in enumerate(plan.operations):
        x, y = n % columns * wide, top - n // columns * high
        box = Box(x + EDGE, y - PICTURE, x + wide - EDGE, y - EDGE)
        if strip is not None:
            draw_section_step(sheet, box, strip, operation, done, brake or default_kit())
        else:
            draw_blank_step(sheet, box, flat, operation, done)
        for k, text in enumerate(_words(n + 1, operation, ways, speaker)):
            at = (x + EDGE, y - PICTURE - LEAD * (k + 0.6))
            sheet.text(Text(at, text, "text", 8.0, "start", 0.0, k == 0))
        if n % columns:
            sheet.line((x, y - high + EDGE), (x, y - EDGE), "dimension")
        done = (*done, f"{operation.bend}?") if operation.kind == "hem-fold" else (*done, *operation.bends)
    return sheet.finish(BEND_PENS, speaker.say("bending.title", title=title_of(piece, speaker)))


def _facts(plan: BendPlan, section: bool, speaker: Speaker) -> Iterator[str]:
    if not plan.feasible:
        yield speaker.say("bending.infeasible")
        for b in plan.blocked:
            reason, cure = f"bending.reason.{b.reason}", f"bending.cure.{b.cures[0]}"
            yield speaker.say("bending.blocked", bend=b.bend, reason=reason, cure=cure)
        return
    yield speaker.say("bending.summary", count=len(plan.operations), flips=plan.flips, turns=plan.turns)
    yield speaker.say("bending.rule" if section else "bending.plan_rule")


def _heading_height(piece: Item, facts: list[str], speaker: Speaker) -> float:
    """Room that the heading takes. [pt]"""
    trial = Sheet(WIDTH, 2000.0)
    return 2000.0 - write_heading(trial, speaker.say("bending.title", title=title_of(piece, speaker)), facts) + 2.0


def _words(n: int, operation: Operation, ways: Mapping[str, str], speaker: Speaker) -> Iterator[str]:
    """What stands under a picture: what to do, with which tool, how it lies."""
    kind = operation.kind.replace("-", "_")
    way = speaker.say(f"bending.{ways[operation.bend]}")
    yield speaker.say(f"bending.{kind}", n=n, way=way, angle=operation.angle_deg)
    yield tool_name(operation.tool, speaker)
    moves = [key for key, on in (("flip", operation.flip), ("turn", operation.turn)) if on]
    lies = speaker.say(f"bending.{operation.face_up}")
    yield f"{speaker.say('bending.' + '_'.join(moves))}, {lies}" if moves else lies


def tool_name(key: str, speaker: Speaker) -> str:
    """A tool as its words call it, or a user's own tool by its key."""
    said = f"bending.tool.{key}"
    return speaker.say(said) if speaker.knows(said) else fold(key, 8.0, 120.0)[0]
