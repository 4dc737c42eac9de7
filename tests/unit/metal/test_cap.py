"""The curb's cap: four skirts that share no space, tabs that lap outside.

Solids are built and intersected by manifold3d (a general geometry library), not by our own code.
"""

from __future__ import annotations

import math

import manifold3d
import numpy as np
import pytest

from chimney import changed, chimney, worked
from lapwright.draw.mesh import mesh_of
from lapwright.metal.counterflashing import END_TAB
from lapwright.metal.develop import develop, fold
from lapwright.metal.model import Body
from lapwright.metal.solid import folded

CURBS = {
    "flat pan": {"kind": "curb", "face": "square", "height": 14.0},
    "low": {"kind": "curb", "face": "square", "height": 8.0},
    "cricket": {"kind": "curb", "face": "square", "height": 24.0, "method": "cricket", "slope": 260.0},
    "thick": {"kind": "curb", "face": "square", "height": 14.0, "counter_metal": "copper-20"},
}


def cap_of(name: str) -> Body:
    _, made = worked(changed(chimney(), **CURBS[name]))
    body = made["1-counterflashing-cap"].body
    assert body is not None
    return body


def solids(body: Body) -> list[manifold3d.Manifold]:
    """Every flat and every bend of the folded sheet as a solid of its own."""
    mesh = mesh_of(folded(develop(body)))
    vertices = np.array(mesh.vertices)
    seen: dict[int, int] = {}

    def root(i: int) -> int:
        while seen.setdefault(i, i) != i:
            i = seen[i]
        return i

    for a, b, c in mesh.triangles:
        seen[root(a)] = root(b)
        seen[root(b)] = root(c)
    groups: dict[int, list[tuple[int, int, int]]] = {}
    for t in mesh.triangles:
        groups.setdefault(root(t[0]), []).append(t)
    out = []
    for triangles in groups.values():
        corners: dict[tuple[float, ...], int] = {}
        at = {i: corners.setdefault(tuple(np.round(vertices[i], 9)), len(corners)) for t in triangles for i in t}
        faces = np.array([[at[i] for i in t] for t in triangles if len({at[i] for i in t}) == 3], dtype=np.uint32)
        one = manifold3d.Manifold(manifold3d.Mesh(np.array(list(corners), dtype=np.float32), faces))
        assert one.status() == manifold3d.Error.NoError
        out.append(one)
    return out


@pytest.mark.parametrize("name", CURBS)
def test_no_part_of_a_cap_shares_space_with_another(name: str) -> None:
    parts = solids(cap_of(name))
    joined = manifold3d.Manifold.batch_boolean(parts, manifold3d.OpType.Add).volume()
    # Parts touch along their tangent lines and share nothing: the whole is the sum, but for single precision.
    assert joined == pytest.approx(sum(p.volume() for p in parts), rel=2e-5)


@pytest.mark.parametrize("name", CURBS)
def test_a_cap_folds_back_onto_its_own_corners(name: str) -> None:
    body = cap_of(name)
    back = fold(develop(body))
    for face in body.faces:
        for got, wanted in zip(back[face.name], face.corners, strict=True):
            assert math.dist(got, wanted) < 0.001


def test_tabs_lie_a_sheet_outside_the_side_skirts_and_lap_them_by_more_than_three_quarters() -> None:
    body = cap_of("flat pan")
    side, tab = body.face("left skirt").corners, body.face("front tab left").corners
    # The sheet stands outside its planes: the skirt's at x, so the tab's at x - t.
    assert tab[0][0] == pytest.approx(side[0][0] - body.thickness, abs=1e-9)
    # 1 in round the corner; the skirt's end stands 1 1/2 radii in, a radius is 2 t.
    lap = max(p[1] for p in tab) - min(p[1] for p in side if p[2] < 13.0)
    assert lap == pytest.approx(END_TAB - 1.5 * 2 * body.thickness, abs=1e-6)
    assert lap > 0.75


def test_a_cap_is_the_same_from_left_and_right() -> None:
    body = cap_of("cricket")
    middle = 92.0 + 13.0
    for one, other in (("left skirt", "right skirt"), ("back tab left", "back tab right")):
        mirrored = sorted((2 * middle - x, y, z) for x, y, z in body.face(one).corners)
        for p, q in zip(mirrored, sorted(body.face(other).corners), strict=True):
            assert p == pytest.approx(q, abs=1e-9)
