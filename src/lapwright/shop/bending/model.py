"""A bend plan: operations in order, and what cannot be made."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["fold", "hem-fold", "hem-close", "joggle"]
FaceUp = Literal["painted", "unpainted"]

HEM_OPEN_DEG = 135.0
"""A hem is first folded this far, then closed. House rule."""


@dataclass(frozen=True, slots=True)
class Operation:
    """One thing to do at one tool.

    bends: ids of the bends it makes; one, or both of a joggle. tool: key of the tool. clamped: the face that is
    held (a strip: the face at the end that lies in the folder). face_up: which side of the sheet looks up.
    flip: roll the piece over first (that swaps its ends too). turn: turn it round flat first. angle_deg: how far
    the sheet stands turned when it is done. heading_deg: on the blank, from the held part to the part that moves.
    """

    bends: tuple[str, ...]
    kind: Kind
    tool: str
    clamped: str
    face_up: FaceUp
    flip: bool
    turn: bool
    angle_deg: float
    heading_deg: float

    @property
    def bend(self) -> str:
        """Id of its bend, the first where it makes two."""
        return self.bends[0]


@dataclass(frozen=True, slots=True)
class Blocked:
    """A bend that a tool cannot make, why, and what would cure it (keys of words: bending.reason, bending.cure)."""

    bend: str
    reason: str
    cures: tuple[str, ...]
    tool: str = ""


@dataclass(frozen=True, slots=True)
class BendPlan:
    """How to fold one piece.

    operations: in order; empty where it is not feasible. blocked: what no tool of the kit can make. by_hand: bends
    made with hand tools although the kit has a folder, and why that folder cannot. cost: see search.py. proved:
    every order was weighed: none is cheaper, or none exists.
    """

    operations: tuple[Operation, ...]
    feasible: bool
    blocked: tuple[Blocked, ...] = ()
    by_hand: tuple[Blocked, ...] = ()
    cost: float = 0.0
    proved: bool = True

    @property
    def flips(self) -> int:
        """How often the piece is rolled over."""
        return sum(o.flip for o in self.operations)

    @property
    def turns(self) -> int:
        """How often the piece is turned round flat."""
        return sum(o.turn for o in self.operations)
