"""A piece of metal: its folded body in roof coordinates and its flat blank."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lapwright.detail.model import Notch
from lapwright.geom.space import Flat, Point

Way = Literal["up", "down"]
JointKind = Literal["bend", "open-hem", "closed-hem"]


@dataclass(frozen=True, slots=True)
class Face:
    """A flat part of the folded piece: its mould-line corners, counter-clockwise seen from the painted side.

    Corners lie on the sheet's unpainted surface, where the planes of neighbouring parts intersect.
    """

    name: str
    corners: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Joint:
    """Two faces of one sheet joined by a bend or a hem.

    edge: the mould line on the parent, run as the parent's ring runs. child_edge: the same line on the
    child (equal to `edge` for a bend, one hem gap away for a hem). angle_deg: how far the sheet turns,
    0 to 180. radius: inside. [in]
    """

    parent: str
    child: str
    edge: tuple[Point, Point]
    child_edge: tuple[Point, Point]
    angle_deg: float
    way: Way
    radius: float
    kind: JointKind = "bend"


@dataclass(frozen=True, slots=True)
class Body:
    """A folded piece: faces[0] is the root; joints in tree order, parents first.

    thickness: coated metal, the one that bends. [in]  holes: per face, centre (in space) and diameter.
    u_axis: direction of the blank's u in the root's plane.
    cutouts: per face, a ring cut out of it, counter-clockwise seen from the paint. rolled: faces are the facets of a
    rolled sheet: no joints, and its blank is not laid out from them.
    """

    faces: tuple[Face, ...]
    joints: tuple[Joint, ...]
    thickness: float
    metal: str
    u_axis: Point
    holes: tuple[tuple[str, Point, float], ...] = ()
    cutouts: tuple[tuple[str, tuple[Point, ...]], ...] = ()
    rolled: bool = False

    def face(self, name: str) -> Face:
        """The face of that name.

        Raises:
            KeyError: no such face.
        """
        for f in self.faces:
            if f.name == name:
                return f
        raise KeyError(name)


@dataclass(frozen=True, slots=True)
class Bend:
    """A bend line on the blank, at the middle of its bend zone. order counts from 1."""

    id: str
    start: Flat
    end: Flat
    angle_deg: float
    radius: float
    way: Way
    order: int
    kind: JointKind = "bend"


@dataclass(frozen=True, slots=True)
class Curve:
    """A smooth line on a blank. role: "edge" of the metal, or "fold" to scribe.

    points: exact places along it, straight between them within the chord error. slopes: its direction at each, by
    the piece that follows. stations: the places that are measured and marked. [in]
    """

    role: Literal["edge", "fold"]
    points: tuple[Flat, ...]
    slopes: tuple[Flat, ...]
    stations: tuple[Flat, ...]


@dataclass(frozen=True, slots=True)
class Blank:
    """The flat sheet to cut. u along the piece, v across the girth, painted side up, least u and v are 0.

    cuts: slits of no width, each a run of two points. holes: polygons (chord error <= 0.001 in).
    area: outline less holes. [in2]  curves: the outline's and the holes' smooth runs, and lines to scribe.
    """

    outline: tuple[Flat, ...]
    cuts: tuple[tuple[Flat, Flat], ...]
    holes: tuple[tuple[Flat, ...], ...]
    area: float
    width: float
    height: float
    curves: tuple[Curve, ...] = ()


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece to make, `quantity` times. thickness and lengths in inches, weight in lb for one."""

    id: str
    kind: str
    name: str
    opening: str | None
    quantity: int
    metal: str
    thickness: float
    blank: Blank
    bends: tuple[Bend, ...]
    weight_lb: float
    body: Body | None = None
    hand: Literal["", "left", "right"] = ""

    @property
    def is_metal(self) -> bool:
        """Is it cut from sheet metal (and not from membrane)?"""
        return self.kind != "membrane"


@dataclass(frozen=True, slots=True)
class RoofPanel:
    """One panel as it lies, and as it is cut. outline in roof x, y; blank only where it is worked on the roof.

    role: through, side, lower, upper. hems: names of the hemmed or turned edges.
    """

    id: str
    role: Literal["through", "side", "lower", "upper"]
    strip: int
    opening: str | None
    outline: tuple[Flat, ...]
    length: float
    width: float
    blank: Blank | None = None
    bends: tuple[Bend, ...] = ()
    hems: tuple[str, ...] = ()
    notches: tuple[Notch, ...] = ()
    body: Body | None = None
