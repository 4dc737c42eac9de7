"""What recomputes a published number: a name in data/published.toml, and the program's own function for it.

Nothing is worked out here that a plan does not also work out; a check that does not run the code of the
plan would prove nothing about it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

from lapwright import rules, tables
from lapwright.metal import bend
from lapwright.site.model import Defaults, Roof


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
    "cricket": lambda **asked: _yes(rules.cricket_asked(**asked) is not None),
    "touching": lambda one, other: _yes(tables.touching(one, other) is not None),
    "draining": lambda above, below: _yes(tables.draining(above, below) is not None),
}


def recompute(name: str, inputs: Mapping[str, Any]) -> float:
    """The program's own value for a printed one, in the printed unit.

    Raises:
        KeyError: nothing of that name (our bug).
    """
    return float(COMPUTE[name](**inputs))
