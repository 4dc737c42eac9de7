"""What to buy: metal, sealant, tape, screws, rivets or solder, membrane; each line says how it was counted.

A line whose item starts `bead-` or `tape-` is a part of the tubes or rolls that follow it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from lapwright.detail.model import Detail
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.shop import fixings, rates
from lapwright.shop.beads import Run, of, sealant_runs, tape_runs
from lapwright.shop.model import TakeoffLine
from lapwright.shop.price_list import Rates, packaged
from lapwright.shop.sheet import TakenStock, flat_lines, panel_lines
from lapwright.site.model import Site

MADE = ("offset-cleat", "hook-strip", "closure", "backing-plate", "corner-patch", "rib-hood", "storm-collar")
"""Kinds of small parts that are counted before they go up."""

SCREW_RATES = {"screws-walls": "prices.wall-screw", "wedges": "prices.wedge", "clips": "prices.clip"}
"""Fixings that are not the usual screw."""


def take_off(
    site: Site,
    layout: Layout,
    detail: Detail,
    pieces: Sequence[Piece],
    panels: Sequence[RoofPanel],
    taken: Sequence[TakenStock] = (),
    prices: Rates | None = None,
) -> tuple[TakeoffLine, ...]:
    """Count what the job needs.

    Args:
        site: Says the panel's metal and fixing, the waste, and whether the roof is there already.
        layout: The bays; nothing is counted from ribs alone.
        detail: Pans, cleat lines and measures of each opening. [in]
        pieces: Every piece with its blank.
        panels: Every panel; on an existing roof the through panels are not bought.
        taken: Flat stock as the cutting plan takes it; left out, the rectangles round the blanks are counted.
        prices: The rates that stand; left out, the packaged ones.

    Returns:
        Lines in buying order. Areas in square feet, runs in feet, weight in pounds, the rest by count.

    Source: geometry; spacings, beads and contents are the house rules of shop/rates.py.
    """
    new = [p for p in panels if site.roof.work == "new" or p.role != "through"]
    stood = packaged() if prices is None else prices
    over = site.shop.waste / 100
    return (
        *flat_lines([p for p in pieces if p.is_metal], taken),
        *panel_lines(site, new, stood),
        *_made(pieces),
        *_runs(sealant_runs(detail, pieces)),
        *_packs("sealant", "tube", sealant_runs(detail, pieces), rates.TUBE / rates.bead_area(), over),
        *_runs(tape_runs(pieces, new)),
        *_packs("tape", "roll", tape_runs(pieces, new), rates.TAPE_ROLL, over),
        *_fixings(site, detail, pieces, new),
        *_corners(pieces),
        *_pipes(detail, pieces),
        *_membrane(pieces, over),
    )


def _line(use: str, quantity: float, unit: str, rate: str = "", **values: float | int | str) -> TakeoffLine:
    return TakeoffLine(f"shop.item.{use}", quantity, unit, f"shop.basis.{use}", dict(values), rate)


def _made(pieces: Sequence[Piece]) -> Iterator[TakeoffLine]:
    """Small parts, cut from the flat sheet."""
    for kind in MADE:
        count = sum(p.quantity for p in of(pieces, kind))
        if count:
            yield TakeoffLine(f"shop.item.made-{kind}", count, "each", "shop.basis.made", {})


def _runs(runs: Sequence[Run]) -> Iterator[TakeoffLine]:
    """One line per use, in feet."""
    for run in runs:
        yield _line(run.use, run.length / 12, "ft", spacing=rates.LAP_PASS)


def _packs(use: str, unit: str, runs: Sequence[Run], reach: float, over: float) -> Iterator[TakeoffLine]:
    """Whole tubes or rolls, each `reach` long, for all runs and `over` more. [in], [-]"""
    if not runs:
        return
    length = sum(r.length for r in runs)
    least, count = (math.ceil(length * k / reach - 1e-9) for k in (1.0, 1.0 + over))
    values: dict[str, float | int | str] = {"length": length, "bead": rates.BEAD, "reach": reach, "waste": 100 * over}
    yield TakeoffLine(
        f"shop.item.{use}", count, unit, f"shop.basis.{use}", values, f"prices.{use}", count - least
    )


def _fixings(
    site: Site, detail: Detail, pieces: Sequence[Piece], panels: Sequence[RoofPanel]
) -> Iterator[TakeoffLine]:
    rows = (
        *fixings.screws(detail, pieces),
        *fixings.dam_screws(detail, panels),
        *fixings.wall_fixings(detail, pieces),
        *_panel_rows(site, panels),
    )
    for row in rows:
        rate = SCREW_RATES.get(row.use, "prices.screw")
        yield _line(row.use, row.count, "each", rate, spacing=row.spacing)


def _panel_rows(site: Site, panels: Sequence[RoofPanel]) -> Iterable[fixings.Fixings]:
    held = fixings.panel_fixings(site, panels)
    if not held.count:
        return
    yield held
    if held.use == "clips":
        yield fixings.Fixings("clip-screws", held.count * rates.CLIP_SCREWS, rates.PANEL_FIXING)


def _corners(pieces: Sequence[Piece]) -> Iterator[TakeoffLine]:
    """How the corner patches are closed: riveted and sealed, or soldered, by metal."""
    count = fixings.rivets(pieces)
    if count:
        yield _line("rivets", count, "each", "prices.rivet", spacing=rates.RIVET)
    seam = fixings.solder(pieces)
    if seam:
        yield _line("solder", seam / 12, "ft", "prices.solder")


def _pipes(detail: Detail, pieces: Sequence[Piece]) -> Iterator[TakeoffLine]:
    """How sleeves, split plates and hoods are joined."""
    count, seam = fixings.pipe_rivets(detail, pieces), fixings.pipe_solder(detail, pieces)
    if count:
        yield _line("rivets-pipes", count, "each", "prices.rivet", spacing=rates.RIVET)
    if seam:
        yield _line("solder-pipes", seam / 12, "ft", "prices.solder")


def _membrane(pieces: Sequence[Piece], over: float) -> Iterator[TakeoffLine]:
    """The strips round every planned opening, as they are cut, and waste."""
    strips = [p for p in pieces if not p.is_metal]
    if strips:
        area = sum(p.quantity * p.blank.width * p.blank.height for p in strips) / 144
        values: dict[str, float | int | str] = {"strips": sum(p.quantity for p in strips), "waste": 100 * over}
        rate = "prices.membrane"
        yield TakeoffLine(
            "shop.item.membrane", area * (1 + over), "sqft", "shop.basis.membrane", values, rate, area * over
        )
