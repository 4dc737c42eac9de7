"""What to buy: metal, sealant, tape, screws, rivets or solder, membrane; each line says how it was counted.

A line whose item starts `bead-` or `tape-` is a part of the tubes or rolls that follow it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence

from lapwright.detail.model import Detail
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.shop import fixings, rates
from lapwright.shop.beads import Run, sealant_runs, tape_runs
from lapwright.shop.model import TakeoffLine
from lapwright.site.model import Site


def take_off(
    site: Site,
    layout: Layout,
    detail: Detail,
    pieces: Sequence[Piece],
    panels: Sequence[RoofPanel],
) -> tuple[TakeoffLine, ...]:
    """Count what the job needs.

    Args:
        site: Says the panel's metal and fixing, and whether the roof is there already.
        layout: The bays; nothing is counted from ribs alone.
        detail: Pans, cleat lines and measures of each opening. [in]
        pieces: Every piece with its blank.
        panels: Every panel; on an existing roof the through panels are not bought.

    Returns:
        Lines in buying order. Areas in square feet, runs in feet, weight in pounds, the rest by count.

    Source: geometry; spacings, beads and contents are the house rules of shop/rates.py.
    """
    new = [p for p in panels if site.roof.work == "new" or p.role != "through"]
    return (
        *_metal([p for p in pieces if p.is_metal]),
        *_panel_metal(site, new),
        *_runs(sealant_runs(detail, pieces), _tubes),
        *_runs(tape_runs(pieces, new), _rolls),
        *_fixings(site, detail, pieces, new),
        *_corners(pieces),
        *_membrane(pieces),
    )


def _line(use: str, quantity: float, unit: str, **values: float | int | str) -> TakeoffLine:
    return TakeoffLine(f"shop.item.{use}", quantity, unit, f"shop.basis.{use}", dict(values))


def _metal(pieces: Sequence[Piece]) -> Iterator[TakeoffLine]:
    """Per metal: the rectangles to cut from, the blanks themselves, their weight."""
    for metal in dict.fromkeys(p.metal for p in pieces):
        mine = [p for p in pieces if p.metal == metal]
        name = f"metals.{metal}"
        count = sum(p.quantity for p in mine)
        envelope = sum(p.quantity * p.blank.width * p.blank.height for p in mine)
        net = sum(p.quantity * p.blank.area for p in mine)
        weight = sum(p.quantity * p.weight_lb for p in mine)
        yield _line("flat-stock", envelope / 144, "sqft", metal=name, count=count)
        yield _line("blanks", net / 144, "sqft", metal=name, share=100 * net / envelope)
        yield _line("weight", weight, "lb", metal=name)


def _panel_metal(site: Site, panels: Sequence[RoofPanel]) -> Iterator[TakeoffLine]:
    if not panels:
        return
    lengths = [cut_length(p) for p in panels]
    metal, coverage = f"metals.{site.panel.metal}", site.panel.coverage
    yield _line("panels", len(panels), "each", metal=metal, coverage=coverage)
    yield _line("panel-run", sum(lengths) / 12, "ft", metal=metal, longest=max(lengths))


def cut_length(panel: RoofPanel) -> float:
    """Length of panel to cut: a worked panel's blank (its v runs up the slope), else as it lies. [in]"""
    return panel.length if panel.blank is None else panel.blank.height


def _runs(runs: Sequence[Run], bought: Callable[[float], TakeoffLine]) -> Iterator[TakeoffLine]:
    """One line per use, then what is bought for their sum."""
    if not runs:
        return
    for run in runs:
        yield _line(run.use, run.length / 12, "ft", spacing=rates.LAP_PASS)
    yield bought(sum(r.length for r in runs))


def _tubes(length: float) -> TakeoffLine:
    """Whole tubes for a length of bead. [in]"""
    volume = length * rates.bead_area() * rates.SPARE
    count = math.ceil(volume / rates.TUBE - 1e-9)
    reach = rates.TUBE / rates.bead_area()
    return _line("sealant", count, "tube", length=length, bead=rates.BEAD, reach=reach)


def _rolls(length: float) -> TakeoffLine:
    """Whole rolls for a length of tape. [in]"""
    count = math.ceil(length * rates.SPARE / rates.TAPE_ROLL - 1e-9)
    return _line("tape", count, "roll", length=length, roll=rates.TAPE_ROLL)


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
        yield _line(row.use, row.count, "each", spacing=row.spacing)


def _panel_rows(site: Site, panels: Sequence[RoofPanel]) -> Iterable[fixings.Fixings]:
    if not panels:
        return
    held = fixings.panel_fixings(site, panels)
    yield held
    if held.use == "clips":
        yield fixings.Fixings("clip-screws", held.count * rates.CLIP_SCREWS, rates.PANEL_FIXING)


def _corners(pieces: Sequence[Piece]) -> Iterator[TakeoffLine]:
    """How the corner patches are closed: riveted and sealed, or soldered, by metal."""
    count = fixings.rivets(pieces)
    if count:
        yield _line("rivets", count, "each", spacing=rates.RIVET)
    seam = fixings.solder(pieces)
    if seam:
        yield _line("solder", seam / 12, "ft")


def _membrane(pieces: Sequence[Piece]) -> Iterator[TakeoffLine]:
    """The strips round every planned opening, as they are cut."""
    strips = [p for p in pieces if not p.is_metal]
    if strips:
        area = sum(p.quantity * p.blank.width * p.blank.height for p in strips)
        yield _line("membrane", area * rates.SPARE / 144, "sqft", strips=sum(p.quantity for p in strips))
