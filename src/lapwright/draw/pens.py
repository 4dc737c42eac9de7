"""How each kind of line looks: weight and dashes only, so that black and white tells them apart."""

from __future__ import annotations

from lapwright.draw.display import Pen

PENS: tuple[Pen, ...] = (
    Pen("cut", 1.4),
    Pen("slit", 1.8, (2.4, 2.4)),
    Pen("hole", 0.9),
    Pen("bend-up", 0.8, (10, 2.5, 1.5, 2.5)),
    Pen("bend-down", 0.8, (6, 2, 1, 2, 1, 2)),
    Pen("dimension", 0.3),
    Pen("leader", 0.4),
    Pen("balloon", 0.7),
    Pen("datum", 1.0),
    Pen("break", 0.7),
    Pen("window", 0.6, (1.2, 2)),
    Pen("text", 0.3),
    Pen("mask", 0.0),
    Pen("table", 0.4),
    Pen("eave", 2.0),
    Pen("edge", 1.2),
    Pen("rib", 0.5),
    Pen("bay-rib", 1.3),
    Pen("wall", 1.2),
    Pen("panel", 0.5),
    Pen("upper-panel", 0.9, (5, 2.5)),
    Pen("pan", 1.0),
    Pen("apron", 0.8, (8, 2)),
    Pen("side-wall", 0.8, (3, 1.5)),
    Pen("patch", 0.5),
    Pen("cleat", 1.6, (9, 2.5, 2, 2.5)),
    Pen("notch", 3.0, (1, 3.2)),
    Pen("membrane", 0.4, (1, 1.5)),
    Pen("hidden", 0.4, (3, 2)),
)
"""A full line is an edge, dashes with dots are bends or cleats, short heavy dashes are slits."""
