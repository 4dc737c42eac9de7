"""How long metal work takes, from what has to be cut, bent and sealed: for comparing, not for pricing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lapwright import tables
from lapwright.metal.model import Blank, Piece, RoofPanel

METRE = 1000 / 25.4
"""[in]"""


@dataclass(frozen=True, slots=True)
class Labour:
    """What is done by hand. pieces: blanks marked and set. seam: sealed runs. [in]

    cuts: corners of outlines, slits and holes. bends: bends and hems.
    """

    pieces: int
    cuts: int
    bends: int
    seam: float

    @property
    def hours(self) -> float:
        """Hours of one pair of hands. Source: data/rates.toml, house rules.

        >>> round(Labour(pieces=10, cuts=60, bends=30, seam=METRE).hours, 3)
        2.567
        """
        rates = {name: float(row["minutes"]) for name, row in tables.rows("rates").items()}
        counted = {"piece": self.pieces, "cut": self.cuts, "bend": self.bends, "seam": self.seam / METRE}
        return sum(rates[name] * count for name, count in counted.items()) / 60


def labour_of(pieces: Sequence[Piece], panels: Sequence[RoofPanel], seam: float) -> Labour:
    """Count the work in metal pieces and in panels that are worked on the roof.

    Args:
        pieces: Membrane among them is left out.
        panels: Those without a blank are left out.
        seam: Length of all sealed runs. [in]
    """
    made: list[tuple[int, Blank, int]] = [(p.quantity, p.blank, len(p.bends)) for p in pieces if p.is_metal]
    made += [(1, p.blank, len(p.bends)) for p in panels if p.blank is not None]
    return Labour(
        pieces=sum(n for n, _, _ in made),
        cuts=sum(n * (len(b.outline) + len(b.cuts) + len(b.holes)) for n, b, _ in made),
        bends=sum(n * bends for n, _, bends in made),
        seam=seam,
    )
