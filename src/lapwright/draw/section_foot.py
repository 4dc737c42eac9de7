"""The foot of a section's sheet: a sample of everything that is drawn, then sentences."""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.draw.display import Fill, Text, oriented, text_width
from lapwright.draw.section_view import BEAD, HEAD, TAPE_HALF, TAPE_LONG
from lapwright.draw.sheet import WIDTH, Sheet
from lapwright.words import Speaker

SAMPLE, ROW = 26.0, 12.0
FILLS: dict[str, Fill] = {"wall": "hatch", "deck": "dots", "open": "dots"}


def foot_height(keys: Sequence[str], rows: Sequence[str], speaker: Speaker) -> float:
    """Room the foot needs. [pt]"""
    return 11.0 + ROW * (_lines(keys, speaker) + len(rows))


def write_foot(sheet: Sheet, keys: Sequence[str], rows: Sequence[str], speaker: Speaker) -> None:
    """Write it at the sheet's lower edge. keys: layers and marks, each a phrase `sections.legend.<key>`."""
    sheet.crowd.low, sheet.crowd.high = (1.0, 1.0), (sheet.width - 1, sheet.height - 1)
    columns, lines = _columns(keys, speaker), _lines(keys, speaker)
    y = 3.0 + ROW * (lines + len(rows))
    sheet.line((0.0, y + 4), (sheet.width, y + 4), "table")
    for i, key in enumerate(keys):
        x, here = (i % columns) * sheet.width / columns + 3.0, y - ROW * (i // columns) - ROW / 2
        _sample(sheet, key, x, here)
        sheet.text(Text((x + SAMPLE + 5, here), _name(key, speaker), "text", 8.0))
    for j, row in enumerate(rows):
        sheet.text(Text((3.0, y - ROW * (lines + j) - ROW / 2), row, "text", 8.0))


def _name(key: str, speaker: Speaker) -> str:
    return speaker.say(f"sections.legend.{key.replace('-', '_')}")


def _columns(keys: Sequence[str], speaker: Speaker) -> int:
    longest = max(text_width(_name(k, speaker), 8.0) for k in keys) + SAMPLE + 14
    return max(1, min(len(keys), int(WIDTH / longest)))


def _lines(keys: Sequence[str], speaker: Speaker) -> int:
    return -(-len(keys) // _columns(keys, speaker))


def _sample(sheet: Sheet, key: str, x: float, y: float) -> None:
    middle = (x + SAMPLE / 2, y)
    if key in FILLS:
        box = ((x, y - 4), (x + SAMPLE, y - 4), (x + SAMPLE, y + 4), (x, y + 4))
        sheet.ring(box, "deck", FILLS[key])
    elif key == "bead":
        sheet.circle(middle, BEAD, "bead", "ink")
    elif key == "tape":
        sheet.ring(oriented(middle, 0.0, -TAPE_LONG / 2, TAPE_LONG / 2, TAPE_HALF), "tape", "ink")
    elif key == "screw":
        sheet.line((middle[0] - HEAD, y + 3), (middle[0] + HEAD, y + 3), "screw")
        sheet.line((middle[0], y + 3), (middle[0], y - 4), "shank")
    else:
        sheet.line((x, y), (x + SAMPLE, y), key)
