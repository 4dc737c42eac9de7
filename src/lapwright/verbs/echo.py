"""What was understood, beside what was typed: a measure in the job's unit and in the other one."""

from __future__ import annotations

import math
from typing import Any

from lapwright.draw.so_far import IN_FEET
from lapwright.errors import BadLength
from lapwright.site.fields import NEEDED, Field
from lapwright.units import read_length, show_pitch
from lapwright.words import Speaker

_OTHER = {"in/h": (25.4, "mm/h"), "mph": (1.609344, "km/h")}
"""The same in the other unit. Source: the international inch and mile, exactly, from memory."""
EXACT = 1e-6
"""A length that prints within this of itself is printed whole. [in]"""


def echo(row: Field, value: Any, speaker: Speaker) -> str:
    """What was understood: `7' 4-1/2" = 2247.9 mm`. Nothing where there is nothing to misread.

    Args:
        row: The field.
        value: As read: a length in inches, a pitch in rise per 12; None when there is none.
        speaker: Whose unit comes first.
    """
    if value is None:
        return ""
    if row.kind == "pitch":
        angle = math.degrees(math.atan2(value, 12.0))
        return speaker.say("page_form.echo", one=show_pitch(value), other=f"{angle:.1f}\N{DEGREE SIGN}")
    if row.kind == "length":
        return _both(value, speaker)
    if row.kind == "lengths":
        return " \N{MIDDLE DOT} ".join(speaker.length(one) for one in value)
    if row.unit in _OTHER:
        factor, unit = _OTHER[row.unit]
        return speaker.say("page_form.echo", one=f"{value:g} {row.unit}", other=f"{value * factor:.4g} {unit}")
    return ""


def _both(value: float, speaker: Speaker) -> str:
    """A length in the job's unit and the other one; `about` when the first is rounded. [in]"""
    feet = value >= IN_FEET
    one, other = (who.length(value, feet) for who in (speaker, Speaker("mm" if speaker.unit == "in" else "in")))
    key = "page_form.echo" if abs(_again(one) - value) < EXACT else "page_form.echo_about"
    return speaker.say(key, one=one, other=other)


def _again(shown: str) -> float:
    """A printed length read back. [in]"""
    try:
        return read_length(shown, "in")
    except BadLength:
        return math.nan


def range_text(row: Field, speaker: Speaker) -> str:
    """What is allowed: `2' 0 to 500' 0`; nothing for a choice."""
    if row.kind in ("length", "lengths"):
        return speaker.say("site.starter.range", low=float(row.low), high=float(row.high))
    if row.kind == "text":
        return speaker.say("page_form.characters", low=f"{row.low:g}", high=f"{row.high:g}")
    if row.kind == "pitch":
        return speaker.say("page_form.range", low=show_pitch(row.low), high=show_pitch(row.high))
    if row.kind in ("number", "count"):
        unit = row.unit if row.unit not in ("money", "1/h") else ""
        key = "page_form.range_unit" if unit else "page_form.range"
        return speaker.say(key, low=f"{row.low:g}", high=f"{row.high:g}", unit=unit)
    return ""


def choice_text(row: Field, word: str, speaker: Speaker) -> str:
    """One of the words a field takes, as a person reads it."""
    key = f"{'metals' if row.kind == 'metal' else 'page_form.choice'}.{word}"
    return speaker.say(key) if speaker.knows(key) else word


def default_text(row: Field, speaker: Speaker) -> str:
    """What holds when the field is left out, as it would be typed; nothing for one that must be given."""
    if row.default is NEEDED:
        return ""
    if row.default is None or row.default == "":
        return speaker.say("page_form.worked_out")
    if row.kind == "length":
        return speaker.length(row.default, feet=True)
    if row.kind in ("bool", "choice", "metal"):
        return choice_text(row, str(row.default).lower(), speaker)
    return f"{row.default:g}" if isinstance(row.default, int | float) else str(row.default)
