"""A blank as DXF for the cutting table: true size, one layer per kind of line, same blank same bytes.

Everything but the blank itself (header, layers, one empty model space) stands ready in sheet.dxf beside this
file; here its lines, circles and id are written into it.

Release 2000 (AC1015) is the oldest that knows the unit of its lengths and a closed line of one entity, so it is
what the most machines read rightly. Source: DXF reference for that release, group codes, from memory; every file
is re-read and audited by a DXF library in the tests.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from importlib.resources import files
from typing import Literal

from lapwright.draw.dxf_text import Place, Writing
from lapwright.draw.features import read_hole
from lapwright.draw.view import bend_text
from lapwright.geom.clip import Line
from lapwright.geom.space import Flat
from lapwright.metal.model import Bend, Blank, Curve
from lapwright.words import Speaker

Unit = Literal["in", "mm"]
Tag = tuple[int, str | int | float]
Entity = tuple[str, str, tuple[Tag, ...]]
"""Kind, layer, and the group codes of its own; lengths in the file's unit."""

LAYERS = {"CUT": 7, "CURVE": 6, "MARK": 3, "BEND_UP": 5, "BEND_DOWN": 1, "TEXT": 8, "SHEET": 9, "OUTLINE": 2}
"""The layers of sheet.dxf and their colours (AutoCAD colour index); OUTLINE is not plotted."""
INSUNITS = {"in": 1, "mm": 4}
"""Source: DXF reference, header variable $INSUNITS (from memory): 1 inches, 4 millimetres."""
MM = 25.4
MODEL_SPACE = "17"
"""Handle of the model space in sheet.dxf."""
FIRST_HANDLE = 0x100
"""Handles from here on are free in sheet.dxf."""
PLACES = 9
"""Decimals kept of a length."""


def blank_to_dxf(piece_id: str, blank: Blank, bends: Iterable[Bend], unit: Unit, marks: Iterable[Line] = ()) -> bytes:
    """Write a blank at 1 : 1 for a plasma, laser or plotter.

    Args:
        piece_id: Written on the TEXT layer, on the metal.
        blank: Outline (closed), slits (lines) and holes (round ones as circles), all on CUT; the middle of every
            round hole is a point on MARK, for a shop that drills it. Smooth runs stand
            once more on CURVE, as splines through exact points, for a table that takes those in their place; curved
            fold lines are splines on MARK. [in]
        bends: Their lines, on BEND_UP or BEND_DOWN; number in the order of bends, way and angle on TEXT. [in]
        unit: Unit of the file: "in", or "mm" for lengths times 25.4.
        marks: Lines to scribe, on MARK (see metal.marks). [in]

    Returns:
        An R2000 DXF file; the same blank gives the same bytes.
    """
    k = MM if unit == "mm" else 1.0
    entities = _entities(piece_id, blank, tuple(bends), tuple(marks), Speaker(unit), k)
    return dxf_file(entities, unit, blank.width * k, blank.height * k)


def dxf_file(entities: Iterable[Entity], unit: Unit, width: float, height: float) -> bytes:
    """An R2000 DXF file of these entities (see ring, line, circle, point and text below).

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
    return "".join(fields.get(part, part) for part in _sheet()).encode("ascii")


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


def spline(curve: Curve, at: Callable[[Flat], Flat], layer: str) -> Entity:
    """A smooth line through a curve's exact points: cubic pieces that leave each point in its own direction.

    Args:
        at: Where a point of the blank lies in the file; it keeps straight lines straight.

    Source: cubic Hermite pieces as a B-spline with its inner knots threefold, from memory.
    """
    points = curve.points
    control = [at(points[0])]
    for k in range(len(points) - 1):
        (a, b), (c, d) = points[k], points[k + 1]
        (p, q), (r, s) = curve.slopes[k], curve.slopes[k + 1]
        control += [at((a + p / 3, b + q / 3)), at((c - r / 3, d - s / 3)), at((c, d))]
    last = len(points) - 1
    knots = [0.0] * 4 + [float(k) for k in range(1, last) for _ in range(3)] + [float(last)] * 4
    tags: list[Tag] = [(100, "AcDbSpline"), (70, 8), (71, 3), (72, len(knots)), (73, len(control)), (74, 0)]
    tags += [(40, k) for k in knots]
    tags += [tag for p in control for tag in _point(0, p)]
    return "SPLINE", layer, tuple(tags)


def point(at: Flat, layer: str) -> Entity:
    """A point. [file's unit]"""
    return "POINT", layer, ((100, "AcDbPoint"), *_point(0, at))


def text(at: Flat, said: str, height: float, layer: str, turned_deg: float = 0.0) -> Entity:
    """One line of text round its middle. [file's unit], [deg]"""
    turn: tuple[Tag, ...] = ((50, turned_deg),) if turned_deg else ()
    tags = ((100, "AcDbText"), *_point(0, at), (40, height), (1, _plain(said)), *turn, (72, 1), *_point(1, at))
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
    piece_id: str, blank: Blank, bends: tuple[Bend, ...], marks: tuple[Line, ...], speaker: Speaker, k: float
) -> Iterator[Entity]:
    def at(p: Flat) -> Flat:
        return (p[0] * k, p[1] * k)

    yield from cut_entities(blank, at, k)
    for curve in blank.curves:
        yield spline(curve, at, "CURVE" if curve.role == "edge" else "MARK")
    for a, b in marks:
        yield line(at(a), at(b), "MARK")
    for bend in bends:
        yield line(at(bend.start), at(bend.end), f"BEND_{bend.way.upper()}")
    writing = Writing(blank, bends, marks)
    said: list[tuple[Place, str]] = []
    for bend in sorted(bends, key=lambda b: b.order):
        note = f"{bend.order} {bend_text(bend, speaker)}"
        said.append((writing.beside((bend.start, bend.end), note), note))
    if marks:
        note = speaker.say("draw.cleat_line")
        said.append((writing.beside(max(marks, key=lambda m: math.dist(*m)), note), note))
    name = " ".join(piece_id.split()) or "-"
    said.append((writing.over(name), name))
    for (middle, height, turned), note in said:
        yield text(at(middle), note, height * k, "TEXT", turned)


def cut_entities(blank: Blank, at: Callable[[Flat], Flat], k: float, outline: str = "CUT") -> Iterator[Entity]:
    """Outline, slits and holes of a blank on CUT, and the middles of round holes on MARK.

    Args:
        at: Where a point of the blank lies in the file.
        k: The file's unit to the inch.
        outline: Another layer for the outline.
    """
    yield ring(map(at, blank.outline), outline)
    for a, b in blank.cuts:
        yield line(at(a), at(b), "CUT")
    for hole in map(read_hole, blank.holes):
        if hole.diameter is None:
            yield ring(map(at, hole.ring), "CUT")
        else:
            yield circle(at(hole.centre), hole.diameter * k, "CUT")
            yield point(at(hole.centre), "MARK")


def _plain(said: str) -> str:
    """Text as this release writes what is not ASCII."""
    signs = (c if 31 < ord(c) < 127 else "%%d" if c == "\N{DEGREE SIGN}" else f"\\U+{ord(c):04X}" for c in said)
    return "".join(signs)


def _point(n: int, p: Flat) -> tuple[Tag, Tag, Tag]:
    return (10 + n, p[0]), (20 + n, p[1]), (30 + n, 0.0)


def _tag(code: int, value: str | int | float) -> str:
    return f"{code:>3}\n{_number(value) if isinstance(value, float) else value}\n"


def _number(value: float) -> str:
    return repr(round(value, PLACES) + 0.0)
