"""How long the work takes: bends, cuts, marks, sealed runs and fixings of a job, at the minutes of the rates.

Bench work is counted from the blanks; work on the roof from the order of work, step by step. Setting out, staging,
travel and weather are in none of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from lapwright.metal.model import Blank, Piece, RoofPanel
from lapwright.metal.smooth import marked_corners
from lapwright.shop.model import TakeoffLine
from lapwright.shop.price_list import Rates, packaged
from lapwright.shop.step_work import LOCKS, ONCE, StepWork
from lapwright.site.model import Site

RUNS = ("seam", "solder", "reglet", "ridge")
THINGS = ("mark", "set", "panel")


@dataclass(frozen=True, slots=True)
class Labour:
    """What is done by hand. pieces: blanks marked and set. seam: sealed runs. [in]

    cuts: corners of outlines, slits and holes. bends: bends and hems.
    """

    pieces: int
    cuts: int
    bends: int
    seam: float

    @property
    def hours(self) -> float:
        """Hours of one pair of hands, for comparing. Source: data/rates.toml, house rules.

        >>> round(Labour(pieces=10, cuts=60, bends=30, seam=120.0).hours, 3)
        2.7
        """
        t = packaged()
        each = self.pieces * (t["times.blank"] + t["times.set"]) + self.cuts * t["times.cut"]
        return (each + self.bends * t["times.bend"] + self.seam / 12 * t["times.seam"]) / 60


def labour_of(pieces: Sequence[Piece], panels: Sequence[RoofPanel], seam: float) -> Labour:
    """Count the work in metal pieces and in panels that are worked on the roof.

    Args:
        pieces: Membrane among them is left out.
        panels: Those without a blank are left out.
        seam: Length of all sealed runs. [in]
    """
    made: list[tuple[int, Blank, int]] = [(p.quantity, p.blank, len(p.bends)) for p in pieces if p.is_metal]
    made += [(1, p.blank, len(p.bends)) for p in panels if p.blank is not None]
    return Labour(
        pieces=sum(n for n, _, _ in made),
        cuts=sum(n * (len(marked_corners(b)) + len(b.cuts) + len(b.holes)) for n, b, _ in made),
        bends=sum(n * bends for n, _, bends in made),
        seam=seam,
    )


def labour_lines(
    site: Site, pieces: Sequence[Piece], panels: Sequence[RoofPanel], works: Sequence[StepWork], prices: Rates
) -> Iterator[TakeoffLine]:
    """Hours: cutting, folding, then every step of the order of work.

    Args:
        pieces, panels: As the takeoff counts them; on an existing roof the through panels lie there already.
        works: What every step takes (see step_work.works_of).
        prices: The rates that stand; their minutes are used.
    """
    new = [p for p in panels if site.roof.work == "new" or p.role != "through"]
    bench = labour_of(pieces, new, 0.0)
    cut = bench.pieces * prices["times.blank"] + bench.cuts * prices["times.cut"]
    yield from _line("labour-cut", "labour-cut", cut, {"blanks": bench.pieces, "cuts": bench.cuts})
    yield from _line("labour-fold", "labour-fold", bench.bends * prices["times.bend"], {"bends": bench.bends})
    for work in works:
        item = "labour-step-at" if work.opening else "labour-step"
        values = {"n": work.n, "work": f"shop.work.{work.kind}", "opening": work.opening, **_said(work.counts)}
        yield from _line(item, _basis(work), work.minutes(prices), values)


def times_used(works: Sequence[StepWork]) -> tuple[str, ...]:
    """The rows of the rates that the hours rest on."""
    on_the_roof = dict.fromkeys(key for work in works for key in work.counts)
    return ("times.blank", "times.cut", "times.bend", *on_the_roof)


def _line(item: str, basis: str, minutes: float, values: Mapping[str, float | int | str]) -> Iterator[TakeoffLine]:
    if minutes > 0:
        yield TakeoffLine(f"shop.item.{item}", minutes / 60, "h", f"shop.basis.{basis}", dict(values), "labour")


def _basis(work: StepWork) -> str:
    """The sentence that names what this step is counted from."""
    if work.kind in (*ONCE, "ridge", "water-test"):
        return f"labour-{work.kind}"
    special = next((w for w in ("reglet", "solder") if f"times.{w}" in work.counts), None)
    panels = any(key in work.counts for key in LOCKS.values())
    return f"labour-{special or ('panels' if panels else 'set')}"


def _said(counts: Mapping[str, float]) -> dict[str, float | int | str]:
    """The counts as a basis names them: runs in inches, things as whole numbers."""
    out: dict[str, float | int | str] = {name: round(counts.get(f"times.{name}", 0.0)) for name in THINGS}
    out |= {name: 12 * counts.get(f"times.{name}", 0.0) for name in RUNS}
    out["lock"] = 12 * sum(counts.get(key, 0.0) for key in LOCKS.values())
    out["fixed"] = round(sum(counts.get(f"times.{name}", 0.0) for name in ("screw", "clip", "rivet")))
    return out
