"""What a person reads on the terminal after `compare`: a table of both ways for every opening."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table
from rich.text import Text

from lapwright.cli.summary import STYLES
from lapwright.verbs.compare import Comparison, Pair, Side, weighed
from lapwright.words import Speaker


def show(compared: Comparison, pictures: Iterable[Path]) -> None:
    """Print a table for every opening, then where the pictures are."""
    console = Console(markup=False, highlight=False, emoji=False)
    speaker = Speaker(compared.units)
    for pair in compared.pairs:
        o = pair.opening
        kind = speaker.say(f"draw.kind_{o.kind.replace('-', '_')}")
        title = speaker.say("compare.opening", opening=plain(o.name), kind=kind, width=o.width, length=o.length)
        console.print(title, style="bold")
        console.print(_table(pair, speaker))
    for place in pictures:
        console.print(speaker.say("compare.picture", file=place), soft_wrap=True)


def _table(pair: Pair, speaker: Speaker) -> Table:
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    table.add_column(speaker.say("compare.row.method"))
    for side in pair.sides:
        table.add_column(speaker.say(f"compare.{side.method}"), overflow="fold")
    for name, cell in ROWS.items():
        table.add_row(speaker.say(f"compare.row.{name}"), *(cell(side, speaker) for side in pair.sides))
    return table


def _drawn(show_it: Callable[[Side, Speaker], str]) -> Callable[[Side, Speaker], str]:
    """A cell that is a dash where nothing is drawn."""
    return lambda side, speaker: show_it(side, speaker) if side.drawn else speaker.say("compare.no-depth")


def _findings(side: Side, speaker: Speaker) -> Text:
    out = Text()
    for n, f in enumerate(side.findings):
        out.append("\n" if n else "")
        out.append(speaker.say(f"cli.level.{f.level}"), style=STYLES[f.level])
        out.append(f" {f.rule}")
    return out


ROWS: dict[str, Callable[[Side, Speaker], str | Text]] = {
    "planned": lambda side, speaker: speaker.say(f"compare.word.{'yes' if side.planned else 'no'}"),
    "drawn": lambda side, speaker: speaker.say("compare.word.yes") if side.drawn else side.why,
    "area": _drawn(lambda side, speaker: speaker.say("compare.area", area=side.area)),
    "weight": _drawn(lambda side, speaker: weighed(side.weight_lb, speaker)),
    "tubes": _drawn(lambda side, _: str(side.tubes)),
    "pieces": _drawn(lambda side, _: str(side.pieces)),
    "cuts": _drawn(lambda side, _: str(side.cuts)),
    "bends": _drawn(lambda side, _: str(side.bends)),
    "hours": _drawn(lambda side, speaker: speaker.say("compare.hours", hours=side.hours)),
    "depth": _drawn(lambda side, speaker: speaker.say("compare.depth", depth=side.depth or 0.0)),
    "findings": _findings,
}


def plain(text: str) -> str:
    """A user's own text without the characters that would steer a terminal."""
    return "".join(c if c.isprintable() else " " for c in text)
