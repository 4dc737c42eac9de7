"""What a section shows and measures: figures, names and spots, all taken from the metal it cuts."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from lapwright.draw.features import Window
from lapwright.draw.layers import Layer, hooks
from lapwright.draw.section_view import Spot
from lapwright.draw.stage import View
from lapwright.geom.space import Flat
from lapwright.metal.work import Work

Value = float | int | str


@dataclass(frozen=True, slots=True)
class End:
    """One end of a dimension: a place on a layer's mould lines, or (layer None) of the deck or the wall. [in]"""

    at: Flat
    layer: Layer | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """A dimension. key: its phrase in words/.

    axis "u": along the deck, its line in row `row` below the view (above it where row > 0).
    axis "v": square to the deck, its line `row` points along u past the farther of its ends.
    """

    key: str
    axis: Literal["u", "v"]
    a: End
    b: End
    row: float

    @property
    def value(self) -> float:
        """What is measured. [in]"""
        i = 0 if self.axis == "u" else 1
        return abs(self.b.at[i] - self.a.at[i])


@dataclass(frozen=True, slots=True)
class Name:
    """A label with a leader to a layer, or to one face of it. values: what its phrase needs."""

    key: str
    layer: Layer
    face: str = ""
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Slot:
    """A reglet: its mouth on the wall's face and its bottom, on the mould lines of the layer it takes in. [in]"""

    layer: Layer
    mouth: Flat
    bottom: Flat


@dataclass(frozen=True, slots=True)
class CloseUp:
    """A part of the view drawn larger, with its own figures. [in]

    window: of the view. within: where the view cuts it aslant, the plan that cuts it square, window and all.
    """

    window: Window
    figures: tuple[Figure, ...]
    within: Plan | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """A section ready to be drawn.

    heading: a phrase over it, and the phrase that is its {cut}. taper: outline of a deck built on the deck. [in]
    """

    view: View
    layers: tuple[Layer, ...]
    figures: tuple[Figure, ...]
    names: tuple[Name, ...]
    spots: tuple[Spot, ...]
    close_ups: tuple[CloseUp, ...] = ()
    slot: Slot | None = None
    heading: tuple[str, str] | None = None
    taper: tuple[Flat, ...] = ()


class Cast:
    """The layers of one section, found by what they are."""

    def __init__(self, work: Work, layers: Sequence[Layer]) -> None:
        self.work, self.layers = work, tuple(layers)

    def find(self, kind: str, where: str = "") -> Layer | None:
        """The first layer of a kind (panels: their role)."""
        return next(self.every(kind, where), None)

    def pan(self) -> Layer | None:
        """The back pan, or the half of a cricket that is cut."""
        return self.find("back-pan") or self.find("cricket")

    def hooked(self) -> tuple[Layer | None, Layer | None]:
        """The cleat that is cut, and the panel whose hem hooks on its lip."""
        pairs = ((c, p) for c in self.every("offset-cleat") for p in self.every("upper") if hooks(p, c))
        return next(pairs, (self.find("offset-cleat"), self.find("upper")))

    def every(self, kind: str, where: str = "") -> Iterator[Layer]:
        """Every layer of a kind, perhaps only at one place."""
        for one in self.layers:
            here = one.part.role if one.part.kind == "panel" else one.part.kind
            if here == kind and (not where or where in one.part.where.split("-")):
                yield one


def face_end(layer: Layer | None, face: str, pick: Callable[[Flat], float]) -> Flat | None:
    """The end of a face's cut that is greatest by `pick`. [in]"""
    run = layer.mould.get(face) if layer is not None else None
    return max(run, key=pick) if run is not None else None


def face_of(layer: Layer | None, *names: str) -> str:
    """The first of some faces, named by how they start, that is cut."""
    return next((f for n in names for f in (layer.mould if layer else {}) if f.startswith(n)), "")


def figure(
    key: str,
    axis: Literal["u", "v"],
    a: tuple[Layer | None, Flat | None],
    b: tuple[Layer | None, Flat | None],
    row: float,
) -> Iterator[Figure]:
    """A dimension between two places [in], where both are cut; `row` as in Figure."""
    if a[1] is not None and b[1] is not None:
        yield Figure(f"sections.figure.{key}", axis, End(a[1], a[0]), End(b[1], b[0]), row)


def name_all(layers: Sequence[Layer]) -> Iterator[Name]:
    """Every layer by its own name."""
    for one in layers:
        yield Name(one.placed.key, one)


def left(p: Flat) -> float:
    """Least u. [in]"""
    return -p[0]


def right(p: Flat) -> float:
    """Greatest u. [in]"""
    return p[0]


def high(p: Flat) -> float:
    """Greatest v. [in]"""
    return p[1]


def low(p: Flat) -> float:
    """Least v. [in]"""
    return -p[1]


def lies_at(layer: Layer | None, u: float) -> Flat | None:
    """Where the lowest run of a layer lies at u, as placed. [in]"""
    if layer is None:
        return None
    found = []
    for trace in layer.traces:
        for (u0, v0), (u1, v1) in zip(trace.points, trace.points[1:], strict=False):
            if min(u0, u1) - 1e-9 <= u <= max(u0, u1) + 1e-9 and abs(u1 - u0) > 1e-9:
                found.append(v0 + (v1 - v0) * (u - u0) / (u1 - u0))
    return (u, min(found)) if found else None
