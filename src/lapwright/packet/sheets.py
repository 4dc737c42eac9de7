"""The CSV sheets, safe to open in a spreadsheet.

Lengths are decimals, never fractions (a spreadsheet makes 3/4 a date); the unit stands in the header. A
cell of text that a spreadsheet would run as a formula, or read as a date, gets an apostrophe before it.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence

from lapwright.packet.drawings import new_panels
from lapwright.packet.say import METRIC, Voice
from lapwright.packet.worked import WorkedJob
from lapwright.shop.cutlist import CutRow, cut_list
from lapwright.words import Speaker

Cell = str | int | float

STARTS = "=+-@\t\r\n\uff1d\uff0b\uff0d\uff20"
"""A cell that starts so is run as a formula by some spreadsheet; the last four are full-width forms."""

_DATE_LIKE = re.compile(r"\d+\s*[/.-]\s*\d+(\s*[/.-]\s*\d+)?")


def cutlist_csv(job: WorkedJob) -> bytes:
    """One row per blank, in the job's unit."""
    voice = Voice(Speaker(job.site.units))
    unit = job.site.units
    weight = "lb" if unit == "in" else "kg"
    header = [
        "id", "name", "opening", "quantity", "metal", f"thickness_{unit}", f"blank_width_{unit}",
        f"blank_height_{unit}", "bends", "slits", f"weight_each_{weight}",
    ]  # fmt: skip
    rows = cut_list(job.site.panel.metal, job.pieces, new_panels(job))
    return to_csv([header, *(_cut_cells(r, voice) for r in rows)])


def _cut_cells(r: CutRow, voice: Voice) -> list[Cell]:
    metric = voice.speaker.unit == "mm"
    scale, places = (25.4, 2) if metric else (1.0, 4)
    weight = r.weight_lb * (METRIC["lb"][1] if metric else 1.0)
    lengths = [round(x * scale, places) for x in (r.thickness, r.width, r.height)]
    name = voice.name(r.name)
    words: list[Cell] = [r.id, name, r.opening, r.quantity, voice.metal(r.metal)]
    return [*words, *lengths, r.bends, r.slits, round(weight, 2)]


def takeoff_csv(job: WorkedJob) -> bytes:
    """One row per line to buy, in the job's units."""
    voice = Voice(Speaker(job.site.units))
    rows: list[list[Cell]] = [["item", "quantity", "unit", "basis"]]
    for line in job.takeoff:
        quantity, unit = voice.bought(line.quantity, line.unit)
        item, basis = voice.say(line.item, line.values), voice.say(line.basis, line.values)
        rows.append([item, round(quantity, 2), unit, basis])
    return to_csv(rows)


def to_csv(rows: Iterable[Sequence[Cell]]) -> bytes:
    """Rows as RFC 4180 asks: comma, double quotes where needed, CR LF. UTF-8.

    Source: RFC 4180, 2005.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerows([safe(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8", errors="replace")


def safe(cell: Cell) -> str:
    """A cell that stays what it is: numbers plain, text never a formula and never a date."""
    if not isinstance(cell, str):
        return str(cell) if isinstance(cell, int) else _decimal(cell)
    text = "".join(" " if c in "\r\n\0" else c for c in cell)
    bare = text.lstrip()
    risky = bool(bare) and (bare[0] in STARTS or _DATE_LIKE.fullmatch(bare.rstrip()) is not None)
    return f"'{text}" if risky else text


def _decimal(value: float) -> str:
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
