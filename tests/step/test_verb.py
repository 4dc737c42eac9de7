"""`step`: every folded piece of whole jobs, one by one and in place, read back by the kernel's own reader."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

pytest.importorskip("OCP", reason="the extra `step` is not installed")

from lapwright.cli.app import app
from lapwright.metal.develop import develop
from lapwright.metal.sheet import Sheet
from lapwright.metal.step import Placed, to_assembly
from lapwright.verbs.step import NoSuchPiece, Solids, step_file, told

EXAMPLES = Path(__file__).parents[2] / "examples"
CASES = ["kiln-shed", "malt-house", "orchard-studio", "chapel-cottage"]
"""Flat pan, cricket, millimetres, copper."""


@cache
def made(case: str) -> Solids:
    return step_file(EXAMPLES / case / "job.toml")


def read(data: bytes, folder: Path) -> Any:
    from OCP.STEPControl import STEPControl_Reader

    file = folder / "read.step"
    file.write_bytes(data)
    reader = STEPControl_Reader()
    reader.ReadFile(str(file))
    reader.TransferRoots()
    return reader.OneShape()


def volume(shape: Any) -> float:
    """[in3]"""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    measured = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, measured)
    return float(measured.Mass()) / 25.4**3


def count(shape: Any) -> int:
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer

    walk, n = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_SOLID), 0
    while walk.More():
        n += 1
        walk.Next()
    return n


def reach(shape: Any) -> tuple[float, ...]:
    """Least and greatest x, y, z. [in]"""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    bounds = Bnd_Box()
    bounds.SetGap(0.0)
    BRepBndLib.AddOptimal_s(shape, bounds, False, False)
    corners = (bounds.CornerMin(), bounds.CornerMax())
    return tuple(v / 25.4 for p in corners for v in (p.X(), p.Y(), p.Z()))


@pytest.mark.parametrize("case", CASES)
def test_every_piece_has_the_volume_of_its_blank_and_bends(case: str) -> None:
    # Stop holes lie half outside the metal at a corner, so a part in five thousand of the smallest piece is theirs.
    assert len(made(case).volumes) > 15
    for v in made(case).volumes:
        assert v.solid == pytest.approx(v.paper, rel=2e-4), v.id


@pytest.mark.parametrize("case", CASES)
def test_every_metal_piece_has_a_file_and_all_have_one(case: str) -> None:
    names = {f"{p.id}.step" for p in made(case).job.pieces if p.is_metal}
    assert set(made(case).files) == names | {"assembly.step"}


def test_the_assembly_read_back_holds_every_copy_in_its_place(tmp_path: Path) -> None:
    solids = made("kiln-shed")
    pieces = [p for p in solids.job.pieces if p.is_metal]
    whole = read(solids.files["assembly.step"], tmp_path)
    assert count(whole) == sum(p.quantity for p in pieces)
    weights = {v.id: v.solid for v in solids.volumes}
    assert volume(whole) == pytest.approx(sum(p.quantity * weights[p.id] for p in pieces), rel=1e-6)
    # Opening 23 1/2 wide, its left side 102 1/2 along; bay ribs 5 1/2 and 7 beside it, at 97 and 133. Widest
    # are the pan's turn-ups, 5/16 + 1/8 off the ribs' centres, opened 2.5 degrees over 1 1/2: 0.065 nearer to them.
    least_x, _, _, most_x, _, _ = reach(whole)
    assert least_x == pytest.approx(97.37, abs=0.03) and most_x == pytest.approx(132.63, abs=0.03)


def test_the_assembly_names_its_parts_and_its_job() -> None:
    text = made("kiln-shed").files["assembly.step"].decode("ascii")
    named = set(re.findall(r"PRODUCT\('([^']*)'", text))
    assert named == {"Kiln shed", *(p.id for p in made("kiln-shed").job.pieces if p.is_metal)}
    assert len(re.findall("NEXT_ASSEMBLY_USAGE_OCCURRENCE", text)) == sum(
        p.quantity for p in made("kiln-shed").job.pieces if p.is_metal
    )


def test_the_same_job_gives_the_same_bytes() -> None:
    assert step_file(EXAMPLES / "kiln-shed" / "job.toml").files == made("kiln-shed").files


def test_a_copy_is_moved_as_far_as_it_was_told(tmp_path: Path) -> None:
    sheet = Sheet("steel-24", 2.0, 4.0)
    sheet.root("base", [(0, 0, 0), (100, 0, 0), (100, 50, 0), (0, 50, 0)], painted=(0, 0, 1))
    sheet.attach("base", "leg", [(0, 50, 0), (100, 50, 0), (100, 50, 50), (0, 50, 50)])
    angle = develop(sheet.body((1, 0, 0)))
    there = read(to_assembly("two", [Placed("one", angle, ((0.0, 0.0, 0.0), (0.0, 200.0, 30.0)))]), tmp_path)
    # base 0 to 100 by 0 to 50, leg 50 up and 2 thick; the second lies 200 further up the slope and 30 higher
    x0, y0, z0, x1, y1, z1 = reach(there)
    assert (x0, x1) == pytest.approx((0.0, 100.0)) and (y0, y1) == pytest.approx((0.0, 250.0))
    assert (z0, z1) == pytest.approx((0.0, 80.0))


def test_the_command_writes_one_piece_and_says_so(tmp_path: Path) -> None:
    job, out = EXAMPLES / "orchard-studio" / "job.toml", tmp_path / "solids"
    done = CliRunner().invoke(app, ["step", str(job), "--piece", "1-apron", "--out", str(out)])
    assert done.exit_code == 0 and [p.name for p in out.iterdir()] == ["1-apron.step"]
    assert "cm3" in done.stdout and str(out) in done.stdout


def test_a_stopped_job_says_so_and_leaves_with_three(tmp_path: Path) -> None:
    job = EXAMPLES / "must-stop" / "job.toml"
    done = CliRunner().invoke(app, ["step", str(job), "--piece", "1-apron", "--out", str(tmp_path)])
    assert done.exit_code == 3 and "DO NOT CUT" in done.stdout


def test_an_unknown_piece_is_refused_by_name() -> None:
    with pytest.raises(NoSuchPiece) as refused:
        step_file(EXAMPLES / "kiln-shed" / "job.toml", "1-bonnet")
    assert refused.value.values["given"] == "1-bonnet" and "1-apron" in refused.value.values["known"]


def test_volumes_are_told_in_the_jobs_unit() -> None:
    inches, metric = (told(made(case), Path("x")) for case in ("kiln-shed", "orchard-studio"))
    assert "in3" in inches[0] and "cm3" in metric[0]
