"""Metal to buy: flat sheet by the sheet, by the foot and by weight, panels by the foot of coil and by weight.

Steel has two weights that differ by 2.5 %: gauge weight, 41.82 lb/ft2 per inch, on which the gauge tables rest, and
coil weight, 40.8 lb/ft2 per inch, by which coil is sold. What is priced by weight here is priced by coil weight.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal, Protocol

from lapwright import tables
from lapwright.metal.bend import deduction
from lapwright.metal.model import Piece, RoofPanel
from lapwright.metal.panel import hook_gap
from lapwright.shop.model import TakeoffLine
from lapwright.shop.price_list import Rates
from lapwright.site.model import Defaults, Panel, Site
from lapwright.tables import Metal

GAUGE_LB, COIL_LB = 41.82, 40.8
"""Steel, a square foot an inch thick: by the Manufacturers' Standard Gage, and as coil is sold. [lb/ft2 per in]"""

Values = dict[str, float | int | str]

TWO_WEIGHTS = ("steel-al-zn", "steel-galv")


class TakenStock(Protocol):
    """One row of the cutting plan's stock, as `shop.cutting.bought` gives it. [in], money for all of it."""

    @property
    def metal(self) -> str: ...
    @property
    def stock(self) -> str: ...
    @property
    def form(self) -> Literal["sheet", "roll", "offcut", "coil"]: ...
    @property
    def quantity(self) -> int: ...
    @property
    def width(self) -> float: ...
    @property
    def length(self) -> float: ...
    @property
    def price(self) -> float | None: ...
    @property
    def at_hand(self) -> bool: ...


def coil_psf(metal: Metal) -> float:
    """What a square foot weighs as it is sold: steel by coil weight, its coating as in the table. [lb/ft2]

    Source: 40.8 lb/ft2 per inch of bare steel, from memory.

    >>> round(coil_psf(tables.metals()["steel-24"]), 4)
    1.0066
    """
    return metal.weight_psf - (GAUGE_LB - COIL_LB) * metal.base if metal.family in TWO_WEIGHTS else metal.weight_psf


def flat_lines(pieces: Sequence[Piece], taken: Sequence[TakenStock]) -> Iterator[TakeoffLine]:
    """Per metal: the stock the cutting plan takes, or the rectangles round the blanks; the blanks; weights.

    Args:
        pieces: Of metal only.
        taken: The cutting plan's stock; a metal that has none is counted by rectangles.
    """
    for metal in dict.fromkeys(p.metal for p in pieces):
        mine = [p for p in pieces if p.metal == metal]
        stock = [t for t in taken if t.metal == metal]
        envelope = sum(p.quantity * p.blank.width * p.blank.height for p in mine)
        net = sum(p.quantity * p.blank.area for p in mine)
        name = f"metals.{metal}"
        if stock:
            yield from (_taken(t) for t in stock)
        else:
            count = sum(p.quantity for p in mine)
            yield _line("flat-stock", envelope / 144, "sqft", metal=name, count=count)
        area = sum(t.width * t.length for t in stock)
        yield _line("blanks", net / 144, "sqft", metal=name, share=100 * net / (area or envelope))
        yield _line("weight", sum(p.quantity * p.weight_lb for p in mine), "lb", metal=name)
        unpriced = sum(t.width * t.length for t in stock if t.price is None) if stock else envelope
        if unpriced:
            yield _weighed("flat-weight", metal, unpriced / 144)


def _taken(t: TakenStock) -> TakeoffLine:
    """One row of stock: sheets and offcuts by the piece, rolls and coil by the foot."""
    by_foot = t.form in ("roll", "coil")
    quantity, unit = (t.length / 12, "ft") if by_foot else (float(t.quantity), "each")
    values: Values = {"metal": f"metals.{t.metal}", "stock": t.stock, "width": t.width}
    values["length"] = t.length / t.quantity
    basis = "flat-own" if t.price is not None else "flat-taken"
    item = f"shop.item.flat-{t.form}" + ("-listed" if t.at_hand and t.form == "sheet" else "")
    return TakeoffLine(item, quantity, unit, f"shop.basis.{basis}", values, "", 0.0, t.price)


def panel_lines(site: Site, panels: Sequence[RoofPanel], prices: Rates) -> Iterator[TakeoffLine]:
    """Panels by number, by the foot of coil and by its weight, waste included."""
    if not panels:
        return
    lengths = [coil_length(site, p) for p in panels]
    metal, over = site.panel.metal, site.shop.waste / 100
    girth, feet = panel_girth(site.panel, prices), sum(lengths) / 12
    name = f"metals.{metal}"
    yield _line("panels", len(panels), "each", metal=name, coverage=site.panel.coverage)
    yield TakeoffLine(
        "shop.item.panel-run", feet * (1 + over), "ft", f"shop.basis.panel-run-{site.panel.fixing}",
        {"metal": name, "girth": girth, "coverage": site.panel.coverage, "rib": site.panel.rib_height,
         "lock": prices[f"girth.{site.panel.seam}"], "flange": prices["girth.nailing-flange"],
         "length": feet * 12, "longest": max(lengths), "waste": site.shop.waste},
        "", feet * over,
    )  # fmt: skip
    yield _weighed("panel-weight", metal, girth / 12 * feet, over)


def _weighed(use: str, metal: str, area_sqft: float, over: float = 0.0) -> TakeoffLine:
    """So much sheet by the weight that it is sold by, `over` more of it as waste; priced by the pound."""
    row = tables.metals()[metal]
    psf, whole = coil_psf(row), area_sqft * (1 + over)
    values: Values = {"metal": f"metals.{metal}", "area": whole * 144, "gauge": whole * row.weight_psf}
    how = "steel" if row.family in TWO_WEIGHTS else "plain"
    rate = f"metals.{metal}"
    return TakeoffLine(
        f"shop.item.{use}", whole * psf, "lb", f"shop.basis.{use}-{how}", values, rate, area_sqft * over * psf
    )


def girths_used(site: Site, panels: Sequence[RoofPanel]) -> tuple[str, ...]:
    """The rows of the rates that the panels' coil rests on; none where no panel is bought."""
    if all(p.role == "through" for p in panels) and site.roof.work == "existing":
        return ()
    flange = ("girth.nailing-flange",) if site.panel.fixing == "nailing-flange" else ()
    return (f"girth.{site.panel.seam}", *flange)


def panel_girth(panel: Panel, prices: Rates) -> float:
    """Width of coil that a panel is formed from: coverage, a leg at each side, the seam's lock, the flange. [in]

    Source: house rule; what lock and flange take is in the rates, from memory. The panel machine's figure beats it.
    """
    flange = prices["girth.nailing-flange"] if panel.fixing == "nailing-flange" else 0.0
    return panel.coverage + 2 * panel.rib_height + prices[f"girth.{panel.seam}"] + flange


def coil_length(site: Site, panel: RoofPanel) -> float:
    """Length of coil for one panel: a worked one's blank (its v runs up the slope), else as it lies and its eave hem.

    What a ridge end takes is the maker's to say and not counted. [in]
    """
    if panel.blank is not None:
        return panel.blank.height
    gap, coated = hook_gap(site), tables.metals()[site.panel.metal].coated
    return panel.length + Defaults().eave_hem - deduction(180.0, gap / 2, coated)


def _line(use: str, quantity: float, unit: str, **values: float | int | str) -> TakeoffLine:
    return TakeoffLine(f"shop.item.{use}", quantity, unit, f"shop.basis.{use}", dict(values))
