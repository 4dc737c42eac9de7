"""The CSV sheets open in a spreadsheet without becoming formulas or dates."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hand_made import OPENING, PIECES, hand_made
from lapwright.packet.sheets import cutlist_csv, safe, takeoff_csv, to_csv


def rows(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))


def test_the_cut_list_names_its_units_and_holds_decimals() -> None:
    head, pan, *_ = rows(cutlist_csv(hand_made()))
    assert head[6:8] == ["blank_width_in", "blank_height_in"]
    assert pan[6:8] == ["37.5", "27.25"]


def test_a_job_in_mm_gets_its_cut_list_in_mm_and_kg() -> None:
    head, pan, *_ = rows(cutlist_csv(hand_made("mm")))
    assert [head[6], head[7], head[10]] == ["blank_width_mm", "blank_height_mm", "weight_each_kg"]
    # 37.5 x 25.4 = 952.5; 27.25 x 25.4 = 692.15; 7.31 lb x 0.45359237 = 3.3158
    assert [pan[6], pan[7], pan[10]] == ["952.5", "692.15", "3.32"]


def test_the_takeoff_is_said_in_the_jobs_units() -> None:
    inch = {r[0]: r[1:3] for r in rows(takeoff_csv(hand_made()))}
    metric = {r[0]: r[1:3] for r in rows(takeoff_csv(hand_made("mm")))}
    # 20 in twice = 40 in = 3.3333 ft = 1.016 m
    assert inch["Butyl tape, offset cleats"] == ["3.33", "ft"]
    assert metric["Butyl tape, offset cleats"] == ["1.02", "m"]


def test_lines_end_with_cr_lf_as_rfc_4180_asks() -> None:
    data = cutlist_csv(hand_made())
    assert data.endswith(b"\r\n")
    assert data.count(b"\n") == data.count(b"\r\n")


def test_a_comma_or_a_quote_stays_inside_its_cell() -> None:
    assert rows(to_csv([['7" x 4", left']])) == [['7" x 4", left']]


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-2+3", "@SUM(A1)", "\t=1", " =1", "\r=1", "\uff1d1+1", "3/4", "1-2", " 10/12 ", "1.5"]
)
def test_text_that_a_spreadsheet_would_run_or_read_as_a_date_is_held_as_text(text: str) -> None:
    assert safe(text).startswith("'")


@pytest.mark.parametrize("text", ["flue stack", "P1", "north-3/4", "", "café", "C1-left"])
def test_ordinary_text_is_left_alone(text: str) -> None:
    assert text == safe(text)


@pytest.mark.parametrize(
    ("cell", "printed"), [(2.75, "2.75"), (0.0255, "0.0255"), (-0.0, "0"), (1e6, "1000000"), (1234567, "1234567")]
)
def test_numbers_are_plain_decimals(cell: float, printed: str) -> None:
    assert printed == safe(cell)


@given(st.text(max_size=30))
def test_no_cell_of_a_user_can_start_a_formula_or_be_a_bare_fraction(text: str) -> None:
    named = replace(PIECES[0], name=text, opening=text)
    job = replace(hand_made(), pieces=(named,), panels=())
    body = rows(cutlist_csv(job))[1]
    for cell in (body[1], body[2]):
        assert not cell.lstrip().startswith(("=", "+", "-", "@"))
        assert not re.fullmatch(r"\s*\d+\s*[/-]\s*\d+\s*", cell)
    assert len(body) == 11


def test_an_opening_called_like_a_formula_is_harmless() -> None:
    evil = replace(OPENING, name='=HYPERLINK("x")')
    named = tuple(replace(p, opening=evil.name) for p in PIECES)
    assert rows(cutlist_csv(replace(hand_made(), pieces=named)))[1][2] == '\'=HYPERLINK("x")'
