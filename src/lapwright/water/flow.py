"""Films and troughs in closed form.

    film     rain on a steep smooth plane: laminar or turbulent sheet, kinematic depth
    trough   the wedge of water between a wall and the slope above it, fed along its length, spilling at both ends
"""

from __future__ import annotations

import math
from dataclasses import dataclass

G = 9.80665
"""Standard gravity. [m/s2]"""

NU = 1.0e-6
"""Kinematic viscosity of water near 20 C. From memory. [m2/s]"""

INCH = 0.0254
GALLON = 0.003785411784
"""US gallon. [m3]"""

LAMINAR_K = 24.0
"""Darcy friction of a smooth laminar sheet: f = 24/Re. Rain impact raises it (87 at 8 in/h, from memory)."""

RAIN_K = 87.0
"""The same under driving rain of about 8 in/h. Source: Shen and Li, from memory."""


def rain_rate(rain: float) -> float:
    """Rain as a speed: in/h [in/h] to [m/s]."""
    return rain * INCH / 3600.0


def supply_gpm(rain: float, area_sqin: float) -> float:
    """Flow from rain on a level (plan) area, in gallons a minute.

    Args:
        rain: intensity. [in/h]
        area_sqin: plan area. [in2]

    Source: unit conversion; 1 in/h on 1 ft2 is 0.0104 gpm (NSPC 2015, A.1, a copy seen).

    >>> round(supply_gpm(1.0, 144.0), 4)
    0.0104
    """
    return rain_rate(rain) * area_sqin * INCH**2 / GALLON * 60.0


@dataclass(frozen=True, slots=True)
class Film:
    """A running sheet: depth [in], speed [in/s], Reynolds number q/nu, Froude number."""

    depth: float
    speed: float
    reynolds: float
    froude: float


def film(rain: float, run: float, theta: float, k: float = RAIN_K) -> Film:
    """The sheet of water at the foot of a run of roof.

    Args:
        rain: intensity on the level. [in/h]
        run: length up the slope that drains here. [in]
        theta: slope from level, above 0. [rad]
        k: laminar friction constant.

    Source: kinematic wave, S = f V^2/(8 g h); f the larger of k/Re (laminar) and 0.2235/Re^0.25 (Blasius
    form for Re = q/nu). No published value for painted metal: the laminar constant is the uncertain part.
    """
    q = rain_rate(rain) * math.cos(theta) * run * INCH
    if q <= 0:
        return Film(0.0, 0.0, 0.0, 0.0)
    re = q / NU
    f = max(k / re, 0.2235 / re**0.25)
    h = (f * q * q / (8 * G * math.sin(theta))) ** (1 / 3)
    v = q / h
    return Film(h / INCH, v / INCH, re, v / math.sqrt(G * math.cos(theta) * h))


@dataclass(frozen=True, slots=True)
class Trough:
    """Standing water behind an opening.

    supply_gpm: all that arrives. critical, depth: at the ends and at the middle, square to the roof. [in]
    reach: how far up the roof it stands. [in]  run_up: the arriving sheet's stagnation head. [in]
    design: 1.10 depth + run_up. [in]
    """

    supply_gpm: float
    critical: float
    depth: float
    reach: float
    run_up: float
    design: float


DESIGN_MARGIN = 1.10
"""On the still depth, over the closed form. House rule."""

CENTRE_TO_CRITICAL = 2.5 ** (1 / 3)
"""Depth at the middle over depth at the ends for a wedge fed evenly: momentum between both."""


def trough(rain: float, width: float, run: float, theta: float) -> Trough:
    """Depth of the wedge of water between a level wall and the slope above it.

    Args:
        rain: on the level. [in/h]
        width: of the wall, across the slope. [in]
        run: roof upslope of the wall that drains to it, roof above included. [in]
        theta: slope from level, above 0. [rad]

    Source: spatially varied flow, critical at both ends, wedge of side slope m = 1/tan(theta), g' = g cos(theta),
    Q = rain cos(theta) (width/2) run; y_c = (8 Q^2/(g' m^2))^(1/5); middle 2.5^(1/3) y_c (own derivation).
    For a wall square to the roof; a plumb one stands shallower, so the figure is on the safe side.
    """
    q = rain_rate(rain) * math.cos(theta) * (width / 2) * INCH * run * INCH
    m = 1.0 / math.tan(theta)
    critical = (8 * q * q / (G * math.cos(theta) * m * m)) ** 0.2
    depth = CENTRE_TO_CRITICAL * critical
    sheet = film(rain, run, theta)
    run_up = (sheet.speed * INCH) ** 2 / (2 * G)
    return Trough(
        supply_gpm=2 * q / GALLON * 60.0,
        critical=critical / INCH,
        depth=depth / INCH,
        reach=depth / INCH / math.tan(theta),
        run_up=run_up / INCH,
        design=(DESIGN_MARGIN * depth + run_up) / INCH,
    )


def manning(width: float, depth: float, n: float, slope: float) -> float:
    """Flow of a rectangular channel. Lengths [m], flow [m3/s].

    Source: Manning, Q = (1/n) A R^(2/3) S^(1/2).
    """
    area = width * depth
    return area / n * math.pow(area / (width + 2 * depth), 2 / 3) * math.sqrt(slope)


def channel_depth(flow_gpm: float, width: float, theta: float, n: float = 0.012) -> float:
    """Depth of a side channel beside an opening: steep, so the normal depth. [in]

    Args:
        flow_gpm: what runs down it. [gal/min]
        width: between the opening and the rib. [in]
        n: Manning's roughness; 0.012 for smooth metal is from memory.

    Source: wide-channel Manning, q = h^(5/3) sqrt(sin theta)/n.
    """
    q = flow_gpm * GALLON / 60.0 / (width * INCH)
    return math.pow(q * n / math.sqrt(math.sin(theta)), 0.6) / INCH


def gathering(run: float, rain: float, slope: float, n: float = 0.012) -> float:
    """How long until all of a roof contributes to what runs off its foot. [min]

    Args:
        run: length up the slope. [in]
        rain: on the surface. [in/h]
        slope: fall per unit of length. [-]
        n: Manning's roughness; 0.012 for smooth metal is from memory.

    Source: kinematic wave with Manning, t = (n L/sqrt(S))^0.6 / i^0.4, exact. Handbooks print it as
    6.92 (n L)^0.6/(i^0.4 S^0.3) [min, m, mm/h] (HEC-22), 1 % below the exact 6.99.
    """
    i = rain_rate(rain)
    return math.pow(n * run * INCH / math.sqrt(slope), 0.6) / math.pow(i, 0.4) / 60.0


def head_of(pressure_psf: float) -> float:
    """Head of water a pressure holds. [in] from [lb/ft2]. Source: 1 psf = 0.1922 in of water.

    >>> round(head_of(6.24), 2)
    1.2
    """
    return pressure_psf * 0.19222


def wind_pressure(speed_mph: float) -> float:
    """Stagnation pressure of wind [mph] in [lb/ft2]: 0.00256 V^2 (ASCE 7, the constant as printed)."""
    return 0.00256 * speed_mph**2
