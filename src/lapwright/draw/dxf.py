"""A blank as DXF for the cutting table: true size, one layer per kind of line, same blank same bytes.

Everything but the blank itself (header, layers, one empty model space) stands ready in sheet.dxf beside this
file; here its lines, circles and id are written into it.

Source: DXF reference for release 2010 (AC1024), group codes, from memory; every file is re-read and audited
by a DXF library in the tests.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache
from importlib.resources import files
from typing import Literal

from lapwright.draw.features import read_hole
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank

Unit = Literal["in", "mm"]
Tag = tuple[int, str | int | float]
Entity = tuple[str, str, tuple[Tag, ...]]
"""Kind, layer, and the group codes of its own; lengths in the file's unit."""

LAYERS = {"CUT": 7, "BEND_UP": 5, "BEND_DOWN": 1, "TEXT": 8, "SHEET": 9}
"""The layers of sheet.dxf and their colours (AutoCAD colour index)."""
INSUNITS = {"in": 1, "mm": 4}
"""Source: DXF reference, header variable $INSUNITS (from memory): 1 inches, 4 millimetres."""
MM = 25.4
MODEL_SPACE = "17"
"""Handle of the model space in sheet.dxf."""
FIRST_HANDLE = 0x100
"""Handles from here on are free in sheet.dxf."""
PLACES = 9
"""Decimals kept of a length."""


def blank_to_dxf(piece_id: str, blank: Blank, bends: Iterable[Bend], unit: Unit) -> bytes:
    """Write a blank at 1 : 1 for a plasma, laser or plotter.

    Args:
        piece_id: Written on the TEXT layer, inside the blank's rectangle.
        blank: Outline (closed), slits (lines) and holes (round ones as circles). [in]
        bends: Their lines, on BEND_UP or BEND_DOWN. [in]
        unit: Unit of the file: "in", or "mm" for lengths times 25.4.

    Returns:
        An R2010 DXF file; the same blank gives the same bytes.
    """
    k = MM if unit == "mm" else 1.0
    entities = _entities(piece_id, blank, bends, lambda p: (p[0] * k, p[1] * k), k)
    return dxf_file(entities, unit, blank.width * k, blank.height * k)


def dxf_file(entities: Iterable[Entity], unit: Unit, width: float, height: float) -> bytes:
    """An R2010 DXF file of these entities (see ring, line, circle and text below).

    Args:
        entities: In drawing order, on layers of LAYERS.
        unit: The file's unit, which every length is in.
        width, height: Extent of the drawing from 0, 0. [file's unit]
    """
    rows: list[str] = []
    handle = FIRST_HANDLE
    for kind, layer, tags in entities:
        head: tuple[Tag, ...] = (
            (0, kind), (5, f"{handle:X}"), (330, MODEL_SPACE), (100, "AcDbEntity"), (8, layer),
        )  # fmt: skip
        rows += [_tag(*tag) for tag in (*head, *tags)]
        handle += 1
    fields = {
        "entities": "".join(rows).rstrip("\n"),
        "units": str(INSUNITS[unit]),
        "metric": "0" if unit == "in" else "1",
        "next": f"{handle:X}",
        "width": _number(width),
        "height": _number(height),
    }
    return "".join(fields.get(part, part) for part in _sheet()).encode("utf-8", errors="replace")


def ring(points: Iterable[Flat], layer: str) -> Entity:
    """A closed line. [file's unit]"""
    corners = tuple(points)
    tags: list[Tag] = [(100, "AcDbPolyline"), (90, len(corners)), (70, 1)]
    for x, y in corners:
        tags += [(10, x), (20, y)]
    return "LWPOLYLINE", layer, tuple(tags)


def line(a: Flat, b: Flat, layer: str) -> Entity:
    """A straight line. [file's unit]"""
    return "LINE", layer, ((100, "AcDbLine"), *_point(0, a), *_point(1, b))


def circle(centre: Flat, diameter: float, layer: str) -> Entity:
    """A circle. [file's unit]"""
    return "CIRCLE", layer, ((100, "AcDbCircle"), *_point(0, centre), (40, diameter / 2))


def text(at: Flat, said: str, height: float, layer: str, turned_deg: float = 0.0) -> Entity:
    """One line of text round its middle. [file's unit], [deg]"""
    turn: tuple[Tag, ...] = ((50, turned_deg),) if turned_deg else ()
    tags = ((100, "AcDbText"), *_point(0, at), (40, height), (1, said), *turn, (72, 1), *_point(1, at))
    return "TEXT", layer, (*tags, (100, "AcDbText"), (73, 2))


@cache
def _sheet() -> tuple[str, ...]:
    """sheet.dxf cut at its open places (a line `@name`), the names between the pieces of text."""
    out: list[str] = []
    here: list[str] = []
    for row in files("lapwright.draw").joinpath("sheet.dxf").read_text(encoding="utf-8").splitlines(keepends=True):
        if row.startswith("@"):
            out += ["".join(here), row[1:].rstrip("\n")]
            here = ["\n"]
        else:
            here.append(row)
    return (*out, "".join(here))


def _entities(
    piece_id: str, blank: Blank, bends: Iterable[Bend], at: Callable[[Flat], Flat], k: float
) -> Iterator[Entity]:
    yield ring(map(at, blank.outline), "CUT")
    for a, b in blank.cuts:
        yield line(at(a), at(b), "CUT")
    for hole in map(read_hole, blank.holes):
        if hole.diameter is None:
            yield ring(map(at, hole.ring), "CUT")
        else:
            yield circle(at(hole.centre), hole.diameter * k, "CUT")
    for bend in bends:
        yield line(at(bend.start), at(bend.end), f"BEND_{bend.way.upper()}")
    # The id in the middle of the blank, small enough to stay inside its rectangle.
    said = " ".join(piece_id.split()) or "-"
    height = min(0.5, blank.height / 4, blank.width / (1.2 * len(said)))
    yield text(at((blank.width / 2, blank.height / 2)), said, height * k, "TEXT")


def _point(n: int, p: Flat) -> tuple[Tag, Tag, Tag]:
    return (10 + n, p[0]), (20 + n, p[1]), (30 + n, 0.0)


def _tag(code: int, value: str | int | float) -> str:
    return f"{code:>3}\n{_number(value) if isinstance(value, float) else value}\n"


def _number(value: float) -> str:
    return repr(round(value, PLACES) + 0.0)
