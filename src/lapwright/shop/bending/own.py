"""The tools that a job names: its kit, with the tools of its own in place of the packaged ones or beside them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from lapwright import tables
from lapwright.geom.flat import crossing, cut_by
from lapwright.geom.space import Flat
from lapwright.shop.bending.tools import FOLDERS, HANDS, Kit, kits_with
from lapwright.site.model import OwnTool, Shop, Site

SOURCE = "the job file"


def kit_of(site: Site) -> Kit:
    """The kit that a job is folded with.

    A tool named as a packaged one takes its place. Another name joins, handier than the one it is like; a hand
    tool is taken onto the roof too.

    Raises:
        OutOfRange, NoSuchTool: never for a job that was read; sense.py has refused it.
    """
    packaged = tables.rows("brakes")
    rows: dict[str, Any] = dict(packaged["tools"])
    kit = {where: list(keys) for where, keys in packaged["kits"][site.shop.kit].items()}
    for tool in site.tools:
        rows[tool.name] = own_row(tool, packaged["tools"][tool.like])
        for where in ("shop", "roof") if rows[tool.name]["kind"] in HANDS else ("shop",):
            if tool.name not in kit[where]:
                kit[where].insert(_place(kit[where], tool, rows), tool.name)
    own = {tool.name: rows[tool.name] for tool in site.tools}
    return kits_with({"tools": own, "kits": {site.shop.kit: kit}})[site.shop.kit]


def is_told(site: Site) -> bool:
    """Does the job name its tools, or is a packaged kit taken for them?"""
    return bool(site.tools) or site.shop.kit != Shop().kit


def _place(keys: Sequence[str], tool: OwnTool, rows: Mapping[str, Any]) -> int:
    """Before the one it is like; where that is missing, after the last folder or after all."""
    if tool.like in keys:
        return keys.index(tool.like)
    return len(keys) if rows[tool.name]["kind"] in HANDS else sum(rows[key]["kind"] in FOLDERS for key in keys)


def own_row(tool: OwnTool, like: Mapping[str, Any]) -> dict[str, Any]:
    """A row as in data/brakes.toml: the packaged tool's, what differs, and sections that agree with it. [in, deg]"""
    given = {k: v for k, v in asdict(tool).items() if v is not None and k not in ("name", "like")}
    row = {**like, **given, "source": SOURCE, "seen": SOURCE}
    if "fingers" in row:
        row["fingers"] = sorted(row["fingers"])
    if row["kind"] not in HANDS:
        beam = [_flat(p) for p in like["beam"]]
        if "finger_depth" in given:
            beam = deepen(beam, like["finger_depth"], row["finger_depth"])
            rise = row["finger_depth"] - like["finger_depth"]
            row["carrier"] = [(x, z + rise) for x, z in like["carrier"]]
        row["beam"] = lean(beam, row["nose_deg"])
        row["leaf"] = widen([_flat(p) for p in like["leaf"]], like["land"], row["land"])
    return row


def lean(beam: Sequence[Flat], nose_deg: float) -> list[Flat]:
    """A beam's section with another nose: its face starts at 0, 0, as far back as there is beam. [in, deg]

    >>> [tuple(round(v, 2) for v in p) for p in lean([(0, 0), (-3, 3), (-3, 6), (-6, 6), (-6, 0)], 30.0)]
    [(0, 0), (-3.0, 1.73), (-3, 6), (-6, 6), (-6, 0)]
    """
    face = (-math.cos(math.radians(nose_deg)), math.sin(math.radians(nose_deg)))
    for a, b, *rest in (beam[k:] for k in range(1, len(beam) - 1)):
        edge = (b[0] - a[0], b[1] - a[1])
        at = crossing(beam[0], face, a, edge)
        # Each edge may be met anywhere before its far end: a steeper nose runs past the corner it had.
        if at is not None and at[1] > 0 and (at[0] - b[0]) * edge[0] + (at[1] - b[1]) * edge[1] < 0:
            return [beam[0], at, b, *rest]
    return list(beam)


def deepen(beam: Sequence[Flat], old: float, new: float) -> list[Flat]:
    """Fingers of another depth: their section cut down, or its upper end raised. [in]"""
    if new < old:
        return cut_by(list(beam), (0.0, new), (0.0, -1.0))
    return [(x, new if z >= old else z) for x, z in beam]


def widen(leaf: Sequence[Flat], old: float, new: float) -> list[Flat]:
    """A leaf's section with another land: its edge as thick as the land. [in]"""
    return [(x if x <= 0 else new if x == old else max(x, new), z) for x, z in leaf]


def _flat(pair: Sequence[float]) -> Flat:
    return (float(pair[0]), float(pair[1]))
