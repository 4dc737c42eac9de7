"""The whole pipeline on one page: a Site in, a Job out, each stage worked out when it is first asked for."""

from __future__ import annotations

from dataclasses import dataclass, field
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
from lapwright.shop.bending.findings import findings_of as bending_findings
from lapwright.shop.bending.model import BendPlan
from lapwright.shop.bending.numbers import OneItem, numbered
from lapwright.shop.bending.order import orders_for
from lapwright.shop.bending.own import is_told, kit_of
from lapwright.shop.bending.tools import Kit
from lapwright.shop.cutting import bought, cutting_of
from lapwright.shop.cutting import findings_of as cutting_findings
from lapwright.shop.hours import labour_lines, times_used
from lapwright.shop.model import TakeoffLine
from lapwright.shop.nest.job import JobNest
from lapwright.shop.price import Quote, price
from lapwright.shop.price_list import Rates, packaged
from lapwright.shop.sheet import girths_used
from lapwright.shop.step_work import StepWork, works_of
from lapwright.shop.takeoff import take_off
from lapwright.site.model import Site


@dataclass(frozen=True)
class Job:
    """Everything worked out from one Site. A face that draws only the roof pays for no leak audit."""

    site: Site
    rates: Rates = field(default_factory=packaged)

    @cached_property
    def layout(self) -> Layout:
        """Ribs, strips and the bay round each opening."""
        return lay_out(self.site)

    @cached_property
    def detail(self) -> Detail:
        """Flat pan or cricket, and which pieces lap over which."""
        return choose(self.site, self.layout)

    @cached_property
    def metal(self) -> tuple[tuple[Piece, ...], tuple[RoofPanel, ...]]:
        """Every piece and every panel as it lies, its bends not yet numbered: enough to draw the roof from above."""
        return make(self.site, self.layout, self.detail)

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """Every piece with its blank, its bends numbered as they are folded."""
        return numbered(self.metal[0], self._piece_orders)

    @cached_property
    def panels(self) -> tuple[RoofPanel, ...]:
        """Every roof panel as it lies, its bends numbered as they are folded."""
        return numbered(self.metal[1], self._panel_orders)

    @cached_property
    def kit(self) -> Kit:
        """The bending tools of the shop."""
        return kit_of(self.site)

    @cached_property
    def _piece_orders(self) -> dict[str, BendPlan]:
        return orders_for(self.metal[0], (), self.kit)

    @cached_property
    def _panel_orders(self) -> dict[str, BendPlan]:
        return orders_for((), self.metal[1], self.kit)

    @property
    def orders(self) -> dict[str, BendPlan]:
        """How each piece and panel is folded, by its id."""
        return self._piece_orders | self._panel_orders

    def with_numbers(self, item: OneItem) -> OneItem:
        """One of `metal` with its bends numbered as they are folded; no other's order is worked out."""
        orders = orders_for((item,), (), self.kit) if isinstance(item, Piece) else orders_for((), (item,), self.kit)
        return numbered((item,), orders)[0]

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
    def cutting(self) -> JobNest:
        """Every flat blank on the metal at hand or to buy."""
        return cutting_of(self.site, self.pieces)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What rules found on this roof, the worst first."""
        checked = check(self.site, self.layout, self.detail, self.pieces, self.panels)
        cut = cutting_findings(self.cutting, self.pieces, self.site.shop.turn)
        folds = bending_findings(self.pieces, self.panels, self.orders, is_told(self.site))
        return worst_first((*checked, *leaks(self.site, self.audits), *self._order[1], *cut, *folds))

    @cached_property
    def takeoff(self) -> tuple[TakeoffLine, ...]:
        """What to buy and how long the work takes."""
        metal = bought(self.cutting)
        lines = take_off(self.site, self.layout, self.detail, self.pieces, self.panels, metal, self.rates)
        return (*lines, *labour_lines(self.site, self.pieces, self.panels, self.works, self.rates))

    @cached_property
    def works(self) -> tuple[StepWork, ...]:
        """What every step of the order of work takes."""
        return works_of(self.site, self.detail, self.pieces, self.panels, self.steps)

    @cached_property
    def price(self) -> Quote:
        """What the job costs."""
        others = (*girths_used(self.site, self.panels), *times_used(self.works))
        return price(self.site, self.takeoff, self.rates, others)

    @property
    def stopped(self) -> bool:
        """Does any finding forbid cutting?"""
        return any(f.stops for f in self.findings)


def run(site: Site, rates: Rates | None = None) -> Job:
    """Plan a roof.

    Args:
        site: What was measured, already read and in range.
        rates: A shop's own prices and times; left out, the packaged ones.

    Returns:
        The job: layout, decisions, metal, findings, what to buy and the order of work, all worked out.
    """
    return finish(begin(site, rates))


def begin(site: Site, rates: Rates | None = None) -> Job:
    """A job as far as its metal and its steps: all that a drawing of the work asks for. See `run`."""
    job = Job(site) if rates is None else Job(site, rates)
    # In the pipeline's order, so that a bug shows at its own stage.
    _ = (job.layout, job.detail, job.pieces, job.steps)
    return job


def finish(job: Job) -> Job:
    """The job with the rest of it worked out: findings, what to buy, what it costs."""
    _ = (job.audits, job.findings, job.takeoff, job.price)
    return job
