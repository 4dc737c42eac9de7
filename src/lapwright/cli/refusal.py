"""How a command leaves: the exit codes, and what is said when it cannot do what was asked."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NoReturn

import typer

from lapwright.errors import JobProblems, LapwrightError
from lapwright.words import Speaker

NOT_ALL_PASS = 1
REFUSED = 2
DO_NOT_CUT = 3


def refuse(*lines: str) -> NoReturn:
    """Say what is wrong, one line each, and leave; nothing was written."""
    for line in lines:
        typer.echo(line, err=True)
    raise typer.Exit(REFUSED)


@contextmanager
def refusing(out: Path | None = None) -> Iterator[None]:
    """Whatever a person must mend is said in lines, never as a traceback. out: what was to be written."""
    try:
        yield
    except JobProblems as problems:
        refuse(*problems.lines(Speaker(problems.unit)))
    except LapwrightError as refusal:
        refuse(refusal.said(Speaker()))
    except OSError as why:
        if out is None:
            raise
        refuse(Speaker().say("store.unwritten", folder=str(out), why=why.strerror or str(why)))


def write_new(file: Path | None, text: str, written: str) -> None:
    """Print a text, or write it to a file that does not exist yet. written: the phrase that says so."""
    if file is None:
        typer.echo(text, nl=False)
        return
    say = Speaker().say
    try:
        with open(file, "x", encoding="utf-8", newline="\n") as made:
            made.write(text)
    except FileExistsError:
        refuse(say("cli.new.exists", file=str(file)))
    except OSError as why:
        refuse(say("cli.new.unwritten", file=str(file), why=why.strerror or str(why)))
    typer.echo(say(written, file=str(file)))
