"""plan: a job file in, everything out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from lapwright.findings import Finding, Level
from lapwright.job import Job, begin, finish
from lapwright.packet.say import Voice, source_line
from lapwright.shop.price_list import Rates
from lapwright.site.read import read_job
from lapwright.store.inbox import read_job_file
from lapwright.store.outbox import write_packet
from lapwright.verbs.rates import read_rates_file
from lapwright.words import Speaker

if TYPE_CHECKING:
    from lapwright.packet.drawings import Drawing

Papers = Literal["letter", "a4", "both"]

WORST_FIRST: tuple[Level, ...] = ("stop", "caution", "note")


@dataclass(frozen=True, slots=True)
class Said:
    """A finding as text, the same in every face and on the page."""

    rule: str
    level: Level
    where: str
    says: str
    yours: str
    limit: str
    source: str


@dataclass(frozen=True, slots=True)
class Planned:
    """A planned roof and its packet.

    Attributes:
        job: Everything worked out.
        files: The packet's files by their names inside the packet.
        findings: What a person must know before cutting, the worst first.
    """

    job: Job
    files: Mapping[str, bytes]
    findings: tuple[Said, ...]

    @property
    def stopped(self) -> bool:
        """Does any finding forbid cutting?"""
        return self.job.stopped


def plan(
    job_text: str | bytes, filename: str, papers: Papers | None = None, rates: Rates | None = None
) -> Planned:
    """Plan a roof from the text of its job file.

    Args:
        job_text: The job file (TOML), as text or as its bytes.
        filename: What to call it in a problem.
        papers: What the packet is printed on; left out, Letter for a job in inches and A4 for one in mm.
        rates: A shop's own prices and times; left out, the packaged ones.

    Returns:
        The job and its packet, nothing written yet.

    Raises:
        JobProblems: the job cannot be read or makes no sense; all its problems at once.
    """
    job = begin(read_job(job_text, filename), rates)
    return Planned(job, packet_of(job, papers)[0], said(job, job.findings))


def packet_of(job: Job, papers: Papers | None = None) -> tuple[dict[str, bytes], tuple[Drawing, ...]]:
    """A worked-out job's files, by their names inside the packet, and the drawings among them.

    Args:
        job: A job, worked out as far as its steps; the rest is worked out beside the drawings that need none of it.
        papers: What the packet is printed on; see `plan`.
    """
    # Drawing and page libraries are loaded only for a job that could be planned.
    from lapwright.packet.drawings import draw_moving, draw_parts, draw_whole, in_order
    from lapwright.packet.files import drawing_files, metal_files, offline_file, page_files, told_files
    from lapwright.packet.scene import nodes_of
    from lapwright.store.beside import beside

    whole, parts = beside(lambda: draw_whole(finish(job), tuple(nodes_of(job))), lambda: draw_parts(job))
    shown = (*whole, *parts)
    # The pages take longest: what does not stand on them is made beside them.
    pages, (others, moving) = beside(
        lambda: page_files(job, papers, shown),
        lambda: (offline_file(job, shown) | told_files(job, papers) | metal_files(job), draw_moving(job)),
    )
    drawings = in_order((*shown, *moving))
    return pages | others | drawing_files(drawings), drawings


def said(job: Job, findings: Iterable[Finding]) -> tuple[Said, ...]:
    """Findings as text in the job's unit, the worst first."""
    voice = Voice(Speaker(job.site.units))
    return tuple(
        Said(
            rule=f.rule,
            level=f.level,
            where=f.where,
            says=voice.finding(f),
            yours=voice.measure(f.measured, f.unit),
            limit=voice.measure(f.limit, f.unit),
            source=source_line(f),
        )
        for f in sorted(findings, key=lambda f: WORST_FIRST.index(f.level))
    )


def plan_file(path: Path, papers: Papers | None = None, rates: Path | None = None) -> Planned:
    """Plan a roof from its job file on the disk.

    Args:
        path: The job file.
        papers: What the packet is printed on; see `plan`.
        rates: A shop's own rates file.

    Raises:
        JobProblems: it cannot be read or makes no sense; all its problems at once.
    """
    return plan(read_job_file(path, str(path)), str(path), papers, read_rates_file(rates))


def packet_folder(path: Path) -> Path:
    """Where a job's packet goes when nobody says: beside the job file, JOB-packet."""
    return path.with_name(f"{path.stem}-packet")


def hand_over(planned: Planned, folder: Path) -> None:
    """Put the packet on the disk, whole or not at all.

    Args:
        planned: What `plan` returned.
        folder: The packet's name; an older packet there is replaced.

    Raises:
        NotOurs: the folder holds something that is no packet's.
        OSError: the disk refused.
    """
    write_packet(folder, planned.files)
