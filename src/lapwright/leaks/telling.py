"""What a seam and a place on it are called: keys of words/, a roofer's own marks, heads rounded to the safe side."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from lapwright.leaks.search import Crossing, Way
from lapwright.site.model import Opening
from lapwright.words import Speaker

_KINDS = "apron|side-wall|back-pan|cricket|corner-patch|offset-cleat|counterflashing|base-plate|rib-hood|sleeve"
_PIECE = re.compile(rf"^(?:\d+-)?({_KINDS})(?:-(.+))?$")
_PANEL = re.compile(r"^panel-\d+-(upper|side|lower)$")

BARE = ("deck", "wall", "edge", "hole")
"""What may stand in a seam's second place that is no sheet."""

SIXTEENTHS = 16
"""Heads and margins are printed in whole sixteenths, rounded down: never more than was found."""

AT = 1 / 16
"""Nearer than this to an edge is at it. [in]"""


def sheet_key(sheet: str) -> str:
    """The key of a sheet's name by its id: "1-side-wall-left" -> "pieces.side-wall.left".

    >>> sheet_key("panel-8-upper"), sheet_key("1-back-pan"), sheet_key("deck")
    ('leaks.sheet.upper', 'pieces.back-pan', 'leaks.sheet.deck')
    """
    panel, piece = _PANEL.match(sheet), _PIECE.match(sheet)
    if panel:
        return f"leaks.sheet.{panel[1]}"
    if sheet == "offset-cleat":
        return "leaks.sheet.cleat"
    key = f"pieces.{piece[1]}.{piece[2]}" if piece and piece[2] else f"pieces.{piece[1]}" if piece else ""
    return key if Speaker().knows(key) else f"leaks.sheet.{sheet if sheet in BARE else 'other'}"


def kind_of(sheet: str) -> str:
    """A sheet's kind by its id, hand and number left off: both sides of an opening are made alike.

    >>> kind_of("1-side-wall-left"), kind_of("panel-8-upper"), kind_of("wall")
    ('side-wall', 'upper', 'wall')
    """
    panel, piece = _PANEL.match(sheet), _PIECE.match(sheet)
    return panel[1] if panel else piece[1] if piece else sheet


def seam_kinds(c: Crossing) -> tuple[str, str]:
    """The kinds of the two sheets of a seam, the one that lies over first."""
    over, _, under = c.seam.partition(">")
    return kind_of(over), kind_of(under)


def seam(c: Crossing, speaker: Speaker) -> str:
    """A seam in a roofer's words."""
    over, _, under = c.seam.partition(">")
    form = under if under in BARE else "hem" if under == "offset-cleat" else "lap"
    return speaker.say(f"leaks.seam.{form}", over=sheet_key(over), under=sheet_key(under))


def rests(c: Crossing, speaker: Speaker) -> str:
    """What holds the water there: its sealing, a climb, both or nothing."""
    if c.how:
        return speaker.say(f"leaks.rests.{c.how}", holds=c.rating)
    if c.seam.endswith(">hole"):
        return speaker.say("leaks.rests.bare")
    return speaker.say("leaks.rests.upturn" if c.shape == "upturn" else "leaks.rests.climb")


def place(c: Crossing, o: Opening, speaker: Speaker) -> str:
    """Where a seam is, from the opening's own sides: what a tape can reach."""
    x, y, _ = c.at
    middle = o.left + o.width / 2
    side, off = ("left", o.left - x) if x < middle else ("right", x - o.right)
    face, along = ("back", y - o.back) if y > o.up + o.length / 2 else ("front", o.up - y)
    return speaker.say("leaks.place", across=_off(side, off, speaker), up=_off(face, along, speaker))


def _off(what: str, off: float, speaker: Speaker) -> str:
    form = "at" if abs(off) < AT else "out" if off > 0 else "in"
    return speaker.say(f"leaks.off.{what}.{form}", far=abs(off))


def safe(head: float) -> float:
    """A head or a margin to print: whole sixteenths, rounded down. [in]

    >>> safe(1.733), safe(-0.01)
    (1.6875, -0.0625)
    """
    return math.floor(head * SIXTEENTHS + 1e-6) / SIXTEENTHS


def hands(ways: Sequence[Way]) -> tuple[Way, ...]:
    """One way of each pair of seam kinds where it is decided: its fellow on the other hand is told with it."""
    seen: dict[tuple[str, str], Way] = {}
    for w in ways:
        seen.setdefault(seam_kinds(w.decided), w)
    return tuple(seen.values())
