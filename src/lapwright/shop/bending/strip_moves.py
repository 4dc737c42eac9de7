"""Everything that may be tried on a strip: every fold at every tool, with either side moving."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial

from lapwright.shop.bending.bench import Bench, Side, Tasks, tasks_of
from lapwright.shop.bending.model import HEM_OPEN_DEG, Kind
from lapwright.shop.bending.search import Move, Pose
from lapwright.shop.bending.strip import Strip
from lapwright.shop.bending.tools import Folder, HandTool, Tool

OPERATION = 1.0
EXTRA = {"straight": 0.0, "box": 1.0, "short": 1.0, "joggle": 2.0, "seamers": 4.0, "bar": 12.0}
"""What a tool adds to the cost of an operation. House rule."""

BITE, JAWS = 2.0, 3.5
"""What each bite of the jaws along a line adds, and how wide a bite is over a bar [in]. House rule.

A tab is turned by hand in a moment; a long line is for the folder.
"""

EVEN_DEG = 1.0
"""Both bends of a joggle turn alike within this. House rule."""

STEP = 0.75
"""A step narrower than this may be joggled. House rule. [in]"""

SWING, SWING_FROM = 2.5, 3.0
"""Swinging more metal than is held costs this, where it is wider than this. [in]

House rule: rather turn the piece.
"""

SIDES: tuple[Side, Side] = (1, -1)


def moves_of(strip: Strip, tools: Sequence[Tool], keep: bool = True) -> tuple[tuple[Move, ...], int]:
    """The moves, handiest tool first, and the bits of all tasks. keep: sections once worked out are kept."""
    tasks = tasks_of(strip)
    out: list[Move] = []
    for tool in tools:
        if isinstance(tool, Folder):
            out += _at_folder(Bench(strip, tool, keep), tasks)
        elif tool.kind == "joggle":
            out += _joggles(strip, tasks, tool)
        else:
            out += _by_hand(strip, tasks, tool)
    return tuple(out), tasks.all


def swing_cost(free: float, held: float) -> float:
    """What it costs to swing the wider part of a piece, by both widths from the line. [in]"""
    return SWING if free > max(held, SWING_FROM) else 0.0


def hand_cost(tool: HandTool, length: float) -> float:
    """What it costs to turn a line of this length [in] by hand.

    >>> from lapwright.shop.bending.tools import default_kit
    >>> hand_cost(default_kit().tool("seamers"), 7.5)
    11.0
    """
    wide = tool.width if tool.kind == "seamers" else JAWS
    bites = math.ceil(length / wide - 1e-9) if tool.kind != "joggle" else 0
    return OPERATION + EXTRA[tool.kind] + BITE * bites


def heading_of(strip: Strip, side: Side) -> int:
    """Where the moving side points on the blank, in whole degrees."""
    return round(strip.heading_deg + (0 if side > 0 else 180)) % 360


def _at_folder(bench: Bench, tasks: Tasks) -> Iterator[Move]:
    strip, tool = bench.strip, bench.folder
    for k, f in enumerate(strip.folds):
        for side in SIDES:
            pose = Pose(heading_of(strip, side), f.up)
            kinds: list[tuple[Kind, int, int, float, bool]] = [
                ("hem-fold" if f.is_hem else "fold", tasks.fold[k], 0, bench.turn(k), False)
            ]
            if f.is_hem:
                kinds.append(("hem-close", tasks.close[k], tasks.fold[k], f.angle_deg, True))
            for kind, adds, needs, angle, closing in kinds:
                # A flap is folded while it is the moving side; folding the whole piece round it helps nobody.
                if kind == "hem-fold" and side != bench.flap_side(k):
                    continue
                free, held = (bench.first_flat(k, one, 0) for one in (side, -side))
                cost = OPERATION + EXTRA[tool.kind] + (0.0 if closing else swing_cost(free, held))
                yield Move(
                    adds, needs, pose, cost, kind, tool.key, (f.id,), _end(strip, side), angle,
                    pose.heading, partial(bench.why_not, k, side, closing), "" if closing else bench.never(k, side),
                    closing and f.kind == "closed-hem", partial(bench.dead, k, side, closing),
                )  # fmt: skip


def _end(strip: Strip, side: Side) -> str:
    """The face at the end that is held."""
    return strip.faces[0] if side > 0 else strip.faces[-1]


def offsets(strip: Strip) -> frozenset[str]:
    """Folds that make a narrow step with a neighbour: as far up as down, close together."""
    pairs = [(k, k + 1) for k in range(len(strip.folds) - 1) if strip.flats[k + 1] < STEP and _is_offset(strip, k)]
    return frozenset(strip.folds[k].id for pair in pairs for k in pair)


def _is_offset(strip: Strip, k: int) -> bool:
    a, b = strip.folds[k], strip.folds[k + 1]
    return a.up != b.up and abs(a.angle_deg - b.angle_deg) <= EVEN_DEG and not a.is_hem and not b.is_hem


def _joggles(strip: Strip, tasks: Tasks, tool: HandTool) -> Iterator[Move]:
    """Two neighbouring folds that turn alike and opposite: an offset."""
    for k in range(len(strip.folds) - 1):
        a, b = strip.folds[k], strip.folds[k + 1]
        if not _is_offset(strip, k):
            continue
        yield Move(
            tasks.fold[k] | tasks.fold[k + 1], 0, None, OPERATION + EXTRA["joggle"], "joggle", tool.key, (a.id, b.id),
            strip.faces[0], a.angle_deg, heading_of(strip, 1), partial(_why_no_joggle, strip, tasks, tool, k),
        )  # fmt: skip


def _why_no_joggle(strip: Strip, tasks: Tasks, tool: HandTool, k: int, done: int) -> str:
    a, b = strip.folds[k], strip.folds[k + 1]
    if tool.length and max(a.length, b.length) > tool.length:
        return "length"
    if a.metal / 2 + strip.flats[k + 1] + b.metal / 2 > tool.depth:
        return "offset"
    if a.angle_deg > tool.most_deg + 1e-9:
        return "angle"
    near = min(flat_beside(strip, tasks, k, -1, done), flat_beside(strip, tasks, k + 1, 1, done))
    return "land" if near < tool.least else ""


def _by_hand(strip: Strip, tasks: Tasks, tool: HandTool) -> Iterator[Move]:
    for k, f in enumerate(strip.folds):
        for side in SIDES:
            if f.is_hem and (side > 0) != f.child_after:
                continue
            kind: Kind = "hem-fold" if f.is_hem else "fold"
            angle = min(HEM_OPEN_DEG, f.angle_deg) if f.is_hem else f.angle_deg
            cost = hand_cost(tool, f.length)
            fixed = (tool.key, (f.id,), _end(strip, side))
            heading = heading_of(strip, side)
            check = partial(_why_not_hand, strip, tasks, tool, k, side)
            yield Move(tasks.fold[k], 0, None, cost, kind, *fixed, angle, heading, check)
            if f.is_hem and tool.kind == "seamers":
                needs = tasks.fold[k]
                yield Move(
                    tasks.close[k], needs, None, cost, "hem-close", *fixed, f.angle_deg, heading, _always, "",
                    f.kind == "closed-hem",
                )  # fmt: skip


def _always(done: int) -> str:
    return ""


def _why_not_hand(strip: Strip, tasks: Tasks, tool: HandTool, k: int, side: Side, done: int) -> str:
    f = strip.folds[k]
    if tool.length and f.length > tool.length:
        return "length"
    if f.angle_deg > tool.most_deg + 1e-9 and not f.is_hem:
        return "angle"
    return why_not_held(
        tool, flat_beside(strip, tasks, k, side, done), bare_beyond(strip, tasks, k, side, done),
        flat_beside(strip, tasks, k, -side, done),
    )  # fmt: skip


def why_not_held(tool: HandTool, flange: float, bare: bool, behind: float) -> str:
    """Why a hand tool does not get hold of a flange.

    Args:
        flange: flat metal from the line outward on the moving side. [in]
        bare: nothing but hems stands at the flange's outer edge.
        behind: flat metal from the line back on the held side. [in]
    """
    if flange < tool.least:
        return "land"
    if tool.kind == "seamers":
        if not bare:
            return "jaws"
        return "depth" if tool.depth and flange > tool.depth else ""
    return "bar" if behind < tool.width else ""


def flat_beside(strip: Strip, tasks: Tasks, k: int, side: Side, done: int) -> float:
    """From fold k outward to the first fold done on that side that is no closed hem, or to the end. [in]"""
    step = 0 if side < 0 else 1
    wide = strip.folds[k].metal / 2 + strip.flats[k + step]
    for j in range(k + side, -1 if side < 0 else len(strip.folds), side):
        f = strip.folds[j]
        if done & tasks.fold[j]:
            return wide
        wide += f.metal + strip.flats[j + step]
    return wide


def bare_beyond(strip: Strip, tasks: Tasks, k: int, side: Side, done: int) -> bool:
    """Does nothing but closed hems stand out beyond fold k on that side?"""
    for j in range(k + side, -1 if side < 0 else len(strip.folds), side):
        if done & tasks.fold[j] and not done & tasks.close[j]:
            return False
    return True
