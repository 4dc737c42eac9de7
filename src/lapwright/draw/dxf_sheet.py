"""A whole sheet as DXF for the cutting table: every blank's true outline where it lies, same sheet same bytes."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.draw.dxf import MM, Entity, Unit, circle, dxf_file, line, ring, text
from lapwright.draw.features import read_hole
from lapwright.geom.space import Flat
from lapwright.shop.nest.job import JobSheet, Lying


def sheet_to_dxf(sheet: JobSheet, unit: Unit) -> bytes:
    """Write a sheet at 1 : 1.

    Args:
        sheet: Blanks where they lie. [in]
        unit: Unit of the file: "in", or "mm" for lengths times 25.4.

    Returns:
        An R2010 DXF: closed outlines, slits and holes on CUT, bends on BEND_UP and BEND_DOWN, ids on TEXT, and the
        edge of the stock, as far as it is used of a roll, on SHEET.
    """
    k = MM if unit == "mm" else 1.0
    w, h = sheet.stock.width * k, (sheet.used_height if sheet.stock.by_length else sheet.stock.height) * k
    edge = ring(((0.0, 0.0), (w, 0.0), (w, h), (0.0, h)), "SHEET")
    return dxf_file([edge, *(e for lying in sheet.lying for e in _blank(lying, k))], unit, w, h)


def _blank(lying: Lying, k: float) -> Iterator[Entity]:
    def at(p: Flat) -> Flat:
        x, y = lying.at(p)
        return (x * k, y * k)

    yield ring(map(at, lying.blank.outline), "CUT")
    for a, b in lying.blank.cuts:
        yield line(at(a), at(b), "CUT")
    for points in lying.blank.holes:
        hole = read_hole(points)
        if hole.diameter is None:
            yield ring(map(at, points), "CUT")
        else:
            yield circle(at(hole.centre), hole.diameter * k, "CUT")
    for bend in lying.bends:
        yield line(at(bend.start), at(bend.end), f"BEND_{bend.way.upper()}")
    yield _name(lying, k)


def _name(lying: Lying, k: float) -> Entity:
    """The id in the middle of the blank's rectangle, along its longer side, small enough to stay inside."""
    said = " ".join(lying.id.split()) or "-"
    (x0, y0), (x1, y1) = lying.corners()
    upright = y1 - y0 > x1 - x0
    along, across = (y1 - y0, x1 - x0) if upright else (x1 - x0, y1 - y0)
    height = min(0.5, across / 4, along / (1.2 * len(said)))
    middle = ((x0 + x1) / 2 * k, (y0 + y1) / 2 * k)
    return text(middle, said, height * k, "TEXT", 90.0 if upright else 0.0)
