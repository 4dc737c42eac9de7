"""What a roof is held against: each rule a row with its source, and its boundary test.

A stage asks a rule, a check reports it. The packet prints "rule, edition, limit, yours": a rule here is
never more than the number its source prints, and whether a roof may be built is for those who say so.
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType
from typing import Literal

from lapwright import sources, tables
from lapwright.findings import Finding, Level, Value
from lapwright.words import Speaker

Sense = Literal["min", "max", "over", "below", "from", "none"]

HAIR = 1e-6
"""A measure this close to a limit stands on it. [any unit]"""

RELIEF_PER_LIFT = 48.0
"""House rule: a snap lock lifted by 1 wants to be relieved over 48."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule.

    limit: in `unit`; None where the job gives it. sense: min, max (asked), over, below, from (bites), or
    none where no number decides. source: key of sources.py or "house rule".
    """

    id: str
    level: Level
    sense: Sense
    limit: float | None
    unit: str
    source: str
    section: str
    edition: str
    seen: Literal["secondary copy", "memory", "house rule"]


@cache
def rules() -> Mapping[str, Rule]:
    """Every rule by its id, in the order of the table.

    >>> rules()["headlap"].limit
    3.0
    """
    out = {}
    for key, row in tables.rows("rules").items():
        limit = row.pop("limit", None)
        out[key] = Rule(key, limit=None if limit is None else float(limit), **row)
    return MappingProxyType(out)


def rule(rule_id: str) -> Rule:
    """The rule of that id.

    Raises:
        KeyError: no such rule; `nearest` knows what may have been meant.
    """
    return rules()[rule_id]


def nearest(rule_id: str) -> str | None:
    """The id most like what was typed, or None when nothing is like it.

    >>> nearest("headlaps")
    'headlap'
    """
    known = {key.lower(): key for key in rules()}
    typed = rule_id.strip().lower().replace("_", "-").replace(" ", ".")
    begun = [key for name, key in known.items() if typed and name.startswith(typed)]
    if begun:
        return begun[0]
    found = difflib.get_close_matches(typed, known, n=1, cutoff=0.5)
    if found:
        return known[found[0]]
    holding = [key for name, key in known.items() if typed and typed in name]
    return holding[0] if holding else None


def breaks(row: Rule, measured: float) -> bool:
    """Does this measure break the rule? On the limit itself only a "from" rule bites.

    Args:
        row: A rule with a limit.
        measured: In the rule's unit.

    Raises:
        ValueError: the rule has no limit (our bug).

    >>> breaks(rule("headlap"), 3.0), breaks(rule("headlap"), 2.9375)
    (False, True)
    """
    if row.limit is None:
        raise ValueError(f"{row.id} has no limit to measure against")
    if row.sense in ("min", "below"):
        return measured < row.limit - HAIR
    if row.sense in ("max", "over"):
        return measured > row.limit + HAIR
    if row.sense == "from":
        return measured >= row.limit - HAIR
    raise ValueError(f"{row.id} is not decided by a number")


def with_limit(rule_id: str, limit: float) -> Rule:
    """A rule whose limit the job gives (stock width, room, coverage), in the rule's unit."""
    return replace(rule(rule_id), limit=limit)


def finding(
    which: str | Rule,
    where: str,
    measured: float | None = None,
    level: Level | None = None,
    **values: Value,
) -> Finding:
    """Say that a rule bites.

    Args:
        which: A rule's id, or a row whose limit or source the job gave.
        where: What it is about, in the user's own names.
        measured: This job's value in the rule's unit, None where nothing is measured.
        level: Another level than the row's.
        values: What the sentence needs besides where, yours, limit, document and section; lengths in
            inches, metals and kinds as keys of words/.

    Raises:
        KeyError: no such rule (our bug).
    """
    row = rule(which) if isinstance(which, str) else which
    said: dict[str, Value] = {
        "where": where,
        "document": sources.document(row.source),
        "section": row.section,
        **values,
    }
    if measured is not None:
        said["yours"] = measured
    if row.limit is not None:
        said["limit"] = row.limit
    return Finding(
        rule=row.id,
        level=row.level if level is None else level,
        where=where,
        measured=measured,
        limit=row.limit,
        unit=row.unit,
        source=row.source,
        edition=row.edition,
        values=said,
        mended=f"findings.{row.id}.cure",
    )


def says(found: Finding, speaker: Speaker) -> str:
    """What a finding tells its reader, in the speaker's language and unit."""
    return speaker.say(f"findings.{found.rule}.says", **found.values)


def cure(found: Finding, speaker: Speaker) -> str:
    """What to do about a finding."""
    return speaker.say(found.mended or f"findings.{found.rule}.cure", **found.values)


def cite(row: Rule, speaker: Speaker | None = None) -> str:
    """Where a rule comes from, as it is printed: document, section, edition, and how it was seen.

    >>> cite(rule("headlap"))[:37]
    'Unified Facilities Guide Specificatio'
    """
    voice = speaker or Speaker()
    if row.source == sources.HOUSE:
        return voice.say("rules.house")
    return voice.say(
        "rules.cite",
        document=sources.document(row.source),
        section=row.section,
        edition=row.edition,
        seen=f"rules.seen.{row.seen.replace(' ', '-')}",
    )


def cricket_asked(
    rule_set: str,
    kind: str,
    width: float,
    pitch_deg: float,
    up_wall: float = 0.0,
    up_roof: float = 0.0,
    at_ridge: bool = False,
) -> tuple[Rule, float] | None:
    """Does this rule set ask for a cricket upslope of the opening?

    Args:
        rule_set: Name of a row of rule_sets.toml ("irc-2021").
        kind: The opening's kind ("masonry-chimney", "skylight" ...).
        width: Level, across the slope. [in]
        pitch_deg: The roof's slope, above 0. [deg]
        up_wall: How far the flashing goes up the wall, plumb. [in]
        up_roof: How far it goes up the roof, as a rise. [in]
        at_ridge: Does the opening reach the ridge, so that no roof drains toward it?

    Returns:
        The rule as this set prints it and the measure that breaks it, or None.

    Raises:
        KeyError: no such rule set.

    Source: data/rule_sets.toml.

    >>> cricket_asked("irc-2021", "masonry-chimney", 30.0, 30.0) is None
    True
    """
    book = tables.rule_sets()[rule_set]
    if _let_off(book, kind, width, up_wall, up_roof, at_ridge):
        return None
    return _bites(book, kind, width, pitch_deg)


def cricket_let_off(
    rule_set: str,
    kind: str,
    width: float,
    pitch_deg: float,
    up_wall: float = 0.0,
    up_roof: float = 0.0,
    at_ridge: bool = False,
) -> tuple[Rule, float, str] | None:
    """Would this rule set ask for a cricket, and lets this opening off? Arguments as `cricket_asked`.

    Returns:
        The rule as this set prints it, the measure that would break it and the reason: "ridge", "skylight" or
        "tall" (flashed high up wall and roof); or None.

    >>> cricket_let_off("irc-2021", "skylight", 31.0, 30.0)[2]
    'skylight'
    """
    book = tables.rule_sets()[rule_set]
    reason = _let_off(book, kind, width, up_wall, up_roof, at_ridge)
    bites = _bites(book, kind, width, pitch_deg)
    return (*bites, reason) if reason and bites else None


def tall_flashing(rule_set: str, width: float) -> float | None:
    """How far up the wall, plumb, a flashing lets a chimney off; None where the set has no such clause. [in]

    Source: O.Reg 332/12, 9.26.4.8(5): a sixth of the width and 150 mm; up the roof to the same height.

    >>> tall_flashing("obc-2012", 48.0)
    8.0
    """
    book = tables.rule_sets()[rule_set]
    if book.omit_share is None or book.omit_least is None:
        return None
    return max(book.omit_share * width, book.inches(book.omit_least))


def cricket_finding(where: str, rule_set: str, row: Rule, measured: float, flat_pan_asked: bool) -> Finding:
    """Say that a cricket is asked, or that the job forbids itself one by asking for a flat pan.

    Args:
        where: The opening's name.
        rule_set: The set that was asked.
        row, measured: What `cricket_asked` answered, in the rule's unit. [in, deg]
        flat_pan_asked: The job says `method = "flat-pan"`.
    """
    book = tables.rule_sets()[rule_set]
    if flat_pan_asked:
        row = replace(row, id="method.forbidden")
    printed = f"{book.width:g} {book.unit}"
    return finding(row, where, measured, printed=printed, past=f"findings.cricket.past.{book.sense}")


def _bites(book: tables.RuleSet, kind: str, width: float, pitch_deg: float) -> tuple[Rule, float] | None:
    """The clause of this book that bites, nothing let off, and the measure that breaks it. [in, deg]"""
    printed = replace(
        rule("cricket.required"),
        limit=book.limit,
        sense=book.sense,
        source=book.source,
        section=book.section,
        edition=book.edition,
        seen="house rule" if book.source == sources.HOUSE else book.seen,
    )
    if book.kinds and kind not in book.kinds and kind not in book.exempt:
        return None
    if breaks(printed, width):
        return printed, width
    if book.below_deg is not None and pitch_deg < book.below_deg - HAIR:
        flat = replace(printed, id="cricket.low-pitch", sense="below", limit=book.below_deg, unit="deg")
        return flat, pitch_deg
    return None


def _let_off(
    book: tables.RuleSet, kind: str, width: float, up_wall: float, up_roof: float, at_ridge: bool
) -> str:
    """Why the book lets this opening off: ridge, skylight, tall; "" where it does not."""
    if at_ridge:
        return "ridge"
    if kind in book.exempt:
        return kind
    asked = tall_flashing(book.key, width)
    if asked is not None and up_wall >= asked - HAIR and up_roof >= up_wall - HAIR:
        return "tall"
    return ""
