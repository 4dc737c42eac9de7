"""What a person reads on the terminal after `plan`: the job, the findings, where the packet is."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table
from rich.text import Text

from lapwright.units import show_pitch
from lapwright.verbs.plan import Planned, Said
from lapwright.words import Speaker

STYLES = {"stop": "bold red", "caution": "yellow", "note": ""}
WIDTHS = {"where": 2, "says": 5, "source": 3}
"""The columns that share what room the short ones leave, and their shares."""


def show(planned: Planned, folder: Path) -> None:
    """Print the summary of a planned job whose packet stands in `folder`."""
    # No markup and no guessing at colours: names and sentences are the user's text.
    console = Console(markup=False, highlight=False, emoji=False)
    site, job = planned.job.site, planned.job
    say = Speaker(site.units).say
    console.print(_line(site.name), style="bold")
    console.print(
        say("cli.summary.roof", eave=site.roof.eave, slope=site.roof.slope, pitch=show_pitch(site.roof.rise))
    )
    console.print(
        say(
            "cli.summary.counts",
            openings=len(site.openings),
            ribs=len(job.layout.ribs),
            panels=len(job.panels),
            pieces=len(job.pieces),
        )
    )
    console.print()
    verdict = "stop" if planned.stopped else "clear" if planned.findings else "none"
    console.print(say(f"cli.summary.{verdict}"), style=STYLES["stop"] if planned.stopped else "")
    if planned.findings:
        console.print(_table(planned.findings, say))
    # One line whatever its length: a folder's name is copied from here.
    where = "stamped" if planned.stopped else "packet"
    console.print(say(f"cli.summary.{where}", folder=folder), soft_wrap=True)


def _table(findings: tuple[Said, ...], say: Callable[..., str]) -> Table:
    """The findings, each with its rule so that `explain` can be asked."""
    table = Table(box=SIMPLE_HEAD, pad_edge=False, expand=True)
    for heading in ("level", "where", "says", "yours", "limit", "source"):
        table.add_column(say(f"cli.summary.{heading}"), ratio=WIDTHS.get(heading))
    for f in findings:
        table.add_row(
            Text(say(f"cli.level.{f.level}"), style=STYLES[f.level]),
            _line(f.where),
            f"{_line(f.says)} ({f.rule})",
            f.yours,
            f.limit,
            f.source,
        )
    return table


def _line(text: str) -> str:
    """A user's own text without the characters that would steer a terminal."""
    return "".join(c if c.isprintable() else " " for c in text)
