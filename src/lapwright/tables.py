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
