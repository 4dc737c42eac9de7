"""`serve`: the page, on this machine, until Ctrl-C."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from lapwright.cli.refusal import refusing
from lapwright.words import Speaker

_say = Speaker().say


def register(app: typer.Typer) -> None:
    """Add `serve` to the program."""
    app.command(help=_say("cli.help.serve"))(serve)


def serve(
    port: Annotated[int, typer.Option(min=0, max=65535, help=_say("cli.help.serve_port"))] = 8765,
    data: Annotated[Path | None, typer.Option(metavar="DIR", help=_say("cli.help.serve_data"))] = None,
    open: Annotated[bool, typer.Option("--open", help=_say("cli.help.serve_open"))] = False,
    lan: Annotated[bool, typer.Option("--lan", help=_say("cli.help.serve_lan"))] = False,
) -> None:
    """Serve the page until Ctrl-C."""
    from lapwright.verbs.jobs import data_folder
    from lapwright.web.serve import Opened
    from lapwright.web.serve import serve as start

    def opened(page: Opened) -> None:
        for key in ("opened", *(("lan",) if lan else ()), "jobs", "stop"):
            typer.echo(_say(f"page.serve.{key}", address=page.address, folder=str(page.folder)))
        if open:
            import webbrowser

            webbrowser.open(page.address)

    with refusing():
        start(data or data_folder(), port, lan, opened)
