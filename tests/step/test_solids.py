"""A second opinion on folding, from an exact solid kernel: volume, angles, a sheet that nowhere runs into itself.

Needs the extra `step`, so `./lapwright test` leaves it out. CONTRIBUTING.md has its command.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path

import pytest

from chimney import chimney
from crickets import bench, malt_house
from lapwright.metal.back_pan import back_pan
from lapwright.metal.bend import k_factor
from lapwright.metal.cricket import half_cricket
from lapwright.metal.develop import Developed, develop
from lapwright.metal.sheet import Sheet

pytest.importorskip("OCP", reason="the extra `step` is not installed")

from lapwright.metal.step import bend_angles, bent_volume, joined, solid_volume, to_step

SHEETS = {
    "back pan, plumb": lambda: back_pan(bench(chimney())),
    "back pan, square": lambda: back_pan(bench(chimney("square"))),
    "cricket, left": lambda: half_cricket(bench(malt_house()), "left"),
    "cricket, right": lambda: half_cricket(bench(malt_house()), "right"),
    "cricket on a square curb": lambda: half_cricket(bench(malt_house(face="square", kind="curb", rise=5.0)), "left"),
    "cricket with a falling ridge": lambda: half_cricket(bench(malt_house(ridge_slope=-2.0)), "right"),
}


@pytest.fixture(params=SHEETS, scope="module")
def flat(request: pytest.FixtureRequest) -> Developed:
    return develop(SHEETS[request.param]())


def angle_piece(turn: float = 90.0, k_of: float = 2.0) -> Developed:
    """Two legs of 50 on a sheet 100 long and 2 thick, bent up by `turn` at an inside radius of `k_of` thicknesses."""
    sheet = Sheet("steel-24", 2.0, k_of * 2.0)
    sheet.root("base", [(0, 0, 0), (100, 0, 0), (100, 50, 0), (0, 50, 0)], painted=(0, 0, 1))
    y, z = 50 + 50 * math.cos(math.radians(turn)), 50 * math.sin(math.radians(turn))
    sheet.attach("base", "leg", [(0, 50, 0), (100, 50, 0), (100, y, z), (0, y, z)])
    return develop(sheet.body((1, 0, 0)))


def test_an_angle_has_the_volume_that_paper_gives() -> None:
    # r 4, t 2: setback (4 + 2) tan 45 = 6, so two flats of 44; the bend is a quarter of a tube, pi/4 (36 - 16).
    by_hand = 100 * (2 * 44 * 2 + math.pi / 4 * (36 - 16))
    assert solid_volume(angle_piece()) == pytest.approx(by_hand, rel=1e-9)


def test_a_bend_with_askew_ends_has_its_mean_width() -> None:
    # The base's left side runs from (0, 0) to (20, 50); at the tangent line, 44 up, it stands at 17.6, where the leg
    # starts at 20: the bend is 82.4 wide on one side and 80 on the other. Base (100 + 82.4) / 2 x 44, leg 80 x 44.
    sheet = Sheet("steel-24", 2.0, 4.0)
    sheet.root("base", [(0, 0, 0), (100, 0, 0), (100, 50, 0), (20, 50, 0)], painted=(0, 0, 1))
    sheet.attach("base", "leg", [(20, 50, 0), (100, 50, 0), (100, 50, 50), (20, 50, 50)])
    by_hand = 2 * (91.2 * 44 + 80 * 44) + 81.2 * math.pi / 4 * (36 - 16)
    assert solid_volume(develop(sheet.body((1, 0, 0)))) == pytest.approx(by_hand, rel=1e-9)


def test_the_volume_is_the_blanks_and_what_the_neutral_line_gains(flat: Developed) -> None:
    # The stop holes lie half outside the metal at a corner: 0.012 in2 x t of some 1000 in2 x t.
    assert solid_volume(flat) == pytest.approx(bent_volume(flat), rel=1e-4)


def test_without_the_gain_it_is_not(flat: Developed) -> None:
    assert solid_volume(flat) != pytest.approx(flat.blank.area * flat.thickness, rel=5e-4)


def test_every_bend_turns_as_far_as_the_blank_says(flat: Developed) -> None:
    got = bend_angles(flat)
    assert got == pytest.approx({z.child: z.angle_deg for z in flat.zones}, abs=1e-6)


def test_a_wrong_neutral_line_shows_in_the_volume() -> None:
    # K 0.5 in the blank where the bend has 0.4: the blank grows by A t (0.5 - K) in each bend and the solid with it
    # does not.
    made = angle_piece()
    zone = made.zones[0]
    longer = math.radians(90.0) * 2.0 * (0.5 - k_factor(4.0, 2.0)) * 100.0
    wrong = replace(made, blank=replace(made.blank, area=made.blank.area + longer))
    assert bent_volume(wrong) - solid_volume(made) == pytest.approx(longer * 2.0, rel=1e-6)
    assert zone.metal == pytest.approx(math.pi / 2 * (4.0 + k_factor(4.0, 2.0) * 2.0))


@pytest.mark.parametrize("turn", [30.0, 90.0, 135.0])
def test_an_angle_that_is_bent_further_than_drawn_is_seen(turn: float) -> None:
    made = angle_piece(turn)
    assert bend_angles(made)["leg"] == pytest.approx(turn, abs=1e-9)
    bent = replace(made, zones=(replace(made.zones[0], angle_deg=turn + 1.0),))
    assert bend_angles(bent)["leg"] == pytest.approx(turn + 1.0, abs=1e-9)


def test_the_folded_sheet_is_one_solid_that_nowhere_runs_into_itself(flat: Developed) -> None:
    # Joined, parts that overlap would lose the volume they share.
    from lapwright.metal.step import solids

    parts = sum(solid_volume_of(p) for p in solids(flat).values())
    assert solid_volume(flat) == pytest.approx(parts, rel=1e-9)
    assert joined(flat) is not None


def solid_volume_of(shape: object) -> float:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    measured = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, measured)
    return float(measured.Mass())


def test_a_step_file_is_the_same_twice_and_carries_its_name_alone() -> None:
    made = angle_piece()
    once = to_step(made, "angle; 'x'")
    assert once == to_step(made, "angle; 'x'")
    text = once.decode("ascii")
    assert text.startswith("ISO-10303-21;")
    assert "PRODUCT('angle_ _x_','angle_ _x_'" in text
    assert not re.search(r"20(2\d|3\d)-\d\d-\d\dT", text)


def test_a_step_file_read_back_is_the_sheet_in_millimetres(tmp_path: Path) -> None:
    from OCP.STEPControl import STEPControl_Reader

    made = angle_piece()
    file = tmp_path / "angle.step"
    file.write_bytes(to_step(made, "angle"))
    assert b"SI_UNIT(.MILLI.,.METRE.)" in file.read_bytes()
    reader = STEPControl_Reader()
    reader.ReadFile(str(file))
    reader.TransferRoots()
    assert solid_volume_of(reader.OneShape()) == pytest.approx(solid_volume(made) * 25.4**3, rel=1e-9)
