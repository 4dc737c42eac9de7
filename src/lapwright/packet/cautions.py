"""Which cautions a packet carries, to whom it gives way, and what it did not check."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from lapwright import tables
from lapwright.findings import Value
from lapwright.packet.worked import WorkedJob
from lapwright.site.model import Opening

HEAVY = 25.0
"""From this weight up a blank is for two people. House rule. [lb]"""

LONG = 96.0
"""From this length up a blank is for two people. House rule. [in]"""

DEFERS = ("packet.defers.code", "packet.defers.maker", "packet.defers.licence")
"""To whom the packet gives way."""

NOT_CHECKED = (
    "packet.not_checked.structure",
    "packet.not_checked.edges",
    "packet.not_checked.wind",
    "packet.not_checked.movement",
    "packet.not_checked.water",
    "packet.not_checked.flue",
    "packet.not_checked.hidden",
)
"""What nobody worked out for this packet."""


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution by key of words/, with its values."""

    key: str
    values: dict[str, Value] = field(default_factory=dict)


def cautions_for(job: WorkedJob) -> tuple[Caution, ...]:
    """The cautions that apply, the gravest first."""
    return tuple(_all(job))


def not_checked(job: WorkedJob) -> tuple[Caution, ...]:
    """What the packet does not cover, openings without a detail by name."""
    bare = [d.opening.name for d in job.detail.openings if d.method == "none"]
    named = (Caution("packet.not_checked.opening", {"opening": name}) for name in bare)
    return (*named, *(Caution(key) for key in NOT_CHECKED))


def _all(job: WorkedJob) -> Iterator[Caution]:
    openings = job.site.openings
    if openings:
        yield Caution("packet.caution.fall_hole", {"count": len(openings)})
    yield Caution("packet.caution.fall")
    yield Caution("packet.caution.electricity")
    if any(_hot(o) for o in openings):
        yield Caution("packet.caution.hot_flue")
    yield from _masonry(job)
    yield Caution("packet.caution.metal")
    yield Caution("packet.caution.membrane")
    yield from _shop(job)
    yield Caution("packet.caution.sealant")


def _masonry(job: WorkedJob) -> Iterator[Caution]:
    if any(o.kind == "masonry-chimney" for o in job.site.openings):
        yield Caution("packet.caution.silica")
        yield Caution("packet.caution.stone")
    if job.site.roof.work == "existing":
        yield Caution("packet.caution.old_lead")


def _shop(job: WorkedJob) -> Iterator[Caution]:
    metals = {p.metal for p in job.pieces if p.is_metal} | {job.site.panel.metal}
    rows = [tables.metals()[m] for m in sorted(metals)]
    if any(row.family.startswith("steel") for row in rows):
        yield Caution("packet.caution.no_discs")
    if any(row.join == "solder" for row in rows):
        yield Caution("packet.caution.torch")
    big = big_blanks(job)
    if big:
        yield Caution("packet.caution.two_people", {"count": len(big), "ids": ", ".join(big)})


def big_blanks(job: WorkedJob) -> tuple[str, ...]:
    """Ids of the blanks and panels that take two people: heavy, or long."""
    heavy = [p.id for p in job.pieces if p.weight_lb >= HEAVY or max(p.blank.width, p.blank.height) >= LONG]
    long = [p.id for p in job.panels if p.blank is not None and max(p.blank.width, p.blank.height) >= LONG]
    return (*heavy, *long)


def _hot(opening: Opening) -> bool:
    return opening.kind in ("masonry-chimney", "framed-chimney", "pipe")
