"""How much metal a bend takes: allowance, setback, deduction.

Mould lines here lie on the sheet's UNPAINTED surface, where the planes of two neighbouring faces meet.
A bend "up" turns toward the paint, so that surface is outside the bend; a bend "down" has it inside.

        up                       down
        |                       ______
        |  paint        paint   |
    ____/               ________/      <- setback: mould line back to the tangent line
    ^^^^^ unpainted     ^^^^^^^^ unpainted

Symbols in the formulas: A = angle the sheet turns [rad], r = inside radius, t (DIN: s) = coated
thickness, K = place of the neutral line as a part of t, k = 2 K as DIN 6935 writes it.
"""

from __future__ import annotations

import math
from typing import Literal

Way = Literal["up", "down"]

DIN_K_LIMIT = 5.0
"""From r/s of 5 up, DIN 6935 puts the neutral line at mid-thickness (k = 1)."""

CLOSED_HEM_K = 0.5
"""House rule from memory: a hem mashed flat (radius 0) takes pi t/2, a deduction of about 0.43 t."""

FLAT_BACK_DEG = 179.999
"""From here up the two faces are parallel: mould planes never meet and the fold's extreme edge is used."""


def din_k(r: float, s: float) -> float:
    """How far out the neutral line lies: 0 at the inside surface, 1 at mid-thickness.

    Args:
        r: Inside radius, above 0. [any length]
        s: Thickness, above 0. [same length]

    Returns:
        k = 0.65 + 0.5 log10(r/s) up to r/s = 5, then 1; never below 0, where the formula
        (r/s under 0.05) says nothing any more. Meant for steel sheet bent cold to 165 degrees
        at most; taken here for the other sheet metals too (house rule).

    Raises:
        ValueError: r or s is not above 0.

    Source: DIN 6935, k for blank lengths; a textbook's copy was seen.

    >>> round(din_k(6, 5), 3)
    0.69
    """
    if not (r > 0.0 and s > 0.0):
        raise ValueError(f"radius {r} and thickness {s} must be above 0")
    if r / s > DIN_K_LIMIT:
        return 1.0
    return max(0.0, 0.65 + 0.5 * math.log10(r / s))


def k_factor(radius: float, thickness: float) -> float:
    """The neutral line's place as a part of the thickness, 0 to 0.5.

    Args:
        radius: Inside radius, 0 for a hem mashed flat. [in]
        thickness: Coated metal, above 0. [in]

    Raises:
        ValueError: radius below 0 or thickness not above 0.

    Source: DIN 6935 halved; 0.5 for a closed hem is a house rule from memory.

    >>> k_factor(0.0, 0.0276)
    0.5
    """
    if radius == 0.0:
        if not thickness > 0.0:
            raise ValueError(f"thickness {thickness} must be above 0")
        return CLOSED_HEM_K
    return din_k(radius, thickness) / 2.0


def allowance(angle_deg: float, radius: float, thickness: float, k: float | None = None) -> float:
    """The metal that goes into a bend, from tangent line to tangent line. [in]

    Args:
        angle_deg: How far the sheet turns, 0 to 180. [deg]
        radius: Inside radius, 0 or more. [in]
        thickness: Coated metal, above 0. [in]
        k: The neutral line's place, 0 to 0.5; DIN 6935's when left out.

    Raises:
        ValueError: an argument is outside its range.

    Source: arc of the neutral line, A (r + K t).

    >>> round(allowance(90, 1.0, 1.0, 0.5), 4)
    2.3562
    """
    _in_range(angle_deg, radius, thickness)
    place = k_factor(radius, thickness) if k is None else k
    if not 0.0 <= place <= 0.5:
        raise ValueError(f"K {place} must lie from 0 to 0.5")
    return math.radians(angle_deg) * (radius + place * thickness)


def setback(angle_deg: float, radius: float, thickness: float, way: Way) -> float:
    """From the mould line back to where the sheet starts to turn. [in]

    Args:
        angle_deg: How far the sheet turns, 0 to 180. [deg]
        radius: Inside radius, 0 or more. [in]
        thickness: Coated metal, above 0. [in]
        way: "up" toward the paint (unpainted side outside), "down" away from it (inside).

    Returns:
        (r + t) tan(A/2) up, r tan(A/2) down. A 180-degree hem has no mould line: r + t either
        way, from the fold's extreme edge to the tangent line.

    Raises:
        ValueError: an argument is outside its range.

    Source: right triangle; FAA-H-8083-31, setback K (R + T), K = tan(A/2).

    >>> round(setback(90, 0.16, 0.04, "up"), 6)
    0.2
    """
    _in_range(angle_deg, radius, thickness)
    if angle_deg >= FLAT_BACK_DEG:
        return radius + thickness
    reach = radius + thickness if way == "up" else radius
    return reach * math.tan(math.radians(angle_deg) / 2.0)


def deduction(angle_deg: float, radius: float, thickness: float, way: Way = "up", k: float | None = None) -> float:
    """How much shorter the blank is than the two faces measured to their mould line. [in]

    Below 0 for a bend measured on its inside: the blank is longer than the faces.

    Source: 2 setback - allowance; DIN 6935 calls it the compensation value v (outside measures,
    90 degrees and less of turn).

    >>> round(deduction(180, 0.0, 1.0), 3)
    0.429
    """
    return 2.0 * setback(angle_deg, radius, thickness, way) - allowance(angle_deg, radius, thickness, k)


def _in_range(angle_deg: float, radius: float, thickness: float) -> None:
    if not 0.0 <= angle_deg <= 180.0:
        raise ValueError(f"a sheet turns 0 to 180 degrees, not {angle_deg}")
    if not radius >= 0.0:
        raise ValueError(f"radius {radius} must not be below 0")
    if not thickness > 0.0:
        raise ValueError(f"thickness {thickness} must be above 0")
