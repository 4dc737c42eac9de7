"""The bending tools as rows, and a shop's kit of them; a user's own rows go over the packaged ones.

        carrier/beam                 x toward the operator, z up; the fold line stands at 0, 0
          ______
         |     /  nose slope: the leaf turns 180 - nose_deg
         |____/____ sheet
          bed  |  |leaf
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, Literal

from lapwright import tables
from lapwright.errors import LapwrightError, OutOfRange
from lapwright.geom.flat import tidy
from lapwright.geom.space import Flat

FolderKind = Literal["straight", "box", "short"]
HandKind = Literal["seamers", "bar", "joggle"]
FOLDERS = ("straight", "box", "short")
HANDS = ("seamers", "bar", "joggle")

NOSE_TOLERANCE_DEG = 1.0
"""The first edge of a beam's section may differ this much from its nose_deg."""

RANGES: Mapping[str, tuple[float, float]] = {
    "length": (0.0, 600.0),
    "throat": (1.0, 600.0),
    "land": (0.0625, 6.0),
    "grip": (0.0625, 6.0),
    "nose_deg": (15.0, 90.0),
    "opening": (0.0625, 12.0),
    "finger_depth": (0.0, 24.0),
    "width": (0.25, 36.0),
    "depth": (0.0, 36.0),
    "least": (0.0, 6.0),
    "most_deg": (1.0, 180.0),
}
"""What a row's numbers may be. [in, deg]"""


@dataclass(frozen=True, slots=True)
class Folder:
    """A folder. See data/brakes.toml for what each number means. [in, deg]"""

    key: str
    kind: FolderKind
    length: float
    throat: float
    land: float
    grip: float
    nose_deg: float
    opening: float
    beam: tuple[Flat, ...]
    bed: tuple[Flat, ...]
    leaf: tuple[Flat, ...]
    source: str
    seen: str
    carrier: tuple[Flat, ...] = ()
    fingers: tuple[float, ...] = ()
    finger_depth: float = 0.0

    @property
    def most_deg(self) -> float:
        """How far its leaf turns."""
        return 180.0 - self.nose_deg


@dataclass(frozen=True, slots=True)
class HandTool:
    """A tool held in the hand or clamped on the line. See data/brakes.toml. [in, deg]"""

    key: str
    kind: HandKind
    width: float
    depth: float
    least: float
    length: float
    most_deg: float
    source: str
    seen: str


Tool = Folder | HandTool


class NoSuchTool(LapwrightError, KeyError):
    """A kit, or a tool of a kit, that no row describes; the sentence names those that are there."""


@dataclass(frozen=True, slots=True)
class Kit:
    """The tools of a shop and those taken onto the roof, the handiest first."""

    key: str
    shop: tuple[Tool, ...]
    roof: tuple[Tool, ...]

    def on_roof(self) -> Kit:
        """The same shop with nothing but its roof tools."""
        return Kit(self.key, self.roof, self.roof)

    def tool(self, key: str) -> Tool:
        """One of its tools.

        Raises:
            NoSuchTool: it has none of that name.
        """
        for tool in (*self.shop, *self.roof):
            if tool.key == key:
                return tool
        raise NoSuchTool("bending.no_tool", given=key, known=", ".join(t.key for t in self.shop))


@cache
def kits() -> Mapping[str, Kit]:
    """Every packaged kit by its name.

    Source: data/brakes.toml, house rules from memory.

    >>> [tool.key for tool in kits()["straight-only"].shop]
    ['straight-folder']
    """
    return kits_with({})


def default_kit() -> Kit:
    """The kit of a small shop: a straight folder, a box-and-pan folder, and what fits in a bag."""
    return kits()["small-shop"]


def kits_with(own: Mapping[str, Any]) -> Mapping[str, Kit]:
    """The packaged kits with a user's own rows over them.

    Args:
        own: `tools` and `kits` as in data/brakes.toml; a tool's row may give only what differs.

    Raises:
        OutOfRange: a number outside RANGES, or a nose that its section contradicts.
        NoSuchTool: a kit names a tool without a row, or a tool is of no known kind.
    """
    packaged = tables.rows("brakes")
    tool_rows: dict[str, dict[str, Any]] = {k: dict(v) for k, v in packaged["tools"].items()}
    for key, row in own.get("tools", {}).items():
        tool_rows[key] = {**tool_rows.get(key, {}), **row}
    made = {key: _tool(key, row) for key, row in tool_rows.items()}
    named = {**packaged["kits"], **own.get("kits", {})}
    return MappingProxyType({key: _kit(key, row, made) for key, row in named.items()})


def _kit(key: str, row: Mapping[str, Any], made: Mapping[str, Tool]) -> Kit:
    def pick(where: str) -> tuple[Tool, ...]:
        for name in row[where]:
            if name not in made:
                raise NoSuchTool("bending.no_tool", given=name, known=", ".join(made))
        return tuple(made[name] for name in row[where])

    return Kit(key, pick("shop"), pick("roof"))


def _tool(key: str, row: Mapping[str, Any]) -> Tool:
    for name, (low, high) in RANGES.items():
        value = row.get(name, low)
        if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            raise OutOfRange(f"{key}.{name}", value, low, high)
    kind = row.get("kind")
    try:
        if kind in HANDS:
            return HandTool(key, **row)
        if kind in FOLDERS:
            lists = {k: tuple(map(_point, row[k])) for k in ("beam", "bed", "leaf", "carrier") if k in row}
            folder = Folder(key, **{**row, **lists, "fingers": tuple(row.get("fingers", ()))})
            _check_nose(folder)
            return folder
    except TypeError as why:
        raise NoSuchTool("bending.bad_row", given=key, why=str(why).split("__init__() ")[-1]) from why
    raise NoSuchTool("bending.no_kind", given=key, kind=str(kind), known=", ".join((*FOLDERS, *HANDS)))


def _point(pair: Any) -> Flat:
    x, z = pair
    return (float(x), float(z))


def _check_nose(folder: Folder) -> None:
    """The first edge of the beam's section is its nose slope."""
    ring = tidy(folder.beam)
    (x0, z0), (x1, z1) = ring[0], ring[1]
    slope = math.degrees(math.atan2(z1 - z0, x0 - x1))
    if abs(slope - folder.nose_deg) > NOSE_TOLERANCE_DEG:
        low, high = folder.nose_deg - NOSE_TOLERANCE_DEG, folder.nose_deg + NOSE_TOLERANCE_DEG
        raise OutOfRange(f"{folder.key}.beam", slope, low, high)
