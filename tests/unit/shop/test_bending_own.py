"""The tools that a job names: which kit comes of it, and sections that agree with the numbers given."""

from __future__ import annotations

import math
from typing import Any

import pytest

from lapwright.shop.bending.own import kit_of
from lapwright.shop.bending.tools import Folder, HandTool, Kit, kits
from lapwright.site.read import read_job

JOB = (
    '[job]\nname = "x"\n[roof]\npitch = "6:12"\neave = 240\nslope = 180\n'
    "[panel]\ncoverage = 18\nrib_height = 1.5\n"
)


def kit(*tools: dict[str, Any], name: str = "small-shop") -> Kit:
    rows = ["\n".join(["[[tool]]", *(f"{k} = {v!r}" for k, v in tool.items()), ""]) for tool in tools]
    return kit_of(read_job("".join([JOB, f'[shop]\nkit = "{name}"\n', *rows]), "J.toml"))


def folder(**given: Any) -> Folder:
    made = kit({"name": "mine", "like": "straight-folder", **given}).tool("mine")
    assert isinstance(made, Folder)
    return made


def keys(found: Kit) -> tuple[list[str], list[str]]:
    return [t.key for t in found.shop], [t.key for t in found.roof]


def test_without_a_tool_of_its_own_a_job_has_the_packaged_kit() -> None:
    assert kit(name="straight-only") == kits()["straight-only"]


def test_a_tool_with_a_packaged_name_takes_its_place() -> None:
    found = kit({"name": "straight-folder", "like": "straight-folder", "length": 97})
    assert keys(found) == keys(kits()["small-shop"])
    assert found.tool("straight-folder").length == 97.0


def test_a_folder_of_another_name_comes_before_the_one_it_is_like() -> None:
    shop, roof = keys(kit({"name": "old brake", "like": "box-folder"}))
    assert shop == ["straight-folder", "old brake", "box-folder", "joggle-bars", "seamers", "seamers-and-bar"]
    assert roof == ["seamers", "seamers-and-bar"]


def test_one_like_no_tool_of_the_kit_comes_after_the_folders_or_after_all() -> None:
    bench = {"name": "bench-folder", "like": "bench-folder"}
    wide = {"name": "wide seamers", "like": "seamers"}
    shop, roof = keys(kit(wide, bench, name="straight-only"))
    assert shop == ["straight-folder", "bench-folder", "wide seamers"]
    assert roof == ["wide seamers", "seamers", "seamers-and-bar"], "a hand tool is taken onto the roof"


def test_a_number_that_is_not_given_is_the_one_of_the_tool_it_is_like() -> None:
    found = kit({"name": "wide seamers", "like": "seamers", "depth": 3.25}).tool("wide seamers")
    assert isinstance(found, HandTool)
    assert (found.depth, found.width, found.least, found.most_deg) == (3.25, 3.5, 0.25, 180.0)


# The packaged beam: its face runs 45 degrees back to 3 deep, then plumb from 3 to 6 high, 6 deep in all.
@pytest.mark.parametrize(
    ("nose", "corner"),
    [
        (30, (-3.0, 3 * math.tan(math.radians(30)))),  # 1.732 high where the plumb part begins
        (60, (-3.0, 3 * math.tan(math.radians(60)))),  # 5.196: the plumb part is shorter
        (75, (-6 / math.tan(math.radians(75)), 6.0)),  # 11.2 at 3 deep is over the beam: the face ends at its head
        (90, (0.0, 6.0)),
    ],
)
def test_a_nose_shapes_the_beam(nose: float, corner: tuple[float, float]) -> None:
    made = folder(nose_deg=nose)
    assert made.most_deg == 180 - nose
    assert made.beam[0] == (0.0, 0.0)
    assert made.beam[1] == pytest.approx(corner, abs=1e-9)
    assert made.beam[-2:] == ((-6.0, 6.0), (-6.0, 0.0))


def test_a_flat_nose_ends_at_the_back_of_a_low_beam() -> None:
    # The bench folder is 3 deep and 1-1/2 high: at 15 degrees its face is 3 tan 15 = 0.804 high at the back.
    found = kit({"name": "mine", "like": "bench-folder", "nose_deg": 15}).tool("mine")
    assert isinstance(found, Folder)
    assert [c for p in found.beam for c in p] == pytest.approx([0, 0, -3, 3 * math.tan(math.radians(15)), -3, 0])


def test_a_land_is_the_edge_of_the_leaf() -> None:
    # The packaged leaf is 3/8 at its edge and 3/4 below.
    assert folder(land=0.5).leaf == ((0, 0), (0.5, 0), (0.5, -1), (0.75, -1.5), (0.75, -5), (0, -5))
    assert folder(land=1.25).leaf == ((0, 0), (1.25, 0), (1.25, -1), (1.25, -1.5), (1.25, -5), (0, -5))


def test_deeper_fingers_lift_their_carrier() -> None:
    # The packaged fingers are 4 deep, their carrier is 3 high.
    found = kit({"name": "mine", "like": "box-folder", "finger_depth": 6, "fingers": [8, 2]}).tool("mine")
    assert isinstance(found, Folder)
    assert found.carrier == ((-1.5, 6), (-1.5, 9), (-6, 9), (-6, 6))
    assert max(z for _, z in found.beam) == 6.0
    assert found.fingers == (2.0, 8.0)


def test_shallow_fingers_are_cut_down_through_the_nose() -> None:
    found = kit({"name": "mine", "like": "box-folder", "finger_depth": 1}).tool("mine")
    assert isinstance(found, Folder)
    assert [c for p in found.beam for c in p] == pytest.approx([0, 0, -1, 1, -3, 1, -3, 0])
