"""Rates files that no program may choke on: one line per problem, exit 2, nothing written, no traceback."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lapwright.errors import JobProblems
from lapwright.shop.price_list import MOST, packaged, read_rates
from lapwright.words import Speaker

JOB = Path(__file__).parents[2] / "examples" / "kiln-shed" / "job.toml"
LINE = re.compile(r"[^\n]+\.toml:\d+:\d+: [^\n]+: [^\n]+")

BAD: dict[str, bytes] = {
    "no utf-8": b"[prices]\ntape = \xff\xfe",
    "a null": b"[prices]\x00tape = 1",
    "an open string": b'[rates]\nname = "ours',
    "no toml": b"tape: 17\nscrew: 0.1\n",
    "a spreadsheet": b"tape,17\nscrew,0.1\n",
    "twice": b"[prices]\ntape = 1\ntape = 2\n",
    "a table twice": b"[prices]\n[prices]\n",
    "deep": b"[prices]\ntape = " + b"[" * 500 + b"]" * 500,
    "dotted": b"a." * 4000 + b"b = 1",
    "endless digits": b"[prices]\ntape = " + b"9" * 5000,
    "too large": b"# " + b"x" * 70_000,
    "a price of words": b'[prices]\ntape = "seventeen"\n',
    "infinite": b"[metals]\nsteel-24 = inf\n",
    "no number": b"[metals]\nsteel-24 = nan\n",
    "minus": b"[times]\nbend = -1\n",
    "a date": b"[times]\nbend = 2024-01-01\n",
    "a list": b"[times]\nbend = [1, 2]\n",
    "a list of tables": b"[[times]]\nbend = 1\n",
    "an unknown row": b"[times]\nwelding = 1\n",
    "an unknown table": b"[wages]\nbend = 1\n",
    "a table for a price": b"[prices.tape]\nprice = 1\n",
    "a strange name": '[rates]\nname = "a\u202eb"\n'.encode(),
    "a long name": b'[rates]\nname = "' + b"n" * 61 + b'"\n',
    "a job": JOB.read_bytes(),
}


@pytest.mark.parametrize("case", BAD)
def test_a_bad_file_is_refused_line_by_line(case: str) -> None:
    with pytest.raises(JobProblems) as refused:
        read_rates(BAD[case], "rates.toml")
    lines = refused.value.lines(Speaker())
    assert lines and all(LINE.fullmatch(line) for line in lines), lines
    assert len(lines) <= 100


@pytest.mark.parametrize("verb", ["price", "plan"])
def test_the_program_leaves_with_2_and_writes_nothing(
    verb: str, tmp_path: Path, lapwright: Callable[..., Any]
) -> None:
    bad = tmp_path / "rates.toml"
    bad.write_bytes(b"[prices]\nsealent = 9\n")
    out = ["--out", tmp_path / "packet"] if verb == "plan" else []
    ran = lapwright(verb, JOB, "--rates", bad, *out)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.strip().endswith("rates.toml:2:1: prices.sealent: no such row; did you mean sealant?")
    assert not (tmp_path / "packet").exists()


def test_a_file_that_is_not_there_is_told_as_a_rates_file(tmp_path: Path, lapwright: Callable[..., Any]) -> None:
    for path in (tmp_path / "none.toml", tmp_path):
        ran = lapwright("price", JOB, "--rates", path)
        assert (ran.code, ran.out) == (2, "")
        assert "rates file: it cannot be read" in ran.err


@given(st.one_of(st.binary(max_size=300), st.text(max_size=300)))
@settings(max_examples=200)
def test_any_file_is_read_or_refused(source: bytes | str) -> None:
    try:
        read = read_rates(source, "rates.toml")
    except JobProblems as refused:
        assert refused.lines(Speaker())
    else:
        assert set(read.rows) == set(packaged().rows)


NUMBERS = st.one_of(st.floats(), st.integers(-(10**12), 10**12), st.booleans(), st.text(max_size=5))


@given(st.dictionaries(st.sampled_from(sorted(packaged().rows)), NUMBERS, max_size=6), st.sampled_from(["in", "mm"]))
@settings(max_examples=200)
def test_a_number_stands_only_inside_its_range(given_rows: dict[str, Any], units: str) -> None:
    def said(value: Any) -> str:
        if isinstance(value, bool):
            return str(value).lower()
        return repr(value) if not isinstance(value, str) else "''"

    text = f'[rates]\nunits = "{units}"\n'
    for table in MOST:
        mine = {k.partition(".")[2]: v for k, v in given_rows.items() if k.startswith(f"{table}.")}
        text += f"[{table}]\n" + "".join(f"{k} = {said(v)}\n" for k, v in mine.items())
    try:
        read = read_rates(text, "rates.toml")
    except JobProblems as refused:
        assert all(LINE.fullmatch(line) for line in refused.lines(Speaker()))
    else:
        assert read.own == set(given_rows)
        assert all(0 <= read[key] <= MOST[key.partition(".")[0]] * 1.001 for key in given_rows)
