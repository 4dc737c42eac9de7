"""A scene of named meshes as one binary glTF file. Knows no roofing word."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from lapwright.draw.mesh import Mesh
from lapwright.geom.space import Point

METRES = 0.0254
"""glTF counts in metres. [m/in]"""


@dataclass(frozen=True, slots=True)
class Node:
    """A named mesh in a named group. colour: red, green, blue, alpha, 0 to 255."""

    name: str
    group: str
    mesh: Mesh
    colour: tuple[int, int, int, int]


def to_glb(nodes: Sequence[Node], stand: Callable[[Point], Point]) -> bytes:
    """Write the scene.

    Args:
        nodes: in the order they should be listed; groups become parent nodes.
        stand: turns a point of the drawing into glTF's axes (x right, y up, z toward the viewer). [in]

    Returns:
        The file; the same nodes give the same bytes.

    Source: glTF 2.0 by way of trimesh.
    """
    import numpy as np
    import trimesh

    scene = trimesh.Scene()
    for group in dict.fromkeys(n.group for n in nodes):
        scene.graph.update(frame_to=group, frame_from="world", matrix=np.eye(4))
    for n in nodes:
        vertices = np.array([stand(p) for p in n.mesh.vertices]) * METRES
        mesh = trimesh.Trimesh(vertices, np.array(n.mesh.triangles), process=False)
        mesh.visual = trimesh.visual.TextureVisuals(
            material=trimesh.visual.material.PBRMaterial(
                name=f"{n.name} paint",
                baseColorFactor=n.colour,
                metallicFactor=0.2,
                roughnessFactor=0.6,
                doubleSided=True,
                alphaMode="BLEND" if n.colour[3] < 255 else "OPAQUE",
            )
        )
        scene.add_geometry(mesh, node_name=n.name, geom_name=n.name, parent_node_name=n.group)
    return bytes(scene.export(file_type="glb"))
