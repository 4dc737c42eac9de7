"""Text becomes inches exactly, or a question."""

from __future__ import annotations

import math

import pytest

from lapwright.errors import BadLength, OutOfRange
from lapwright.units import read_length, show_length
from lapwright.words import Speaker

# 7 ft = 84, + 4 = 88, + 1/2 = 88.5; 24 ft = 288. 1612 mm / 25.4 = 63.46456692913386 (1612 / 25.4 in floats).
GOOD = [
    ("7' 4 1/2\"", 88.5), ("7' 4-1/2\"", 88.5), ("7'4-1/2\"", 88.5), ("7'-4 1/2\"", 88.5), ("7' 4 1/2", 88.5),
    ("7 ft 4 1/2 in", 88.5), ("7 feet 4 inches", 88.0), ("7 ft. 4 in.", 88.0), ("7FT", 84.0), ("7.5'", 90.0),
    ("7 1/2'", 90.0), ("24' 0", 288.0), ("5' 1/2", 60.5), ("10-1/2", 10.5), ("10 1/2", 10.5), ("1/2", 0.5),
    ("88.5", 88.5), (".5", 0.5), ("5/3", 5 / 3), ("  12  ", 12.0), ("-3 1/2", -3.5), ("-7' 4", -88.0),
    ("1612 mm", 1612 / 25.4), ("161.2 cm", 1612 / 25.4), ("1.612 m", 1612 / 25.4), ("254mm", 10.0),
    ("10½", 10.5), ("10 ½\"", 10.5), ("¾", 0.75), ("7′ 4½″", 88.5), ("7’ 4 1⁄2”", 88.5), ("7' 4''", 88.0),
    ("10–1/2", 10.5),
]  # fmt: skip

QUESTIONS = [
    ("5-3", "5-3: do you mean 5 feet 3 inches (5' 3) or 5/3?"),
    ("5 3", "5 3: do you mean 5 feet 3 inches (5' 3) or 5/3?"),
    ("24-0", "24-0: do you mean 24 feet (24' 0)? Mark the feet"),
    ("7-4-1/2", "7-4-1/2: do you mean 7 feet 4 1/2 inches (7' 4 1/2)? Mark the feet"),
    ("5' 13\"", "5' 13\": 12 inches or more after the feet; do you mean 6' 1\", or is one figure wrong?"),
    ("5' 12", "5' 12: 12 inches or more after the feet; do you mean 6' 0\", or is one figure wrong?"),
    ("10 - 1/2", "10 - 1/2: do you mean 10-1/2 or 9-1/2? Write it without the spaces, or as one number"),
    ("88,5", "88,5: do you mean 885 or 88.5? Write it without a comma"),
    ("10 5/4", "10 5/4: 5/4 is one or more; write the whole number and a fraction under one"),
]
NONSENSE = [
    "", " ", "abc", "5'4'", "5\" 4'", "1e3", "1/0", "3 1/0", "5' 3 mm", "1 m 6 mm", "10--1/2", "--5",
    "0x10", "1_000", "nan", "inf", "5.5.5", "10.5 1/2", "10 1/2 1/4", "١", "1" * 41,
    "5 parsecs", "'", '"', "-", "/", "1/", "5' ' 3",
]  # fmt: skip


@pytest.mark.parametrize(("text", "inches"), GOOD)
def test_what_a_tape_says_reads_exactly(text: str, inches: float) -> None:
    assert inches == read_length(text, "in")


@pytest.mark.parametrize(("text", "question"), QUESTIONS)
def test_what_could_mean_two_things_is_asked_back(text: str, question: str) -> None:
    with pytest.raises(BadLength) as caught:
        read_length(text, "in")
    assert question == caught.value.said(Speaker())


def test_feet_with_a_part_and_inches_are_refused() -> None:
    with pytest.raises(BadLength, match="part_feet"):
        read_length("4.5' 3", "in")


@pytest.mark.parametrize("text", NONSENSE)
@pytest.mark.parametrize("bare", ["in", "mm"])
def test_nonsense_is_refused_with_a_sentence(text: str, bare: str) -> None:
    with pytest.raises(BadLength) as caught:
        read_length(text, bare)  # type: ignore[arg-type]
    assert "\n" not in caught.value.said(Speaker())


HUGE = pytest.param(10**5000, id="5,001 digits")


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, True, HUGE, 1e300])
def test_numbers_that_are_no_length_are_refused(value: float) -> None:
    with pytest.raises(BadLength) as caught:
        read_length(value, "in")
    assert caught.value.said(Speaker())


def test_a_bare_number_has_the_jobs_unit() -> None:
    # 254 mm is 10 in by definition; 2.54 mm is one tenth, though 2.54 is no exact binary number
    assert [read_length(254, "mm"), read_length(2.54, "mm"), read_length(254, "in")] == [10.0, 0.1, 254.0]
    assert read_length("254", "mm") == 10.0


def test_a_bare_fraction_in_a_job_in_mm_is_asked_back() -> None:
    with pytest.raises(BadLength) as caught:
        read_length("10-1/2", "mm")
    assert (
        caught.value.said(Speaker("mm"))
        == "10-1/2 in a job in mm: do you mean inches (10-1/2 in) or millimetres (10.5 mm)? Write the unit"
    )
    # marked feet can only be feet and inches
    assert read_length("7' 4 1/2", "mm") == 88.5


@pytest.mark.parametrize(
    ("value", "feet", "shown"),
    [
        (53.125, False, '53-1/8"'),
        (88.5, True, "7' 4-1/2\""),
        (88.5, False, '88-1/2"'),
        (0.0, True, '0"'),
        (0.5, True, '1/2"'),
        (11.99, True, "1' 0\""),  # 191.84 sixteenths round to 192, which is a foot
        (288.0, True, "24' 0\""),
        (240.0625, True, "20' 0-1/16\""),  # never 20' 1/16, which reads as 20-1/16
        (-3.5, False, '-3-1/2"'),
        (-0.01, False, '0"'),  # no minus on nothing
        (0.03125, False, '1/16"'),  # half of 1/16 goes away from zero
        (-0.03125, False, '-1/16"'),
        (0.03124, False, '0"'),
        (0.03125 - 1e-9, False, '1/16"'),  # float noise does not flip a mark
    ],
)
def test_inches_print_to_the_nearest_sixteenth(value: float, feet: bool, shown: str) -> None:
    assert shown == show_length(value, "in", feet=feet)


@pytest.mark.parametrize(
    ("value", "shown"),
    # 63.5 in x 25.4 = 1612.9 mm; 0.002 in = 0.0508 mm, over half a tenth; 0.001 in = 0.0254 mm, under it
    [(63.5, "1612.9 mm"), (10.0, "254 mm"), (0.002, "0.1 mm"), (0.001, "0 mm"), (-1.0, "-25.4 mm")],
)
def test_millimetres_print_with_one_decimal_at_most(value: float, shown: str) -> None:
    assert shown == show_length(value, "mm", feet=True)


@pytest.mark.parametrize("value", [math.nan, math.inf, 1e7])
def test_what_is_no_length_is_not_printed(value: float) -> None:
    with pytest.raises(OutOfRange):
        show_length(value, "in")
