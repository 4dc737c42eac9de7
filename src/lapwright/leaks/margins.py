"""What is left of a way's head over the water that is there, and over wind."""

from __future__ import annotations

from dataclasses import dataclass

from lapwright.leaks.audit import Audit
from lapwright.leaks.search import Way
from lapwright.site.model import Site
from lapwright.water.flow import film, head_of, wind_pressure

WINDS = (40.0, 60.0)
"""Winds that rain comes with; the job's own design wind is the last row. House rule. [mph]"""

SHARES = (0.25, 0.5, 1.0)
"""How much of the pressure arrives behind the seam: nobody knows, so a table. House rule."""


@dataclass(frozen=True, slots=True)
class WindRow:
    """One wind: its head if all of its pressure arrives [in], and what each share leaves of a margin. [in]"""

    mph: float
    head: float
    left: tuple[tuple[float, float], ...]


def running_depth(site: Site) -> float:
    """Depth of the sheet of rain at the foot of the whole slope. [in]"""
    return film(site.weather.rain, site.roof.slope + site.weather.roof_above, site.roof.theta).depth


def margin(site: Site, way: Way, how: str) -> float:
    """Head over what is there: standing water is counted in the head already, running water has its depth. [in]

    Args:
        how: "standing" or "running".
    """
    return way.head - (running_depth(site) if how == "running" else 0.0)


def wind_rows(site: Site, a: Audit) -> tuple[WindRow, ...]:
    """What wind would leave of the smaller margin; nothing where no way leads to the deck.

    Source: stagnation pressure 0.00256 V^2 as a head of water, unequalised.
    """
    margins = [margin(site, w, how) for how, w in (("standing", a.standing), ("running", a.running)) if w]
    if not margins:
        return ()
    least = min(margins)
    rows = []
    for mph in (*WINDS, site.weather.wind_speed):
        head = head_of(wind_pressure(mph))
        rows.append(WindRow(mph, head, tuple((s, least - s * head) for s in SHARES)))
    return tuple(rows)
