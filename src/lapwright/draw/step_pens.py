"""Pens of the step pictures: what goes on is heavy, what lies there is light, sealant and tape are dotted."""

from __future__ import annotations

from lapwright.draw.display import Pen
from lapwright.draw.pens import PENS

STEP_PENS: tuple[Pen, ...] = (
    *PENS,
    Pen("fill", 0.0),
    Pen("on", 0.35),
    Pen("now", 1.1),
    Pen("fold", 0.35),
    Pen("on-rib", 0.45),
    Pen("now-rib", 0.9),
    Pen("rib-line", 0.9),
    Pen("sealant", 2.1, (0.01, 3.6)),
    Pen("solder", 1.9),
    Pen("tape", 2.1, (4.5, 2.5)),
    Pen("screw", 0.8),
    Pen("off", 1.6, (7, 3)),
    Pen("lock", 3.2, (6, 3.5)),
    Pen("chalk", 1.4, (8, 2, 2, 2)),
    Pen("zone", 1.2, (3, 2.2)),
    Pen("cross", 0.3),
    Pen("frame", 0.3, (1, 1.6)),
    Pen("deck", 0.8),
)
"""Weight and dashes only: black and white tells them apart."""
