"""A starter job file: an invented roof with every field explained beside it."""

from __future__ import annotations

from typing import Any, Literal

from lapwright.site.fields import LISTS, NEEDED, TABLES, Field, fields_of
from lapwright.words import Speaker

# An invented roof; no building has these measures. Written as a user of that unit would.
_SAMPLE: dict[Literal["in", "mm"], dict[str, str]] = {
    "in": {
        "job.name": '"Invented roof"', "job.units": '"in"',
        "roof.pitch": '"7:12"', "roof.eave": "\"20' 6\"", "roof.slope": "\"15' 4\"",
        "panel.seam": '"snap"', "panel.coverage": "16", "panel.rib_height": '"1 3/4"',
        "panel.first_rib": "7",
        "opening.name": '"stove chimney"', "opening.kind": '"masonry-chimney"',
        "opening.left": "\"7' 8 1/2\"", "opening.up": "\"5' 2\"", "opening.width": "21",
        "opening.length": "27", "opening.height": "48",
        "tool.name": '"my folder"', "tool.like": '"straight-folder"',
        "stock.name": '"sheet on the rack"', "stock.metal": '"steel-24"',
        "stock.width": "48", "stock.length": "120",
    },
    "mm": {
        "job.name": '"Invented roof"', "job.units": '"mm"',
        "roof.pitch": '"30 deg"', "roof.eave": "6400", "roof.slope": "4700",
        "panel.seam": '"double-fold"', "panel.coverage": "430", "panel.rib_height": "25",
        "panel.first_rib": "180",
        "opening.name": '"stove chimney"', "opening.kind": '"masonry-chimney"',
        "opening.left": "2475", "opening.up": "1575", "opening.width": "570",
        "opening.length": "690", "opening.height": "1200",
        "tool.name": '"my folder"', "tool.like": '"straight-folder"',
        "stock.name": '"sheet on the rack"', "stock.metal": '"steel-24"',
        "stock.width": "1000", "stock.length": "2000",
    },
}  # fmt: skip
_PLANNED = [table for table in TABLES if table not in ("defaults", "deviation")]
_LEFT_OUT = ("tool", "stock")
"""Tables a job can do without: each stands commented out as a whole."""
_COMMENT_AT = 30


def starter_job(unit: Literal["in", "mm"] = "in") -> str:
    """Write a starter job file that can be planned as it stands, each field explained beside it.

    Args:
        unit: The job's unit; the sample's lengths are written in it.

    Returns:
        TOML text that read_job accepts; fields left at their default are commented out.
    """
    speaker = Speaker(unit)
    example = "\"7' 4 1/2\"" if unit == "in" else '"1612 mm"'
    said = [speaker.say(f"site.starter.{key}", example=example) for key in ("intro", "lengths", "optional")]
    lines = [f"# {line}" for line in said]
    for table in (*_PLANNED, "defaults"):
        lines += ["", f"# {speaker.say(f'site.table.{table}')}"]
        if table == "defaults":
            lines.append(f"# {speaker.say('site.starter.measures')}")
        away = "# " if table in _LEFT_OUT else ""
        lines.append(away + (f"[[{table}]]" if table in LISTS else f"[{table}]"))
        rows = (row for row in fields_of(table).values() if row.table == table and row.kind != "later")
        lines += [_line(row, unit, speaker, away) for row in rows if not row.kinds or "curb" in row.kinds]
    return "\n".join(lines) + "\n"


def _line(row: Field, unit: Literal["in", "mm"], speaker: Speaker, away: str = "") -> str:
    sample = _SAMPLE[unit].get(f"{row.table}.{row.name}")
    assert sample or row.default is not NEEDED, row
    start = f"{away}{row.name} = {sample}" if sample else f"# {row.name} = {_default(row, unit)}"
    return f"{start:<{_COMMENT_AT}}# {_about(row, speaker)}".rstrip()


def _about(row: Field, speaker: Speaker) -> str:
    about = speaker.say(f"{row.words}.help")
    if row.choices or row.name == "metal":  # every metal once is enough
        about += ": " + " | ".join(row.allowed())
    elif row.kind == "length":
        about += ", " + speaker.say("site.starter.range", low=float(row.low), high=float(row.high))
    elif row.kind == "number":
        about += f", {row.unit}"
    return about


def _default(row: Field, unit: Literal["in", "mm"]) -> str:
    """The default as it would be typed; nothing for one that is worked out from the job."""
    value: Any = row.default
    if value is None or value == "":
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    if row.kind == "length" and unit == "mm":
        value = round(value * 25.4, 3)
    return f"{value:.6g}"
