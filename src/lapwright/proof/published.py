"""The published numbers, each beside what the program makes of the same inputs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from lapwright import tables
from lapwright.proof.compute import recompute

Shelf = Literal["published", "from_memory"]


@dataclass(frozen=True, slots=True)
class Check:
    """One printed number.

    compute: name in compute.COMPUTE. tolerance: the printed rounding, both in the unit of `expected`.
    source: key of sources.py. seen: read in a copy, or recalled.
    """

    id: str
    what: str
    compute: str
    inputs: Mapping[str, Any]
    expected: float
    tolerance: float
    source: str
    section: str
    seen: Literal["secondary copy", "memory"]
    note: str = ""


@dataclass(frozen=True, slots=True)
class CheckResult:
    """A printed number and ours."""

    check: Check
    got: float

    @property
    def passes(self) -> bool:
        """Do they agree within the printed rounding?"""
        return abs(self.got - self.check.expected) <= self.check.tolerance + 1e-12


@dataclass(frozen=True, slots=True)
class CheckReport:
    """Every check recomputed. recalled: numbers from memory, counted apart: they prove nothing."""

    results: tuple[CheckResult, ...]
    recalled: tuple[CheckResult, ...]

    @property
    def total(self) -> int:
        """How many published checks there are."""
        return len(self.results)

    @property
    def passed(self) -> int:
        """How many of them pass."""
        return sum(r.passes for r in self.results)

    @property
    def failed(self) -> tuple[CheckResult, ...]:
        """Those that do not, published first, then recalled."""
        return tuple(r for r in (*self.results, *self.recalled) if not r.passes)

    @property
    def all_pass(self) -> bool:
        """Does everything agree, the recalled numbers too?"""
        return not self.failed


@cache
def checks(shelf: Shelf) -> tuple[Check, ...]:
    """The checks of data/published.toml or data/from_memory.toml, in their order."""
    seen: Literal["secondary copy", "memory"] = "secondary copy" if shelf == "published" else "memory"
    return tuple(Check(seen=seen, **row) for row in tables.rows(shelf)["check"])


def run(check: Check) -> CheckResult:
    """Recompute one printed number with the program's own code."""
    return CheckResult(check, recompute(check.compute, check.inputs))


def report() -> CheckReport:
    """Recompute them all.

    >>> report().all_pass
    True
    """
    return CheckReport(
        tuple(run(c) for c in checks("published")), tuple(run(c) for c in checks("from_memory"))
    )
