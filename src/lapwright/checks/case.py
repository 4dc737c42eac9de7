"""What every check looks at: the job so far, and one opening's bench where there is one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from lapwright.detail.model import Detail, OpeningDetail
from lapwright.findings import Finding, Value
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.metal.work import Work, at_bench
from lapwright.rules import Rule, breaks, finding, rule
from lapwright.site.model import Site

LEFT, RIGHT, UPPER = "findings.side.left", "findings.side.right", "findings.side.upper"


@dataclass(frozen=True, slots=True)
class Case:
    """The job as far as it is planned when the checks look at it."""

    site: Site
    layout: Layout
    detail: Detail
    pieces: tuple[Piece, ...]
    panels: tuple[RoofPanel, ...]

    def benches(self) -> Iterator[Work]:
        """Every opening that is drawn, with its walls and metal."""
        return (at_bench(self.site, d) for d in self.detail.openings if d.method != "none")

    def walled(self) -> Iterator[Work]:
        """Those with four faces and upstands against them: every one but the pipes."""
        return (work for work in self.benches() if work.detail.pipe is None)

    def opening_pieces(self, d: OpeningDetail) -> tuple[Piece, ...]:
        """The pieces of one opening."""
        return tuple(p for p in self.pieces if p.opening == d.opening.name)


Subject = Callable[[Case], Iterator[Finding]]


def held(which: str | Rule, where: str, measured: float, **values: Value) -> Iterator[Finding]:
    """The finding, if this measure, in the rule's unit, breaks the rule."""
    row = rule(which) if isinstance(which, str) else which
    if breaks(row, measured):
        yield finding(row, where, measured, None, **values)
