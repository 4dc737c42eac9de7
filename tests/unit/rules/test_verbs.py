"""Listing, checking and explaining the rules."""

import pytest

from lapwright import rules
from lapwright.errors import UnknownRule
from lapwright.verbs.explain import explain
from lapwright.verbs.rules import check_published, list_rules
from lapwright.words import Speaker


def test_every_rule_is_listed_with_its_document() -> None:
    listed = list_rules()
    assert [row.id for row in listed] == list(rules.rules())
    headlap = next(row for row in listed if row.id == "headlap")
    assert headlap.asks == 'The sheet below runs at least 3" up under the sheet above.'
    assert headlap.document.startswith("Unified Facilities Guide Specification")


def test_a_metric_list_prints_millimetres() -> None:
    assert "76.2 mm" in next(row.asks for row in list_rules(unit="mm") if row.id == "headlap")


def test_every_published_number_is_met() -> None:
    report = check_published()
    assert [(r.check.id, r.got) for r in report.failed] == []
    assert report.all_pass
    assert (report.total, report.passed) == (len(report.results), len(report.results))
    assert report.total >= 50


@pytest.mark.parametrize("rule_id", rules.rules())
def test_every_rule_explains_itself(rule_id: str) -> None:
    told = explain(rule_id)
    assert told.asks in str(told) and told.why in str(told) and told.cure in str(told) and told.source in str(told)


def test_a_name_that_is_nearly_right_is_answered_with_the_right_one() -> None:
    with pytest.raises(UnknownRule) as caught:
        explain("headlapp")
    assert caught.value.said(Speaker()) == 'there is no rule called "headlapp"; did you mean "headlap"?'


@pytest.mark.parametrize("typed", ["", "x" * 5000, "\x1b[31mq", "findings", "{0}", "\u202egnirts"])
def test_nonsense_is_refused_in_one_short_plain_line(typed: str) -> None:
    with pytest.raises(UnknownRule) as caught:
        explain(typed)
    line = caught.value.said(Speaker())
    assert line.isprintable() and len(line) < 160
