"""The order of work, as data."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Mark:
    """One tape pull: what is marked, the real edge the tape hooks on (both keys of words/), how far. [in]"""

    what: str
    start: str
    distance: float
    values: dict[str, float | int | str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Step:
    """One step. title, does, caution are keys of words/ with `values`; pieces are ids of pieces and panels.

    tools, sealant, fasteners: what it needs. checks: what to look at before going on. All keys of words/.
    """

    n: int
    title: str
    does: tuple[str, ...]
    marks: tuple[Mark, ...]
    pieces: tuple[str, ...]
    caution: str | None
    values: dict[str, float | int | str] = field(default_factory=dict)
    tools: tuple[str, ...] = ()
    sealant: tuple[str, ...] = ()
    fasteners: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()
