"""What a person reads on the terminal after `plan`: the job, the findings, where the packet is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table
from rich.text import Text

from lapwright.units import show_pitch
from lapwright.verbs.plan import Planned
from lapwright.words import Speaker

STYLES = {"stop": "bold red", "caution": "yellow", "note": ""}


def show(planned: Planned, folder: Path) -> None:
    """Print the summary of a planned job whose packet stands in `folder`."""
    # No markup and no guessing at colours: names and sentences are the user's text.
    console = Console(markup=False, highlight=False, emoji=False)
    speaker = Speaker(planned.unit)
    record = planned.record
    roof = record["roof"]
    console.print(Text(_line(record["job"]["name"]), style="bold"))
    console.print(
        speaker.say(
            "cli.summary.roof", eave=roof["eave"], slope=roof["slope"], pitch=show_pitch(roof["rise"])
        )
    )
    console.print(speaker.say("cli.summary.counts", **_counts(record)))
    console.print()
    verdict = "stop" if planned.stopped else "clear"
    console.print(speaker.say(f"cli.summary.{verdict}"), style=STYLES["stop"] if planned.stopped else "")
    console.print(_findings(record["findings"], speaker) if record["findings"] else speaker.say("cli.summary.none"))
    where = "stamped" if planned.stopped else "packet"
    # One line whatever its length: a folder's name is copied from here.
    console.print(speaker.say(f"cli.summary.{where}", folder=folder), soft_wrap=True)


def _counts(record: Any) -> dict[str, int]:
    return {name: len(record[name]) for name in ("openings", "ribs", "panels", "pieces")}


def _findings(rows: list[dict[str, Any]], speaker: Speaker) -> Table:
    """The findings, STOP first, each with its rule so that `explain` can be asked."""
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    for heading in ("level", "where", "says", "measured", "limit", "source"):
        table.add_column(speaker.say(f"cli.summary.{heading}"), ratio=3 if heading == "says" else None)
    for row in sorted(rows, key=lambda r: list(STYLES).index(r["level"])):
        table.add_row(
            Text(speaker.say(f"cli.level.{row['level']}"), style=STYLES[row["level"]]),
            _line(row["where"]),
            f"{_line(row['says'])} [{row['rule']}]",
            _measure(row["measured"], row["unit"], speaker),
            _measure(row["limit"], row["unit"], speaker),
            f"{row['source']} {row['edition'].replace('-', '')}".strip(),
        )
    return table


def _measure(value: float | None, unit: str, speaker: Speaker) -> str:
    if value is None:
        return ""
    if unit == "in":
        return speaker.length(value)
    if unit == "deg":
        return f"{value:.1f}\N{DEGREE SIGN}"
    return f"{value:g} {unit}".strip()


def _line(text: str) -> str:
    """A user's own text without the characters that would steer a terminal."""
    return "".join(c if c.isprintable() else " " for c in text)
