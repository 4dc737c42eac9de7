"""Nest a job: its blanks on its own stock, with more work than a plan takes for it; sheets to cut from out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lapwright.draw.nest import sheet_facts, sheet_title
from lapwright.job import Job
from lapwright.packet.cutting import cutting_record
from lapwright.packet.files import sheet_files
from lapwright.shop.cutting import bought, cutting_of
from lapwright.shop.nest.job import JobNest
from lapwright.shop.nest.nest import EFFORT
from lapwright.site.read import read_job
from lapwright.store.inbox import read_job_file
from lapwright.store.outbox import NotOurs, write_packet
from lapwright.verbs.nest import work
from lapwright.words import Speaker


@dataclass(frozen=True, slots=True)
class JobNested:
    """The job and its sheets."""

    job: Job
    cutting: JobNest

    @property
    def complete(self) -> bool:
        """Has every blank found its place?"""
        return not self.cutting.missing

    @property
    def stopped(self) -> bool:
        """Does any finding forbid cutting?"""
        return self.job.stopped


def nest_job_file(path: Path, *, seconds: float | None = None) -> JobNested:
    """Read a job and lay its blanks on its stock.

    Args:
        path: The job file.
        seconds: A clock for each search; None for a fixed amount of work. [s]

    Raises:
        JobProblems: it cannot be read or makes no sense; all its problems at once.
    """
    job = Job(read_job(read_job_file(path, str(path)), str(path)))
    effort, over = work(seconds, EFFORT)
    return JobNested(job, cutting_of(job.site, job.pieces, effort, over))


def as_json(done: JobNested) -> dict[str, Any]:
    """The sheets as plan.json has them, what is taken of each row of stock, and what found no place. [in]"""
    rows = ("metal", "stock", "form", "quantity", "width", "length", "price", "at_hand")
    lists = {"short": done.cutting.short, "missing": done.cutting.missing}
    return {
        "unit": "in",
        "stopped": done.stopped,
        "sheets": cutting_record(done.cutting.sheets),
        "taken": [{name: getattr(row, name) for name in rows} for row in bought(done.cutting)],
        **{name: [{"metal": m, "id": i, "quantity": n} for m, i, n in rows] for name, rows in lists.items()},
    }


def told(done: JobNested) -> tuple[str, ...]:
    """The sheets as lines of text: what lies where, the cuts in order, what is left."""
    speaker = Speaker(done.job.site.units)
    out: list[str] = []
    for n, sheet in enumerate(done.cutting.sheets, 1):
        out += [sheet_title(n, sheet, speaker), f"  {sheet_facts(sheet, speaker)}"]
        for x in sheet.lying:
            (x0, y0), (x1, y1) = x.corners()
            out.append(speaker.say("nest.show.part", id=x.id, width=x1 - x0, height=y1 - y0, x=x0, y=y0))
        for c in sheet.plan.cuts if sheet.plan is not None else ():
            out.append(speaker.say(f"nest.show.cut_{c.way}", n=c.n, at=c.at, start=c.start, end=c.end))
        out += [speaker.say("nest.show.offcut", width=o.width, height=o.height) for o in sheet.offcuts()]
    for key, rows in (("short", done.cutting.short), ("nowhere", done.cutting.missing)):
        out += [speaker.say(f"nest.show.{key}", metal=f"metals.{m}", id=i, quantity=n) for m, i, n in rows]
    if not done.cutting.sheets:
        out.append(speaker.say("nest.show.none"))
    return (*out, speaker.say("nest.show.stopped")) if done.stopped else tuple(out)


def files(done: JobNested) -> Mapping[str, bytes]:
    """A drawing and a cutting file for every sheet, named as in a packet."""
    return sheet_files(done.job, done.cutting)


def hand_over(done: JobNested, folder: Path) -> None:
    """Put the sheets on the disk, whole or not at all, in a folder of their own.

    Raises:
        NotOurs: the folder is a packet, or holds something else.
        OSError: the disk refused.
    """
    if (folder / "plan.json").exists():
        raise NotOurs("store.not_ours", folder=str(folder), what="plan.json")
    write_packet(folder, files(done))
