"""The whole pipeline on one page: a Site in, a Job out."""

from __future__ import annotations

from dataclasses import dataclass

from lapwright.detail.model import Detail
from lapwright.findings import Finding
from lapwright.layout.model import Layout
from lapwright.metal.model import Piece, RoofPanel
from lapwright.packet.model import Step
from lapwright.shop.model import TakeoffLine
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
    raise NotImplementedError
