"""Jobs that read well and cannot be built: openings off the roof, over one another, ribs out of step.

What can be built but should not is no business of this page: that is a finding.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Mapping, Sequence
from dataclasses import fields
from itertools import combinations
from typing import Any

from lapwright import tables
from lapwright.geom import SAME
from lapwright.site.fields import DEVIATIONS
from lapwright.site.model import Deviation, Opening, OwnTool, Panel, Roof
from lapwright.site.wrong import Wrongs, clean, nearest

AT_CORNERS = ("reversed-lap", "open-corner")
"""Deviations of a side-wall flashing's lap and of a corner: a round pipe has neither."""

_CHOSEN = ("name", "like")
_FOLDERS = ("straight", "box", "short")
_SHALLOW = 0.5
"""Fingers shallower than this are none. House rule. [in]"""

Box = tuple[float, float, float, float]
"""left, right, downslope, upslope on the roof. [in]"""


def make_sense(
    roof: Roof | None,
    panel: Panel | None,
    openings: Sequence[tuple[int, Opening]],
    names: Mapping[int, str],
    deviations: Sequence[tuple[int, Deviation]],
    wrongs: Wrongs,
) -> None:
    """Note everything that cannot be.

    Args:
        roof, panel: None when they could not be read; what depends on them is then not asked.
        openings: The readable ones, each with its place in the file (from 0).
        names: Every opening's name by its place, readable or not.
        deviations: The readable ones, each with its place in the file (from 0).
        wrongs: Takes what is found.
    """
    _same_names(names, wrongs)
    if panel:
        _ribs(panel, roof, wrongs)
    for n, opening in openings:
        if panel:
            _turn_up(n, opening, panel, wrongs)
        if roof:
            _on_the_roof(n, opening, roof, wrongs)
    _apart(openings, roof, wrongs)
    pipes = {opening.name for _, opening in openings if opening.kind == "pipe"}
    _deviations(deviations, names, pipes, wrongs)


def footprint(opening: Opening, theta: float) -> Box:
    """The box an opening takes on the roof, a pipe by the ellipse of its rim.

    Args:
        theta: Slope of the roof. [rad]
    """
    rim = opening.rim(theta)
    return (rim.left, rim.right, rim.up, rim.back)


def _same_names(names: Mapping[int, str], wrongs: Wrongs) -> None:
    """Names that differ only in case or dress would make the same piece names."""
    seen: dict[str, int] = {}
    for n, name in names.items():
        folded = " ".join(unicodedata.normalize("NFKC", name).casefold().split())
        if folded in seen:
            wrongs.add(("opening", n, "name"), "site.same_name", name=clean(name), other=seen[folded] + 1)
        seen.setdefault(folded, n)


def _ribs(panel: Panel, roof: Roof | None, wrongs: Wrongs) -> None:
    if panel.first_rib is not None and panel.first_rib > panel.coverage - SAME:
        path = ("panel", "first_rib")
        wrongs.add(path, "site.first_rib", given=panel.first_rib, coverage=panel.coverage)
    if roof and panel.coverage > roof.eave + SAME:
        wrongs.add(("panel", "coverage"), "site.coverage", given=panel.coverage, eave=roof.eave)


def _turn_up(n: int, opening: Opening, panel: Panel, wrongs: Wrongs) -> None:
    turn_up = opening.measures.rib_turn_up
    if turn_up is not None and turn_up > panel.rib_height + SAME:
        path = ("opening", n, "rib_turn_up")
        wrongs.add(path, "site.rib_turn_up", given=turn_up, rib=panel.rib_height)


def _on_the_roof(n: int, opening: Opening, roof: Roof, wrongs: Wrongs) -> None:
    left, right, down, back = footprint(opening, roof.theta)
    across = "left" if opening.kind == "pipe" or opening.left > roof.eave else "width"
    along = "up" if opening.kind == "pipe" or opening.up > roof.slope else "length"
    if left < -SAME:
        wrongs.add(("opening", n, "left"), "site.off_left", over=-left)
    if right > roof.eave + SAME:
        path = ("opening", n, across)
        wrongs.add(path, "site.off_right", over=right - roof.eave, side=right, eave=roof.eave)
    if down < -SAME:
        wrongs.add(("opening", n, "up"), "site.off_eave", over=-down)
    if back > roof.slope + SAME:
        path = ("opening", n, along)
        wrongs.add(path, "site.off_upslope", over=back - roof.slope, side=back, slope=roof.slope)


def _apart(openings: Sequence[tuple[int, Opening]], roof: Roof | None, wrongs: Wrongs) -> None:
    """No two openings may share metal; touching along a line is not sharing."""
    theta = roof.theta if roof else 0.0
    for (_, one), (n, other) in combinations(openings, 2):
        a, b = footprint(one, theta), footprint(other, theta)
        across = min(a[1], b[1]) - max(a[0], b[0])
        along = min(a[3], b[3]) - max(a[2], b[2])
        if across > SAME and along > SAME:
            path = ("opening", n, "left")
            wrongs.add(path, "site.overlap", other=clean(one.name), across=across, along=along)


def _deviations(
    deviations: Sequence[tuple[int, Deviation]], names: Mapping[int, str], pipes: Collection[str], wrongs: Wrongs
) -> None:
    known = set(names.values())
    for n, row in deviations:
        if row.opening in pipes and row.what in AT_CORNERS:
            allowed = ", ".join(what for what in DEVIATIONS if what not in AT_CORNERS)
            wrongs.add(("deviation", n, "what"), "site.not_at_a_pipe", given=row.what, allowed=allowed)
        if row.opening in known:
            continue
        near = nearest(row.opening, known)
        path = ("deviation", n, "opening")
        if near:
            wrongs.add(path, "site.no_opening_near", given=clean(row.opening), near=clean(near))
        else:
            wrongs.add(path, "site.no_opening", given=clean(row.opening))


def tools_make_sense(tools: Sequence[tuple[int, OwnTool]], wrongs: Wrongs) -> None:
    """Note every tool of the shop's own that cannot be: taken names, fields its kind has not, numbers at odds.

    Args:
        tools: The readable ones, each with its place in the file (from 0).
        wrongs: Takes what is found.
    """
    packaged = tables.rows("brakes")["tools"]
    seen: dict[str, int] = {}
    for n, tool in tools:
        if tool.name in seen:
            wrongs.add(("tool", n, "name"), "site.same_tool", name=clean(tool.name), other=seen[tool.name] + 1)
        seen.setdefault(tool.name, n)
        if tool.name in packaged and tool.name != tool.like:
            wrongs.add(("tool", n, "like"), "site.tool_like", name=tool.name, given=tool.like)
        like = packaged[tool.like]
        given = {f.name: getattr(tool, f.name) for f in fields(tool) if getattr(tool, f.name) is not None}
        for name in given:
            if name not in like and name not in _CHOSEN:
                has = ", ".join(k for k, v in like.items() if hasattr(tool, k) and not isinstance(v, str))
                wrongs.add(("tool", n, name), "site.tool_field", at="key", like=tool.like, known=has)
        _at_odds(n, {**like, **given}, given, wrongs)


def _at_odds(n: int, row: Mapping[str, Any], given: Mapping[str, Any], wrongs: Wrongs) -> None:
    """Numbers of one tool that contradict each other; the one that was given is named."""

    def add(names: tuple[str, str], key: str, **values: Any) -> None:
        name = next((one for one in names if one in given), "like")
        wrongs.add(("tool", n, name), key, **values)

    if row["kind"] in _FOLDERS:
        if row["length"] < 1:
            add(("length", "like"), "site.tool_length", given=row["length"])
        if row["throat"] < row["grip"]:
            add(("throat", "grip"), "site.tool_throat", throat=row["throat"], grip=row["grip"])
    if row["kind"] == "box":
        if max(row["fingers"]) > row["length"]:
            add(("fingers", "length"), "site.tool_fingers", finger=max(row["fingers"]), length=row["length"])
        if row["finger_depth"] < _SHALLOW:
            add(("finger_depth", "like"), "site.tool_depth", given=row["finger_depth"], least=_SHALLOW)
    if row["kind"] in ("seamers", "joggle") and 0 < row["depth"] < row["least"]:
        add(("depth", "least"), "site.tool_least", depth=row["depth"], least=row["least"])
