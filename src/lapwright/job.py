"""The whole pipeline on one page: a Site in, a Job out, each stage worked out when it is first asked for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from lapwright.checks.check import check, worst_first
from lapwright.checks.leaks import leaks
from lapwright.detail.choose import choose
from lapwright.detail.model import Detail
from lapwright.findings import Finding
from lapwright.layout.lay_out import lay_out
from lapwright.layout.model import Layout
from lapwright.leaks.audit import Audit, audit
from lapwright.metal.make import make
from lapwright.metal.model import Piece, RoofPanel
from lapwright.packet.model import Step
from lapwright.packet.steps import steps_of
from lapwright.shop.model import TakeoffLine
from lapwright.shop.takeoff import take_off
from lapwright.site.model import Site


@dataclass(frozen=True)
class Job:
    """Everything worked out from one Site. A face that draws only the roof pays for no leak audit."""

    site: Site

    @cached_property
    def layout(self) -> Layout:
        """Ribs, strips and the bay round each opening."""
        return lay_out(self.site)

    @cached_property
    def detail(self) -> Detail:
        """Flat pan or cricket, and which pieces lap over which."""
        return choose(self.site, self.layout)

    @cached_property
    def _metal(self) -> tuple[tuple[Piece, ...], tuple[RoofPanel, ...]]:
        return make(self.site, self.layout, self.detail)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Every piece with its blank."""
        return self._metal[0]

    @property
    def panels(self) -> tuple[RoofPanel, ...]:
        """Every roof panel as it lies."""
        return self._metal[1]

    @cached_property
    def _order(self) -> tuple[tuple[Step, ...], tuple[Finding, ...]]:
        return steps_of(self.site, self.layout, self.detail, self.panels)

    @property
    def steps(self) -> tuple[Step, ...]:
        """The order of work, with marks."""
        return self._order[0]

    @cached_property
    def audits(self) -> tuple[Audit, ...]:
        """The weakest way in at each opening."""
        return audit(self.site, self.layout, self.detail, self.pieces, self.panels)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What rules found on this roof, the worst first."""
        checked = check(self.site, self.layout, self.detail, self.pieces, self.panels)
        return worst_first((*checked, *leaks(self.site, self.audits), *self._order[1]))

    @cached_property
    def takeoff(self) -> tuple[TakeoffLine, ...]:
        """What to buy."""
        return take_off(self.site, self.layout, self.detail, self.pieces, self.panels)

    @property
    def stopped(self) -> bool:
        """Does any finding forbid cutting?"""
        return any(f.stops for f in self.findings)


def run(site: Site) -> Job:
    """Plan a roof.

    Args:
        site: What was measured, already read and in range.

    Returns:
        The job: layout, decisions, metal, findings, what to buy and the order of work, all worked out.
    """
    job = Job(site)
    # In the pipeline's order, so that a bug shows at its own stage.
    _ = (job.layout, job.detail, job.pieces, job.steps, job.audits, job.findings, job.takeoff)
    return job
