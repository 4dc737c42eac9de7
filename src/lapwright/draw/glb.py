"""A scene of named meshes as one binary glTF file. Knows no roofing word.

    12-byte header | JSON chunk: nodes, meshes, materials, accessors | BIN chunk: vertices, corners

Source: glTF 2.0 specification, Khronos Group, 3.6 (accessors) and 4.4 (GLB layout), from memory.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from lapwright.draw.mesh import Mesh
from lapwright.geom.space import Point

METRES = 0.0254
"""glTF counts in metres. [m/in]"""

PLACES = 7
"""Decimals of a metre kept: a ten-thousandth of a millimetre."""

FLOAT, SHORT, LONG = 5126, 5123, 5125
VERTICES, CORNERS = 34962, 34963
SHORT_REACHES = 65535


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
    """
    groups = {g: i for i, g in enumerate(dict.fromkeys(n.group for n in nodes))}
    parents: list[dict[str, Any]] = [{"name": g, "children": []} for g in groups]
    tree: dict[str, Any] = {
        "asset": {"version": "2.0", "generator": "lapwright"},
        "scene": 0,
        "scenes": [{"nodes": list(range(len(groups)))}],
        "nodes": parents,
        "meshes": [],
        "materials": [],
        "accessors": [],
        "bufferViews": [],
    }
    binary = bytearray()
    for n in nodes:
        parents[groups[n.group]]["children"].append(len(parents))
        parents.append({"name": n.name, "mesh": len(tree["meshes"])})
        tree["meshes"].append({"name": n.name, "primitives": [_primitive(tree, binary, n, stand)]})
    tree["buffers"] = [{"byteLength": len(binary)}]
    return _file(json.dumps(tree, ensure_ascii=True, separators=(",", ":")).encode("ascii"), bytes(binary))


def _primitive(tree: dict[str, Any], binary: bytearray, n: Node, stand: Callable[[Point], Point]) -> dict[str, Any]:
    flat = [round(v * METRES, PLACES) + 0.0 for p in n.mesh.vertices for v in stand(p)]
    corners = [i for t in n.mesh.triangles for i in t]
    packed = struct.pack(f"<{len(flat)}f", *flat)
    # Readers compare these with the numbers as they are stored, so they must be read back.
    held = struct.unpack(f"<{len(flat)}f", packed)
    axes = (held[0::3], held[1::3], held[2::3])
    bounds = {"min": [min(a) for a in axes], "max": [max(a) for a in axes]}
    where = _accessor(tree, binary, packed, (FLOAT, VERTICES, len(flat) // 3, "VEC3"), bounds)
    code, kind = ("H", SHORT) if len(flat) // 3 <= SHORT_REACHES else ("I", LONG)
    packed = struct.pack(f"<{len(corners)}{code}", *corners)
    order = _accessor(tree, binary, packed, (kind, CORNERS, len(corners), "SCALAR"), {})
    tree["materials"].append(_paint(n))
    return {"attributes": {"POSITION": where}, "indices": order, "material": len(tree["materials"]) - 1}


def _accessor(
    tree: dict[str, Any], binary: bytearray, packed: bytes, what: tuple[int, int, int, str], more: dict[str, Any]
) -> int:
    """Add numbers to the binary chunk, on a four-byte step, and say what they are."""
    kind, use, count, shape = what
    view = {"buffer": 0, "byteOffset": len(binary), "byteLength": len(packed), "target": use}
    tree["bufferViews"].append(view)
    binary += packed + b"\0" * (-len(packed) % 4)
    row = {"bufferView": len(tree["bufferViews"]) - 1, "componentType": kind, "count": count, "type": shape}
    tree["accessors"].append(row | more)
    return len(tree["accessors"]) - 1


def _paint(n: Node) -> dict[str, Any]:
    colour = [round(c / 255, 4) for c in n.colour]
    paint = {"baseColorFactor": colour, "metallicFactor": 0.2, "roughnessFactor": 0.6}
    blend = {"alphaMode": "BLEND"} if n.colour[3] < 255 else {}
    return {"name": f"{n.name} paint", "pbrMetallicRoughness": paint, "doubleSided": True, **blend}


def _file(tree: bytes, binary: bytes) -> bytes:
    tree += b" " * (-len(tree) % 4)
    chunks = struct.pack("<I4s", len(tree), b"JSON") + tree + struct.pack("<I4s", len(binary), b"BIN\0") + binary
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks
