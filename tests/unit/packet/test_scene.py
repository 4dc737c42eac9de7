"""The model: every piece in place, none through another, each over what it must lap.

Solids are built and intersected by manifold3d (a general geometry library), not by our own code.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache
from itertools import combinations
from pathlib import Path

import manifold3d
import numpy as np
import pytest

from chimney import changed, chimney
from lapwright.draw.glb import Node
from lapwright.job import Job, run
from lapwright.packet.scene import nodes_of
from lapwright.site.read import read_job

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*/job.toml"))
THIN = 0.01  # in3; less than this is two sheets touching along a line
MEMBRANE = 0.0401

MADE = {
    "plumb snap": lambda: chimney(),
    "square snap": lambda: chimney("square"),
    "low skylight": lambda: changed(chimney("square"), kind="skylight", height=8.0),
    "folded": lambda: changed(chimney(), seam="double-fold"),
    "right to left": lambda: changed(chimney(), lay="right-to-left"),
    "cricket": lambda: changed(chimney(), method="cricket", slope=260.0),
    "square cricket": lambda: changed(chimney("square"), method="cricket", slope=260.0),
}


@cache
def job_of(name: str) -> Job:
    if name in MADE:
        return run(MADE[name]())
    path = next(p for p in EXAMPLES if p.parent.name == name)
    return run(read_job(path.read_text(encoding="utf-8"), path.name))


NAMES = [*MADE, *(p.parent.name for p in EXAMPLES)]


def parts_of(node: Node) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    """The closed solids a node's mesh is put together from."""
    vertices = np.array(node.mesh.vertices)
    parent = list(range(len(vertices)))

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    for a, b, c in node.mesh.triangles:
        parent[root(a)] = root(b)
        parent[root(b)] = root(c)
    groups: dict[int, list[tuple[int, int, int]]] = {}
    for t in node.mesh.triangles:
        groups.setdefault(root(t[0]), []).append(t)
    for triangles in groups.values():
        seen: dict[tuple[float, ...], int] = {}
        index = {i: seen.setdefault(tuple(np.round(vertices[i], 9)), len(seen)) for t in triangles for i in t}
        faces = [tuple(index[i] for i in t) for t in triangles]
        yield np.array(list(seen)), np.array([f for f in faces if len(set(f)) == 3])


def solid(node: Node) -> manifold3d.Manifold:
    made = []
    for vertices, faces in parts_of(node):
        mesh = manifold3d.Mesh(
            vert_properties=vertices.astype(np.float32), tri_verts=faces.astype(np.uint32)
        )
        one = manifold3d.Manifold(mesh)
        assert one.status() == manifold3d.Error.NoError, node.name
        made.append(one)
    return manifold3d.Manifold.batch_boolean(made, manifold3d.OpType.Add)


@pytest.mark.parametrize("name", NAMES)
def test_no_piece_passes_through_another_or_the_wall(name: str) -> None:
    job = job_of(name)
    nodes = list(nodes_of(job))
    if not job.pieces:
        assert job.stopped
        return
    solids = {n.name: solid(n) for n in nodes}
    boxes = {k: np.array(s.bounding_box()).reshape(2, 3) for k, s in solids.items()}
    sheet = max(p.thickness for p in job.pieces if p.is_metal)
    for a, b in combinations(solids, 2):
        if (boxes[a][0] > boxes[b][1]).any() or (boxes[b][0] > boxes[a][1]).any():
            continue
        common = solids[a] ^ solids[b]
        if common.volume() < THIN * sheet:
            continue
        # A thin slab of volume V and surface S is about 2 V / S thick: contacts within a sheet are allowed.
        deep = 2 * common.volume() / common.surface_area()
        assert deep <= (MEMBRANE if "membrane" in a + b else sheet), (a, b, deep)


@pytest.mark.parametrize("name", NAMES)
def test_every_node_is_a_closed_solid_and_sits_in_its_step(name: str) -> None:
    job = job_of(name)
    nodes = list(nodes_of(job))
    assert len({n.name for n in nodes}) == len(nodes)
    steps = {n.group for n in nodes}
    assert all(g == "standing" or g.startswith("step ") for g in steps)
    for n in nodes:
        assert solid(n).volume() > 0


def footprint(job: Job, id_: str) -> manifold3d.CrossSection:
    """What a part covers of the roof plane, seen square to it."""
    made = [solid(n) for n in nodes_of(job) if n.name == id_ or n.name.startswith(f"{id_} (")]
    return manifold3d.Manifold.batch_boolean(made, manifold3d.OpType.Add).project()


def lap_along(job: Job, over: str, under: str, left: float, right: float) -> float:
    """How far one part runs up the slope over another, between two x. [in]"""
    common = footprint(job, over) ^ footprint(job, under)
    strip = manifold3d.CrossSection([[(left, 0), (right, 0), (right, 999), (left, 999)]])
    low, high = np.array((common ^ strip).bounds()).reshape(2, 2)
    return float(high[1] - low[1])


def test_each_piece_laps_what_it_must_by_the_stated_amount() -> None:
    # Side walls run 6 past the back face, the pan's legs 7 down beside it: 13 of lap, less what the pan's layers
    # slide it up the wall: 2 sheets of 0.0255 further than the side wall, x tan 30.256 = 0.583: 0.03.
    job = job_of("plumb snap")
    assert lap_along(job, "1-back-pan", "1-side-wall-left", 88.5, 91.0) == pytest.approx(13.0, abs=0.06)
    # The side wall starts 4 below the face, over the raised apron's closed end.
    flat = job_of("folded")
    assert lap_along(flat, "1-side-wall-left", "1-apron", 88.5, 91.5) == pytest.approx(4.0, abs=0.1)
    # The upper panel ends 1 1/4 down of the cleat line at back + 9, the pan runs to back + 12: 4 1/4 of headlap.
    assert lap_along(job, "panel-7-upper", "1-back-pan", 100.0, 110.0) == pytest.approx(4.25, abs=0.2)
    # Side panels run 6 past the back face under the pan; its legs start 7 down.
    assert lap_along(job, "1-back-pan", "panel-6-side", 79.0, 87.0) == pytest.approx(13.0, abs=0.1)
    # Cleats lie wholly on the pan: base 1 1/2 up, lip 1 down.
    assert lap_along(job, "1-offset-cleat-2", "1-back-pan", 95.0, 115.0) == pytest.approx(2.5, abs=0.06)
    # The apron's flange runs 6 over the lower panel, which ends 1 up at the face.
    assert lap_along(flat, "1-apron", "panel-7-lower", 98.0, 112.0) >= 6.0 - 0.1


def test_the_counterflashing_covers_4_of_the_upstand() -> None:
    # Heights square to the roof at the middle of the back face: hem at 8 - 4, upstand to 8.
    job = job_of("square snap")
    top = {n.name: np.array(n.mesh.vertices)[:, 2].max() for n in nodes_of(job)}
    low = {n.name: np.array(n.mesh.vertices)[:, 2].min() for n in nodes_of(job)}
    assert top["1-back-pan"] - low["1-counterflashing-back"] == pytest.approx(4.0, abs=0.2)
    assert math.isclose(low["1-counterflashing-back"], 4.0, abs_tol=0.03)
