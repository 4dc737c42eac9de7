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
