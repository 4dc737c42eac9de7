"""A form: groups of fields in the order of the tape, each with what was typed and what came of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from lapwright.site.fields import FieldKind
from lapwright.site.model import Site
from lapwright.site.values import Unit
from lapwright.site.wrong import Path


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer of a field that has a few: as the file says it, and as a person reads it."""

    value: str
    label: str


@dataclass(frozen=True, slots=True)
class FormField:
    """A field of the form, with what was typed and what came of it.

    Attributes:
        typed: As it was typed; nothing when it is left out.
        echo: What was understood, in both units.
        error: What is wrong with it.
        wanted: It must be given and is not.
        unused: What is used when it is left out, in words; nothing when it may not be.
        default: The same as the file would say it, for a field with a few answers.
        shown: Does it belong here (a pipe has no width)?
        value: As read, lengths in inches; None when it is left out or wrong.
    """

    path: Path
    kind: FieldKind
    label: str
    help: str
    range: str
    unit: str
    unused: str
    default: str
    choices: tuple[Choice, ...]
    typed: str
    echo: str
    error: str
    wanted: bool
    shown: bool
    value: Any

    @property
    def id(self) -> str:
        """Its name on the page and, after `m-`, of its dimension in the drawing: opening-0-width."""
        return "-".join(str(part) for part in self.path)


@dataclass(frozen=True, slots=True)
class Group:
    """Fields that stand together. path: ("roof",), ("opening", 1). own: an opening's own flashing measures."""

    path: Path
    title: str
    fields: tuple[FormField, ...]
    own: tuple[FormField, ...] = ()

    @property
    def id(self) -> str:
        """Its name on the page."""
        return "-".join(str(part) for part in self.path)

    @property
    def given(self) -> int:
        """How many of its fields hold something."""
        return sum(1 for field in self.fields if field.typed)


@dataclass(frozen=True, slots=True)
class Form:
    """A job file as a form.

    Attributes:
        unit: The job's unit as far as it could be read.
        groups: In the order of the tape.
        problems: What is wrong and belongs to no field.
        site: The job as read, once nothing is wrong.
        broken: The file cannot be read at all; `problems` says why and there are no groups.
    """

    unit: Unit
    groups: tuple[Group, ...]
    problems: tuple[str, ...]
    site: Site | None
    broken: bool = False

    def fields(self) -> Iterator[FormField]:
        """Every field, in tape order."""
        for group in self.groups:
            yield from group.fields
            yield from group.own

    @property
    def wanted(self) -> tuple[FormField, ...]:
        """What is still to be measured, in tape order."""
        return tuple(field for field in self.fields() if field.wanted)

    @property
    def wrong(self) -> tuple[FormField, ...]:
        """What was typed and cannot be right, in tape order."""
        return tuple(field for field in self.fields() if field.error)

    def field(self, path: Path) -> FormField | None:
        """The field at a place."""
        return next((field for field in self.fields() if field.path == path), None)
