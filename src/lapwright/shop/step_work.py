"""What every step of the order of work takes: each mark, run and fixing of the takeoff is in one of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from lapwright.detail.model import Detail, OpeningDetail
from lapwright.metal.model import Piece, RoofPanel
from lapwright.shop import fixings, rates
from lapwright.shop.beads import of, sealant_runs, tape_runs, wall_runs
from lapwright.shop.price_list import Rates
from lapwright.site.model import Site

LOCKS = {"snap": "times.lock", "single-fold": "times.single-fold", "double-fold": "times.double-fold"}
"""How long a seam takes to close, by seam."""

ONCE = ("open-up", "framing")
"""Steps that take a time of their own, whatever their size."""

WITH_PAN = ("bead-pan-ribs", "bead-pan-laps", "bead-halves", "screws-pans", "bead-plate-rings", "bead-split")
WITH_UPPER = ("bead-hems",)
WITH_COLLAR = ("bead-collars",)
WITH_SLEEVE = ("bead-sleeves",)
"""What is counted for a whole opening goes up with its pan or cricket, or with its upper panels."""

ONE_STEP = (*WITH_PAN, *WITH_UPPER, *WITH_COLLAR, *WITH_SLEEVE)
"""What goes on in one step of its opening only."""

Row = tuple[str, float, str]
"""A use, how much of it (runs in feet), and the row of the rates that says how long one takes."""


class WorkStep(Protocol):
    """What is read of a step of the order of work (packet.model.Step)."""

    @property
    def n(self) -> int: ...
    @property
    def title(self) -> str: ...
    @property
    def marks(self) -> Sequence[Any]: ...
    @property
    def pieces(self) -> Sequence[str]: ...
    @property
    def values(self) -> Mapping[str, Any]: ...


@dataclass(frozen=True, slots=True)
class StepWork:
    """What one step takes.

    kind: what is done (`side-walls`). counts: rows of the rates (`times.seam`) -> how many, runs in feet.
    """

    n: int
    kind: str
    opening: str
    counts: Mapping[str, float]

    def minutes(self, prices: Rates) -> float:
        """Minutes of one pair of hands. [min]"""
        return sum(prices[key] * count for key, count in self.counts.items())


def works_of(
    site: Site, detail: Detail, pieces: Sequence[Piece], panels: Sequence[RoofPanel], steps: Sequence[WorkStep]
) -> tuple[StepWork, ...]:
    """Deal out the work over the steps, in their order.

    Args:
        detail, pieces, panels: As the takeoff counts them.
        steps: The order of work.
    """
    openings = {d.opening.name: d for d in detail.openings}
    dealt: set[tuple[str, str]] = set()
    out = []
    for step in steps:
        mine = [p for p in pieces if p.id in step.pieces]
        laid = [p for p in panels if p.id in step.pieces]
        here = {p.opening for p in mine} | {p.opening for p in laid}
        names = [name for name in openings if name in here]
        kind = "framing" if step.title == "steps.cricket.framing" else step.title.split(".")[1]
        rows: list[Row] = [("marks", len(step.marks), "times.mark"), *_laid(site, mine, laid)]
        for name in names:
            own = [p for p in mine if p.opening == name]
            for row in _round_opening(openings[name], own, [p for p in laid if p.opening == name]):
                if row[0] not in ONE_STEP or (name, row[0]) not in dealt:
                    dealt.add((name, row[0]))
                    rows.append(row)
        rows += _whole(site, kind, sum(d.planned for d in detail.openings))
        where = str(step.values.get("opening", names[0] if names else ""))
        out.append(StepWork(step.n, kind, where, _added_up(rows)))
    return tuple(out)


def _added_up(rows: Sequence[Row]) -> dict[str, float]:
    out: dict[str, float] = defaultdict(float)
    for _, count, key in rows:
        out[key] += count
    return {key: count for key, count in out.items() if count}


def _laid(site: Site, pieces: Sequence[Piece], panels: Sequence[RoofPanel]) -> Iterator[Row]:
    """Pieces set, panels laid and fixed, seams closed. A panel that lay there already is only locked again."""
    new = [p for p in panels if site.roof.work == "new" or p.role != "through"]
    fixed = fixings.panel_fixings(site, new)
    clipped = fixed.use == "clips"
    yield "pieces", sum(p.quantity for p in pieces), "times.set"
    yield "panels", len(new), "times.panel"
    yield "seams", sum(p.length for p in panels) / 12, LOCKS[site.panel.seam]
    yield fixed.use, fixed.count, "times.clip" if clipped else "times.screw"
    if clipped:
        yield "clip-screws", fixed.count * rates.CLIP_SCREWS, "times.screw"


def _round_opening(d: OpeningDetail, pieces: Sequence[Piece], panels: Sequence[RoofPanel]) -> Iterator[Row]:
    """Runs and fixings of one opening that go with these pieces and panels."""
    alone = Detail((d,))
    runs = (*sealant_runs(alone, pieces), *tape_runs(pieces, panels))
    fixed = (
        *fixings.screws(alone, pieces), *fixings.dam_screws(alone, panels), *fixings.wall_fixings(alone, pieces)
    )  # fmt: skip
    rows: list[Row] = [(r.use, r.length / 12, "times.seam") for r in runs]
    rows += [(f.use, f.count, "times.screw") for f in fixed]
    rows.append(("rivets", fixings.rivets(pieces), "times.rivet"))
    rows.append(("solder", fixings.solder(pieces) / 12, "times.solder"))
    rows.append(("rivets-pipes", fixings.pipe_rivets(alone, pieces), "times.rivet"))
    rows.append(("solder-pipes", fixings.pipe_solder(alone, pieces) / 12, "times.solder"))
    if d.opening.kind == "masonry-chimney":
        walls = (sum(wall_runs(p, d.opening)) for p in of(pieces, "counterflashing"))
        rows.append(("reglet", sum(walls) / 12, "times.reglet"))
    pan = any(p.kind in ("back-pan", "cricket", "base-plate") for p in pieces)
    upper = any(p.role == "upper" for p in panels)
    kinds = {p.kind for p in pieces}
    without = (() if pan else WITH_PAN) + (() if upper else WITH_UPPER)
    without += (() if "sleeve" in kinds else WITH_SLEEVE) + (() if "storm-collar" in kinds else WITH_COLLAR)
    yield from (row for row in rows if row[0] not in without)


def _whole(site: Site, kind: str, planned: int) -> Iterator[Row]:
    """Steps whose time is not counted from pieces: once, along the upper edge, or once for every opening."""
    if kind in ONCE:
        yield kind, 1, f"times.{kind}"
    elif kind == "ridge":
        yield kind, site.roof.eave / 12, "times.ridge"
    elif kind == "water-test":
        yield kind, planned, "times.water-test"
