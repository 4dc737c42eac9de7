"""What `explain` and `rules` print."""

from __future__ import annotations

from dataclasses import asdict

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table

from lapwright.verbs.explain import Explanation
from lapwright.verbs.rules import CheckReport, RuleRow
from lapwright.words import Speaker


def show_rule(rule: Explanation) -> None:
    """Print one rule: what it asks, why, what mends it, who says so."""
    say, console = Speaker().say, _console()
    console.print(f"{rule.name} ({rule.id}, {rule.level})", style="bold")
    page = Table.grid(padding=(0, 2))
    for part, text in asdict(rule).items():
        if part in ("asks", "why", "cure", "source"):
            page.add_row(say(f"cli.explain.{part}"), text)
    console.print(page)


def show_rules(rows: tuple[RuleRow, ...]) -> None:
    """Print every rule with its source: a table of three columns that fits a narrow terminal."""
    say = Speaker().say
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    for heading in ("rule", "asks", "source"):
        table.add_column(say(f"cli.rules.{heading}"), overflow="fold")
    for row in rows:
        told = [row.document, row.section, row.edition, row.seen]
        source = ", ".join(dict.fromkeys(part for part in told if part not in ("", "-")))
        table.add_row(f"{row.id} ({row.level})", row.asks, source)
    _console().print(table)


def show_check(report: CheckReport) -> None:
    """Print what does not agree with its source, then how many published checks there are and pass."""
    say, console = Speaker().say, _console()
    for result in report.failed:
        check = result.check
        console.print(
            say(
                "cli.rules.differs",
                id=check.id,
                what=check.what,
                expected=check.expected,
                got=result.got,
                source=check.source,
                section=check.section,
            ),
            soft_wrap=True,
        )
    console.print(say("cli.rules.recalled", count=len(report.recalled)), soft_wrap=True)
    console.print(say("cli.rules.checked", total=report.total, passed=report.passed))


def _console() -> Console:
    return Console(markup=False, highlight=False, emoji=False)
