"""A whole sheet as DXF for the cutting table: every blank's true outline where it lies, same sheet same bytes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from lapwright.draw.dxf import MM, Entity, Unit, cut_entities, dxf_file, line, ring, text
from lapwright.draw.dxf_text import Writing
from lapwright.geom.clip import Line
from lapwright.geom.merge import ALIKE, once
from lapwright.geom.space import Flat
from lapwright.shop.nest.job import JobSheet, Lying

Marks = Mapping[str, Sequence[Line]]


def sheet_to_dxf(sheet: JobSheet, unit: Unit, marks: Marks | None = None) -> bytes:
    """Write a sheet at 1 : 1.

    Args:
        sheet: Blanks where they lie. [in]
        unit: Unit of the file: "in", or "mm" for lengths times 25.4.
        marks: By a piece's id, the lines to scribe on its own blank (see metal.marks). [in]

    Returns:
        A DXF as draw/dxf.py writes it. On CUT what is cut, each stretch once: the edges of the blanks (an edge that
        two share is one line, an edge on the stock's own none), slits and holes. On OUTLINE, not to be cut and not
        plotted, every blank's closed outline. Bends on BEND_UP and BEND_DOWN, middles of holes and lines to scribe
        on MARK, ids on TEXT, and the edge of the stock, as far as it is taken of a roll, on SHEET.
    """
    k = MM if unit == "mm" else 1.0
    w, h = sheet.stock.width * k, sheet.taken * k
    edge = ring(((0.0, 0.0), (w, 0.0), (w, h), (0.0, h)), "SHEET")
    cuts = [line((a[0] * k, a[1] * k), (b[0] * k, b[1] * k), "CUT") for a, b in cut_lines(sheet)]
    blanks = (e for x in sheet.lying for e in _blank(x, k, (marks or {}).get(x.id, ())))
    return dxf_file([edge, *cuts, *blanks], unit, w, h)


def cut_lines(sheet: JobSheet) -> list[Line]:
    """The edges of all blanks of a sheet, each stretch once; without what lies on the stock's own edges. [in]"""
    edges = []
    for lying in sheet.lying:
        points = [lying.at(p) for p in lying.blank.outline]
        edges += [e for e in pairwise([*points, points[0]]) if not _on_stock(*e, sheet)]
    return once(edges)


def _on_stock(a: Flat, b: Flat, sheet: JobSheet) -> bool:
    """Does an edge lie on one that the stock has already? The end of what is taken of a roll must be cut."""
    sides = [(0, 0.0), (0, sheet.stock.width), (1, 0.0)]
    if not sheet.stock.by_length:
        sides.append((1, sheet.stock.height))
    return any(abs(a[axis] - at) < ALIKE and abs(b[axis] - at) < ALIKE for axis, at in sides)


def _blank(lying: Lying, k: float, marks: Sequence[Line]) -> Iterator[Entity]:
    def at(p: Flat) -> Flat:
        x, y = lying.at(p)
        return (x * k, y * k)

    scribed = [(lying.lean.at(a), lying.lean.at(b)) for a, b in marks]
    yield from cut_entities(lying.blank, at, k, "OUTLINE")
    for a, b in scribed:
        yield line(at(a), at(b), "MARK")
    for bend in lying.bends:
        yield line(at(bend.start), at(bend.end), f"BEND_{bend.way.upper()}")
    said = " ".join(lying.id.split()) or "-"
    middle, height, turned = Writing(lying.blank, lying.bends, scribed).over(said)
    # centred both ways, so that half a turn moves nothing and keeps it from standing on its head
    yield text(at(middle), said, height * k, "TEXT", (turned + 90.0 * lying.lie.quarter + 89.0) % 180.0 - 89.0)
