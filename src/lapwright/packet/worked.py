"""A worked-out job as the packet sees it. `lapwright.job.Job` is one; the packet stands to its left."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from lapwright.detail.model import Detail
from lapwright.findings import Finding
from lapwright.layout.model import Layout
from lapwright.leaks.audit import Audit
from lapwright.metal.model import Piece, RoofPanel
from lapwright.packet.model import Step
from lapwright.shop.bending.model import BendPlan
from lapwright.shop.bending.tools import Kit
from lapwright.shop.model import TakeoffLine
from lapwright.shop.nest.job import JobNest
from lapwright.shop.price import Quote
from lapwright.shop.price_list import Rates
from lapwright.site.model import Site


class WorkedJob(Protocol):
    """Everything the pages, plan.json and the drawings are made from. Lengths in inches."""

    @property
    def site(self) -> Site: ...
    @property
    def layout(self) -> Layout: ...
    @property
    def detail(self) -> Detail: ...
    @property
    def pieces(self) -> tuple[Piece, ...]: ...
    @property
    def panels(self) -> tuple[RoofPanel, ...]: ...
    @property
    def kit(self) -> Kit: ...
    @property
    def orders(self) -> Mapping[str, BendPlan]: ...
    @property
    def findings(self) -> tuple[Finding, ...]: ...
    @property
    def cutting(self) -> JobNest: ...
    @property
    def takeoff(self) -> tuple[TakeoffLine, ...]: ...
    @property
    def rates(self) -> Rates: ...
    @property
    def price(self) -> Quote: ...
    @property
    def steps(self) -> tuple[Step, ...]: ...
    @property
    def audits(self) -> tuple[Audit, ...]: ...
    @property
    def stopped(self) -> bool: ...
