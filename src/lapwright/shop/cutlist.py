"""The cut list: every flat blank the shop cuts, pieces first, then the panels that are worked on the roof."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lapwright import tables
from lapwright.metal.model import Blank, Piece, RoofPanel


@dataclass(frozen=True, slots=True)
class CutRow:
    """One line of the cut list. Lengths in inches, weight in lb for one.

    name: a piece's own name, or a key of words/ for a panel (`shop.panel.upper`).
    bends: bends and hems to fold. slits: cuts inside or into the outline, without width.
    """

    id: str
    name: str
    opening: str
    quantity: int
    metal: str
    thickness: float
    width: float
    height: float
    bends: int
    slits: int
    weight_lb: float


def cut_list(panel_metal: str, pieces: Sequence[Piece], panels: Sequence[RoofPanel]) -> tuple[CutRow, ...]:
    """Every blank with the rectangle it is cut from.

    Args:
        panel_metal: Key of the panel's metal, a row of the metals table.
        pieces: In the order they are made.
        panels: Those without a blank come from the panel machine as they are and are left out.

    Raises:
        KeyError: no such metal (refused long before, when the job was read).
    """
    return (*_piece_rows(pieces), *_panel_rows(panel_metal, panels))


def _piece_rows(pieces: Sequence[Piece]) -> Iterator[CutRow]:
    for p in pieces:
        b = p.blank
        yield CutRow(
            p.id, p.name, p.opening or "", p.quantity, p.metal, p.thickness, b.width, b.height,
            len(p.bends), len(b.cuts), p.weight_lb,
        )  # fmt: skip


def _panel_rows(metal: str, panels: Sequence[RoofPanel]) -> Iterator[CutRow]:
    row = tables.metals()[metal]
    for p in panels:
        if p.blank is not None:
            b = p.blank
            yield CutRow(
                p.id, f"shop.panel.{p.role}", p.opening or "", 1, metal, row.coated, b.width, b.height,
                len(p.bends), len(b.cuts), sheet_weight(b, row.weight_psf),
            )  # fmt: skip


def sheet_weight(blank: Blank, weight_psf: float) -> float:
    """Weight of one blank; `weight_psf` in lb per square foot, the blank's area in square inches. [lb]"""
    return blank.area / 144 * weight_psf
