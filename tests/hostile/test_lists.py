"""Part and stock lists that no program may choke on: one line per problem, exit 2, no traceback."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lapwright.errors import JobProblems
from lapwright.shop.lists import read_bars, read_lengths, read_parts, read_stock
from lapwright.words import Speaker

PARTS = "id,width,height,quantity,turn\napron,30,12,2,no\n"
STOCK = "id,width,height,quantity,price\ncoil,48,1200,,\n"
LINE = re.compile(r"[^\n]+\.csv:\d+:\d+: \w+: [^\n]+")

BAD_PARTS = {
    "empty": "",
    "blank": "\n\n  \n",
    "only the head": "id,width,height,quantity,turn\n",
    "no head": "apron,30,12,2,no\n",
    "a column twice": "id,width,width,height\na,1,2,3\n",
    "a column unknown": "id,width,height,colour\na,1,2,red\n",
    "a column missing": "id,width,quantity\na,1,2\n",
    "two meanings": "id,width,height\na,5-3,2\n",
    "no length": "id,width,height\na,wide,2\n",
    "nothing given": "id,width,height\na,,2\n",
    "a short row": "id,width,height\na\n",
    "too many fields": "id,width,height\na,1,2,3\n",
    "no quantity": "id,width,height,quantity\na,1,2,0\n",
    "minus": "id,width,height,quantity\na,-1,2,1\n",
    "half a piece": "id,width,height,quantity\na,1,2,1.5\n",
    "a million": "id,width,height,quantity\na,1,2,1000000\n",
    "perhaps": "id,width,height,quantity,turn\na,1,2,1,perhaps\n",
    "an open quote": 'id,width,height\n"a,1,2\n',
    "a quote in the middle": 'id,width,height\n"a"b,1,2\n',
    "bells": "id,width,height\n\x07\x1b[2J,1,2\n",
    "not a number": "id,width,height\na,nan,inf\n",
    "too far": "id,width,height\na,1e9,2\n",
    "huge digits": f"id,width,height\na,{'9' * 5000},2\n",
    "other digits": "id,width,height,quantity\na,1,2,\u0663\n",
}


def write(folder: Path, parts: str | bytes, stock: str | bytes = STOCK) -> tuple[Path, Path]:
    out = []
    for name, text in (("parts.csv", parts), ("stock.csv", stock)):
        path = folder / name
        path.write_bytes(text.encode() if isinstance(text, str) else text)
        out.append(path)
    return out[0], out[1]


@pytest.mark.parametrize("text", BAD_PARTS.values(), ids=BAD_PARTS)
def test_a_bad_list_is_refused_line_by_line(tmp_path: Path, lapwright: Callable[..., Any], text: str) -> None:
    parts, stock = write(tmp_path, text)
    ran = lapwright("nest", parts, "--stock", stock)
    assert (ran.code, ran.out) == (2, "")
    lines = ran.err.strip("\n").split("\n")
    assert all(LINE.fullmatch(line) for line in lines), ran.err


@pytest.mark.parametrize("data", [b"\xff\xfe\x00id", b"id,width\x00", b"\x80"], ids=["utf-16", "nul", "latin"])
def test_bytes_that_are_no_text_are_refused(tmp_path: Path, lapwright: Callable[..., Any], data: bytes) -> None:
    parts, stock = write(tmp_path, data)
    assert lapwright("nest", parts, "--stock", stock).code == 2


def test_what_is_wrong_with_both_lists_is_said_at_once(tmp_path: Path, lapwright: Callable[..., Any]) -> None:
    prices = "id,width,height,quantity,price\nc,48,96,,1\nd,48,96,,\n"
    parts, stock = write(tmp_path, "id,width,height\na,wide,2\n", prices)
    err = lapwright("nest", parts, "--stock", stock).err
    assert f"{parts}:2:3: width: " in err
    assert f"{stock}:3:10: price: nothing is given, and other rows have a price" in err


def test_a_list_that_is_not_there_is_named(tmp_path: Path, lapwright: Callable[..., Any]) -> None:
    parts, stock = write(tmp_path, PARTS)
    for pair in ((tmp_path / "none.csv", stock), (parts, tmp_path)):
        ran = lapwright("nest", pair[0], "--stock", pair[1])
        assert (ran.code, ran.out) == (2, "")


def test_quotes_marks_semicolons_and_a_byte_order_mark_are_read(tmp_path: Path) -> None:
    parts = read_parts('\ufeffHeight;WIDTH;id\r\n12";"3\' 4 1/2""";"a; b"\r\n\r\n', "p.csv", "in")
    assert [(p.id, p.width, p.height, p.quantity, p.turn) for p in parts] == [("a; b", 40.5, 12.0, 1, False)]
    assert read_lengths("id,length\nr,254\n", "p.csv", "mm")[0].length == 10.0


@settings(max_examples=300, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(alphabet=st.sampled_from('id,width;height\tquantity\n"\'0123456789./- xé\u0000'), max_size=120))
def test_any_text_is_read_or_refused(text: str) -> None:
    for read in (read_parts, read_stock, read_lengths, read_bars):
        for head in ("", "id,width,height,quantity\n", "id,length,quantity,price\n"):
            try:
                read(head + text, "list.csv", "in")
            except JobProblems as problems:
                assert problems.lines(Speaker())


@pytest.mark.parametrize(
    ("text", "said"),
    [
        # a list without its first line is one mistake, not six
        ("a,5,6\nb,7,8\n", ['1:1: list: the first line begins with "a"; it must name the columns:'
                            " id,width,height,quantity,turn"]),
        # as a spreadsheet of Europe saves it: semicolons, decimal commas, a mark at the start
        ("\ufeffid;width;height\na;5,5;6\n", ["2:3: width: 5,5: do you mean 55 or 5.5? Write it without a comma"]),
        ("id,width,height\na,0,6\n",
         ['2:3: width: "0" is given; 1/64 in (0.4 mm) to 10000\' 0" is allowed']),
        ("id,width,height,quantity\na,5,,\nb,5,6,none\n",
         ["2:5: height: nothing is given; a value is needed",
          '3:7: quantity: "none" is given; a whole number from 1 to 1000 is allowed']),
    ],
)  # fmt: skip
def test_a_person_is_told_what_to_mend(
    tmp_path: Path, lapwright: Callable[..., Any], text: str, said: list[str]
) -> None:
    parts, stock = write(tmp_path, text)
    assert lapwright("nest", parts, "--stock", stock).err.splitlines() == [f"{parts}:{line}" for line in said]


def test_what_would_fit_turned_is_told_so(tmp_path: Path, lapwright: Callable[..., Any]) -> None:
    parts, stock = write(tmp_path, "id,width,height\na,60,20\nb,60,70\n", "id,width,height\ns,48,96\n")
    lines = lapwright("nest", parts, "--stock", stock).out.splitlines()
    assert "NOT PLACED: a x 1; turned it would fit: say yes under `turn`, where the finish allows it" in lines
    assert "NOT PLACED: b x 1" in lines
