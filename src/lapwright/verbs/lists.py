"""Lists off the disk, for `nest` and `cut`: both read before either is refused, so every problem shows at once."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from lapwright.errors import JobProblems, LapwrightError, Problem, Says
from lapwright.shop.lists import FILE
from lapwright.units import MM_PER_INCH, Unit

MOST_BYTES = 1 << 20

_A = TypeVar("_A")
_B = TypeVar("_B")


class BadLists(LapwrightError):
    """One list or both cannot be used; the problems of each stand in its own JobProblems."""

    def __init__(self, lists: tuple[JobProblems, ...]) -> None:
        super().__init__("site.problems", count=sum(len(p.problems) for p in lists), filename=lists[0].filename)
        self.lists = lists

    def lines(self, speaker: Says) -> tuple[str, ...]:
        """One line per problem: FILE:LINE:COL: field: what was given, what is allowed."""
        return tuple(line for problems in self.lists for line in problems.lines(speaker))


def read_both(
    parts: Path,
    read_parts: Callable[[str, str, Unit], _A],
    stock: Path,
    read_stock: Callable[[str, str, Unit], _B],
    unit: Unit,
) -> tuple[_A, _B]:
    """Read a list of parts and a list of stock.

    Raises:
        BadLists: with every problem of both.
    """
    bad: list[JobProblems] = []
    one = _read(parts, read_parts, unit, bad)
    two = _read(stock, read_stock, unit, bad)
    if bad or one is None or two is None:
        raise BadLists(tuple(bad))
    return one, two


def _read(path: Path, read: Callable[[str, str, Unit], _A], unit: Unit, bad: list[JobProblems]) -> _A | None:
    try:
        return read(_text(path), str(path), unit)
    except JobProblems as problems:
        bad.append(problems)
        return None


def _text(path: Path) -> str:
    key, values = "nest.not_text", {}
    try:
        with open(path, "rb") as file:
            data = file.read(MOST_BYTES + 1)
        if len(data) <= MOST_BYTES:
            return data.decode("utf-8")
        key, values = "nest.too_big", {"most": str(MOST_BYTES)}
    except UnicodeDecodeError:
        pass
    except (OSError, ValueError) as why:
        key, values = "nest.unreadable", {"why": getattr(why, "strerror", None) or str(why)}
    raise JobProblems(str(path), (Problem(1, 1, FILE, key, values),))


def shown(length: float, unit: Unit) -> float:
    """A length as a number of the unit that was asked, to a millionth. [in]"""
    return round(length * float(MM_PER_INCH), 6) if unit == "mm" else round(length, 9)
