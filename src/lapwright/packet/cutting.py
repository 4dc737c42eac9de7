"""The cutting plan in the packet: what plan.json says of every sheet, and the cuts as the pages list them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from lapwright.draw.nest import cut_rows, sheet_title
from lapwright.shop.nest.job import JobSheet, Lying
from lapwright.words import Speaker


def cutting_record(sheets: Sequence[JobSheet]) -> list[dict[str, Any]]:
    """Every sheet as it is cut; x across the stock, y along it, from its lower left corner. [in], [deg]

    cuts: in order; None where only free cuts take the sheet apart. share: of the metal taken that becomes blanks.
    """
    return [{"sheet": n, **_sheet(s)} for n, s in enumerate(sheets, 1)]


def _sheet(s: JobSheet) -> dict[str, Any]:
    return {
        "metal": s.metal,
        "stock": s.stock.id,
        "form": s.row.form,
        "at_hand": s.row.at_hand,
        "width": s.stock.width,
        "length": s.taken,
        "price": s.price,
        "share": s.share,
        "placed": [_placed(x) for x in s.lying],
        "cuts": None if s.plan is None else [
            {"n": c.n, "way": c.way, "at": c.at, "from": c.start, "to": c.end} for c in s.plan.cuts
        ],
        "offcuts": [{"x": o.x, "y": o.y, "width": o.width, "length": o.height} for o in s.offcuts()],
    }  # fmt: skip


def _placed(x: Lying) -> dict[str, Any]:
    """A blank: the rectangle it takes, and how far it is turned from how its own drawing shows it."""
    (x0, y0), (x1, y1) = x.corners()
    turned = (x.lean.angle_deg + 90.0 * x.lie.quarter) % 360.0
    return {"id": x.id, "x": x0, "y": y0, "width": x1 - x0, "length": y1 - y0, "turned_deg": turned}


def cut_lists(sheets: Sequence[JobSheet], speaker: Speaker) -> list[dict[str, Any]]:
    """For each sheet that straight cuts take apart, its name and its cuts in order."""
    listed = ((sheet_title(n, s, speaker), cut_rows(s, speaker)) for n, s in enumerate(sheets, 1))
    return [{"title": title, "rows": [list(row) for row in rows]} for title, rows in listed if rows]
