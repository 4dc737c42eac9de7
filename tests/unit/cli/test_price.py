"""`price`, `rates` and `plan --rates` on the command line."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from lapwright.shop.price_list import packaged
from lapwright.verbs.rates import packaged_text

Run = Callable[..., Any]
EXAMPLES = Path(__file__).parents[3] / "examples"
JOB = EXAMPLES / "kiln-shed" / "job.toml"


def test_price_prints_the_lines_the_sums_and_whose_rates_they_are(lapwright: Run) -> None:
    ran = lapwright("price", JOB)
    assert (ran.code, ran.err) == (0, "")
    words = ("Kiln shed", "invented prices", "Panel coil by weight", "side-wall flashings", "Markup, 20 %", "Total")
    for word in words:
        assert word in ran.out, word


def test_price_as_json_is_what_plan_json_holds(lapwright: Run, tmp_path: Path) -> None:
    told = json.loads(lapwright("price", JOB, "--json").out)
    lapwright("plan", JOB, "--out", tmp_path / "packet")
    planned = json.loads((tmp_path / "packet" / "plan.json").read_text(encoding="utf-8"))
    assert told["price"] == planned["price"]
    assert (told["job"], told["stopped"]) == ("Kiln shed", False)


def test_a_stopped_job_is_priced_and_leaves_with_3(lapwright: Run) -> None:
    ran = lapwright("price", EXAMPLES / "must-stop" / "job.toml")
    assert ran.code == 3
    assert "DO NOT CUT" in ran.out


def test_a_job_that_cannot_be_read_leaves_with_2(lapwright: Run, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("[job]\n")
    ran = lapwright("price", tmp_path / "job.toml")
    assert (ran.code, ran.out) == (2, "")
    assert "job.name" in ran.err


def test_rates_are_printed_or_written_and_never_over_a_file(lapwright: Run, tmp_path: Path) -> None:
    assert lapwright("rates").out == packaged_text()
    mine = tmp_path / "rates.toml"
    assert lapwright("rates", "--out", mine).code == 0
    assert mine.read_text(encoding="utf-8") == packaged_text()
    mine.write_text("mine")
    ran = lapwright("rates", "--out", mine)
    assert (ran.code, ran.out, mine.read_text()) == (2, "", "mine")
    assert lapwright("rates", "--out", tmp_path / "no" / "rates.toml").code == 2


def test_a_shops_own_rates_change_the_price_and_are_kept_in_the_plan(lapwright: Run, tmp_path: Path) -> None:
    mine = tmp_path / "rates.toml"
    mine.write_text('[rates]\nname = "Ours"\n[prices]\nscrew = 1.12\n[times]\nbend = 4\n', encoding="utf-8")
    before = json.loads(lapwright("price", JOB, "--json").out)["price"]
    ran = lapwright("plan", JOB, "--rates", mine, "--out", tmp_path / "packet", "--json")
    after = json.loads(ran.out)["price"]
    (screws,) = (x["quantity"] for x in before["lines"] if x["rate"] == "prices.screw")
    # one more a screw; twice the minutes a bend doubles the folding
    assert round(after["materials"] - before["materials"], 2) == screws
    (fold,) = (x["amount"] for x in before["lines"] if "hems folded" in x["item"])
    # both hours are rounded to a hundredth, at 60 an hour
    assert abs(after["labour"] - before["labour"] - fold) < 0.61
    assert after["rates"]["name"] == "Ours"
    own = {row["rate"] for row in after["rates"]["rows"] if row["own"]}
    assert own == {"prices.screw", "times.bend"}
    assert after["rates"]["packaged"] == len(after["rates"]["rows"]) - 2
    assert (tmp_path / "packet" / "quote.pdf").read_bytes().startswith(b"%PDF")
    assert packaged()["prices.screw"] == 0.12
