"""List the rules with their sources, and recompute every published number."""

from __future__ import annotations

from dataclasses import dataclass

from lapwright import rules, sources
from lapwright.proof.published import CheckReport as CheckReport
from lapwright.proof.published import report
from lapwright.words import Speaker


@dataclass(frozen=True, slots=True)
class RuleRow:
    """One rule as it is listed: id, name, level, what it asks, and where that comes from."""

    id: str
    name: str
    level: str
    asks: str
    document: str
    section: str
    edition: str
    seen: str


def list_rules(unit: str = "in", language: str = "en") -> tuple[RuleRow, ...]:
    """Every rule, in the order of the table, in words.

    Args:
        unit: "in" or "mm", what lengths print in.
        language: A folder of words/.
    """
    voice = Speaker(unit, language)
    return tuple(_row(row, voice) for row in rules.rules().values())


def _row(row: rules.Rule, voice: Speaker) -> RuleRow:
    return RuleRow(
        id=row.id,
        name=voice.say(f"rules.{row.id}.name"),
        level=voice.say(f"rules.level.{row.level}"),
        asks=voice.say(f"rules.{row.id}.asks", limit=row.limit),
        document=sources.document(row.source),
        section=row.section,
        edition=row.edition,
        seen=voice.say(f"rules.seen.{row.seen.replace(' ', '-')}"),
    )


def check_published() -> CheckReport:
    """Recompute every published number, and apart from them the recalled ones.

    Returns:
        total, passed, failed, all_pass; `lapwright rules --check` ends well only when all_pass.
    """
    return report()
