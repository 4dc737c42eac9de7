"""Explain one rule: what it asks, why, what to do about it, and who says so."""

from __future__ import annotations

from dataclasses import dataclass

from lapwright import rules
from lapwright.errors import UnknownRule
from lapwright.words import Speaker


@dataclass(frozen=True, slots=True)
class Explanation:
    """One rule in words."""

    id: str
    name: str
    level: str
    asks: str
    why: str
    cure: str
    source: str
    text: str

    def __str__(self) -> str:
        """The whole explanation, as it is printed."""
        return self.text


def explain(rule_id: str, unit: str = "in", language: str = "en") -> Explanation:
    """Say what a rule asks, why, what cures it, and where it comes from.

    Args:
        rule_id: The rule's name as a finding prints it ("headlap").
        unit: "in" or "mm", what lengths print in.
        language: A folder of words/.

    Raises:
        UnknownRule: no such rule; its sentence names the nearest one.

    >>> explain("headlap").name
    'Headlap'
    """
    if rule_id not in rules.rules():
        given = "".join(c if c.isprintable() else "?" for c in rule_id[:60])
        near = rules.nearest(rule_id[:60])
        if near is None:
            raise UnknownRule("rules.unknown", given=given)
        raise UnknownRule("rules.unknown_near", given=given, nearest=near)
    row, voice = rules.rule(rule_id), Speaker(unit, language)
    said = {
        "id": row.id,
        "name": voice.say(f"rules.{row.id}.name"),
        "level": voice.say(f"rules.level.{row.level}"),
        "asks": voice.say(f"rules.{row.id}.asks", limit=row.limit),
        "why": voice.say(f"rules.{row.id}.why"),
        "cure": voice.say(f"findings.{row.id}.cure", **_shown(row)),
        "source": rules.cite(row, voice),
    }
    return Explanation(**said, text=voice.say("rules.explained", **said))


def _shown(row: rules.Rule) -> dict[str, float | str]:
    """Values a cure may name before there is a job to measure."""
    return {"where": "", "relief": rules.RELIEF_PER_LIFT * (row.limit or 0.0)}
