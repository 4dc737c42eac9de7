"""The whole job in space: every folded piece in place, with ribs, walls and panels, grouped by step."""

from __future__ import annotations

import math
from collections.abc import Iterator

from lapwright.detail.model import OpeningDetail, Part
from lapwright.detail.pipe import rib_end
from lapwright.draw.glb import Node, to_glb
from lapwright.draw.marks import rim
from lapwright.draw.mesh import Mesh, mesh_of, moved, prism, slab
from lapwright.geom.space import Flat, Point, add, scale
from lapwright.metal.cleat import lift
from lapwright.metal.model import Piece, RoofPanel
from lapwright.metal.panel import edge_at, edge_line
from lapwright.metal.place import shift
from lapwright.metal.solid import in_place
from lapwright.metal.work import Work, at_bench
from lapwright.packet.worked import WorkedJob
from lapwright.tables import metals
from lapwright.words import Speaker

Colour = tuple[int, int, int, int]

COLOURS: dict[str, Colour] = {
    "panel": (122, 134, 138, 255),
    "rib": (96, 107, 111, 255),
    "wall": (158, 118, 100, 255),
    "membrane": (60, 60, 60, 255),
    "closure": (150, 150, 110, 255),
    "backing-plate": (206, 160, 60, 255),
    "hook-strip": (196, 178, 120, 255),
    "apron": (88, 126, 150, 255),
    "side-wall": (70, 108, 134, 255),
    "cricket": (58, 92, 118, 255),
    "back-pan": (58, 92, 118, 255),
    "corner-patch": (206, 160, 60, 255),
    "offset-cleat": (214, 130, 52, 255),
    "base-plate": (58, 92, 118, 255),
    "rib-hood": (206, 160, 60, 255),
    "sleeve": (88, 126, 150, 255),
    "storm-collar": (176, 182, 186, 255),
    "counterflashing": (176, 182, 186, 255),
}
"""One colour a kind, so that a lap reads by its edge."""

STANDING = "standing"
"""Group of what stands before the work: the walls."""

WALL_BELOW = 4.0
"""A drawn wall reaches this far below the roof plane. [in]"""

WALL_SHOWN = 30.0
"""A tall chimney is drawn cut off this high. [in]"""


def model_glb(job: WorkedJob) -> bytes:
    """model.glb: nodes named by piece, groups named by step, metres, y up."""
    theta = job.site.roof.theta
    sin, cos = math.sin(theta), math.cos(theta)

    def stand(p: Point) -> Point:
        return (p[0], p[1] * sin + p[2] * cos, -(p[1] * cos - p[2] * sin))

    return to_glb(tuple(nodes_of(job)), stand)


def nodes_of(job: WorkedJob) -> Iterator[Node]:
    """Every node, walls first, then parts in working order."""
    voice = Speaker(job.site.units)
    works = {k: at_bench(job.site, d) for k, d in enumerate(job.detail.openings) if d.planned}
    parts = {p.id: p for p in job.detail.parts}
    made: dict[str, Piece | RoofPanel] = {p.id: p for p in job.pieces} | {p.id: p for p in job.panels}
    for k, d in enumerate(job.detail.openings):
        yield Node(f"{k + 1}-opening", STANDING, _wall(job, d), COLOURS["wall"])
    for step in job.steps:
        group = f"step {step.n:02d} {voice.say(step.title, **step.values)}"
        for name in step.pieces:
            part = parts[name]
            work = None if part.opening is None else works[part.opening]
            kind = "panel" if part.kind == "panel" else part.kind
            mesh = _mesh(job, made[name], part, work)
            for i, along in enumerate(part.copies):
                again = f"{name} ({i + 1})" if i else name
                yield Node(again, group, moved(mesh, (along, 0.0, 0.0)), COLOURS[kind])
            for rib_name, mesh in _ribs(job, part, work):
                yield Node(rib_name, group, mesh, COLOURS["rib"])


def _mesh(job: WorkedJob, made: Piece | RoofPanel, part: Part, work: Work | None) -> Mesh:
    if made.body is not None and work is not None:
        return mesh_of(in_place(made.body, shift(work, part)))
    outline = made.outline if isinstance(made, RoofPanel) else made.blank.outline
    return slab(outline, 0.0, metals()[job.site.panel.metal].coated)


def _wall(job: WorkedJob, d: OpeningDetail) -> Mesh:
    o = d.opening
    ring = rim(o)
    lean = job.site.roof.theta if o.face == "plumb" else 0.0
    up: Point = (0.0, math.sin(lean) / math.cos(lean), 1.0)
    top = min(o.height, WALL_SHOWN)
    under = [add((x, y, 0.0), scale(up, -WALL_BELOW)) for x, y in ring]
    over = [add((x, y, 0.0), scale(up, top)) for x, y in ring]
    return prism(ring, under, over)


def _ribs(job: WorkedJob, part: Part, work: Work | None) -> Iterator[tuple[str, Mesh]]:
    """The rib on the side of a panel that it closes: its lapping leg's side."""
    if part.strip is None:
        return
    strip = job.layout.strips[part.strip]
    left = job.site.panel.lay == "left-to-right"
    x, is_rib = (strip.left, strip.left_is_rib) if left else (strip.right, strip.right_is_rib)
    if not is_rib:
        return
    run = _rib_run(job, part, work, x)
    if run is None:
        return
    low, high = run
    face = 0.3125 if not job.site.panel.folded else 0.25
    if work is not None:
        face = work.measures.rib_face or face
    floor = lift(work) if part.role == "upper" and work is not None else 0.0
    ring: tuple[Flat, ...] = ((x - face, low), (x + face, low), (x + face, high), (x - face, high))
    yield f"{part.id} rib", slab(ring, floor, floor + job.site.panel.rib_height)


def _rib_run(job: WorkedJob, part: Part, work: Work | None, x: float) -> tuple[float, float] | None:
    """Where a rib stands along the slope: y, y. None where another panel closes it."""
    if work is None or part.role == "through":
        return 0.0, job.site.roof.slope
    bay, o, m = work.detail.bay, work.opening, work.measures
    inside = any(abs(x - r) < 1e-6 for r in bay.interrupted)
    if part.role == "upper":
        return edge_at(edge_line(work), x) + m.upper_hem, job.site.roof.slope
    if inside and work.detail.pipe is not None:
        return 0.0, rib_end(work.detail)
    if not inside:
        # Over the notch the upper panel's own leg closes the rib.
        return 0.0, min((n.to_y for n in work.detail.notches if abs(n.rib - x) < 1e-6), default=o.back)
    if o.left < x < o.right:
        return 0.0, o.up - (m.dress_flat if job.site.panel.folded else m.gap)
    return 0.0, o.back - m.side_run - 1.0
