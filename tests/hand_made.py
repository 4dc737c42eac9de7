"""A small job made by hand, with one opening, three pieces and two panels: no stage has worked it out.

The roof is 10 feet by 8, the opening 20 wide and 24 long. Blanks are simple enough to check on paper.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from lapwright.detail.model import Detail, Notch, OpeningDetail, Pan
from lapwright.findings import Finding
from lapwright.layout.model import Bay, Layout, Strip
from lapwright.leaks.audit import Audit
from lapwright.metal.model import Bend, Blank, Piece, RoofPanel
from lapwright.packet.model import Mark, Step
from lapwright.shop.bending.model import BendPlan
from lapwright.shop.bending.own import kit_of
from lapwright.shop.bending.tools import Kit
from lapwright.shop.cutting import cutting_of
from lapwright.shop.model import TakeoffLine
from lapwright.shop.nest.job import JobNest
from lapwright.shop.price import Quote, price
from lapwright.shop.price_list import Rates, packaged
from lapwright.shop.takeoff import take_off
from lapwright.site.model import Defaults, Opening, Panel, Roof, Site


@dataclass(frozen=True)
class HandMade:
    """Stands in for a worked job."""

    site: Site
    layout: Layout
    detail: Detail
    pieces: tuple[Piece, ...]
    panels: tuple[RoofPanel, ...]
    findings: tuple[Finding, ...]
    takeoff: tuple[TakeoffLine, ...]
    steps: tuple[Step, ...]
    audits: tuple[Audit, ...] = ()
    rates: Rates = field(default_factory=packaged)
    orders: Mapping[str, BendPlan] = field(default_factory=dict)

    @property
    def kit(self) -> Kit:
        return kit_of(self.site)

    @property
    def cutting(self) -> JobNest:
        return cutting_of(self.site, self.pieces)

    @property
    def price(self) -> Quote:
        return price(self.site, self.takeoff, self.rates)

    @property
    def stopped(self) -> bool:
        return any(f.stops for f in self.findings)


def rectangle(u: float, v: float) -> tuple[tuple[float, float], ...]:
    return ((0.0, 0.0), (u, 0.0), (u, v), (0.0, v))


def plain(u: float, v: float) -> Blank:
    """A plain rectangle."""
    return Blank(rectangle(u, v), (), (), u * v, u, v)


OPENING = Opening("flue stack", "masonry-chimney", 50.0, 36.0, 20.0, 24.0, 60.0, "plumb")
BAY = Bay("flue stack", 42.0, 78.0, True, True, (60.0,))
PAN = Pan(42.4375, 77.5625, 53.0, 72.0, 8.0)
CLEAT_LINE = ((42.0, 56.0), (50.0, 69.0), (70.0, 69.0), (78.0, 56.0))

# One slit 2 long, one hole 1/8 square (a polygon is a polygon), one bend up and one hem down.
PAN_BLANK = Blank(
    rectangle(37.5, 27.25),
    (((10.0, 0.0), (10.0, 2.0)),),
    (((10.0, 2.0), (10.125, 2.0), (10.125, 2.125), (10.0, 2.125)),),
    37.5 * 27.25 - 0.125 * 0.125,
    37.5,
    27.25,
)
PAN_BENDS = (
    Bend("tongue", (10.0, 8.0), (27.5, 8.0), 120.3, 0.051, "up", 1),
    Bend("hem", (0.0, 26.75), (37.5, 26.75), 180.0, 0.0, "down", 2, "closed-hem"),
)

PIECES = (
    Piece("P1", "back-pan", "Back pan", "flue stack", 1, "steel-24", 0.0255, PAN_BLANK, PAN_BENDS, 7.31),
    Piece("C1", "offset-cleat", "Offset cleat, middle", "flue stack", 1, "steel-24", 0.0255,
          plain(20.0, 2.75), (), 0.39),
    Piece("K1", "corner-patch", "Corner patch", "flue stack", 4, "steel-24", 0.0255, plain(4.0, 4.0), (), 0.11),
)  # fmt: skip

PANELS = (
    RoofPanel("U1", "upper", 1, "flue stack", ((42.0, 56.0), (60.0, 70.25), (60.0, 96.0), (42.0, 96.0)),
              40.0, 18.0, plain(41.5, 21.0), (), ("cleat",), (Notch(42.0, 56.0, 58.0, "leg-off"),)),
    RoofPanel("T0", "through", 0, None, ((6.0, 0.0), (42.0, 0.0), (42.0, 96.0), (6.0, 96.0)), 96.0, 36.0),
)  # fmt: skip

STOP = Finding(
    "test.rule", "stop", "flue stack: back pan", 2.5, 3.0, "in", "house rule", "-", {"section": "-"},
)  # fmt: skip


def site(units: str = "in", name: str = "Kiln shed") -> Site:
    roof = Roof(7.0, 120.0, 96.0)
    panel = Panel(18.0, 1.75, first_rib=6.0)
    return Site(name, units, roof, panel, openings=(OPENING,))  # type: ignore[arg-type]


LAYOUT = Layout(
    (6.0, 24.0, 42.0, 60.0, 78.0, 96.0, 114.0),
    (Strip(0, 0.0, 6.0, False, True), Strip(1, 6.0, 24.0, True, True)),
    (BAY,),
    6.0,
)
NOTCH = Notch(42.0, 66.0, 53.5, "outer-leg")
MEASURES = Defaults(rib_face=0.3125, extent=12.0, rib_turn_up=1.5)
DETAIL = Detail((OpeningDetail(OPENING, BAY, "flat-pan", MEASURES, CLEAT_LINE, PAN, notches=(NOTCH,)),))


def hand_made(units: str = "in", name: str = "Kiln shed", findings: tuple[Finding, ...] = ()) -> HandMade:
    """The job; `findings` may stop it."""
    where = site(units, name)
    bought = take_off(where, LAYOUT, DETAIL, PIECES, PANELS)
    return HandMade(where, LAYOUT, DETAIL, PIECES, PANELS, findings, bought, STEPS)


STEPS: tuple[Step, ...] = (
    Step(1, "test.title", ("test.does",), (Mark("test.mark", "test.edge", 42.4375, {}),), ("P1", "C1"), None),
    Step(2, "test.title", ("test.does", "test.does"), (), ("K1",), "test.caution"),
)


def without_openings(job: HandMade) -> HandMade:
    return replace(job, site=replace(job.site, openings=()), detail=Detail(()), pieces=(), panels=())
