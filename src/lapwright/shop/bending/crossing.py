"""A piece whose bend lines cross: every line of it at every tool.

Every position is the piece folded so far, in space, seen along the line that is to be folded. What a folder's
sections touch is told by the shadow of the piece on the section; a hand tool asks for flat metal beside the line.
"""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.metal.develop import Developed
from lapwright.shop.bending.at_folder import AtFolder
from lapwright.shop.bending.in_hand import InHand
from lapwright.shop.bending.model import HEM_OPEN_DEG
from lapwright.shop.bending.room import Room, View
from lapwright.shop.bending.search import Move, Pose
from lapwright.shop.bending.strip_moves import EXTRA, OPERATION, hand_cost
from lapwright.shop.bending.tools import Folder, Tool


def crossing_moves(flat: Developed, tools: Sequence[Tool]) -> tuple[tuple[Move, ...], int]:
    """The moves, handiest tool first, and the bits of all tasks: bit i is bend i, a hem closed with it."""
    room = Room(flat)
    views = [View(room, line) for line in room.lines]
    made = (_move(view, tool) for tool in tools for view in views)
    return tuple(m for m in made if m is not None), (1 << len(flat.bends)) - 1


def _move(view: View, tool: Tool) -> Move | None:
    """One line at one tool; None where it is never tried: the metal behind a hem, a joggle, two lines by hand."""
    line, flat = view.line, view.room.flat
    first, hem = flat.bends[line.bends[0]], view.room.is_hem(line)
    if hem and line.face_free != flat.zones[line.bends[0]].child:
        return None
    if not isinstance(tool, Folder) and (len(line.bends) > 1 or tool.kind == "joggle"):
        return None
    if hem and tool.kind == "bar":
        return None
    angle = min(HEM_OPEN_DEG, tool.most_deg) if hem else first.angle_deg
    once = OPERATION + EXTRA[tool.kind] if isinstance(tool, Folder) else hand_cost(tool, line.length)
    # A hem is two operations at the same tool: folded, then closed.
    cost = once * (2 if hem else 1)
    at = AtFolder(view, tool, angle) if isinstance(tool, Folder) else InHand(view, tool, angle)
    return Move(
        line.bits, view.needs(), Pose(line.heading_deg, first.way == "up") if isinstance(tool, Folder) else None,
        cost + at.swing(), "hem-fold" if hem else "fold", tool.key, tuple(flat.bends[i].id for i in line.bends),
        line.face_held, angle, line.heading_deg, at.why_not, at.never(), dead=at.dead,
    )  # fmt: skip
