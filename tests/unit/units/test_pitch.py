"""A pitch is a ratio to 12, an angle or a percent; anything else is asked back."""

from __future__ import annotations

import math

import pytest

from lapwright.errors import BadPitch
from lapwright.units import read_pitch, show_pitch
from lapwright.words import Speaker


@pytest.mark.parametrize(
    ("text", "rise"),
    [
        ("7:12", 7.0), ("7/12", 7.0), ("7 in 12", 7.0), ("7 on 12", 7.0), ("7.5:12", 7.5), ("7 1/2:12", 7.5),
        ("1/4:12", 0.25), ("45 deg", 12.0), ("45°", 12.0), ("45 degrees", 12.0), ("58 %", 6.96),
        ("100%", 12.0), ("0:12", 0.0),
    ],
)  # fmt: skip
def test_a_pitch_reads_as_rise_in_twelve(text: str, rise: float) -> None:
    assert rise == read_pitch(text)


def test_thirty_degrees_is_twelve_over_root_three() -> None:
    # tan 30 = 1/sqrt(3)
    assert abs(12 / math.sqrt(3) - read_pitch("30 deg")) < 1e-11


@pytest.mark.parametrize(
    ("value", "question"),
    [
        (7, "7: do you mean 7:12, 7 deg or 7 %?"),
        (7.5, "7.5: do you mean 7.5:12, 7.5 deg or 7.5 %?"),
        ("7", "7: do you mean 7:12, 7 deg or 7 %?"),
        ("7-12", "7-12: do you mean 7:12?"),
        # 1 in 4 is 3 in 12
        ("1:4", "1:4: do you mean 3:12? Write the rise in a run of 12, or degrees or percent"),
        ("1/4", "1/4: do you mean 3:12? Write the rise in a run of 12, or degrees or percent"),
    ],
)
def test_an_unclear_pitch_is_asked_back(value: float | str, question: str) -> None:
    with pytest.raises(BadPitch) as caught:
        read_pitch(value)
    assert question == caught.value.said(Speaker())


@pytest.mark.parametrize(
    "value",
    ["", "steep", "90 deg", "-7:12", "7:0", "7:12:1", "7 1/0:12", math.nan, math.inf, True,
     pytest.param(10**5000, id="5,001 digits")],
)  # fmt: skip
def test_what_is_no_pitch_is_refused(value: float | str) -> None:
    with pytest.raises(BadPitch) as caught:
        read_pitch(value)
    assert caught.value.said(Speaker())


def test_a_pitch_prints_without_idle_zeros() -> None:
    assert [show_pitch(7.0), show_pitch(6.9282), show_pitch(0.25)] == ["7:12", "6.93:12", "0.25:12"]
