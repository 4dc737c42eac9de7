"""The order of folds as small pictures, one for each operation.

A strip is drawn as its section at the tool; a piece whose bends cross as its blank, the line in hand heavy.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from lapwright.draw.bend_step import Box, draw_blank_step, draw_section_step
from lapwright.draw.blank import Item, title_of
from lapwright.draw.display import Display, Pen, Text
from lapwright.draw.heading import fold, write_heading
from lapwright.draw.pens import PENS
from lapwright.draw.sheet import WIDTH, Sheet
from lapwright.metal.develop import develop
from lapwright.shop.bending.model import BendPlan, Operation
from lapwright.shop.bending.numbers import numbers_of
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

CELL, PICTURE, LEAD, EDGE = 126.0, 86.0, 10.5, 5.0
"""Width of a picture's cell, height of a picture, of a row of words, and the air round a cell. [pt]"""

LINES, MOST = 3, 4
"""Rows of words under a picture, and how many pictures stand in a row at most."""


def draw_order(
    piece: Item, plan: BendPlan, speaker: Speaker, brake: Kit | None = None, also: Sequence[str] = ()
) -> Display:
    """Draw the operations of a plan, in order, each with the numbers that its bends have on the blank.

    Args:
        piece: the piece or panel the plan was made for.
        plan: its plan; one that is not feasible gives its blocked bends in words.
        speaker: Language and unit of the job.
        brake: the kit that the plan was made with, whose sections are drawn; the default kit when left out.
        also: sentences for its heading.

    Returns:
        A sheet 3 1/2 to 7 inches wide, as high as its rows; a piece of eighteen operations takes 8 1/2 inches.

    Raises:
        ValueError: the piece has no body.
    """
    if piece.body is None:
        raise ValueError("a piece without a body has no folds to draw")
    flat = develop(piece.body)
    strip = strip_of(flat)
    facts = [*_facts(plan, speaker), *also]
    rows = math.ceil(len(plan.operations) / MOST)
    columns = max(2, math.ceil(len(plan.operations) / rows)) if rows else MOST
    high = PICTURE + LINES * LEAD + EDGE
    title = speaker.say("bending.title", title=title_of(piece, speaker))
    sheet = Sheet(columns * CELL, _heading_height(title, facts, columns * CELL) + rows * high)
    top = write_heading(sheet, title, facts)
    ways, numbers = {b.id: b.way for b in piece.bends}, numbers_of(plan)
    done: tuple[str, ...] = ()
    for n, operation in enumerate(plan.operations):
        x, y = n % columns * CELL, top - n // columns * high
        box = Box(x + EDGE, y - PICTURE, x + CELL - EDGE, y - EDGE)
        if strip is not None:
            draw_section_step(sheet, box, strip, operation, done, brake or default_kit())
        else:
            draw_blank_step(sheet, box, flat, operation, done)
        for k, text in enumerate(words_of(operation, numbers, ways, speaker)):
            at = (x + EDGE, y - PICTURE - LEAD * (k + 0.6))
            sheet.text(Text(at, text, "text", 8.0, "start", 0.0, k == 0))
        if n % columns:
            sheet.line((x, y - high + EDGE), (x, y - EDGE), "dimension")
        done = (*done, f"{operation.bend}?") if operation.kind == "hem-fold" else (*done, *operation.bends)
    return sheet.finish(BEND_PENS, title)


def is_section(item: Item) -> bool:
    """Are its steps drawn as sections (and not as its blank)?"""
    return item.body is not None and strip_of(develop(item.body)) is not None


def legend_of(section: bool, blank: bool, width: float, speaker: Speaker) -> Display:
    """How the pictures are read: for sections, for blanks, or for both. width: of the paper. [pt]"""
    said = [("bending.rule", section), ("bending.plan_rule", blank), ("bending.both_rule", True)]
    rows = [row for key, on in said if on for row in fold(speaker.say(key), 8.0, width - 6.0)]
    sheet = Sheet(width, LEAD * len(rows) + 8.0)
    sheet.line((0, sheet.height - 1), (width, sheet.height - 1), "table")
    for k, row in enumerate(rows):
        sheet.text(Text((3.0, sheet.height - 4.0 - LEAD * (k + 0.5)), row, "text", 8.0))
    return sheet.finish(BEND_PENS, "")


def draw_singles(rows: Sequence[str], speaker: Speaker) -> Display:
    """The pieces that one operation folds, in words. rows: one for each."""
    title = speaker.say("bending.singles")
    sheet = Sheet(WIDTH, _heading_height(title, rows, WIDTH))
    write_heading(sheet, title, rows)
    return sheet.finish(BEND_PENS, title)


def _facts(plan: BendPlan, speaker: Speaker) -> Iterator[str]:
    if plan.feasible:
        yield speaker.say("bending.summary", count=len(plan.operations), flips=plan.flips, turns=plan.turns)
        return
    yield speaker.say("bending.infeasible")
    yield from blocked_words(plan, speaker)


def blocked_words(plan: BendPlan, speaker: Speaker) -> Iterator[str]:
    """What no tool makes, each bend with the reason and what helps."""
    for b in plan.blocked:
        cures = speaker.say("bending.or").join(speaker.say(f"bending.cure.{cure}") for cure in b.cures)
        yield speaker.say("bending.blocked", bend=b.bend, reason=f"bending.reason.{b.reason}", cures=cures)


def _heading_height(title: str, facts: Sequence[str], width: float) -> float:
    """Room that the heading takes. [pt]"""
    return 2000.0 - write_heading(Sheet(width, 2000.0), title, facts) + 2.0


def words_of(
    operation: Operation, numbers: Mapping[str, int], ways: Mapping[str, str], speaker: Speaker
) -> tuple[str, str, str]:
    """What to do, with which tool, how it lies."""
    moves = [key for key, on in (("flip", operation.flip), ("turn", operation.turn)) if on]
    lies = speaker.say(f"bending.{operation.face_up}")
    return (
        what_of(operation, numbers, ways, speaker),
        tool_name(operation.tool, speaker),
        f"{speaker.say('bending.' + '_'.join(moves))}, {lies}" if moves else lies,
    )


def what_of(operation: Operation, numbers: Mapping[str, int], ways: Mapping[str, str], speaker: Speaker) -> str:
    """The numbers of its bends, the way and the angle."""
    n = "+".join(str(numbers[bend]) for bend in operation.bends)
    way = speaker.say(f"bending.{ways[operation.bend]}")
    return speaker.say(f"bending.{operation.kind.replace('-', '_')}", n=n, way=way, angle=operation.angle_deg)


def tool_name(key: str, speaker: Speaker) -> str:
    """A tool as its words call it, or a user's own tool by its key."""
    said = f"bending.tool.{key}"
    return speaker.say(said) if speaker.knows(said) else fold(key, 8.0, 120.0)[0]
