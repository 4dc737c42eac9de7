"""`step`: a job file in, STEP files of the folded pieces out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, NoReturn

import typer

from lapwright.errors import JobProblems, LapwrightError
from lapwright.words import Speaker

CANNOT_BE_PLANNED = 2
DO_NOT_CUT = 3

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
    try:
        made = verb.step_file(job, piece)
        verb.hand_over(made, folder)
    except JobProblems as problems:
        _refuse(*problems.lines(Speaker(problems.unit)))
    except LapwrightError as refusal:
        _refuse(refusal.said(Speaker()))
    except OSError as why:
        _refuse(_say("store.unwritten", folder=str(folder), why=why.strerror or str(why)))
    for line in verb.told(made, folder):
        typer.echo(line)
    raise typer.Exit(DO_NOT_CUT if made.job.stopped else 0)


def _refuse(*lines: str) -> NoReturn:
    for line in lines:
        typer.echo(line, err=True)
    raise typer.Exit(CANNOT_BE_PLANNED)
