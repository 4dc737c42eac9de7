"""The order of work, as data."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Mark:
    """One tape pull: what is marked, the real edge the tape hooks on (both keys of words/), how far. [in]

    axis: "x" when measured along the eave, "y" up the slope; at: the mark's coordinate in that axis.
    """

    what: str
    start: str
    distance: float
    values: dict[str, float | int | str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Step:
    """One step. title, does, caution are keys of words/ with `values`; pieces are ids of pieces and panels."""

    n: int
    title: str
    does: tuple[str, ...]
    marks: tuple[Mark, ...]
    pieces: tuple[str, ...]
    caution: str | None
    values: dict[str, float | int | str] = field(default_factory=dict)
