"""An opening so near a rake that its bay ends at the roof's edge: left as right, pan as cricket."""

from __future__ import annotations

import pytest

from chimney import changed, chimney
from lapwright.job import Job, run

CASES = [
    ("masonry-chimney", "plumb", 4.0),
    ("wall", "plumb", 7.0),
    ("skylight", "square", 7.0),
    ("curb", "plumb", 12.0),
]


def beside(side: str, kind: str, face: str, rise: float, method: str) -> Job:
    """20 wide, 9 3/4 off the left or right rake of a 288 eave; ribs 20 apart and laid the other way in the mirror."""
    right = side == "right"
    site = changed(
        chimney(face), kind=kind, method=method, rise=rise, width=20.0, height=30.0, slope=260.0, coverage=20.0,
        left=288 - 9.75 - 20 if right else 9.75, first_rib=(288 - 15.5) % 20 if right else 15.5,
        lay="right-to-left" if right else "left-to-right",
    )  # fmt: skip
    return run(site)


@pytest.mark.parametrize("method", ["flat-pan", "cricket"])
@pytest.mark.parametrize(("kind", "face", "rise"), CASES)
def test_the_bay_ends_at_the_edge_and_nothing_stops(kind: str, face: str, rise: float, method: str) -> None:
    for side in ("left", "right"):
        job = beside(side, kind, face, rise, method)
        (d,) = job.detail.openings
        # Left: 0 to the rib at 15.5 + 20 = 35.5, the first at least 4 beyond 29.75. Right: its mirror, 252.5 to 288.
        assert (d.bay.left, d.bay.right) == ((0.0, 35.5) if side == "left" else (252.5, 288.0))
        assert len(d.notches) == 1, "one bay rib, one notch"
        assert d.method == method
        assert not [f.rule for f in job.findings if f.stops]
        assert not [f.rule for f in job.findings if "leak" in f.rule]


@pytest.mark.parametrize("method", ["flat-pan", "cricket"])
@pytest.mark.parametrize(("kind", "face", "rise"), CASES)
def test_both_rakes_take_the_same_metal(kind: str, face: str, rise: float, method: str) -> None:
    left, right = (beside(side, kind, face, rise, method) for side in ("left", "right"))
    # A cricket's right half always laps over the left one, so its halves are the same together, not one by one.
    for one in sorted({p.kind for p in left.pieces}):
        areas = [sum(p.blank.area * p.quantity for p in job.pieces if p.kind == one) for job in (left, right)]
        assert areas[0] == pytest.approx(areas[1], abs=1e-6), one
