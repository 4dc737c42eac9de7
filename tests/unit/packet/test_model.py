"""model.glb as another program reads it: named nodes in steps, closed solids, metres, y up."""

from __future__ import annotations

import io
import json
import struct
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import trimesh

from lapwright.job import Job, run
from lapwright.packet.scene import model_glb
from lapwright.site.read import read_job

EXAMPLE = Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml"


@cache
def job() -> Job:
    return run(read_job(EXAMPLE.read_text(encoding="utf-8"), "job.toml"))


@cache
def glb() -> bytes:
    return model_glb(job())


def tree() -> dict[str, Any]:
    length = struct.unpack("<I", glb()[12:16])[0]
    read: dict[str, Any] = json.loads(glb()[20 : 20 + length])
    return read


def scene() -> Any:
    return trimesh.load(io.BytesIO(glb()), file_type="glb")


def test_the_file_is_as_long_as_it_says_and_its_chunks_stand_on_four_bytes() -> None:
    magic, version, length = struct.unpack("<4sII", glb()[:12])
    assert (magic, version, length) == (b"glTF", 2, len(glb()))
    json_length = struct.unpack("<I", glb()[12:16])[0]
    binary_length, kind = struct.unpack("<I4s", glb()[20 + json_length : 28 + json_length])
    assert json_length % 4 == 0 and binary_length % 4 == 0 and kind == b"BIN\0"
    assert 28 + json_length + binary_length == len(glb())


def test_every_piece_and_panel_is_a_node_in_the_group_of_its_step() -> None:
    nodes = tree()["nodes"]
    group = {nodes[i]["name"]: n["name"] for n in nodes for i in n.get("children", ())}
    for step in job().steps:
        for name in step.pieces:
            assert group[name].startswith(f"step {step.n:02d} ")


def test_every_mesh_is_a_closed_solid() -> None:
    assert [name for name, mesh in scene().geometry.items() if not mesh.is_watertight] == []


def test_it_stands_in_metres_with_y_up() -> None:
    # the eave is 22' 3 = 267 in = 6.7818 m along x; at 8:12 the ridge is 200 sin(33.69) = 110.94 in = 2.818 m up
    low, high = scene().bounds
    assert high[0] - low[0] == pytest.approx(6.7818, abs=0.03)
    assert high[1] > 2.818


def test_bounds_of_every_accessor_are_those_of_its_numbers() -> None:
    head = tree()
    start = 28 + struct.unpack("<I", glb()[12:16])[0]
    for row in head["accessors"]:
        if row["type"] == "VEC3":
            view = head["bufferViews"][row["bufferView"]]
            at = start + view["byteOffset"]
            held = struct.unpack(f"<{row['count'] * 3}f", glb()[at : at + view["byteLength"]])
            for axis in range(3):
                assert (row["min"][axis], row["max"][axis]) == (min(held[axis::3]), max(held[axis::3]))


def test_the_same_job_gives_the_same_bytes() -> None:
    assert model_glb(job()) == glb()
