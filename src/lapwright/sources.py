"""Where the numbers come from: one record per published document.

A rule, a metal or a published check names its source by key. "house rule" is the key of no document: it
is common practice without a published source, and every page says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Literal

from lapwright import tables

HOUSE = "house rule"


@dataclass(frozen=True, slots=True)
class Source:
    """One published document, and whether its words were seen in a copy or come from memory."""

    key: str
    document: str
    edition: str
    section: str
    seen: Literal["secondary copy", "from memory"]


@cache
def sources() -> Mapping[str, Source]:
    """Every document by its key.

    >>> sources()["obc"].edition
    'O.Reg 332/12'
    """
    return MappingProxyType({key: Source(key, **row) for key, row in tables.rows("sources").items()})


def document(key: str) -> str:
    """The document's title as it is printed; a house rule is its own title.

    Raises:
        KeyError: no such source (our bug).

    >>> document("nrca")
    'NRCA Roofing Manual, as quoted in Professional Roofing'
    """
    return HOUSE if key == HOUSE else sources()[key].document
