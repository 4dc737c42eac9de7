"""A blank as DXF for the cutting table: true size, one layer per kind of line, same blank same bytes.

Everything but the blank itself (header, layers, one empty model space) stands ready in sheet.dxf beside this
file; here its lines, circles and id are written into it.

Source: DXF reference for release 2010 (AC1024), group codes, from memory; every file is re-read and audited
by a DXF library in the tests.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from importlib.resources import files
from typing import Literal

from lapwright.draw.features import read_hole
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank

Unit = Literal["in", "mm"]
Tag = tuple[int, str | int | float]

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
    rows: list[str] = []
    handle = FIRST_HANDLE
    for kind, layer, tags in _entities(piece_id, blank, bends, k):
        head: list[Tag] = [(0, kind), (5, f"{handle:X}"), (330, MODEL_SPACE), (100, "AcDbEntity"), (8, layer)]
        rows += [_tag(*tag) for tag in (*head, *tags)]
        handle += 1
    fields = {
        "entities": "".join(rows).rstrip("\n"),
        "units": str(INSUNITS[unit]),
        "metric": "0" if unit == "in" else "1",
        "next": f"{handle:X}",
        "width": _number(blank.width * k),
        "height": _number(blank.height * k),
    }
    return "".join(fields.get(part, part) for part in _sheet()).encode("utf-8", errors="replace")


@cache
def _sheet() -> tuple[str, ...]:
    """sheet.dxf cut at its open places (a line `@name`), the names between the pieces of text."""
    out: list[str] = []
    text: list[str] = []
    for line in files("lapwright.draw").joinpath("sheet.dxf").read_text(encoding="utf-8").splitlines(keepends=True):
        if line.startswith("@"):
            out += ["".join(text), line[1:].rstrip("\n")]
            text = ["\n"]
        else:
            text.append(line)
    return (*out, "".join(text))


def _entities(
    piece_id: str, blank: Blank, bends: Iterable[Bend], k: float
) -> Iterator[tuple[str, str, list[Tag]]]:
    """Kind, layer and own group codes of every entity."""
    yield _ring(blank.outline, k)
    for a, b in blank.cuts:
        yield _line(a, b, "CUT", k)
    for ring in blank.holes:
        hole = read_hole(ring)
        if hole.diameter is None:
            yield _ring(ring, k)
        else:
            circle: list[Tag] = [(100, "AcDbCircle"), *_point(0, hole.centre, k), (40, hole.diameter / 2 * k)]
            yield "CIRCLE", "CUT", circle
    for bend in bends:
        yield _line(bend.start, bend.end, f"BEND_{bend.way.upper()}", k)
    yield _name(piece_id, blank, k)


def _ring(points: tuple[Flat, ...], k: float) -> tuple[str, str, list[Tag]]:
    tags: list[Tag] = [(100, "AcDbPolyline"), (90, len(points)), (70, 1)]
    for x, y in points:
        tags += [(10, x * k), (20, y * k)]
    return "LWPOLYLINE", "CUT", tags


def _line(a: Flat, b: Flat, layer: str, k: float) -> tuple[str, str, list[Tag]]:
    return "LINE", layer, [(100, "AcDbLine"), *_point(0, a, k), *_point(1, b, k)]


def _name(piece_id: str, blank: Blank, k: float) -> tuple[str, str, list[Tag]]:
    """The piece's id in the middle of the blank, small enough to stay inside its rectangle."""
    text = " ".join(piece_id.split()) or "-"
    height = min(0.5, blank.height / 4, blank.width / (1.2 * len(text)))
    middle = (blank.width / 2, blank.height / 2)
    tags: list[Tag] = [(100, "AcDbText"), *_point(0, middle, k), (40, height * k), (1, text), (72, 1)]
    return "TEXT", "TEXT", [*tags, *_point(1, middle, k), (100, "AcDbText"), (73, 2)]


def _point(n: int, p: Flat, k: float) -> list[Tag]:
    return [(10 + n, p[0] * k), (20 + n, p[1] * k), (30 + n, 0.0)]


def _tag(code: int, value: str | int | float) -> str:
    return f"{code:>3}\n{_number(value) if isinstance(value, float) else value}\n"


def _number(value: float) -> str:
    return repr(round(value, PLACES) + 0.0)
