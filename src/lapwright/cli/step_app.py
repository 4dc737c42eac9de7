"""`step`: a job file in, STEP files of the folded pieces out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from lapwright.cli.refusal import DO_NOT_CUT, refusing
from lapwright.words import Speaker

_say = Speaker().say


def register(app: typer.Typer) -> None:
    """Add the verb to the program."""
    app.command(help=_say("solid.help.step"))(step)


def step(
    job: Annotated[Path, typer.Argument(metavar="JOB.toml", help=_say("cli.help.job"))],
    out: Annotated[Path | None, typer.Option(metavar="DIR", help=_say("solid.help.out"))] = None,
    piece: Annotated[str | None, typer.Option(metavar="ID", help=_say("solid.help.piece"))] = None,
) -> None:
    """Write STEP files of the folded pieces."""
    from lapwright.verbs import step as verb

    folder = out or verb.step_folder(job)
    with refusing(folder):
        made = verb.step_file(job, piece)
        verb.hand_over(made, folder)
    for line in verb.told(made, folder):
        typer.echo(line)
    raise typer.Exit(DO_NOT_CUT if made.job.stopped else 0)
