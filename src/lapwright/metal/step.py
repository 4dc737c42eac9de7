"""A folded sheet as exact solids, by an optional kernel: a second opinion on volume and angles, and STEP files.

Every flat is a prism of the sheet's thickness, every bend a sector of a tube. A bend whose ends lie askew gets
its mean width, so its volume is exact and its ends are square. The kernel (the extra `step`) is loaded only here.
"""

from __future__ import annotations

import io
import itertools
import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from lapwright.geom.flat import heading
from lapwright.geom.space import Flat, Frame, Point, add, dot, scale
from lapwright.metal.bend import k_factor
from lapwright.metal.develop import Developed, Region, Zone, part_slits, places

if TYPE_CHECKING:
    Shape = Any
    """A shape of the kernel."""

MM = 25.4
"""STEP readers take a length for millimetres unless told otherwise, so that is what is written. [mm/in]"""

STAMP = "2000-01-01T00:00:00"
"""The same sheet gives the same bytes, whenever it is written."""


class NotOneSheet(ValueError):
    """A folded sheet whose parts do not join: our bug."""


def solid_volume(flat: Developed) -> float:
    """Volume of the folded sheet as the kernel measures it, all its parts joined. [in3]

    Raises:
        ImportError: the extra `step` is not installed.
        NotOneSheet: the parts do not join into one solid.
    """
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    measured = GProp_GProps()
    BRepGProp.VolumeProperties_s(joined(flat), measured)
    return float(measured.Mass())


def bent_volume(flat: Developed) -> float:
    """What the blank's metal comes to once it is bent: area x t, and A t^2 w (0.5 - K) more in every bend. [in3]

    Source: Pappus: a bend's volume is t w A (r + t/2), of which the blank holds t w A (r + K t); K as bend.py has it.
    """
    t = flat.thickness
    more = (math.radians(z.angle_deg) * t * t * width_of(z) * (0.5 - k_factor(z.radius, t)) for z in flat.zones)
    return flat.blank.area * t + sum(more)


def width_of(z: Zone) -> float:
    """Mean width of a bend along its axis. [in]"""
    return (math.dist(*z.near) + math.dist(*z.far)) / 2


def bend_angles(flat: Developed) -> dict[str, float]:
    """How far each sheet turns at its bend, from the normals of the kernel's own faces: child -> degrees.

    Raises:
        ImportError: the extra `step` is not installed.
    """
    made, place = solids(flat), places(flat)
    out = {}
    for z in flat.zones:
        one, other = (_painted(made[name], place[name].ez) for name in (z.parent, z.child))
        out[z.child] = math.degrees(math.acos(max(-1.0, min(1.0, dot(one, other)))))
    return out


def to_step(flat: Developed, name: str) -> bytes:
    """The folded sheet as a STEP file, in millimetres and roof coordinates.

    Args:
        name: what the part is called in the file; letters, digits, dot, dash and space are kept.

    Raises:
        ImportError: the extra `step` is not installed.
        NotOneSheet: its parts do not join into one solid.
    """
    return to_assembly(name, [Placed(name, flat, ((0.0, 0.0, 0.0),))])


@dataclass(frozen=True, slots=True)
class Placed:
    """A folded sheet and where it lies: moves, one for each of its kind. [in]"""

    name: str
    flat: Developed
    moves: tuple[Point, ...]


def to_assembly(name: str, parts: Iterable[Placed]) -> bytes:
    """Folded sheets in their places as one STEP file, in millimetres and roof coordinates.

    Args:
        name: what the whole is called; a single sheet, moved nowhere, is a part of its own name and no assembly.
        parts: the sheets; each has its solid once in the file, however often it lies there.

    Raises:
        ImportError: the extra `step` is not installed.
        NotOneSheet: the parts of a sheet do not join into one solid.
    """
    from OCP.gp import gp_Trsf, gp_Vec
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_StepModelType
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name
    from OCP.TDocStd import TDocStd_Document
    from OCP.TopLoc import TopLoc_Location
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    _hush()
    made = list(parts)
    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    alone = len(made) == 1 and made[0].moves == ((0.0, 0.0, 0.0),)
    whole = None if alone else shapes.NewShape()
    for part in made:
        label = shapes.AddShape(_metric(joined(part.flat)), False)
        TDataStd_Name.Set_s(label, TCollection_ExtendedString(_plain(part.name)))
        for n, move in enumerate(part.moves if whole is not None else (), 1):
            there = gp_Trsf()
            there.SetTranslation(gp_Vec(*scale(move, MM)))
            lying = shapes.AddComponent(whole, label, TopLoc_Location(there))
            again = part.name if n == 1 else f"{part.name} {n}"
            TDataStd_Name.Set_s(lying, TCollection_ExtendedString(_plain(again)))
    if whole is not None:
        TDataStd_Name.Set_s(whole, TCollection_ExtendedString(_plain(name)))
        shapes.UpdateAssemblies()
    writer = STEPCAFControl_Writer()
    writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs)
    out = io.BytesIO()
    writer.WriteStream(out)
    header = f"FILE_NAME('{_plain(name)}','{STAMP}',(''),(''),'','','');"
    text: str = re.sub(r"FILE_NAME\(.*?\);", header, out.getvalue().decode("ascii"), count=1, flags=re.DOTALL)
    # The kernel numbers what lies in an assembly on from the file before, and breaks lines as those numbers ask.
    count = itertools.count(1)
    lying = re.compile(r"(NEXT_ASSEMBLY_USAGE_OCCURRENCE\(')\d+(.*?;)", re.DOTALL)
    told: str = lying.sub(lambda found: f"{found[1]}{next(count)}{re.sub(chr(10) + ' *', '', found[2])}", text)
    return told.encode("ascii")


def _metric(shape: Shape) -> Shape:
    """A solid in inches as one in millimetres."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.gp import gp_Pnt, gp_Trsf

    larger = gp_Trsf()
    larger.SetScale(gp_Pnt(0, 0, 0), MM)
    return BRepBuilderAPI_Transform(shape, larger, True).Shape()


def _plain(name: str) -> str:
    """A name as every STEP reader takes it."""
    return re.sub(r"[^\w .-]", "_", name, flags=re.ASCII).strip() or "sheet"


@lru_cache(maxsize=256)
def joined(flat: Developed) -> Shape:
    """All flats and bends as one solid.

    Raises:
        ImportError: the extra `step` is not installed.
        NotOneSheet: they do not join into one solid.
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
    from OCP.TopAbs import TopAbs_ShapeEnum

    first, *rest = solids(flat).values()
    for part in rest:
        first = BRepAlgoAPI_Fuse(first, part).Shape()
    count = sum(1 for _ in _walk(first, TopAbs_ShapeEnum.TopAbs_SOLID))
    if count != 1:
        raise NotOneSheet(f"the folded sheet comes to {count} solids")
    return first


def _walk(shape: Shape, kind: Any) -> Iterator[Shape]:
    from OCP.TopExp import TopExp_Explorer

    walk = TopExp_Explorer(shape, kind)
    while walk.More():
        yield walk.Current()
        walk.Next()


def solids(flat: Developed) -> dict[str, Shape]:
    """Every flat by its name, every bend as `parent/child`, as solids of the kernel in roof coordinates.

    Raises:
        ImportError: the extra `step` is not installed.
    """
    place = places(flat)
    out = {r.face: _prism(r, place[r.face], flat.thickness, flat.blank.holes) for r in flat.regions}
    for z in flat.zones:
        out[f"{z.parent}/{z.child}"] = _sector(z, place[z.parent], flat.thickness)
    return out


def _prism(region: Region, place: Frame, thickness: float, holes: tuple[tuple[Flat, ...], ...]) -> Shape:
    """A flat with its thickness, less the holes that lie in it."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    # A relieved corner may leave a nick that runs back on itself: no metal, so no solid.
    ring, _ = part_slits(list(region.ring))
    out = _raised(ring, place, thickness)
    for hole in holes:
        out = BRepAlgoAPI_Cut(out, _raised(list(hole), place, thickness)).Shape()
    return out


def _raised(ring: list[Flat], place: Frame, thickness: float) -> Shape:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    return BRepPrimAPI_MakePrism(_face([place.space(p) for p in ring]), gp_Vec(*scale(place.ez, thickness))).Shape()


def _sector(z: Zone, parent: Frame, thickness: float) -> Shape:
    """A bend: the sheet's section at the near tangent line, turned about the bend's axis."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt

    origin = z.near[0]
    run2 = heading(*z.near)
    run = add(scale(parent.ex, run2[0]), parent.ey, run2[1])
    low, high = ((_along(run2, origin, n) + _along(run2, origin, f)) / 2 for n, f in zip(z.near, z.far, strict=True))
    section = [(low, 0.0), (high, 0.0), (high, thickness), (low, thickness)]
    points = [add(parent.space(origin, w), run, s) for s, w in section]
    up = z.way == "up"
    axis = parent.space(origin, z.radius + thickness if up else -z.radius)
    # Metal leaves the near line to the right of its run; turned about -run it climbs toward the paint.
    about = gp_Dir(*scale(run, -1.0 if up else 1.0))
    return BRepPrimAPI_MakeRevol(_face(points), gp_Ax1(gp_Pnt(*axis), about), math.radians(z.angle_deg)).Shape()


def _along(run: Flat, origin: Flat, p: Flat) -> float:
    return (p[0] - origin[0]) * run[0] + (p[1] - origin[1]) * run[1]


def _face(points: list[Point]) -> Shape:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
    from OCP.gp import gp_Pnt

    outline = BRepBuilderAPI_MakePolygon()
    for p in points:
        outline.Add(gp_Pnt(*p))
    outline.Close()
    return BRepBuilderAPI_MakeFace(outline.Wire()).Face()


def _painted(prism: Shape, toward: Point) -> Point:
    """Outward normal of a prism's larger faces, the one on the painted side."""
    faces = sorted(_plane_faces(prism))
    return max((normal for _, normal in faces[-2:]), key=lambda n: dot(n, toward))


def _plane_faces(solid: Shape) -> Iterator[tuple[float, Point]]:
    """Area and outward normal of every plane face. [in2]"""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps
    from OCP.TopAbs import TopAbs_Orientation, TopAbs_ShapeEnum
    from OCP.TopoDS import TopoDS

    # The kernel's binding names its static functions with _s up to version 7.
    as_face = getattr(TopoDS, "Face", None) or TopoDS.Face_s
    for face in map(as_face, _walk(solid, TopAbs_ShapeEnum.TopAbs_FACE)):
        measured = GProp_GProps()
        BRepGProp.SurfaceProperties_s(face, measured)
        normal = BRepAdaptor_Surface(face).Plane().Axis().Direction()
        sign = -1.0 if face.Orientation() == TopAbs_Orientation.TopAbs_REVERSED else 1.0
        yield float(measured.Mass()), (sign * normal.X(), sign * normal.Y(), sign * normal.Z())


def _hush() -> None:
    """The kernel prints its statistics; nobody asked."""
    from OCP.Message import Message, Message_Gravity

    for printer in Message.DefaultMessenger_s().Printers():
        printer.SetTraceLevel(Message_Gravity.Message_Fail)
