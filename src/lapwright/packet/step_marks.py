"""Where each mark of the order of work lies: the real edge its tape hooks on, and the way it is pulled.

One row per edge. A mark whose edge is not in the table cannot be drawn: a test says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from string import ascii_lowercase, ascii_uppercase
from typing import Literal

from lapwright.detail.model import Part
from lapwright.draw.step_model import Lane, MarkView
from lapwright.metal.work import Work
from lapwright.packet.model import Mark, Step
from lapwright.packet.worked import WorkedJob

Axis = Literal["x", "y", "z", "wall"]


@dataclass(frozen=True, slots=True)
class Pulled:
    """A mark and what it marks, spoken."""

    mark: Mark
    what: str


@dataclass(frozen=True, slots=True)
class Place:
    """What the table's rows look at."""

    job: WorkedJob
    work: Work | None
    parts: tuple[Part, ...]
    mark: Mark

    @property
    def bench(self) -> Work:
        """The opening's work.

        Raises:
            ValueError: the step belongs to no opening (our bug).
        """
        if self.work is None:
            raise ValueError(f"{self.mark.what} belongs to no opening")
        return self.work

    @property
    def hand(self) -> str:
        """The side a mark is on: its own, else the side of the step's first panel."""
        given = self.mark.values.get("hand")
        if given in ("left", "right"):
            return str(given)
        strips = [self.job.layout.strips[p.strip] for p in self.parts if p.strip is not None]
        if strips and self.work is not None:
            middle = self.work.opening.left + self.work.opening.width / 2
            return "left" if (strips[0].left + strips[0].right) / 2 <= middle else "right"
        return "left"

    def by_hand(self, left: float, right: float) -> float:
        """One of two values. [in]"""
        return left if self.hand == "left" else right


Edge = tuple[Axis, Callable[[Place], float], Callable[[Place], float]]
"""Axis, where the edge is [in], and +1 or -1 [-]: which way the tape runs from it."""


def _forward(_: Place) -> float:
    return 1.0


def _backward(_: Place) -> float:
    return -1.0


def _outward(p: Place) -> float:
    return p.by_hand(-1.0, 1.0)


def _inward(p: Place) -> float:
    return p.by_hand(1.0, -1.0)


EDGES: dict[str, Edge] = {
    "left_edge": ("x", lambda p: 0.0, _forward),
    "right_edge": ("x", lambda p: p.job.site.roof.eave, _backward),
    "eave": ("y", lambda p: 0.0, _forward),
    "face": ("y", lambda p: p.bench.opening.up, _backward),
    "left_rib": ("x", lambda p: p.bench.detail.bay.left, _forward),
    "right_rib": ("x", lambda p: p.bench.detail.bay.right, _backward),
    "left_bay_edge": ("x", lambda p: p.bench.detail.bay.left, _forward),
    "right_bay_edge": ("x", lambda p: p.bench.detail.bay.right, _backward),
    "panel_end": ("y", lambda p: p.bench.opening.back + p.bench.measures.overrun, _backward),
    "down_face": ("y", lambda p: p.bench.opening.up, _backward),
    "down_face_up": ("y", lambda p: p.bench.opening.up, _forward),
    "back_face": ("y", lambda p: p.bench.opening.back, _forward),
    "back_face_down": ("y", lambda p: p.bench.opening.back, _backward),
    "back_face_wall": ("wall", lambda p: 0.0, _forward),
    "corner": ("x", lambda p: p.by_hand(p.bench.opening.left, p.bench.opening.right), _outward),
    "rib_face": (
        "x",
        lambda p: p.by_hand(p.bench.detail.bay.left + _face(p), p.bench.detail.bay.right - _face(p)),
        _inward,
    ),
    "edge": ("x", lambda p: p.by_hand(p.bench.detail.bay.left, p.bench.detail.bay.right), _inward),
    "roof": ("z", lambda p: 0.0, _forward),
    "rim_down": ("y", lambda p: p.bench.opening.up, _backward),
    "rim_up": ("y", lambda p: p.bench.opening.back, _forward),
}
"""Every edge a tape may hook on (the last part of its key in words/)."""


RUNNING = ("steps.from.left_edge", "steps.from.right_edge")
"""Marks from the roof's own edges hang on one line of figures under the roof."""


def _face(p: Place) -> float:
    return p.bench.measures.rib_face or 0.0


def marks_of(
    job: WorkedJob, work: Work | None, parts: tuple[Part, ...], pulls: Sequence[Pulled]
) -> tuple[MarkView, ...]:
    """The step's marks as they are drawn, in the step's own order; some are drawn again on the other side.

    Raises:
        KeyError: a mark starts at an edge that is not in the table (our bug).
    """
    return tuple(view for pull in pulls for view in _drawn(Place(job, work, parts, pull.mark), pull))


def letters_of(step: Step) -> tuple[str, ...]:
    """The letter that each mark of a step has in its picture, in the step's order; "" where it hangs on a line
    of figures under the roof."""
    letters = iter(ascii_uppercase + ascii_lowercase)
    return tuple("" if m.start in RUNNING else next(letters) for m in step.marks)


def reference(axis: Axis, from_at: float, at: float, across: float, lane: Lane = "here") -> MarkView:
    """A distance that says where the picture lies; no mark is pulled from it. [in]"""
    return MarkView(axis, from_at, at, across, abs(at - from_at), "", lane, listed=False)


def _drawn(p: Place, pull: Pulled) -> Iterator[MarkView]:
    m = pull.mark
    start, what = m.start.rsplit(".", 1)[1], m.what.rsplit(".", 1)[1]
    axis, edge, way = EDGES[start]
    from_at = edge(p)
    at = from_at + way(p) * m.distance
    across, lane = _across(p, what, axis)
    if m.start in RUNNING:
        across, lane = 0.0, "lower"
    elif start == "eave":
        lane = "left" if p.hand == "left" else "right"
    yield MarkView(axis, from_at, at, across, m.distance, pull.what, lane)
    yield from _again(p, start, what, from_at, at)


def _across(p: Place, what: str, axis: Axis) -> tuple[float, Lane]:
    """Where along the other axis a mark is drawn: beside the edge it belongs to. [in]"""
    if p.work is None or axis in ("z", "wall"):
        return 0.0, "here"
    o, m, bay = p.work.opening, p.work.measures, p.work.detail.bay
    rib = p.mark.values.get("rib")
    rows: dict[str, float] = {
        "side_cut": o.up - 4.0,
        "plate_edge": o.up - 3.0,
        "plate_up": (bay.left + o.left) / 2,
        "plate_down": (bay.left + o.left) / 2,
        "rib_off": (float(rib) if isinstance(rib, float | int) else o.left) + p.by_hand(-2.2, 2.2),
        "cut_up": p.by_hand(o.left, o.right),
        "panel_end": _end_middle(p),
        "notch": p.by_hand(bay.left - 2.2, bay.right + 2.2),
        "leg_off": (float(rib) if isinstance(rib, float | int) else o.left) + p.by_hand(-2.2, 2.2),
        "flange_end": o.up - m.apron_flange / 2,
        "side_edge": (o.up + o.back) / 2,
        "side_front": o.left - m.side_flange / 2,
        "side_back": o.left - m.side_flange / 2,
        "pan_down": (bay.left + o.left) / 2,
        "pan_edge": (o.back + (m.extent or 0.0) / 2),
        "cleat_corner": o.left,
        "cleat_foot": p.by_hand(bay.left, bay.right),
        "cleat_edge": p.by_hand(bay.left, bay.right),
    }
    if what in ("edge_rib", "edge_side") and isinstance(rib, float | int):
        return float(rib), "here"
    return rows.get(what, o.up - 3.0 if axis == "x" else o.left + o.width / 2), "here"


def _end_middle(p: Place) -> float:
    """The middle of a side panel's upslope end, on the mark's hand. [in]"""
    o, bay = p.bench.opening, p.bench.detail.bay
    strips = [p.job.layout.strips[part.strip] for part in p.parts if part.strip is not None]
    if not strips:
        return p.by_hand((bay.left + o.left) / 2, (bay.right + o.right) / 2)
    a, b = strips[0].left, strips[0].right
    return (a + min(b, o.left)) / 2 if p.hand == "left" else (max(a, o.right) + b) / 2


def _again(p: Place, start: str, what: str, from_at: float, at: float) -> Iterator[MarkView]:
    """The same distance on the other side, or round the other faces, without a letter of its own."""
    if p.work is None:
        return
    o, m, bay, roof = p.work.opening, p.work.measures, p.work.detail.bay, p.job.site.roof
    d = p.mark.distance
    if start == "face":
        middle = (o.up + o.back) / 2
        for edge, far in ((o.left, o.left - d), (o.right, o.right + d)):
            if 0.0 <= far <= roof.eave:
                yield reference("x", edge, far, middle)
        if o.back + d <= roof.slope:
            yield reference("y", o.back, o.back + d, o.left + o.width / 2)
    mirrored = {
        "side_front": o.right + m.side_flange / 2,
        "side_back": o.right + m.side_flange / 2,
        "pan_down": (bay.right + o.right) / 2,
        "cleat_corner": o.right,
    }
    if what in mirrored:
        yield reference("y", from_at, at, mirrored[what])
