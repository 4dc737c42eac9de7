"""Which laps of the standard detail are sealed, and what head each kind of sealing is trusted to hold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lapwright.tables import rows

WALL = "wall"

Held = tuple[float, str]
"""Head that is held [in], and the row of data/ratings.toml it rests on; 0 and nothing where nothing is sealed."""

NOTHING: Held = (0.0, "")


@dataclass(frozen=True, slots=True)
class Seals:
    """Which laps are sealed, by the kinds of the sheets (over, under), and what each holds. [in]

    without: sealing left out: a kind of sealing ("bead"), a lap by its kinds ("back-pan/side-wall"), or the
    sealing under one piece by its id.
    """

    ratings: Mapping[str, float]
    laps: Mapping[tuple[str, str], str]
    without: frozenset[str] = frozenset()

    @property
    def hem(self) -> float:
        """What a hem hooked on its cleat holds. [in]"""
        return self.rating("panel", "offset-cleat")

    @property
    def tape(self) -> float:
        """What the tape under a cleat holds. [in]"""
        return self.rating("offset-cleat", "back-pan")

    def rating(self, over: str, under: str, piece: str = "") -> float:
        """Head the lap of one kind over another holds by its sealing. [in]"""
        return self.held(over, under, piece)[0]

    def held(self, over: str, under: str, piece: str = "") -> Held:
        """The same with the row it rests on. piece: id of the sheet that lies over."""
        how = self.laps.get((over, under), "")
        gone = not how or self.without & {how, f"{over}/{under}", piece}
        return NOTHING if gone else (self.ratings[how], how)


def standard_seals(join: str) -> Seals:
    """The sealing of the standard detail, as the takeoff counts it and the steps say it. House rules.

    Args:
        join: how the flashing metal's corners are closed, "solder" or "rivet".
    """
    patch = "solder" if join == "solder" else "patch"
    laps = {
        ("side-wall", "panel"): "tape", ("side-wall", "apron"): "bead", ("apron", "panel"): "tape",
        ("back-pan", "side-wall"): "bead", ("back-pan", "panel"): "bead",
        ("cricket", "side-wall"): "bead", ("cricket", "panel"): "bead", ("cricket", "cricket"): "seam",
        ("offset-cleat", "back-pan"): "tape", ("offset-cleat", "cricket"): "tape",
        ("panel", "offset-cleat"): "hem", ("counterflashing", "counterflashing"): "bead",
    }  # fmt: skip
    laps |= {("sleeve", "base-plate"): patch, ("rib-hood", "base-plate"): patch, ("base-plate", "base-plate"): "bead"}
    laps |= {("base-plate", "panel"): "bead", ("offset-cleat", "base-plate"): "tape"}
    laps |= {("corner-patch", k): patch for k in ("back-pan", "cricket", "side-wall", "apron", "panel", WALL)}
    return Seals({k: float(v) for k, v in rows("ratings").items()}, laps)
