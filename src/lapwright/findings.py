"""The roof's problems are data: a rule, where it bites, what was measured and what is asked."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Level = Literal["stop", "caution", "note"]
Value = float | int | str


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a person must know before cutting.

    Attributes:
        rule: The rule's name, a row of data/rules.toml.
        level: stop (do not cut), caution (look at it), note (know it).
        where: What it is about, in the user's own names ("flue stack", "flue stack: back pan").
        measured: This job's value, or None where nothing was measured. In `unit`.
        limit: The rule's limit, or None. In `unit`.
        unit: "in", "rise/12", "deg" ... of measured and limit.
        source: Key of the source (see sources.py) or "house rule".
        edition: The source's edition, "-" for a house rule.
        values: What the sentence `finding.<rule>` of words/ needs; lengths stay floats in inches.
        mended: Words key of the cure, when one is known.
    """

    rule: str
    level: Level
    where: str
    measured: float | None = None
    limit: float | None = None
    unit: str = ""
    source: str = "house rule"
    edition: str = "-"
    values: dict[str, Value] = field(default_factory=dict)
    mended: str | None = None

    @property
    def stops(self) -> bool:
        """May nothing be cut before this is mended?"""
        return self.level == "stop"
