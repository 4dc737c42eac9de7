"""Which job a page belongs to: a short hash of what was planned from, and a square code that holds it."""

from __future__ import annotations

import hashlib
import json
from dataclasses import MISSING, fields, is_dataclass
from typing import Any

from lapwright.packet.say import shortened
from lapwright.site.model import Site

FORMAT = "lapwright-plan/1"
"""A key of plan.json that is taken away or changes its meaning makes a new format; keys may join."""

HASH_DIGITS = 8
NAME_LETTERS = 40
"""Letters of the job's name in the code: more would make its squares too small to read."""

QUIET = 4
"""Clear squares round a code. Source: ISO/IEC 18004, 2015, 5.3.8, from memory."""


def job_hash(site: Site) -> str:
    """The first hexadecimal digits of a hash of everything the plan is worked out from.

    Two jobs with the same inputs have the same hash, whatever order or words their files use; a changed
    length, name or unit gives another. What a job leaves at its default does not count, so a program that
    knows more defaults gives an old job the same hash.
    """
    text = json.dumps(_said(site), sort_keys=True, ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:HASH_DIGITS]


def _said(value: Any) -> Any:
    """A value as plain lists, tables and numbers, without the fields that stand at their defaults."""
    if is_dataclass(value):
        rows = ((f, getattr(value, f.name)) for f in fields(value))
        return {f.name: _said(v) for f, v in rows if f.default is MISSING or f.default != v}
    if isinstance(value, tuple | list):
        return [_said(v) for v in value]
    return value


def code_text(site: Site) -> str:
    """What the code says, a line each: format of the plan, job hash, job name."""
    return "\n".join([FORMAT, job_hash(site), shortened(site.name, NAME_LETTERS)])


def code_svg(text: str) -> str:
    """A QR code as SVG, one unit to the square.

    Source: ISO/IEC 18004, 2015, error correction level M, by way of segno.
    """
    import segno

    rows = segno.make(text.encode("utf-8", errors="replace"), error="m", micro=False, boost_error=False).matrix
    side = len(rows) + 2 * QUIET
    runs = [f"M{x + QUIET} {y + QUIET}h{n}v1h-{n}z" for y, row in enumerate(rows) for x, n in _runs(bytes(row))]
    box = f'viewBox="0 0 {side} {side}" width="{side}" height="{side}" shape-rendering="crispEdges"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {box}><path d="{"".join(runs)}"/></svg>'


def _runs(row: bytes) -> list[tuple[int, int]]:
    """Start and length of every run of dark squares."""
    out: list[tuple[int, int]] = []
    for x, dark in enumerate(row):
        if dark and out and sum(out[-1]) == x:
            out[-1] = (out[-1][0], out[-1][1] + 1)
        elif dark:
            out.append((x, 1))
    return out
