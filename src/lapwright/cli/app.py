"""The commands. Each fetches its verb when it is asked for, so that --help stays quick."""

from __future__ import annotations

import sys
from enum import Enum
from pathlib import Path
from typing import Annotated

import typer

from lapwright import __version__
from lapwright.cli import price_app, serve, shop_app, step_app
from lapwright.cli.refusal import DO_NOT_CUT, NOT_ALL_PASS, refusing, write_new
from lapwright.words import Speaker

_say = Speaker().say


class Paper(Enum):
    """What a packet is printed on."""

    letter = "letter"
    a4 = "a4"
    both = "both"


app = typer.Typer(
    help=_say("cli.help.program"),
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"lapwright {__version__}")
        raise typer.Exit


@app.callback()
def _program(
    version: Annotated[
        bool, typer.Option("--version", help=_say("cli.help.version"), callback=_version, is_eager=True)
    ] = False,
) -> None:
    pass


@app.command(help=_say("cli.help.plan"))
def plan(
    job: Annotated[Path, typer.Argument(metavar="JOB.toml", help=_say("cli.help.job"))],
    out: Annotated[Path | None, typer.Option(metavar="DIR", help=_say("cli.help.out"))] = None,
    json: Annotated[bool, typer.Option("--json", help=_say("cli.help.json"))] = False,
    paper: Annotated[Paper | None, typer.Option("--paper", help=_say("cli.help.paper"))] = None,
    rates: price_app.Rates = None,
) -> None:
    """Plan a job: write its packet, print a summary and the findings."""
    from lapwright.verbs import plan as verb

    folder = out or verb.packet_folder(job)
    with refusing(folder):
        planned = verb.plan_file(job, None if paper is None else paper.value, rates)
        verb.hand_over(planned, folder)
    if json:
        sys.stdout.write(planned.files["plan.json"].decode("utf-8"))
    else:
        from lapwright.cli.summary import show

        show(planned, folder)
    raise typer.Exit(DO_NOT_CUT if planned.stopped else 0)


@app.command(help=_say("cli.help.compare"))
def compare(
    job: Annotated[Path, typer.Argument(metavar="JOB.toml", help=_say("cli.help.job"))],
    out: Annotated[Path | None, typer.Option(metavar="DIR", help=_say("cli.help.compare_out"))] = None,
    json: Annotated[bool, typer.Option("--json", help=_say("cli.help.compare_json"))] = False,
) -> None:
    """Set flat pan and cricket side by side for every opening."""
    from lapwright.verbs import compare as verb

    with refusing(out):
        compared = verb.compare_file(job)
        pictures = verb.hand_over(compared, out) if out is not None else ()
    if json:
        sys.stdout.write(compared.to_json())
    else:
        from lapwright.cli.side_by_side import show

        show(compared, pictures)
    raise typer.Exit(DO_NOT_CUT if compared.stopped else 0)


@app.command(help=_say("cli.help.leaks"))
def leaks(
    job: Annotated[Path, typer.Argument(metavar="JOB.toml", help=_say("cli.help.job"))],
    without: Annotated[
        str | None, typer.Option("--without", metavar="SEAM", help=_say("cli.help.leaks_without"))
    ] = None,
    json: Annotated[bool, typer.Option("--json", help=_say("cli.help.leaks_json"))] = False,
    out: Annotated[Path | None, typer.Option(metavar="DIR", help=_say("cli.help.leaks_out"))] = None,
) -> None:
    """Show where water would get in and what each seam is there for."""
    from lapwright.cli.told import show_json, show_lines
    from lapwright.verbs import leaks as verb

    with refusing(out):
        report = verb.leaks_file(job, without, out is not None)
        if out is not None:
            verb.hand_over(report, out)
    show_json(report.record) if json else show_lines(report.lines)
    raise typer.Exit(DO_NOT_CUT if report.stopped else 0)


@app.command(help=_say("cli.help.ribs"))
def ribs(
    job: Annotated[Path, typer.Argument(metavar="JOB.toml", help=_say("cli.help.job"))],
    json: Annotated[bool, typer.Option("--json", help=_say("cli.help.ribs_json"))] = False,
    out: Annotated[Path | None, typer.Option(metavar="FILE.svg", help=_say("cli.help.ribs_out"))] = None,
) -> None:
    """Show where the first rib goes and what every other start would cost."""
    from lapwright.cli.told import show_json, show_lines
    from lapwright.verbs.ribs import ribs_file

    with refusing(out):
        report = ribs_file(job)
        if out is not None:
            out.write_text(report.svg, encoding="utf-8", newline="\n")
    show_json(report.record) if json else show_lines(report.lines)


@app.command(help=_say("cli.help.water"))
def water(
    job: Annotated[Path, typer.Argument(metavar="JOB.toml", help=_say("cli.help.job"))],
    json: Annotated[bool, typer.Option("--json", help=_say("cli.help.water_json"))] = False,
) -> None:
    """Show how deep water stands behind every opening."""
    from lapwright.cli.told import show_json, show_lines
    from lapwright.verbs.water import water_file

    with refusing():
        report = water_file(job)
    show_json(report.record) if json else show_lines(report.lines)


@app.command(help=_say("bending.help.bend"))
def bend(
    job: Annotated[Path, typer.Argument(metavar="JOB.toml", help=_say("cli.help.job"))],
    piece: Annotated[str | None, typer.Option("--piece", metavar="ID", help=_say("bending.help.piece"))] = None,
    json: Annotated[bool, typer.Option("--json", help=_say("bending.help.json"))] = False,
) -> None:
    """Show in which order every piece is folded."""
    from lapwright.cli.told import show_json, show_lines
    from lapwright.verbs.bend import bend_file

    with refusing():
        report = bend_file(job, piece)
    show_json(report.record) if json else show_lines(report.lines)
    raise typer.Exit(DO_NOT_CUT if report.stopped else 0)


@app.command(help=_say("cli.help.new"))
def new(
    file: Annotated[Path | None, typer.Argument(metavar="[FILE]", help=_say("cli.help.new_file"))] = None,
) -> None:
    """Print a commented starter job, or write it to a file that does not exist yet."""
    from lapwright.verbs.new import starter_job

    write_new(file, starter_job(), "cli.new.written")


@app.command(help=_say("cli.help.explain"))
def explain(rule: Annotated[str, typer.Argument(metavar="RULE", help=_say("cli.help.rule"))]) -> None:
    """Print a rule: what it asks, where it comes from, what mends it."""
    from lapwright.cli.rule_pages import show_rule
    from lapwright.verbs.explain import explain as verb

    with refusing():
        explained = verb(rule)
    show_rule(explained)


@app.command(help=_say("cli.help.rules"))
def rules(
    check: Annotated[bool, typer.Option("--check", help=_say("cli.help.check"))] = False,
) -> None:
    """List every rule with its source, or compute the published checks again."""
    from lapwright.cli.rule_pages import show_check, show_rules
    from lapwright.verbs import rules as verb

    if not check:
        show_rules(verb.list_rules())
        return
    report = verb.check_published()
    show_check(report)
    raise typer.Exit(0 if report.all_pass else NOT_ALL_PASS)


shop_app.register(app)
price_app.register(app)
serve.register(app)
step_app.register(app)
