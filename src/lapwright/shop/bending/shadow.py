"""The shadow of one flat part on a folder's section: what of it strikes the tools at one line.

A position is put together from its flat parts, and where one part lies depends only on the bends between it and the
line. So every answer is kept by (part, bends done on the way to it), and a position is looked up, not worked out.
"""

from __future__ import annotations

import math

import numpy as np

from lapwright.shop.bending.blank_lines import Cloud
from lapwright.shop.bending.machine import NEAR, Machine, Ring, barred, barred_ways, swings_into
from lapwright.shop.bending.room import Part

THIN = 8.0
"""Points of a section nearer than one part in so many of an inch stand for each other."""

Span = tuple[float, float] | None
"""Where fingers stand along a line, none beyond; None: the beam runs on. [in]"""


def why_not_held(machine: Machine, part: Part, span: Span) -> str:
    """What a part of the held side strikes, "" when nothing."""
    if max(part.high, -part.low) <= machine.gap:
        return ""
    if _in(machine.beam, part) and machine.beam.holds_any(_under(machine, part.cloud, span)):
        return "beam"
    if machine.carrier is not None and _in(machine.carrier, part) and machine.carrier.holds_any(part.cloud):
        return "beam"
    return "bed" if _in(machine.bed, part) and machine.bed.holds_any(part.cloud) else ""


def why_not_free(machine: Machine, part: Part, angle_deg: float, span: Span) -> str:
    """What a part of the side that moves strikes, turned by `angle_deg`; "" when nothing."""
    if _in(machine.leaf, part) and machine.leaf.holds_any(part.cloud):
        return "leaf"
    if not _may_strike(machine, part.cloud, angle_deg):
        return ""
    t = machine.thickness
    strikes = swings_into(_under(machine, part.cloud, span), machine.beam_keys, angle_deg, t)
    return "swing" if strikes or swings_into(part.cloud, machine.fixed_keys, angle_deg, t) else ""


def _in(ring: Ring, part: Part) -> bool:
    """Quickly told: may a part come into a tool's section?"""
    return part.in_ < ring.right and part.out > ring.left and part.low < ring.upper and part.high > ring.lower


def bars(machine: Machine, part: Part, angle_deg: float, span: Span) -> bool:
    """Is a part, turned by `angle_deg`, kept from being drawn straight off the bed?"""
    if not angle_deg and (part.in_ >= -machine.back or max(part.high, -part.low) <= machine.gap):
        return False
    section = _turned(machine, part, angle_deg, span)
    flat = len(section) and section[:, 0].min() < -machine.back and np.abs(section[:, 1]).max() > machine.gap
    return bool(flat) and barred(section, machine)


def bars_ways(machine: Machine, part: Part, angle_deg: float, span: Span) -> tuple[bool, ...]:
    """The same for every way out."""
    section = _turned(machine, part, angle_deg, span)
    # What lies before the beam is before every tool; of points that fall together on the section one is enough.
    section = section[section[:, 0] < 0.0]
    if not len(section) or section[:, 0].min() >= -machine.back:
        return (False,) * len(machine.ways)
    _, first = np.unique(np.round(section * THIN) @ (1.0, 1e-4), return_index=True)
    return barred_ways(section[first], machine)


def _turned(machine: Machine, part: Part, angle_deg: float, span: Span) -> Cloud:
    section = _under(machine, part.cloud, span)[:, :2]
    if not angle_deg:
        return section
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    turned: Cloud = section @ np.array([[c, s], [-s, c]])
    return turned


def _under(machine: Machine, cloud: Cloud, span: Span) -> Cloud:
    """What of it comes where the beam is."""
    if span is None or machine.carrier is None:
        return cloud
    return cloud[(cloud[:, 2] > span[0]) & (cloud[:, 2] < span[1])]


def _may_strike(machine: Machine, free: Cloud, angle_deg: float) -> bool:
    """Quickly told: does it come anywhere near a tool?"""
    radius = np.hypot(free[:, 0], free[:, 1])
    far = radius > NEAR * machine.thickness
    if not far.any():
        return False
    angles = np.degrees(np.arctan2(free[far, 1], free[far, 0]))
    return machine.may_meet(float(radius.max()), float(angles.max()) + angle_deg, float(angles.min()))
