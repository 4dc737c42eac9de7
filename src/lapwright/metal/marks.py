"""What is marked on a blank before it is folded: where the cleats come to lie on the pan."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from lapwright.geom.clip import Line, within
from lapwright.geom.space import Flat
from lapwright.metal.develop import develop
from lapwright.metal.model import Piece

UNDER_CLEATS = ("back-pan", "cricket")
"""Kinds of piece that the cleats are screwed to."""


def cleat_marks(piece: Piece, cleat_line: Sequence[Flat]) -> tuple[Line, ...]:
    """The cleat line as it runs over a pan's blank: the edge that each cleat's base is laid to.

    Pan and cleats slide up the wall together, so the line lies on the flat part as it does on the roof.

    Args:
        piece: any piece; only a pan or half a cricket carries cleats.
        cleat_line: corners of the line in roof x, y. [in]

    Returns:
        Straight marks in blank coordinates, each within the part of the blank that lies on the roof. [in]
    """
    if piece.kind not in UNDER_CLEATS or piece.body is None:
        return ()
    flat = develop(piece.body)
    here = [flat.root.flat((x, y, 0.0)) for x, y in cleat_line]
    return tuple(part for a, b in pairwise(here) for part in within(a, b, flat.regions[0].ring))
