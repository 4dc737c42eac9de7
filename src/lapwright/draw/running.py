"""Running dimensions: every value from one datum, its figure in a margin, its line led out to it.

figure --/-- - - - - - - - - -+ feature
         jog   extension line
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from lapwright.draw.display import Text, text_width
from lapwright.draw.sheet import Sheet
from lapwright.draw.spread import holds, spread
from lapwright.geom.space import Flat

Side = Literal["left", "right", "lower", "upper"]

SIZE = 8.0
PITCH = 10.0
"""Room for one figure along the margin. [pt]"""
JOG = 13.0
"""Room between the extension line's end and the figure. [pt]"""
CLEAR = 3.0
CROSSED = 0.25
"""What a label pays for standing on an extension line."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: where its feature stands along the margin, where its line starts across it. [pt]"""

    along: float
    across: float
    text: str


def margin(figures: Sequence[Figure]) -> float:
    """Room a margin needs beyond the metal for its figures. [pt]"""
    longest = max((text_width(f.text, SIZE) for f in figures), default=0.0)
    return CLEAR + JOG + longest + 3.0


def fits(figures: Sequence[Figure], low: float, high: float) -> bool:
    """Is there room for all of them between low and high? [pt]"""
    return holds(len(figures), PITCH, low + PITCH / 2, high - PITCH / 2)


def draw_running(
    sheet: Sheet, side: Side, figures: Sequence[Figure], edge: float, low: float, high: float
) -> None:
    """Write figures along one margin.

    Args:
        sheet: The sheet to write on.
        side: Which margin; figures of the lower and upper ones are turned to read from the right.
        figures: In any order.
        edge: Where the metal ends on that side, across the margin. [pt]
        low, high: Ends of the margin. [pt]
    """
    ordered = sorted(figures, key=lambda f: (f.along, f.text))
    places = spread([f.along for f in ordered], PITCH, low + PITCH / 2, high - PITCH / 2)
    out = -1.0 if side in ("left", "lower") else 1.0
    for figure, place in zip(ordered, places, strict=True):
        knee, end = edge + out * CLEAR, edge + out * (CLEAR + JOG)
        runs = ((figure.across, figure.along), (knee, figure.along), (end, place))
        a, b, c = (_turned(side, p) for p in runs)
        sheet.line(a, b, "dimension", CROSSED)
        sheet.line(b, c, "dimension", 2.0)
        at = _turned(side, (end + out * 1.5, place))
        sheet.text(_figure(at, figure.text, side))


def _turned(side: Side, p: Flat) -> Flat:
    """(across, along) a margin to x, y."""
    return p if side in ("left", "right") else (p[1], p[0])


def _figure(at: Flat, text: str, side: Side) -> Text:
    anchor: Literal["start", "end"] = "end" if side in ("left", "lower") else "start"
    return Text(at, text, "text", SIZE, anchor, 0.0 if side in ("left", "right") else 90.0)
