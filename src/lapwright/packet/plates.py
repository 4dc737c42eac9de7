"""The pages that hold drawings only (layout, openings, sections, leaks, blanks, folds), and each page's legend."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from lapwright.draw.bending import legend_of as fold_legend
from lapwright.draw.card import legend_of
from lapwright.draw.svg import to_svg
from lapwright.packet.drawings import Drawing
from lapwright.packet.say import Voice
from lapwright.packet.shelves import Sized, shelve

WIDE, HIGH = 523.4, 660.0
"""Paper for drawings on a page. [pt]"""

ORDER = ("layout", "opening", "section", "leaks", "blank", "bend", "cutting")
LEGEND_ORDER = ("cut", "slit", "hole", "bend-up", "bend-down", "balloon", "datum", "break", "window")

FOLDS = ("fold-section", "fold-blank")
"""What the pages of the order of folds explain at their foot."""


def plates(drawings: Sequence[Drawing], voice: Voice) -> list[dict[str, Any]]:
    """Pages in order: the part they belong to, their shelves of drawings, and the legend at their foot."""
    legends = _Legends(voice)
    out: list[dict[str, Any]] = []
    for part in ORDER:
        mine = [Sized(d, d.width, d.height) for d in drawings if d.part == part]
        for page in shelve(mine, WIDE, lambda some: HIGH - legends.height(some)):
            rows = [[{"title": d.title, "svg": d.svg} for d in shelf] for shelf in page]
            held = [d for shelf in page for d in shelf]
            out.append({"part": part, "rows": rows, "legend": legends.svg(held)})
    return out


class _Legends:
    """Legends by the lines they explain: many pages share one."""

    def __init__(self, voice: Voice) -> None:
        self.voice = voice
        self.made: dict[tuple[str, ...], tuple[float, str]] = {}

    def height(self, drawings: Sequence[Drawing]) -> float:
        """What a legend for these takes off a page; nothing when they carry their own. [pt]"""
        return self._of(drawings)[0]

    def svg(self, drawings: Sequence[Drawing]) -> str:
        return self._of(drawings)[1]

    def _of(self, drawings: Sequence[Drawing]) -> tuple[float, str]:
        used = {layer for d in drawings for layer in d.layers}
        layers = tuple(layer for layer in (*LEGEND_ORDER, *FOLDS) if layer in used)
        if not layers:
            return 0.0, ""
        if layers not in self.made:
            section, blank = (layer in layers for layer in FOLDS)
            speaker = self.voice.speaker
            folds = section or blank
            legend = fold_legend(section, blank, WIDE, speaker) if folds else legend_of(layers, WIDE, speaker)
            self.made[layers] = (legend.height + 4.0, to_svg(legend))
        return self.made[layers]
