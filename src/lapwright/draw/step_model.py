"""What the picture of one step shows, as plain values: which parts lie there, which go on, what is marked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lapwright.draw.features import Window
from lapwright.geom.space import Flat

WIDTH = 496.0
"""6.9 inches: as wide as a page's text on Letter and A4. [pt]"""

Lane = Literal["here", "left", "right", "lower"]
Style = Literal["off", "now", "zone", "lock", "hidden", "chalk"]


@dataclass(frozen=True, slots=True)
class MarkView:
    """One tape pull: an arrow from the real edge at `from_at` to `at`. Roof coordinates. [in]

    axis: "x" along the eave, "y" up the slope, "z" off the roof, "wall" up a face (both drawn in a cut).
    across: where the mark lies along the other axis.
    distance: what is printed; its letter ties it to the step's list. what: the marked thing, spoken.
    lane: beside which edge of the picture its line runs; "here": where the mark is.
    listed: False for a distance that only says where the picture lies, not a mark to be pulled.
    """

    axis: Literal["x", "y", "z", "wall"]
    from_at: float
    at: float
    across: float
    distance: float
    what: str
    lane: Lane = "here"
    listed: bool = True


@dataclass(frozen=True, slots=True)
class AreaView:
    """A part of the roof that the step is about though no piece goes on there. ring [in]; text: its label."""

    ring: tuple[Flat, ...]
    style: Style
    text: str = ""
    number: str = ""


@dataclass(frozen=True, slots=True)
class LineView:
    """A line of the roof that the step is about. points [in]; text: its label."""

    points: tuple[Flat, ...]
    style: Style
    text: str = ""


@dataclass(frozen=True, slots=True)
class CutView:
    """A small section beside the picture.

    axis: "up" (a plane at x `at`, seen with upslope to the right) or "across" (a plane at y `at`). [in]
    window: least and greatest of what is shown in that plane: along, off the roof, along, off the roof. [in]
    lines: what is set out there, in the plane. [in]
    """

    title: str
    axis: Literal["up", "across"]
    at: float
    window: Window
    lines: tuple[tuple[Flat, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class SpotView:
    """A part of the picture drawn larger beside it."""

    title: str
    window: Window


@dataclass(frozen=True, slots=True)
class StepView:
    """One step's picture.

    now, before: ids of the pieces and panels that go on, and of those that lie there already, in order.
    opening: index of the opening the step is about, -1 for none. datum: the edge running figures start from.
    relock: panels are only locked again; nothing is driven.
    bay: the opening's window that is always shown; focus: windows to show instead (several stand side by side).
    """

    n: int
    title: str
    now: tuple[str, ...]
    before: tuple[str, ...]
    opening: int = -1
    bay: Window | None = None
    focus: tuple[Window, ...] = ()
    marks: tuple[MarkView, ...] = ()
    areas: tuple[AreaView, ...] = ()
    lines: tuple[LineView, ...] = ()
    cuts: tuple[CutView, ...] = ()
    spots: tuple[SpotView, ...] = ()
    notes: tuple[str, ...] = ()
    datum: str = ""
    relock: bool = False
