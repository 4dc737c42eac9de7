"""Every error the program raises on purpose.

    LapwrightError
    |-- JobProblems        the job file cannot be read or makes no sense: all its problems at once
    |-- BadMeasure         text that is no measure, or more than one (also ValueError)
    |   |-- BadLength
    |   `-- BadPitch
    |-- UnknownRule        no rule of that name; the sentence names the nearest one
    `-- OutOfRange         a formula was asked for outside the range where it holds (also ValueError)

Each carries the key of its sentence in words/ and the values that sentence needs, so that any
language can say it; none of them imports words. What a person must know about a roof that *can* be
planned is a Finding, not an error.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from dataclasses import field as made_by
from typing import Any, Protocol


class Says(Protocol):
    """Whoever turns a key and its values into a sentence (words.Speaker)."""

    def say(self, key: str, /, **values: Any) -> str: ...


class LapwrightError(Exception):
    """Something was asked that cannot be done; the sentence lies under `key` in words/."""

    def __init__(self, key: str, /, **values: Any) -> None:
        super().__init__(key)
        self.key = key
        self.values: dict[str, Any] = values

    def __str__(self) -> str:
        given = ", ".join(f"{name}={value!r}" for name, value in self.values.items())
        return f"{self.key} ({given})" if given else self.key

    def __reduce__(self) -> tuple[Any, ...]:
        # an error crosses to another process whole, values and all
        return (_again, (type(self), self.key, self.values))

    def said(self, speaker: Says) -> str:
        """The sentence, in the speaker's language and unit."""
        return speaker.say(self.key, **self.values)


def _again(kind: type[LapwrightError], key: str, values: dict[str, Any]) -> LapwrightError:
    return kind(key, **values)


class BadMeasure(LapwrightError, ValueError):
    """Text that is no measure, or that could be read as more than one."""


class BadLength(BadMeasure):
    """Text that is no length, or that could be read as more than one; the sentence asks which."""


class BadPitch(BadMeasure):
    """Text that is no pitch, or that could be read as more than one; the sentence asks which."""


class UnknownRule(LapwrightError):
    """No rule of that name. values: given, and nearest where something is like it."""


class OutOfRange(LapwrightError, ValueError):
    """A formula was asked for a value outside the range where it holds.

    Args:
        name: What was out of range, in the formula's words ("rise").
        given: The value asked for.
        low: Lowest value that holds.
        high: Highest value that holds.
    """

    def __init__(self, name: str, given: float, low: float, high: float) -> None:
        super().__init__("units.out_of_range", name=name, given=given, low=low, high=high)

    def __reduce__(self) -> tuple[Any, ...]:
        v = self.values
        return (OutOfRange, (v["name"], v["given"], v["low"], v["high"]))


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with a job file, and where.

    Attributes:
        line: Line in the job file, from 1.
        column: Character in that line, from 1.
        field: The field in the job file's words: `roof.eave`, `opening[2].width` (counted from 1).
        key: Its sentence in words/: what was given, what is allowed.
        values: What that sentence needs; lengths are float inches.
    """

    line: int
    column: int
    field: str
    key: str
    values: Mapping[str, Any] = made_by(default_factory=dict)

    def says(self, speaker: Says) -> str:
        """What was given and what is allowed, as one line without its place."""
        return speaker.say(self.key, **self.values)


class JobProblems(LapwrightError):
    """A job file that cannot be planned, with every problem found in it, in file order.

    Args:
        filename: The job file's name as the user gave it.
        problems: At least one, sorted by line and column.
        unit: The job's unit as far as it could be read, "in" or "mm"; ranges print in it.
    """

    def __init__(self, filename: str, problems: tuple[Problem, ...], unit: str = "in") -> None:
        super().__init__("site.problems", count=len(problems), filename=filename)
        self.filename = filename
        self.problems = problems
        self.unit = unit

    def __str__(self) -> str:
        return "\n".join(f"{self.filename}:{p.line}:{p.column}: {p.field}: {p.key}" for p in self.problems)

    def __reduce__(self) -> tuple[Any, ...]:
        return (JobProblems, (self.filename, self.problems, self.unit))

    def lines(self, speaker: Says) -> tuple[str, ...]:
        """One line per problem: `JOB.toml:LINE:COL: field: what was given, what is allowed`."""
        return tuple(
            f"{self.filename}:{p.line}:{p.column}: {p.field}: {p.says(speaker)}" for p in self.problems
        )
