"""`nest` and `cut` at the command line: what they print, their JSON, their exit codes."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

Run = Callable[..., Any]


def lists(folder: Path, parts: str, stock: str) -> tuple[Path, Path]:
    (folder / "parts.csv").write_text(parts)
    (folder / "stock.csv").write_text(stock)
    return folder / "parts.csv", folder / "stock.csv"


def test_nest_prints_the_json_that_other_programs_rely_on(tmp_path: Path, lapwright: Run) -> None:
    parts, stock = lists(
        tmp_path, "id,width,height,quantity,turn\na,10,20,2,no\n", "id,width,height,quantity,price\nroll,20,9000,,\n"
    )
    ran = lapwright("nest", parts, "--stock", stock, "--json")
    answer = json.loads(ran.out)
    assert ran.code == 0
    assert answer["sheets"][0]["stock"] == "roll"
    # two of 10 x 20 side by side on 20
    assert answer["sheets"][0]["placed"] == [
        {"id": "a", "x": 0.0, "y": 0.0, "width": 10.0, "height": 20.0, "turned": False},
        {"id": "a", "x": 10.0, "y": 0.0, "width": 10.0, "height": 20.0, "turned": False},
    ]
    assert answer["sheets"][0]["used_height"] == 20.0
    assert (answer["unplaced"], answer["bound"], answer["proved"]) == ([], 20.0, True)


def test_nest_leaves_with_three_when_something_found_no_place(tmp_path: Path, lapwright: Run) -> None:
    parts, stock = lists(tmp_path, "id,width,height\nbig,50,50\n", "id,width,height\nsheet,48,96\n")
    ran = lapwright("nest", parts, "--stock", stock, "--json")
    assert ran.code == 3
    assert json.loads(ran.out)["unplaced"] == [{"id": "big", "quantity": 1}]


def test_nest_tells_the_cuts_of_a_shear(tmp_path: Path, lapwright: Run) -> None:
    parts, stock = lists(tmp_path, "id,width,height,quantity\na,10,20,2\n", "id,width,height\nsheet,24,96\n")
    out = lapwright("nest", parts, "--stock", stock, "--guillotine").out
    assert "cut 1: across at 1' 8\"" in out
    assert "left over: 24\" x 76\"" in out
    assert "Proved" in out


def test_cut_prints_bars_and_what_is_left(tmp_path: Path, lapwright: Run) -> None:
    parts, stock = lists(tmp_path, "id,length,quantity\na,70,1\nb,50,2\n", "id,length\nbar,120\n")
    ran = lapwright("cut", parts, "--stock", stock, "--json")
    assert json.loads(ran.out)["bars"] == [
        {"stock": "bar", "pieces": ["a", "b"], "left": 0.0},
        {"stock": "bar", "pieces": ["b"], "left": 70.0},
    ]
    assert "Bar 1: bar, 10' 0\": a, b; left 0\"" in lapwright("cut", parts, "--stock", stock).out


def test_a_job_in_mm_is_answered_in_mm(tmp_path: Path, lapwright: Run) -> None:
    parts, stock = lists(tmp_path, "id,length\na,700\n", "id,length\nbar,3000\n")
    answer = json.loads(lapwright("cut", parts, "--stock", stock, "--json", "--unit", "mm").out)
    assert (answer["bars"][0]["left"], answer["unit"]) == (2300.0, "mm")
    assert "left 2300 mm" in lapwright("cut", parts, "--stock", stock, "--unit", "mm").out


def test_a_clock_may_end_the_search(tmp_path: Path, lapwright: Run) -> None:
    parts, stock = lists(
        tmp_path, "id,width,height,quantity,turn\na,7,11,9,yes\nb,5,3,20,yes\n", "id,width,height\nroll,23,900\n"
    )
    assert lapwright("nest", parts, "--stock", stock, "--seconds", "0.2").code == 0


EXAMPLES = Path(__file__).parents[3] / "examples"
KILN = (EXAMPLES / "kiln-shed" / "job.toml").read_text(encoding="utf-8")
ROLL = '[[stock]]\nname = "roll by the door"\nform = "roll"\nmetal = "steel-24"\nwidth = 48\nlength = "20\'"\n'


def test_a_job_is_nested_on_its_own_stock(tmp_path: Path, lapwright: Run) -> None:
    (tmp_path / "job.toml").write_text(f"{KILN}\n{ROLL}", encoding="utf-8")
    ran = lapwright("nest", tmp_path / "job.toml", "--seconds", "0.3")
    assert (ran.code, ran.err) == (0, "")
    assert "At hand: roll by the door (roll), 4' 0\" wide" in ran.out
    assert "To buy: sheet, 4' 0\" x 10' 0\"." in ran.out  # its counterflashings are of stainless steel
    assert "1-back-pan" in ran.out and "cut 1: across at" in ran.out


def test_the_json_of_a_job_has_every_sheet_and_what_is_taken(tmp_path: Path, lapwright: Run) -> None:
    (tmp_path / "job.toml").write_text(f"{KILN}\n{ROLL}", encoding="utf-8")
    answer = json.loads(lapwright("nest", tmp_path / "job.toml", "--seconds", "0.3", "--json").out)
    assert [(t["stock"], t["at_hand"]) for t in answer["taken"]] == [("roll by the door", True), ("sheet", False)]
    assert [s["length"] for s in answer["sheets"]] == [t["length"] for t in answer["taken"]]
    assert (answer["unit"], answer["short"], answer["missing"], answer["stopped"]) == ("in", [], [], False)


def test_the_sheets_of_a_job_are_written_beside_no_packet(tmp_path: Path, lapwright: Run) -> None:
    job = EXAMPLES / "must-stop" / "job.toml"
    ran = lapwright("nest", job, "--seconds", "0.3", "--out", tmp_path / "sheets")
    assert ran.code == 3
    assert "DO NOT CUT" in ran.out
    made = sorted(p.relative_to(tmp_path / "sheets").as_posix() for p in (tmp_path / "sheets").rglob("*.*"))
    assert made == ["cut/sheet-1.dxf", "cut/sheet-2.dxf", "drawings/sheet-1.svg", "drawings/sheet-2.svg"]
    (tmp_path / "sheets" / "plan.json").write_text("{}")
    again = lapwright("nest", job, "--seconds", "0.3", "--out", tmp_path / "sheets")
    assert (again.code, "holds plan.json" in again.err) == (2, True)


def test_a_small_list_is_proved(tmp_path: Path, lapwright: Run) -> None:
    # the pinwheel: four of 1 x 2 round one of 1 x 1
    parts, stock = lists(
        tmp_path, "id,width,height,quantity\nflat,2,1,2\ntall,1,2,2\nmid,1,1,1\n", "id,width,height\nroll,3,100\n"
    )
    for words, height in ((), 3.0), (("--guillotine",), 4.0):
        answer = json.loads(lapwright("nest", parts, "--stock", stock, "--exact", "--json", *words).out)
        assert (answer["value"], answer["proved"]) == (height, True)


def test_what_does_not_go_together_is_said_and_nothing_is_done(tmp_path: Path, lapwright: Run) -> None:
    parts, stock = lists(tmp_path, "id,width,height,quantity\na,2,1,13\n", "id,width,height\nroll,3,100\n")
    job = EXAMPLES / "kiln-shed" / "job.toml"
    for words, said in (
        ((parts,), "a list of parts needs a list of stock"),
        ((parts, "--stock", stock, "--out", tmp_path / "x"), "--out goes with a job"),
        ((job, "--stock", stock), "a job names its stock"),
        ((job, "--exact"), "--exact proves a list of parts"),
        ((parts, "--stock", stock, "--exact"), "13 pieces are asked; up to 12 can be proved"),
        ((tmp_path / "none.toml",), "none.toml:1:1: job file: it cannot be read"),
    ):
        ran = lapwright("nest", *words)
        assert (ran.code, ran.out) == (2, "")
        assert said in ran.err
