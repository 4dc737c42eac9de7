"""`nest` and `cut`: the shop's two lists in, what lies where out. Works without a job file."""

from __future__ import annotations

import json as text_of
import sys
from collections.abc import Collection
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal, NoReturn

import typer

from lapwright.cli.refusal import refuse, refusing
from lapwright.errors import LapwrightError
from lapwright.words import Speaker

if TYPE_CHECKING:
    from lapwright.verbs.cut import CutUp
    from lapwright.verbs.lists import BadLists
    from lapwright.verbs.nest import Nested

NOT_ALL = 3

_say = Speaker().say


class Unit(Enum):
    """What a bare number means."""

    inches = "in"
    mm = "mm"


_Parts = Annotated[Path, typer.Argument(metavar="JOB.toml|PARTS.csv", help=_say("nest.help.parts"))]
_Lengths = Annotated[Path, typer.Argument(metavar="PARTS.csv", help=_say("nest.help.lengths"))]
_Bars = Annotated[Path, typer.Option(metavar="STOCK.csv", help=_say("nest.help.bars"))]
_Unit = Annotated[Unit, typer.Option(help=_say("nest.help.unit"))]
_Seconds = Annotated[float | None, typer.Option(min=0.1, max=3600.0, help=_say("nest.help.seconds"))]
_Json = Annotated[bool, typer.Option("--json", help=_say("nest.help.json"))]


def register(app: typer.Typer) -> None:
    """Add the shop's verbs to the program."""
    app.command(help=_say("nest.help.nest"))(nest)
    app.command(help=_say("nest.help.cut"))(cut)


def nest(
    parts: _Parts,
    stock: Annotated[Path | None, typer.Option(metavar="STOCK.csv", help=_say("nest.help.stock"))] = None,
    guillotine: Annotated[bool, typer.Option("--guillotine", help=_say("nest.help.guillotine"))] = False,
    unit: Annotated[Unit | None, typer.Option(help=_say("nest.help.unit"))] = None,
    seconds: _Seconds = None,
    exact: Annotated[bool, typer.Option("--exact", help=_say("nest.help.exact"))] = False,
    json: _Json = False,
    out: Annotated[Path | None, typer.Option(metavar="DIR", help=_say("nest.help.out"))] = None,
) -> None:
    """Place rectangles on stock."""
    if parts.suffix.lower() == ".toml":
        if exact or stock is not None or guillotine or unit is not None:
            _stop("nest.exact_job" if exact else "nest.job_no_stock")
        _nest_job(parts, seconds, json, out)
    if stock is None or out is not None:
        _stop("nest.list_no_stock" if stock is None else "nest.list_no_out")
    _nest_lists(parts, stock, guillotine, unit or Unit.inches, seconds, exact, json)


def _nest_job(path: Path, seconds: float | None, json: bool, out: Path | None) -> NoReturn:
    from lapwright.verbs import nest_job as verb

    with refusing(out):
        done = verb.nest_job_file(path, seconds=seconds)
        if out is not None:
            verb.hand_over(done, out)
    if json:
        _print_json(verb.as_json(done))
    else:
        for line in verb.told(done):
            typer.echo(line)
        if out is not None:
            typer.echo(_say("nest.show.written", folder=str(out)))
    raise typer.Exit(0 if done.complete and not done.stopped else NOT_ALL)


def _nest_lists(
    parts: Path, stock: Path, guillotine: bool, unit: Unit, seconds: float | None, exact: bool, json: bool
) -> NoReturn:
    from lapwright.verbs import nest as verb
    from lapwright.verbs.lists import BadLists

    try:
        done = verb.nest_lists(parts, stock, guillotine=guillotine, unit=_unit(unit), seconds=seconds, exact=exact)
    except BadLists as bad:
        _refuse(bad, unit)
    except LapwrightError as refusal:
        refuse(refusal.said(Speaker(unit.value)))
    if json:
        _print_json(verb.as_json(done))
    else:
        _show_nest(done, guillotine)
    raise typer.Exit(0 if done.complete else NOT_ALL)


def cut(
    parts: _Lengths, stock: _Bars, unit: _Unit = Unit.inches, seconds: _Seconds = None, json: _Json = False
) -> None:
    """Cut lengths from bars."""
    from lapwright.verbs import cut as verb
    from lapwright.verbs.lists import BadLists

    try:
        done = verb.cut_lists(parts, stock, unit=_unit(unit), seconds=seconds)
    except BadLists as bad:
        _refuse(bad, unit)
    if json:
        _print_json(verb.as_json(done))
    else:
        _show_cut(done)
    raise typer.Exit(0 if done.complete else NOT_ALL)


def _unit(unit: Unit) -> Literal["in", "mm"]:
    return "mm" if unit is Unit.mm else "in"


def _refuse(bad: BadLists, unit: Unit) -> NoReturn:
    refuse(*bad.lines(Speaker(unit.value)))


def _stop(key: str) -> NoReturn:
    refuse(_say(key))


def _print_json(answer: dict[str, Any]) -> None:
    sys.stdout.write(text_of.dumps(answer, indent=1, ensure_ascii=False) + "\n")


def _show_nest(done: Nested, guillotine: bool) -> None:
    say = Speaker(done.unit).say
    for n, (sheet, cuts) in enumerate(zip(done.nest.sheets, done.cuts, strict=True), 1):
        stock = sheet.stock
        size = {"width": stock.width, "height": stock.height, "used": sheet.used_height}
        typer.echo(say("nest.show.sheet", n=n, stock=stock.id, **size))
        for p in sheet.placed:
            key = "nest.show.part_turned" if p.turned else "nest.show.part"
            typer.echo(say(key, id=p.id, width=p.width, height=p.height, x=p.x, y=p.y))
        if guillotine and cuts is not None:
            for c in cuts.cuts:
                typer.echo(say(f"nest.show.cut_{c.way}", n=c.n, at=c.at, start=c.start, end=c.end))
            for o in cuts.offcuts:
                typer.echo(say("nest.show.offcut", width=o.width, height=o.height))
    _show_end(done.nest, bool(done.nest.sheets), Speaker(done.unit), done.turn_fits)


def _show_cut(done: CutUp) -> None:
    say = Speaker(done.unit).say
    for n, bar in enumerate(done.cutting.bars, 1):
        pieces = ", ".join(bar.pieces)
        typer.echo(
            say("nest.show.bar", n=n, stock=bar.stock.id, length=bar.stock.length, pieces=pieces, left=bar.left)
        )
    _show_end(done.cutting, bool(done.cutting.bars), Speaker(done.unit))


def _show_end(answer: Any, any_placed: bool, speaker: Speaker, turn_fits: Collection[str] = ()) -> None:
    """What is missing, what it comes to, and whether that is proved."""
    for key, count in answer.unplaced:
        said = "nest.show.unplaced_turn" if key in turn_fits else "nest.show.unplaced"
        typer.echo(speaker.say(said, id=key, quantity=count))
    if not any_placed:
        typer.echo(speaker.say("nest.show.none"))
        return
    typer.echo(speaker.say(f"nest.show.{answer.bound_of}", value=answer.value, bound=answer.bound))
    typer.echo(speaker.say("nest.show.proved" if answer.proved else "nest.show.open"))
