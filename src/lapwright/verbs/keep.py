"""Keep what is typed: one change to a job on the shelf, joined with what others changed meanwhile."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from lapwright.site.fields import LISTS
from lapwright.site.wrong import Path
from lapwright.store.shelf import Kept, Shelf, Stale
from lapwright.verbs.edit import add_row, copy_row, field_at, merge, remove_row, same_row, set_value
from lapwright.verbs.job_text import typed, value_at, values_of
from lapwright.words import Speaker

Move = Literal["add", "copy", "remove"]
TRIES = 20
"""How often a change is joined with newer ones before it is refused."""


def keep_value(shelf: Shelf, id: str, base: int, path: Path, entered: str) -> Kept:
    """Save what was typed into one field.

    Args:
        shelf: Where the job is.
        id: Which job.
        base: The revision that was on the page while it was typed.
        path: The field.
        entered: What was typed.

    Raises:
        Stale: that very value was changed meanwhile; carries how the job stands, and what was to be saved.
        JobProblems: the job file is no TOML, or would grow too long to be read.
        KeyError: no such field.
        NoSuchJob, NotSaved, Unfit: as the shelf.
    """
    label = _label(path)

    def joined(then: str, now: str) -> str | None:
        return set_value(now, path, entered) if then == now else merge(then, now, path, entered)

    return _keep(shelf, id, base, label, joined, lambda then: set_value(then, path, entered))


def keep_row(shelf: Shelf, id: str, base: int, move: Move, table: str, n: int = 0) -> Kept:
    """Add a row (an opening, a tool, a stock, a deviation), or copy or remove row `n` (from 0).

    Raises:
        Stale: row `n` may no longer be the one that was meant.
        KeyError: no such row.
        JobProblems, NoSuchJob, NotSaved, Unfit: as `keep_value`.
    """
    if table not in LISTS:
        raise KeyError(table)

    def moved(text: str) -> str:
        if move == "add":
            return add_row(text, table)
        return copy_row(text, table, n) if move == "copy" else remove_row(text, table, n)

    def joined(then: str, now: str) -> str | None:
        return moved(now) if move == "add" or then == now or same_row(then, now, (table, n)) else None

    what = "" if move == "add" else f" {_row_name(shelf.at(id, base).text, table, n)}"
    return _keep(shelf, id, base, f"page_form.did.{move}_{table}{what}", joined, moved)


def _keep(
    shelf: Shelf, id: str, base: int, label: str, joined: Callable[[str, str], str | None], sent: Callable[[str], str]
) -> Kept:
    """Save the edit over the newest text; when somebody is quicker, over theirs."""
    then = shelf.at(id, base).text
    for _ in range(TRIES):
        now = shelf.get(id)
        text = joined(then, now.text)
        if text is None:
            raise Stale(now, sent(then))
        try:
            return shelf.change(id, now.revision, text, label)
        except Stale:
            continue
    raise Stale(shelf.get(id), sent(then))


def _label(path: Path) -> str:
    """What was changed, for the job's history: `Eave`, or `Opening 2: Width`. Never what was typed, or undo
    could not take a figure back in one step."""
    speaker = Speaker()
    label = speaker.say(f"{field_at(path).words}.label")
    if len(path) == 2:
        return label
    table = "group_opening" if path[0] == "opening" else f"row_{path[0]}"
    return f"{speaker.say(f'page_form.{table}', n=int(path[1]) + 1)}: {label}"


def _row_name(text: str, table: str, n: int) -> str:
    return typed(value_at(values_of(text), (table, n, "name")))[:60]
