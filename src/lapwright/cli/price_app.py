"""`price` and `rates`: what a job costs, and the prices and times that it rests on."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from lapwright.cli.refusal import DO_NOT_CUT, refusing, write_new
from lapwright.words import Speaker

_say = Speaker().say

Rates = Annotated[Path | None, typer.Option("--rates", metavar="FILE", help=_say("price.help.own_rates"))]
"""A shop's own rates, as `plan` and `price` take them."""


def register(app: typer.Typer) -> None:
    """Add these verbs to the program."""
    app.command(help=_say("price.help.price"))(price)
    app.command(help=_say("price.help.rates"))(rates)


def price(
    job: Annotated[Path, typer.Argument(metavar="JOB.toml", help=_say("cli.help.job"))],
    rates: Rates = None,
    json: Annotated[bool, typer.Option("--json", help=_say("price.help.json"))] = False,
) -> None:
    """Print the quote."""
    from lapwright.cli.told import show_json, show_lines
    from lapwright.verbs.price import price_file

    with refusing():
        priced = price_file(job, rates)
    show_json(priced.record) if json else show_lines(priced.lines)
    raise typer.Exit(DO_NOT_CUT if priced.stopped else 0)


def rates(out: Annotated[Path | None, typer.Option(metavar="FILE", help=_say("price.help.out"))] = None) -> None:
    """Print the packaged rates, or write them to a file that does not exist yet."""
    from lapwright.verbs.rates import packaged_text

    write_new(out, packaged_text(), "price.rates.written")
