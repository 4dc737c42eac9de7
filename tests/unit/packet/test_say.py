"""One voice for plan.json and the pages."""

from __future__ import annotations

import pytest

from lapwright import rules
from lapwright.findings import Finding
from lapwright.packet.say import Voice, breakable, shortened, source_line
from lapwright.words import Speaker

INCH, METRIC = Voice(Speaker("in")), Voice(Speaker("mm"))


@pytest.mark.parametrize(
    ("value", "unit", "inch", "metric"),
    [
        (3.0, "in", '3"', "76.2 mm"),
        (0.0255, "in", "0.0255 in", "0.65 mm"),
        (0.0, "in", '0"', "0 mm"),
        (7.0, "rise/12", "7:12", "7:12"),
        (58.4, "deg", "58.4°", "58.4°"),
        (2.0, "t", "2 t", "2 t"),
        (None, "in", "–", "–"),
    ],
)
def test_a_measure_is_said_in_its_unit(value: float | None, unit: str, inch: str, metric: str) -> None:
    assert (inch, metric) == (INCH.measure(value, unit), METRIC.measure(value, unit))


def test_a_value_a_hair_short_of_its_limit_does_not_print_as_the_limit() -> None:
    # both round to 3": 2.99 is 2-15.84/16
    assert INCH.measures(Finding("headlap", "stop", "x", 2.99, 3.0, "in")) == ("2.9900 in", "3.0000 in")
    assert INCH.measures(Finding("headlap", "stop", "x", 2.9375, 3.0, "in")) == ('2-15/16"', '3"')
    assert INCH.measures(Finding("headlap", "note", "x", 3.0, 3.0, "in")) == ('3"', '3"')


def test_a_source_is_printed_with_section_and_edition_and_a_house_rule_as_one() -> None:
    headlap = source_line(rules.finding("headlap", "x", 2.5, part="pieces.apron"))
    assert headlap.startswith("Unified Facilities Guide Specification") and headlap.endswith("3.1.6.2, about 2003")
    assert source_line(Finding("pan.snow", "caution", "x")) == "house rule"


def test_quantities_turn_metric_by_the_exact_factors() -> None:
    # 10 ft = 3.048 m; 100 sq ft = 9.290304 m2; 1 lb = 0.45359237 kg; a count stays a count
    for quantity, unit, expected, name in (
        (10.0, "ft", 3.048, "m"), (100.0, "sqft", 9.290304, "m²"), (1.0, "lb", 0.45359237, "kg"),
        (3.0, "tube", 3.0, "tubes"),
    ):  # fmt: skip
        got, said = METRIC.bought(quantity, unit)
        assert (expected, name) == (pytest.approx(got), said)


def test_long_words_may_break_and_long_names_are_cut_short() -> None:
    assert breakable("a" * 30) == "a" * 28 + "\u200b" + "a" * 2
    assert breakable("plain words stay") == "plain words stay"
    assert breakable("rib at 6' 4-1/2\" up") == "rib at 6'\u00a04-1/2\" up"
    assert shortened("abcdefgh", 5) == "abcd…"
    assert shortened("abcde", 5) == "abcde"
