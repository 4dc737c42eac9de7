"""A blank as DXF for the cutting table: true size, one layer per kind of line, same blank same bytes."""

from __future__ import annotations

import io
from collections.abc import Iterable
from importlib import import_module
from typing import Any, Literal

from lapwright.draw.features import read_hole
from lapwright.metal.model import Bend, Blank

Unit = Literal["in", "mm"]

LAYERS = {"CUT": 7, "BEND_UP": 5, "BEND_DOWN": 1, "TEXT": 8}
"""Layer names and their colours (AutoCAD colour index)."""
INSUNITS = {"in": 1, "mm": 4}
"""Source: DXF reference, header variable $INSUNITS (from memory): 1 inches, 4 millimetres."""
MM = 25.4


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
    ezdxf: Any = import_module("ezdxf")  # a quarter of a second, paid only when a DXF is written
    option, kept = ezdxf.options, ezdxf.options.write_fixed_meta_data_for_testing
    option.write_fixed_meta_data_for_testing = True
    try:
        document = ezdxf.new("R2010", units=INSUNITS[unit])
        document.header["$MEASUREMENT"] = 0 if unit == "in" else 1
        k = MM if unit == "mm" else 1.0
        document.header["$EXTMIN"] = (0.0, 0.0, 0.0)
        document.header["$EXTMAX"] = (blank.width * k, blank.height * k, 0.0)
        for name, color in LAYERS.items():
            document.layers.add(name, color=color)
        _fill(document.modelspace(), piece_id, blank, bends, k)
        stream = io.StringIO()
        document.write(stream)
    finally:
        option.write_fixed_meta_data_for_testing = kept
    return stream.getvalue().encode("utf-8")


def _fill(space: Any, piece_id: str, blank: Blank, bends: Iterable[Bend], k: float) -> None:
    space.add_lwpolyline(_scaled(blank.outline, k), close=True, dxfattribs={"layer": "CUT"})
    for cut in blank.cuts:
        space.add_line(*_scaled(cut, k), dxfattribs={"layer": "CUT"})
    for ring in blank.holes:
        hole = read_hole(ring)
        if hole.diameter is not None:
            centre = (hole.centre[0] * k, hole.centre[1] * k)
            space.add_circle(centre, hole.diameter / 2 * k, dxfattribs={"layer": "CUT"})
        else:
            space.add_lwpolyline(_scaled(ring, k), close=True, dxfattribs={"layer": "CUT"})
    for bend in bends:
        layer = {"layer": f"BEND_{bend.way.upper()}"}
        space.add_line(*_scaled((bend.start, bend.end), k), dxfattribs=layer)
    _name(space, piece_id, blank, k)


def _scaled(points: Iterable[tuple[float, float]], k: float) -> list[tuple[float, float]]:
    return [(p[0] * k, p[1] * k) for p in points]


def _name(space: Any, piece_id: str, blank: Blank, k: float) -> None:
    """The piece's id in the middle of the blank, small enough to stay inside its rectangle."""
    text = " ".join(piece_id.split()) or "-"
    height = min(0.5, blank.height / 4, blank.width / (1.2 * len(text)))
    entity = space.add_text(text, height=height * k, dxfattribs={"layer": "TEXT"})
    entity.set_placement(((blank.width / 2) * k, (blank.height / 2) * k), align=_middle())


def _middle() -> Any:
    from ezdxf.enums import TextEntityAlignment

    return TextEntityAlignment.MIDDLE_CENTER
