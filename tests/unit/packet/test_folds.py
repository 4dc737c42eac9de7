"""The order of folds in a planned job: plan.json, pages, files and findings, from the job file on."""

from __future__ import annotations

import functools
import json
from pathlib import Path
from typing import Any

import pytest

from lapwright.job import Job, run
from lapwright.packet.drawings import Drawing, draw_all
from lapwright.packet.plates import plates
from lapwright.packet.record import to_record
from lapwright.packet.say import Voice
from lapwright.site.read import read_job
from lapwright.words import Speaker

KILN = (Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml").read_text(encoding="utf-8")


@functools.cache
def planned(more: str = "") -> Job:
    return run(read_job(KILN + more, "J.toml"))


@functools.cache
def record(more: str = "") -> dict[str, Any]:
    return to_record(planned(more))


@functools.cache
def drawings() -> tuple[Drawing, ...]:
    return draw_all(planned())


def piece(key: str, more: str = "") -> dict[str, Any]:
    found: dict[str, Any] = next(p for p in record(more)["pieces"] if p["id"] == key)
    return found


def numbers(row: dict[str, Any]) -> dict[str, int]:
    return {b["id"]: b["order"] for b in row["bends"]}


def test_a_narrow_z_cleat_is_joggled_in_one_operation() -> None:
    # Web 1/4: under the leaf's land of 3/8, so no folder drives it; between two bars both bends come at once.
    # One operation 1, and 2 that joggle bars add.
    cleat = piece("1-offset-cleat-1")
    (only,) = cleat["bending"]["operations"]
    assert (only["does"], only["tool"], only["turned"], only["flipped"]) == ("joggle", "joggle-bars", False, False)
    assert sorted(only["bends"]) == ["base/web", "web/lip"]
    assert cleat["bending"]["cost"] == 3.0
    assert sorted(numbers(cleat).values()) == [1, 2]


def test_a_wide_z_cleat_is_folded_twice_with_one_flip() -> None:
    # Web 1: deeper than bars make. One bend up and one down: whichever comes first, the other needs the other side
    # up. Rolled over about its line the piece has its other end in hand, which is the other bend's: no turn.
    # Two operations 1 each, a flip 3. A base of 1-1/2 is held and a web or lip of 1 swings: nothing wide swings.
    cleat = piece("1-offset-cleat-1", "\n[defaults]\nweb = 1\n")
    first, second = cleat["bending"]["operations"]
    assert {first["tool"], second["tool"]} == {"straight-folder"}
    assert {(first["way"], first["face"]), (second["way"], second["face"])} == {("up", "up"), ("down", "down")}
    assert [(o["flipped"], o["turned"]) for o in (first, second)] == [(False, False), (True, False)]
    assert cleat["bending"]["cost"] == 5.0
    assert numbers(cleat) == {first["bends"][0]: 1, second["bends"][0]: 2}


def test_a_hook_strip_is_one_fold_with_the_paint_up() -> None:
    # One bend toward the paint: the painted side lies up; the wider base is held.
    strip = piece("1-hook-strip-left")
    (only,) = strip["bending"]["operations"]
    assert (only["does"], only["tool"], only["held"], only["face"]) == ("fold", "straight-folder", "base", "up")
    assert (only["n"], only["bends"], only["way"]) == (1, ["base/hook"], "up")
    assert strip["bending"] | {"operations": []} == {
        "feasible": True, "cost": 1.0, "operations": [], "blocked": [], "by_hand": [],
    }  # fmt: skip


def test_bends_are_numbered_as_they_are_folded() -> None:
    for row in (*record()["pieces"], *record()["panels"]):
        if row["bending"]:
            folded = [bend for o in row["bending"]["operations"] for bend in o["bends"]]
            assert sorted(numbers(row), key=lambda bend: numbers(row)[bend]) == list(dict.fromkeys(folded)), row["id"]
            assert sorted(numbers(row).values()) == list(range(1, len(row["bends"]) + 1))


def test_operations_are_counted_and_a_hem_takes_two() -> None:
    for row in record()["pieces"]:
        if row["bending"]:
            operations = row["bending"]["operations"]
            assert [o["n"] for o in operations] == list(range(1, len(operations) + 1))
            assert operations, row["id"]
            closed = [o["bends"] for o in operations if o["does"] == "hem-close"]
            assert sorted(closed) == sorted([b["id"]] for b in row["bends"] if b["kind"] != "bend")


def test_membrane_and_through_panels_are_not_folded() -> None:
    assert {p["bending"] for p in record()["pieces"] if p["kind"] == "membrane"} == {None}
    assert {p["bending"] for p in record()["panels"] if not p["bends"]} == {None}


def test_the_packaged_kit_stops_no_kiln_shed_and_says_what_is_made_by_hand() -> None:
    found = [(f["rule"], f["level"]) for f in record()["findings"] if f["rule"].startswith("bend.")]
    assert found == [("bend.shared-line", "note"), ("bend.by-hand", "note")]


LAND = """
[shop]
kit = "straight-only"
[[tool]]
name = "straight-folder"
like = "straight-folder"
land = 1.25
"""


def test_a_leaf_too_wide_for_the_hems_stops_the_job_with_bend_and_cure() -> None:
    # The counterflashing's hem is 1/2 wide: a leaf of 1-1/4 cannot drive it, and nothing else is at hand.
    assert planned(LAND).stopped
    front = piece("1-counterflashing-front", LAND)
    assert not front["bending"]["feasible"]
    assert {"bend": "face/face hem", "tool": "straight-folder", "reason": "land",
            "cures": ["wider-flange", "other-tool"]} in front["bending"]["blocked"]  # fmt: skip
    stops = [f["says"] for f in record(LAND)["findings"] if (f["rule"], f["level"]) == ("bend.blocked", "stop")]
    mine = [said for said in stops if "face/face hem of 1-counterflashing-front" in said]
    assert mine == [
        "flue stack: bend face/face hem of 1-counterflashing-front cannot be made with these tools in any order: "
        "the flange is narrower than the leaf's land, or than the tool can hold. What helps: a wider flange."
    ]


def test_with_a_straight_folder_alone_the_tongue_is_a_caution() -> None:
    found = {(f["rule"], f["level"]) for f in record('\n[shop]\nkit = "straight-only"\n')["findings"]}
    assert ("bend.shared-line", "caution") in found


def test_a_short_folder_of_ones_own_takes_the_tongue() -> None:
    # The tongue is 23-1/2 long: a folder of 22 works on it beside the legs, one of 24 does not.
    def tool(length: float) -> str:
        pan = piece("1-back-pan", f'\n[[tool]]\nname = "bench-folder"\nlike = "bench-folder"\nlength = {length}\n')
        return next(str(o["tool"]) for o in pan["bending"]["operations"] if "base/tongue" in o["bends"])

    assert (tool(22), tool(24)) == ("bench-folder", "seamers-and-bar")


# ---- pages and files ----------------------------------------------------------------------------


def test_every_folded_piece_has_its_steps_and_its_moving_picture() -> None:
    files = {d.file for d in drawings()}
    for key in planned().orders:
        assert {f"bend-{key}", f"fold-{key}"} <= files, key


def test_the_steps_stand_after_the_blanks_and_pieces_alike_once() -> None:
    pages = plates(drawings(), Voice(Speaker("in")))
    parts = list(dict.fromkeys(p["part"] for p in pages))
    assert parts.index("bend") == parts.index("blank") + 1
    shown = [d["title"] for p in pages if p["part"] == "bend" for row in p["rows"] for d in row]
    assert "1-side-wall-left" in shown
    assert "1-side-wall-right" not in shown, "the mirror image is told beside the first"
    assert "1-hook-strip-left" not in shown, "one operation is told in a line"
    assert len([p for p in pages if p["part"] == "bend"]) <= 7


def test_what_shares_a_place_on_the_pages_is_named_there() -> None:
    said = {d.file: d.svg for d in drawings() if d.part == "bend"}
    assert "Mirrored for 1-side-wall-right." in said["bend-1-side-wall-left"]
    assert "1-hook-strip-left: 1  UP 15" in said["bend-in-one-operation"].replace("1 UP", "1  UP")


def test_plan_json_holds_nothing_but_plain_values() -> None:
    assert json.loads(json.dumps(record()["pieces"])) == record()["pieces"]


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_pages_explain_their_pictures_once(unit: str) -> None:
    pages = [p for p in plates(drawings(), Voice(Speaker(unit))) if p["part"] == "bend"]
    assert ["FLIP: roll it over" in p["legend"] for p in pages] == [True] * len(pages)
