"""The rates: every row can be replaced, nothing else is taken, and every row is used by some roof."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from lapwright.errors import JobProblems
from lapwright.job import run
from lapwright.shop.price_list import IN_A, packaged, per, read_rates
from lapwright.site.read import read_job
from lapwright.tables import metals
from lapwright.verbs.rates import packaged_text
from lapwright.words import Speaker

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*/job.toml"))


def problems(text: str) -> list[str]:
    with pytest.raises(JobProblems) as refused:
        read_rates(text, "rates.toml")
    return list(refused.value.lines(Speaker()))


def test_the_file_that_is_handed_out_reads_back_as_the_packaged_rates() -> None:
    read = read_rates(packaged_text(), "rates.toml")
    assert (read.name, dict(read.rows)) == (packaged().name, dict(packaged().rows))
    assert read.own == set(packaged().rows)


def test_every_metal_has_a_price_and_every_row_says_that_it_is_invented_or_a_house_rule() -> None:
    assert [m for m in metals() if f"metals.{m}" not in packaged().rows] == []
    heads = [row for row in packaged_text().splitlines() if row.startswith("[") and row != "[rates]"]
    assert len(heads) == 4
    for head in heads:
        assert "put your own" in head and ("invented" in head or "house rule" in head), head


def test_a_few_rows_of_ones_own_stand_among_the_packaged_ones() -> None:
    read = read_rates('[rates]\nname = "Ours"\n[prices]\ntape = 14\n[times]\nbend = 1.5\n', "rates.toml")
    assert (read["prices.tape"], read["times.bend"]) == (14.0, 1.5)
    assert read["prices.sealant"] == packaged()["prices.sealant"]
    assert read.own == {"prices.tape", "times.bend"}
    assert read.name == "Ours"


def test_rows_by_the_metre_and_kilogram_come_to_the_same_as_by_the_foot_and_pound() -> None:
    # a foot is 0.3048 m: 10 a metre is 3.048 a foot; a pound 0.45359237 kg; 38.1 mm is 1 1/2 in
    text = '[rates]\nunits = "mm"\n[prices]\nsolder = 10\nmembrane = 100\nscrew = 0.1\n[metals]\nzinc-07 = 10\n'
    read = read_rates(text + "[times]\nseam = 10\nbend = 2\n[girth]\nsnap = 38.1\n", "rates.toml")
    got = [read[k] for k in ("prices.solder", "prices.membrane", "metals.zinc-07", "times.seam", "girth.snap")]
    assert got == pytest.approx([3.048, 9.290304, 4.5359237, 3.048, 1.5])
    assert (read["prices.screw"], read["times.bend"]) == (0.1, 2.0)


def test_what_is_wrong_is_told_all_at_once_with_its_place() -> None:
    text = '[prices]\nsealent = 9\ntape = -1\n[metal]\nsteel-24 = 1\n[times]\nbend = nan\nblank = "3"\ncut = true\n'
    assert problems(text) == [
        "rates.toml:2:1: prices.sealent: no such row; did you mean sealant?",
        "rates.toml:3:8: prices.tape: -1 is given; a number from 0 to 100000 (money) is allowed",
        "rates.toml:4:2: metal: no such table of rates; did you mean metals?",
        "rates.toml:7:8: times.bend: nan is given; a number from 0 to 10000 (min) is allowed",
        'rates.toml:8:9: times.blank: "3" is given; a number from 0 to 10000 (min) is allowed',
        "rates.toml:9:7: times.cut: true is given; a number from 0 to 10000 (min) is allowed",
    ]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("prices = 3", "rates.toml:1:1: prices: 3 is given; one table [prices] is allowed"),
        ("[prices]\nzzz = 1", "prices.zzz: no such row; known are sealant,"),
        ("[zzz]\na = 1", "zzz: no such table of rates; known are rates, prices,"),
        ("[rates]\nunits = \"cm\"", "rates.units: \"cm\" is given"),
        ("[rates]\nname = 3", "rates.name: 3 is given"),
        ("rates = 3", "rates.toml:1:1: rates: 3 is given; one table [rates] is allowed"),
        ("[prices]\ntape = 1\ntape = 2", "rates file: given twice"),
        ("[girth]\nsnap = 25", "girth.snap: 25 is given; a number from 0 to 24 (inches) is allowed"),
    ],
)  # fmt: skip
def test_a_wrong_file_is_told_in_the_trades_words(text: str, said: str) -> None:
    assert any(said in line for line in problems(text)), problems(text)


def test_every_packaged_row_is_used_by_some_roof() -> None:
    used: set[str] = set()
    for path in EXAMPLES:
        site = read_job(path.read_text(encoding="utf-8"), path.name)
        for work in ("new", "existing"):
            job = run(replace(site, roof=replace(site.roof, work=work)))
            used |= {r.key for r in job.price.rates}
    unused = {key for key in packaged().rows if not key.startswith("metals.")} - used
    assert unused == set()


def test_what_a_row_counts_by_has_a_factor_where_it_has_a_unit() -> None:
    assert {per(key) for key in packaged().rows} == {*IN_A, "each", "tube", "roll"}
