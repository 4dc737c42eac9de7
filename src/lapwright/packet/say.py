"""How the packet says findings, steps, takeoff lines and measures: one voice for plan.json and the pages."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from lapwright import rules, sources, units
from lapwright.findings import Finding, Value
from lapwright.geom import SAME
from lapwright.words import Speaker

METRIC = {"sqft": ("sqm", 0.09290304), "lb": ("kg", 0.45359237), "ft": ("m", 0.3048)}
"""What a job in mm prints instead, and the factor. Source: international foot and pound, from memory."""

THIN = 0.1
"""Below this a length is printed with decimals: sheet is thinner than a sixteenth. [in]"""

LONGEST_RUN = 28
"""Letters after which a word without spaces may be broken over a line."""


@dataclass(frozen=True, slots=True)
class Voice:
    """Says keyed phrases for one job, in its unit."""

    speaker: Speaker

    def say(self, key: str, values: Mapping[str, Value] | None = None) -> str:
        """A phrase with its values.

        Raises:
            KeyError: no such phrase, or one of its values is missing (our bug).
        """
        return self.speaker.say(key, **(values or {}))

    def metal(self, key: str) -> str:
        """What a row of the metals table is called; its key where it has no name."""
        return self.speaker.say(f"metals.{key}") if self.speaker.knows(f"metals.{key}") else key

    def name(self, name: str) -> str:
        """A piece's or a panel's name: the phrase of its key (`pieces.apron`), else the name itself."""
        keyed = name.startswith(("pieces.", "shop.panel.")) and self.speaker.knows(name)
        return self.say(name) if keyed else name

    def finding(self, f: Finding) -> str:
        """What a finding says, with the job's value as `yours`."""
        return self.say(f"findings.{f.rule}.says", _values(f))

    def cure(self, f: Finding) -> str | None:
        """What mends a finding, when a cure is known."""
        key = f.mended or f"findings.{f.rule}.cure"
        return self.say(key, _values(f)) if self.speaker.knows(key) else None

    def measures(self, f: Finding) -> tuple[str, str]:
        """The job's value and the limit, told apart even when both round to the same sixteenth."""
        yours, limit = self.measure(f.measured, f.unit), self.measure(f.limit, f.unit)
        if f.measured is None or f.limit is None or yours != limit or abs(f.measured - f.limit) < SAME:
            return yours, limit
        return self._fine(f.measured, f.unit), self._fine(f.limit, f.unit)

    def measure(self, value: float | None, unit: str) -> str:
        """A measured value or a limit in its unit; a dash where there is none."""
        if value is None:
            return "\N{EN DASH}"
        if unit == "in":
            thin = 0 < abs(value) < THIN
            return self._fine(value, unit) if thin else self.speaker.length(value)
        if unit == "rise/12":
            return units.show_pitch(value)
        if unit == "deg":
            return f"{value:.1f}\N{DEGREE SIGN}"
        return f"{value:.4g} {unit}".strip()

    def _fine(self, value: float, unit: str) -> str:
        """A value with decimals, where a tape's sixteenths say too little."""
        if unit == "in" and self.speaker.unit == "mm":
            return f"{value * 25.4:.2f} mm"
        return f"{value:.4f} {unit}".strip()

    def bought(self, quantity: float, unit: str) -> tuple[float, str]:
        """A takeoff quantity in the job's own units, and the unit's name."""
        if self.speaker.unit == "mm" and unit in METRIC:
            unit, factor = METRIC[unit]
            quantity *= factor
        return quantity, self.say(f"shop.unit.{unit}")


def source_line(f: Finding) -> str:
    """The document, section and edition of a finding's rule."""
    title = sources.document(f.source) if f.source in sources.sources() else f.source
    section = str(f.values.get("section", "-"))
    whole = title if section in ("", "-") else f"{title} {section}"
    return whole if f.edition in ("", "-") else f"{whole}, {f.edition}"


def seen(f: Finding) -> str | None:
    """How the rule's source was seen: in a copy, or from memory; None for a house rule."""
    if f.source not in sources.sources():
        return None
    row = rules.rules().get(f.rule)
    return sources.sources()[f.source].seen if row is None else row.seen


def _values(f: Finding) -> dict[str, Value]:
    values: dict[str, Value] = {**f.values, "where": f.where}
    if f.measured is not None:
        values["yours"] = f.measured
    if f.limit is not None:
        values["limit"] = f.limit
    return values


def breakable(text: str) -> str:
    """The text with a place to break (no width) in every very long word, and none inside `7' 4"`."""
    words = re.sub(r"(\d') (?=\d)", "\\1\N{NO-BREAK SPACE}", text).split(" ")
    parts = ([w[i : i + LONGEST_RUN] for i in range(0, len(w), LONGEST_RUN)] or [""] for w in words)
    return " ".join("\u200b".join(p) for p in parts)


def shortened(text: str, letters: int) -> str:
    """The text, or its start and three dots."""
    return text if len(text) <= letters else text[: letters - 1].rstrip() + "\N{HORIZONTAL ELLIPSIS}"
