"""Every word a user reads, by key; English first. A second language is a second folder.

A template names its values and how to print them: `{room:len}` in feet and inches, `{room:in}` in
inches (mm in a metric job), `{turn:deg}` an angle, `{area:sqft}` an area held in square inches,
`{load:lb}` a weight held in pounds, `{sheet:thin}` a thickness, `{roof:pitch}` a rise per 12, `{metal:word}` the
phrase whose key the value is.
"""

from __future__ import annotations

import string
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from lapwright import units


@cache
def phrases(language: str = "en") -> Mapping[str, str]:
    """Every template of a language, keyed `file.key` (words/en/findings.toml holds `findings.*`)."""
    out: dict[str, str] = {}
    for path in sorted(files(__name__).joinpath(language).iterdir(), key=lambda p: p.name):
        if path.name.endswith(".toml"):
            _flatten(path.name[:-5], tomllib.loads(path.read_text(encoding="utf-8")), out)
    return out


def _flatten(prefix: str, rows: Mapping[str, Any], out: dict[str, str]) -> None:
    for key, value in rows.items():
        if isinstance(value, dict):
            _flatten(f"{prefix}.{key}", value, out)
        else:
            out[f"{prefix}.{key}"] = str(value)


class Speaker(string.Formatter):
    """Says a phrase in one language and one unit of length."""

    def __init__(self, unit: str = "in", language: str = "en") -> None:
        self.unit = unit
        self.language = language

    def say(self, key: str, /, **values: Any) -> str:
        """The phrase under `key` with its values printed.

        Raises:
            KeyError: no such phrase, or a value it needs is missing (our bug, caught by a test).
        """
        return self.vformat(phrases(self.language)[key], (), values)

    def knows(self, key: str) -> bool:
        """Is there such a phrase?"""
        return key in phrases(self.language)

    def length(self, value: float, feet: bool = False) -> str:
        """A length as this job prints it."""
        return units.show_length(value, self.unit, feet=feet)

    def format_field(self, value: Any, format_spec: str) -> str:
        if format_spec == "len":
            return self.length(value, feet=True)
        if format_spec == "in":
            return self.length(value)
        if format_spec == "deg":
            return f"{value:.1f}\N{DEGREE SIGN}"
        if format_spec == "thin":
            return f"{value:.4f} in" if self.unit == "in" else f"{value * 25.4:.2f} mm"
        if format_spec == "pitch":
            return units.show_pitch(value)
        if format_spec == "word":
            return self.say(str(value))
        if format_spec == "lb":
            return f"{value:,.1f} lb" if self.unit == "in" else f"{value * 0.45359237:,.1f} kg"
        if format_spec == "sqft":
            return f"{value / 144:.1f} sq ft" if self.unit == "in" else f"{value * 0.00064516:.2f} m\u00b2"
        return str(super().format_field(value, format_spec))
