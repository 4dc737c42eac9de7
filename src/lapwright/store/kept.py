"""A job as the shelf hands it out, and what the shelf raises."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from lapwright.errors import LapwrightError

ONE_GO = timedelta(seconds=2)
"""Saves of the same thing closer together than this are one step back for undo (typing "88 1/2")."""


class NoSuchJob(LapwrightError):
    """No job, or no state of it, by that name."""


class Stale(LapwrightError):
    """The job was changed since. Nothing was changed by this call, and neither text is lost.

    Args:
        now: How the job stands.
        sent: The text that was to be saved; None for a move (undo, redo, remove).
    """

    def __init__(self, now: Kept, sent: str | None = None) -> None:
        super().__init__("store.stale", name=now.name)
        self.now, self.sent = now, sent


class NotSaved(LapwrightError):
    """The disk refused (`why`); the job is as it was."""


class Unfit(LapwrightError):
    """A text that cannot be kept as it is: too long, or no text."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A job as it stands, or as it stood at one of its revisions.

    Attributes:
        id: Its name on the shelf, never used again.
        name: What its text calls it.
        revision: Which of its states this is, from 1; a state never changes.
        text: The job file.
        can_undo: Is there a state to go back to?
        can_redo: Was something undone that can be done again?
        changed: When the job came to stand there; for an old state, when it was saved (ISO, UTC).
    """

    id: str
    name: str
    revision: int
    text: str
    can_undo: bool
    can_redo: bool
    changed: str


@dataclass(frozen=True, slots=True)
class Past:
    """One line of a job's history.

    Attributes:
        revision: Which state.
        label: What was done: a key of words/, after it perhaps a blank and what it was done to.
        at: When (ISO, UTC).
        name: What the job was called then.
        is_now: Does the job stand there?
        passing: Was it left within ONE_GO for the next state of the same change (half-typed)?
    """

    revision: int
    label: str
    at: str
    name: str
    is_now: bool
    passing: bool
