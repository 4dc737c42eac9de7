"""The whole pipeline on one page: a Site in, a Job out."""

from __future__ import annotations

from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class Job:
    """Everything worked out from one Site."""

    site: Site
    layout: Layout
    detail: Detail
    pieces: tuple[Piece, ...]
    panels: tuple[RoofPanel, ...]
    findings: tuple[Finding, ...]
    takeoff: tuple[TakeoffLine, ...]
    steps: tuple[Step, ...]
    audits: tuple[Audit, ...] = ()

    @property
    def stopped(self) -> bool:
        """Does any finding forbid cutting?"""
        return any(f.stops for f in self.findings)


def run(site: Site) -> Job:
    """Plan a roof.

    Args:
        site: What was measured, already read and in range.

    Returns:
        The job: layout, decisions, metal, findings, what to buy and the order of work.
    """
    layout = lay_out(site)
    detail = choose(site, layout)
    pieces, panels = make(site, layout, detail)
    steps, rings = steps_of(site, layout, detail, panels)
    audits = audit(site, layout, detail, pieces, panels)
    found = (*check(site, layout, detail, pieces, panels), *leaks(site, audits), *rings)
    return Job(
        site,
        layout,
        detail,
        pieces,
        panels,
        findings=worst_first(found),
        takeoff=take_off(site, layout, detail, pieces, panels),
        steps=steps,
        audits=audits,
    )
