"""The printed tables a shop keeps on the wall: metals, hems, which metals may touch, rule sets.

Rows are TOML under data/, each with the key of its source; a value nobody has looked up again says
`seen = "memory"`. Nothing here computes: a table answers what its row says.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, Literal

from lapwright.units import MM_PER_INCH

Seen = Literal["secondary copy", "memory"]
Family = Literal["steel-al-zn", "steel-galv", "aluminium", "copper", "zinc", "stainless", "lead", "masonry"]


@dataclass(frozen=True, slots=True)
class Metal:
    """One sheet metal.

    base: bare metal. [in]  coated: metal and coating without paint, the thickness that bends. [in]
    weight_psf: its own column, not thickness times a density. [lb/ft2]  alpha: growth. [1/F]
    join: how a corner is closed, soldered, or riveted and sealed.
    """

    key: str
    family: Family
    base: float
    coated: float
    weight_psf: float
    alpha: float
    join: Literal["solder", "rivet"]
    source: str
    seen: Seen


def rows(name: str) -> Mapping[str, Any]:
    """The rows of one packaged table, as TOML gives them.

    Args:
        name: File name in data/ without ".toml".

    Raises:
        FileNotFoundError: no such table (our bug).
    """
    text = files("lapwright.data").joinpath(f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def metals() -> Mapping[str, Metal]:
    """Every metal by its key ("steel-24"), in the order of the table.

    Source: data/metals.toml, each row its own.

    >>> metals()["copper-16"].weight_psf
    1.0
    """
    return MappingProxyType({key: Metal(key, **row) for key, row in rows("metals").items()})


def steel_weight(base: float) -> float:
    """Weight of bare steel sheet by its gage thickness. [lb/ft2]

    Args:
        base: Bare metal. [in]

    Source: Manufacturers' Standard Gage, 41.82 lb/ft2 per inch.

    >>> round(steel_weight(0.0239), 2)
    1.0
    """
    return 41.82 * base


@dataclass(frozen=True, slots=True)
class Hem:
    """A way to fold a free edge back.

    radius_t: inside radius, gap_t: clear space inside, both in thicknesses. [-]
    turn_deg: how far the edge turns. [deg]  least: shortest hem that is asked of a brake. [in]
    """

    key: str
    radius_t: float
    gap_t: float
    turn_deg: float
    least: float
    source: str
    seen: Seen


@cache
def hems() -> Mapping[str, Hem]:
    """Open, closed and teardrop hems. Source: house rules from memory.

    >>> hems()["closed"].radius_t
    0.0
    """
    return MappingProxyType({key: Hem(key, **row) for key, row in rows("hems").items()})


@dataclass(frozen=True, slots=True)
class Contact:
    """Two metals that do not get on: a touches b, or drains onto b.

    level: stop where the published rule forbids it, caution where it asks a coat or a watch.
    """

    a: Family
    b: Family
    level: Literal["stop", "caution"]
    source: str
    section: str
    seen: Seen


@cache
def _contacts(kind: str) -> tuple[Contact, ...]:
    return tuple(Contact(**row) for row in rows("contacts")[kind])


def touching(one: Family, other: Family) -> Contact | None:
    """The row that warns of these two metals touching, either way round; None when they may.

    Source: data/contacts.toml, each row its own.

    >>> touching("aluminium", "copper").level
    'stop'
    """
    for row in _contacts("touch"):
        if {row.a, row.b} == {one, other}:
            return row
    return None


def draining(above: Family, below: Family) -> Contact | None:
    """The row that warns of water running from one metal onto another; None when it may.

    Source: data/contacts.toml, each row its own.

    >>> draining("zinc", "copper") is None
    True
    """
    for row in _contacts("drain"):
        if (row.a, row.b) == (above, below):
            return row
    return None


@dataclass(frozen=True, slots=True)
class RuleSet:
    """When one book asks for a cricket.

    width: as printed, in `unit`; over: more than it, from: it and more. kinds: openings named, empty = all.
    exempt: let off. below_deg: asked on flatter roofs whatever the width. [deg]
    omit_share [of the width], omit_least [in `unit`]: flashing height that lets a chimney off.
    """

    key: str
    width: float
    unit: Literal["in", "mm"]
    sense: Literal["over", "from"]
    kinds: tuple[str, ...]
    exempt: tuple[str, ...]
    source: str
    edition: str
    section: str
    seen: Seen
    below_deg: float | None = None
    omit_share: float | None = None
    omit_least: float | None = None

    def inches(self, value: float) -> float:
        """A number of this book in inches. [in]"""
        return value / float(MM_PER_INCH) if self.unit == "mm" else value

    @property
    def limit(self) -> float:
        """The width in inches. [in]"""
        return self.inches(self.width)


@cache
def rule_sets() -> Mapping[str, RuleSet]:
    """Every rule set by the name a job file gives it.

    Source: data/rule_sets.toml, each row its own.

    >>> round(rule_sets()["obc-2012"].limit, 4)
    29.5276
    """
    out = {}
    for key, row in rows("rule_sets").items():
        fields: dict[str, Any] = {k: tuple(v) if isinstance(v, list) else v for k, v in row.items()}
        out[key] = RuleSet(key, **fields)
    return MappingProxyType(out)
