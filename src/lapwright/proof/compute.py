"""What recomputes a published number: a name in data/published.toml, and the program's own function for it.

Nothing is worked out here that a plan does not also work out; a check that does not run the code of the
plan would prove nothing about it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from lapwright import rules, tables
from lapwright.detail.cricket import cricket_of
from lapwright.detail.framing import Framing, framing_of
from lapwright.detail.model import Cricket
from lapwright.metal import bend
from lapwright.site.model import Defaults, Opening, Roof
from lapwright.water import flow
from lapwright.water.rain import rain_rows


def theta(rise: float) -> float:
    """Slope of a roof as the plan sees it, from its rise per 12. [rad]"""
    return Roof(rise=rise, eave=12.0, slope=12.0).theta


def slope_length(run: float, rise: float) -> float:
    """A level run as the tape reads it up the roof. [in]

    >>> round(slope_length(12.0, 5.0), 3)
    13.0
    """
    return run / math.cos(theta(rise))


def din_blank(a: float, b: float, between_deg: float, r: float, s: float, k: float) -> float:
    """Blank of two legs measured to the bend's extreme edges, the legs `between_deg` apart.

    Source: DIN 6935, L = a + b - v with v = 2 (r + s) - allowance, for 90 degrees and less between legs.
    """
    v = 2.0 * bend.setback(180.0, r, s, "up") - bend.allowance(180.0 - between_deg, r, s, k / 2.0)
    return a + b - v


def flat_strip(legs: list[float], radius: float, thickness: float) -> float:
    """Blank of a strip with square bends, legs measured over the outside. [in]"""
    return sum(legs) - (len(legs) - 1) * bend.deduction(90.0, radius, thickness, "up")


def developed_width(flats: list[float], radius: float, thickness: float, k: float) -> float:
    """Flats and the square bends between them. [in]"""
    return sum(flats) + (len(flats) - 1) * bend.allowance(90.0, radius, thickness, k)


def growth(key: str, length: float, change_f: float) -> float:
    """How much a run of metal grows. [in]"""
    return tables.metals()[key].alpha * length * change_f


def copper_plate(thickness: float) -> float:
    """Weight of copper this thick, from the 16 oz row. [lb/ft2]"""
    row = tables.metals()["copper-16"]
    return row.weight_psf / row.base * thickness


def cricket(width: float, rise: float, cross_slope: float | None = None) -> Cricket:
    """A cricket as a plan works it out: level ridge, plumb face; equal slopes unless a cross slope is given.

    Args:
        width: Across the slope. [in]
        rise, cross_slope: Of the roof and of the cricket's planes. [in/12in]
    """
    roof = Roof(rise=rise, eave=width, slope=width)
    opening = Opening("", "curb", 0.0, 0.0, width, 0.0, 0.0, "plumb")
    return cricket_of(roof, opening, replace(Defaults(), cross_slope=cross_slope))


def unequal(slope_deg: float, plan_deg: float) -> Framing:
    """Framing of planes at one slope whose valley lies in plan at an angle to the ridge. [deg]"""
    across = math.tan(math.radians(slope_deg))
    return framing_of(cricket(24.0, 12.0 * across * math.tan(math.radians(plan_deg)), 12.0 * across), "curb")


def jack_difference(rise: float) -> float:
    """How much shorter each jack is than the one before, as a plan spaces them. [in]"""
    first, second = framing_of(cricket(120.0, rise), "curb").jacks[:2]
    return first.length - second.length


def on_12(cut_deg: float) -> float:
    """A cut as it is set on the framing square: 12 on one blade, this on the other. [in]"""
    return 12.0 * math.tan(math.radians(cut_deg))


def _yes(answer: bool) -> float:
    return 1.0 if answer else 0.0


COMPUTE: Mapping[str, Callable[..., float]] = {
    "setback": lambda angle_deg, radius, thickness: bend.setback(angle_deg, radius, thickness, "up"),
    "din-k": bend.din_k,
    "din-blank": din_blank,
    "flat-strip": flat_strip,
    "developed-width": developed_width,
    "allowance": bend.allowance,
    "deduction": bend.deduction,
    "slope-length": slope_length,
    "slope-factor": lambda rise: slope_length(1.0, rise),
    "steel-weight": tables.steel_weight,
    "metal": lambda key, column: getattr(tables.metals()[key], column),
    "copper-plate": copper_plate,
    "growth": growth,
    "default": lambda name: getattr(Defaults(), name),
    "bites": lambda rule, measured: _yes(rules.breaks(rules.rule(rule), measured)),
    "cricket-height": lambda rise: cricket(1.0, rise).height,
    "valley": lambda half, rise: cricket(2.0 * half, rise).valley,
    "valley-slope": lambda slope_deg, plan_deg: unequal(slope_deg, plan_deg).valley_plumb_deg,
    "valley-side-on-12": lambda rise: on_12(framing_of(cricket(24.0, rise), "curb").valley_side_deg),
    "jack-difference": jack_difference,
    "jack-side": lambda slope_deg, plan_deg: unequal(slope_deg, plan_deg).jack_side_deg,
    "jack-side-on-12": lambda rise: on_12(framing_of(cricket(24.0, rise), "curb").jack_side_deg),
    "backing": lambda slope_deg, plan_deg: unequal(slope_deg, plan_deg).backing_deg,
    "cricket": lambda **asked: _yes(rules.cricket_asked(**asked) is not None),
    "supply": lambda rain, area_sqft: flow.supply_gpm(rain, area_sqft * 144.0),
    "manning": flow.manning,
    "head": flow.head_of,
    "rain": lambda place, years, minutes: rain_rows()[place, years].depths[minutes],
    "touching": lambda one, other: _yes(tables.touching(one, other) is not None),
    "draining": lambda above, below: _yes(tables.draining(above, below) is not None),
}


def recompute(name: str, inputs: Mapping[str, Any]) -> float:
    """The program's own value for a printed one, in the printed unit.

    Raises:
        KeyError: nothing of that name (our bug).
    """
    return float(COMPUTE[name](**inputs))
