"""Which refusal to name, and what would cure it. Keys of words: bending.reason.KEY, bending.cure.KEY."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from lapwright.shop.bending.search import Move

CURES: Mapping[str, tuple[str, ...]] = {
    "land": ("wider-flange", "other-tool"),
    "grip": ("wider-flange", "split"),
    "nose": ("less-angle", "by-hand", "split"),
    "throat": ("split", "by-hand"),
    "length": ("split", "by-hand", "other-tool"),
    "beam": ("shorter-flange", "rivet-on", "split", "other-tool"),
    "bed": ("shorter-flange", "rivet-on", "split", "other-tool"),
    "leaf": ("wider-flange", "rivet-on"),
    "swing": ("shorter-flange", "rivet-on", "split"),
    "self": ("shorter-flange", "rivet-on", "split"),
    "trapped": ("split", "rivet-on", "other-tool"),
    "shared-line": ("by-hand", "short-folder", "rivet-on"),
    "fingers": ("other-fingers", "by-hand", "rivet-on"),
    "too-long": ("other-tool", "by-hand"),
    "offset": ("other-tool", "wider-flange"),
    "angle": ("less-angle", "other-tool"),
    "jaws": ("other-tool", "rivet-on"),
    "depth": ("other-tool", "by-hand"),
    "bar": ("other-tool", "rivet-on"),
    "no-tool": ("other-tool",),
}
"""House rules."""

TELLING = (
    "nose", "length", "shared-line", "trapped", "beam", "swing", "bed", "land", "leaf", "self", "fingers", "grip",
    "throat", "too-long", "offset", "angle", "jaws", "depth", "bar",
)  # fmt: skip
"""Where tools differ, or one position fails for another reason than the next, the first of these is named."""


def cures_for(reason: str, offset: bool = False) -> tuple[str, ...]:
    """What would cure a refusal, the handiest first. offset: the bend and its neighbour make a narrow step."""
    cures = CURES[reason]
    return ("joggle", *cures) if offset and reason in ("land", "leaf", "grip") else cures


def fitting_reason(refused: Mapping[tuple[str, str], int], moves: Sequence[Move]) -> tuple[str, str]:
    """The reason to name and its tool: of the handiest tool that refused, the most telling.

    Args:
        refused: how often each (tool, reason) was met.
        moves: handiest tool first.
    """
    for tool in dict.fromkeys(m.tool for m in moves):
        mine = [why for (key, why) in refused if key == tool]
        for why in TELLING:
            if why in mine:
                return why, tool
    return "no-tool", ""
