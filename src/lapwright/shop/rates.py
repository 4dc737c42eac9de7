"""How much of a thing goes where: bead and tape sizes, spacings, roll and tube contents.

All are house rules from memory unless a source is named; a maker's data sheet beats every one of them.
"""

from __future__ import annotations

import math

BEAD = 0.25
"""Diameter of a gunned bead of sealant. House rule. [in]"""

TUBE = 18.2
"""Sealant in a 10.1 fl oz tube; 1 US fl oz = 1.8047 in3. From memory. [in3]"""

LAP_PASS = 3.0
"""Spacing of the to-and-fro passes of sealant in a lap. House rule. [in]"""

TAPE_ROLL = 45 * 12.0
"""Length of a roll of butyl tape, 3/32 by 7/8. From memory. [in]"""

CLEAT_SCREW = 6.0
"""Screws along an offset cleat, one at each end and no farther apart than this. House rule. [in]"""

STRIP_SCREW = 12.0
"""Screws along hook strips, dams and the pan's upslope end. [in]

Source: UFGS 07 60 00, 3.1.4, c. 2003 text (cleats at most 12 in on centre); a copy was seen.
"""

PANEL_FIXING = 12.0
"""Nailing-flange screws or clips along a panel's leading leg. House rule; wind and the maker decide. [in]"""

CLIP_SCREWS = 2
"""Screws in one clip. House rule."""

WEDGE = 18.0
"""Wedges along a reglet. [in]  Source: UFGS 07 60 00, 3.1.13, c. 2003 text; a copy was seen."""

WALL_SCREW = 12.0
"""Screws of a counterflashing that is not held in a reglet. House rule. [in]"""

RIVET = 2.0
"""Rivets round a patch. [in]

Source: NZ Metal Roof and Wall Cladding Code of Practice v3, 6.4 (50 mm); a copy was seen.
"""


def bead_area() -> float:
    """Section of a bead. [in2]"""
    return math.pi * BEAD**2 / 4


def spaced(length: float, spacing: float) -> int:
    """How many screws hold a run: one at each end, the gaps no wider than `spacing`. [in]

    >>> spaced(13.9, 6.0)
    4
    """
    return math.ceil(length / spacing - 1e-9) + 1
