"""Phrases for the hand-made job's steps, so that its pages do not wait on the real steps' words."""

from __future__ import annotations

import pytest

from lapwright import words

PHRASES = {
    "test.title": "Set the back pan",
    "test.does": "Slide the legs down beside the opening.",
    "test.mark": "left edge of the pan",
    "test.edge": "the left rake",
    "findings.test.rule.says": "{where}: the headlap is {yours:in}; {limit:in} is asked.",
    "findings.test.rule.cure": "Raise `extent`.",
    "test.caution": "No screw in the wet part of the pan.",
}


@pytest.fixture(autouse=True)
def _phrases(monkeypatch: pytest.MonkeyPatch) -> None:
    known = {**words.phrases("en"), **PHRASES}
    monkeypatch.setattr(words, "phrases", lambda language="en": known)
