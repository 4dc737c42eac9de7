"""Formed legs of panels at a rib, drawn plainly: only their height and their faces are the panel's own.

 snap                                folded
   _______________                      ________
  | ___________   |  lock              |__      |  lock
  ||           |  |                       ||
  ||  inner    outer  inner leg           ||  inner legs
__||           |  |_________      ________||________
 leading       |_____ flange       leading  lapping
"""

from __future__ import annotations

from collections.abc import Iterable

from lapwright.geom.space import Flat
from lapwright.metal.model import RoofPanel
from lapwright.site.model import Panel

NEST = 0.07
"""Room drawn between two nested legs. [in]"""
FLANGE = 1.0
"""A nailing flange as drawn. [in]"""
OVERHANG = 0.2
"""How much of the rib's height a snap lock's outer wall leaves open at its foot."""

WHOLE = frozenset({"inner", "outer", "flange", "lock"})
LOST: dict[str, frozenset[str]] = {
    "outer-leg": frozenset({"outer", "flange"}),
    "lap-lock": frozenset({"lock"}),
    "leg-back": WHOLE,
    "leg-off": WHOLE,
    "flange-off": frozenset({"flange"}),
}
"""What each kind of notch takes off a leg."""


def legs_at(
    panel: RoofPanel, formed: Panel, face: float, rib: float, on_left: bool, y: float
) -> tuple[tuple[Flat, ...], tuple[Flat, ...]]:
    """The leg a panel has at the rib centred at `rib`, cut at y, and the leg it was formed with.

    Args:
        panel: Its notches say what is missing at y.
        formed: Rib height, seam and laying direction.
        face: Rib centre to rib face. [in]
        rib: x of the rib's centre. [in]
        on_left: Does the panel lie to the left of the rib?
        y: Where the roof is cut. [in]

    Returns:
        Both from the foot at the rib's face outward, as (x, height over the panel's flat); the first is
        empty where nothing of the leg is left. [in]
    """
    leading = on_left == (formed.lay == "left-to-right")
    side = -1.0 if on_left else 1.0

    def leg(kept: frozenset[str]) -> tuple[Flat, ...]:
        if "inner" not in kept:
            return ()
        return tuple((rib + side * a, h) for a, h in _shape(formed, face, leading, kept))

    return leg(_kept(panel, rib, y)), leg(WHOLE)


def _kept(panel: RoofPanel, rib: float, y: float) -> frozenset[str]:
    lost: Iterable[str] = (
        part
        for n in panel.notches
        if abs(n.rib - rib) < 1e-6 and min(n.from_y, n.to_y) <= y <= max(n.from_y, n.to_y)
        for part in LOST.get(n.cut, ())
    )
    return WHOLE - frozenset(lost)


def _shape(formed: Panel, face: float, leading: bool, kept: frozenset[str]) -> list[Flat]:
    """(distance from the rib's centre toward the panel's own side, height), foot first."""
    high = formed.rib_height
    if formed.folded:
        return _folded_leg(high, face, leading, kept)
    out = [(face, 0.0), (face, high - (NEST if leading else 0.0))]
    if leading and "outer" in kept:
        out += [(NEST - face, high - NEST), (NEST - face, 0.0)]
        if formed.fixing == "nailing-flange" and "flange" in kept:
            out.append((-face - FLANGE, 0.0))
    if not leading and "lock" in kept:
        out += [(-face - NEST, high), (-face - NEST, OVERHANG * high)]
    return out


def _folded_leg(high: float, face: float, leading: bool, kept: frozenset[str]) -> list[Flat]:
    """Both legs stand back to back; the lapping one folds over the leading one's edge."""
    half = NEST / 2
    if leading:
        out = [(half, 0.0), (half, high - NEST)]
        return [*out, (face - NEST, high - NEST)] if "outer" in kept else out
    out = [(half, 0.0), (half, high)]
    if "lock" in kept:
        out += [(-face, high), (-face, high - 2 * NEST), (-half - NEST, high - 2 * NEST)]
    return out
