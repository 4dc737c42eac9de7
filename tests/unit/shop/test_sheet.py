"""Metal by the sheet, by the foot and by weight: gauge weight, coil weight, girth, coil length."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hand_made import PANELS, PIECES, site
from lapwright.proof.published import checks
from lapwright.shop import rates
from lapwright.shop.cutting import Bought
from lapwright.shop.price_list import packaged
from lapwright.shop.sheet import COIL_LB, GAUGE_LB, coil_length, coil_psf, flat_lines, panel_girth
from lapwright.site.model import Panel
from lapwright.tables import metals

GAGES = {f"B01_{gage}": gage for gage in ("22", "26")}


@pytest.mark.parametrize("check", [c for c in checks("published") if c.id in GAGES], ids=lambda c: c.id)
def test_coil_weight_is_the_gauge_tables_weight_less_two_and_a_half_per_cent(check: object) -> None:
    # Manufacturers' Standard Gage: 22 ga 1.25, 26 ga 0.75 lb/ft2; by 40.8 for 41.82 they are 1.2195 and 0.7317.
    gage = GAGES[check.id]  # type: ignore[attr-defined]
    metal = metals()[f"steel-{gage}"]
    coating = metal.weight_psf - GAUGE_LB * metal.base
    bare = coil_psf(metal) - coating
    assert bare == pytest.approx(check.expected * COIL_LB / GAUGE_LB, abs=check.tolerance)  # type: ignore[attr-defined]
    assert bare == pytest.approx({"22": 1.2195, "26": 0.7317}[gage], abs=0.006)


@pytest.mark.parametrize("key", ["copper-20", "aluminium-032", "stainless-24", "zinc-08", "lead-4"])
def test_a_metal_that_is_no_coated_steel_has_one_weight(key: str) -> None:
    assert coil_psf(metals()[key]) == metals()[key].weight_psf


def test_a_tube_holds_ten_and_a_tenth_fluid_ounces_and_lays_31_feet_of_quarter_bead() -> None:
    # US gallon 231 in3, 128 fl oz to it: 10.1 x 231 / 128 = 18.227 in3. A round bead of 1/4: pi / 64 = 0.049087 in2,
    # 18.2 / 0.049087 / 12 = 30.9 ft; a square joint of 1/4, 18.2 / 0.0625 / 12 = 24.3 ft.
    assert pytest.approx(10.1 * 231 / 128, abs=0.05) == rates.TUBE
    assert rates.TUBE / rates.bead_area() / 12 == pytest.approx(30.9, abs=0.05)
    assert pytest.approx(24.3, abs=0.05) == rates.TUBE / rates.BEAD**2 / 12


@pytest.mark.parametrize(
    ("seam", "fixing", "girth"),
    [
        ("snap", "nailing-flange", 24.0),  # 18 + 3 1/2 + 1 + 1 1/2
        ("snap", "clip", 22.5),
        ("single-fold", "clip", 22.0),  # 18 + 3 1/2 + 1/2
        ("double-fold", "clip", 22.5),
    ],
)
def test_coil_is_as_wide_as_coverage_legs_lock_and_flange(seam: str, fixing: str, girth: float) -> None:
    assert panel_girth(Panel(18.0, 1.75, seam, fixing), packaged()) == girth  # type: ignore[arg-type]


def test_a_panel_from_the_machine_takes_its_eave_hem_and_a_worked_one_its_blank() -> None:
    # a 1 in hem over two sheets of 0.0255: pi (0.0255 + 0.325 x 0.0255) = 0.10615 less 4 x 0.0255: 1.00415
    worked, plain = PANELS
    assert coil_length(site(), plain) == pytest.approx(97.00415, abs=1e-5)
    assert coil_length(site(), worked) == 21.0


SHEETS = Bought("steel-24", "sheet", "sheet", 2, 48.0, 240.0, None, False)


def taken(*rows: Bought) -> dict[str, tuple[float, str, float | None]]:
    lines = flat_lines(PIECES, rows)
    return {line.item.removeprefix("shop.item."): (round(line.quantity, 4), line.unit, line.price) for line in lines}


def test_sheets_are_bought_by_the_piece_and_weighed_whole() -> None:
    got = taken(SHEETS)
    assert got["flat-sheet"] == (2.0, "each", None)
    # two sheets of 40 sq ft at 1.006622
    assert got["flat-weight"] == (80.5298, "lb", None)
    assert "flat-stock" not in got


def test_coil_is_bought_by_the_foot() -> None:
    got = taken(Bought("steel-24", "coil", "coil", 1, 48.0, 90.0, None, False))
    # 90 in = 7.5 ft of 48: 30 sq ft
    assert got["flat-coil"] == (7.5, "ft", None)
    assert got["flat-weight"] == (pytest.approx(30 * 1.006622, abs=1e-4), "lb", None)


def test_stock_with_a_price_of_its_own_is_not_priced_by_weight_too() -> None:
    own = replace(SHEETS, stock="old sheets", price=55.0, at_hand=True)
    roll = Bought("steel-24", "end of roll", "roll", 1, 24.0, 60.0, None, True)
    got = taken(own, roll)
    assert got["flat-sheet-listed"] == (2.0, "each", 55.0)
    # only the roll, 10 sq ft, is weighed
    assert got["flat-weight"] == (pytest.approx(10.06622, abs=1e-4), "lb", None)


def test_a_metal_that_the_cutting_plan_lacks_is_counted_by_rectangles() -> None:
    got = taken(replace(SHEETS, metal="copper-16"))
    assert got["flat-stock"] == (pytest.approx(1140.875 / 144, abs=1e-4), "sqft", None)
