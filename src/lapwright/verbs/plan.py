"""plan: a job file in, everything out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lapwright.findings import Finding
from lapwright.job import Job, run
from lapwright.store.inbox import read_text
from lapwright.store.outbox import write_packet


@dataclass(frozen=True, slots=True)
class Planned:
    """A planned roof and the files that say so.

    Attributes:
        job: Everything worked out.
        record: plan.json as data; what a face shows comes from here. Lengths in inches.
        files: The packet's files by their names inside the packet.
    """

    job: Job
    record: Mapping[str, Any]
    files: Mapping[str, bytes]

    @property
    def stopped(self) -> bool:
        """Does any finding forbid cutting?"""
        return self.job.stopped

    @property
    def unit(self) -> str:
        """What the job prints its lengths in: "in" or "mm"."""
        return self.job.site.units

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What a person must know before cutting, the worst first."""
        return self.job.findings


def plan(job_text: str, filename: str) -> Planned:
    """Plan a roof from the text of its job file.

    Args:
        job_text: The job file (TOML).
        filename: What to call it in a problem.

    Returns:
        The job and its packet, nothing written yet.

    Raises:
        JobProblems: the job cannot be read or makes no sense; all its problems at once.
    """
    # The drawing and page libraries are loaded only for a job that can be read.
    from lapwright.site.read import read_job

    job = run(read_job(job_text, filename))
    from lapwright.packet.files import packet_files
    from lapwright.packet.record import to_record

    return Planned(job, to_record(job), packet_files(job))


def plan_file(path: Path) -> Planned:
    """Plan a roof from its job file on the disk.

    Args:
        path: The job file.

    Raises:
        JobProblems: it cannot be read or makes no sense; all its problems at once.
    """
    return plan(read_text(path, str(path)), str(path))


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
