"""Which drawings stand together on a page: shelves of one wide or two narrow ones, filled from the upper end.

Drawings keep their order as far as they fit; one that fits a page begun earlier may move up to it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Generic, TypeVar

GAP = 12.0
"""Clear paper between two shelves. [pt]"""

LOOK_BACK = 6
"""A drawing moves up at most so many pages."""

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Sized(Generic[T]):
    """Something with a printed size. [pt]"""

    what: T
    width: float
    height: float


@dataclass(slots=True)
class _Page(Generic[T]):
    shelves: list[list[Sized[T]]] = field(default_factory=list)

    @property
    def height(self) -> float:
        return sum(max(s.height for s in shelf) for shelf in self.shelves) + GAP * (len(self.shelves) - 1)


def shelve(
    drawings: Sequence[Sized[T]], width: float, room: Callable[[Sequence[T]], float]
) -> list[list[list[T]]]:
    """Fill pages with shelves of drawings.

    Args:
        drawings: In reading order.
        width: Of the page. [pt]
        room: Height at hand on a page that holds these drawings (a legend may take some). [pt]

    Returns:
        Pages, each a list of shelves, each a list of drawings. A drawing too high for any page has its own.
    """
    pages: list[_Page[T]] = []
    for d in drawings:
        if not any(_put(page, d, width, room) for page in pages[-LOOK_BACK:]):
            pages.append(_Page([[d]]))
    return [[[s.what for s in shelf] for shelf in page.shelves] for page in pages]


def _put(page: _Page[T], d: Sized[T], width: float, room: Callable[[Sequence[T]], float]) -> bool:
    """Set a drawing on an open shelf, else on a new one, if the page has room for it."""
    held = room([*(s.what for shelf in page.shelves for s in shelf), d.what])
    for shelf in page.shelves:
        if sum(s.width for s in shelf) + d.width + GAP <= width + 1e-6:
            shelf.append(d)
            if page.height <= held:
                return True
            shelf.pop()
    page.shelves.append([d])
    if page.height <= held:
        return True
    page.shelves.pop()
    return False
