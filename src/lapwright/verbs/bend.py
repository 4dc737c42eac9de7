"""bend: how every piece is folded on the tools of the shop, in words; what cannot be made, and what helps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lapwright.draw.bending import blocked_words, tool_name, words_of
from lapwright.draw.blank import Item, title_of
from lapwright.errors import LapwrightError
from lapwright.job import Job
from lapwright.packet.record import bending
from lapwright.shop.bending.findings import findings_of
from lapwright.shop.bending.model import BendPlan
from lapwright.shop.bending.numbers import numbers_of
from lapwright.shop.bending.own import is_told
from lapwright.site.read import read_job
from lapwright.site.wrong import clean, nearest
from lapwright.store.inbox import read_job_file
from lapwright.verbs.plan import said
from lapwright.words import Speaker


class UnknownPiece(LapwrightError):
    """No piece of that id is folded for this job; the sentence names the nearest one, or all."""


@dataclass(frozen=True, slots=True)
class BendReport:
    """What is said, line by line, and the same as plain values. stopped: is there a STOP among it?"""

    lines: tuple[str, ...]
    record: dict[str, Any]
    stopped: bool


def bend(job_text: str | bytes, filename: str, piece: str | None = None) -> BendReport:
    """Work out the order of folds of every piece and panel of a job.

    Args:
        job_text: The job file (TOML).
        filename: What to call it in a problem.
        piece: Id of the one that is asked for; left out, all.

    Raises:
        JobProblems: the job cannot be read or makes no sense.
        UnknownPiece: nothing of that id is folded.
    """
    job = Job(read_job(job_text, filename))
    speaker = Speaker(job.site.units)
    every: tuple[Item, ...] = (*job.pieces, *job.panels)
    folded = [item for item in every if item.id in job.orders]
    items = folded if piece is None else [_known(piece, folded)]
    plans = {item.id: job.orders[item.id] for item in items}
    lines = [line for item in items for line in (*_lines(item, plans[item.id], speaker), "")]
    found = said(job, findings_of(job.pieces, job.panels, plans, is_told(job.site)))
    record = {
        "job": job.site.name,
        "kit": {"shop": [t.key for t in job.kit.shop], "roof": [t.key for t in job.kit.roof]},
        "pieces": [_record(item, job) for item in items],
        "findings": [{"rule": f.rule, "level": f.level, "where": f.where, "says": f.says} for f in found],
    }
    told = [f"{speaker.say(f'packet.label.{f.level}')}  {f.says}" for f in found]
    return BendReport((_tools(job, speaker), "", *lines, *told), record, any(f.level == "stop" for f in found))


def bend_file(path: Path, piece: str | None = None) -> BendReport:
    """The same from the job file on the disk.

    Raises:
        JobProblems: the job cannot be read or makes no sense.
        UnknownPiece: nothing of that id is folded.
    """
    return bend(read_job_file(path, str(path)), str(path), piece)


def _known(piece: str, folded: list[Item]) -> Item:
    by_id = {item.id: item for item in folded}
    if piece in by_id:
        return by_id[piece]
    near = nearest(piece, by_id)
    key = "bending.no_piece_near" if near else "bending.no_piece"
    raise UnknownPiece(key, given=clean(piece), near=near or "", known=", ".join(by_id))


def _tools(job: Job, speaker: Speaker) -> str:
    shop, roof = (", ".join(tool_name(t.key, speaker) for t in tools) for tools in (job.kit.shop, job.kit.roof))
    return speaker.say("bending.kit", shop=shop, roof=roof)


def _record(item: Item, job: Job) -> dict[str, Any]:
    bends = [{"id": b.id, "order": b.order, "way": b.way, "angle_deg": b.angle_deg} for b in item.bends]
    return {"id": item.id, "bends": bends, **bending(item, job.orders)}


def _lines(item: Item, plan: BendPlan, speaker: Speaker) -> Iterator[str]:
    yield title_of(item, speaker)
    if not plan.feasible:
        yield "  " + speaker.say("bending.infeasible")
        yield from (f"  {line}" for line in blocked_words(plan, speaker))
        return
    yield "  " + speaker.say("bending.summary", count=len(plan.operations), flips=plan.flips, turns=plan.turns)
    numbers, ways = numbers_of(plan), {b.id: b.way for b in item.bends}
    for o in plan.operations:
        what, tool, lies = words_of(o, numbers, ways, speaker)
        bends = ", ".join(o.bends)
        yield "  " + speaker.say("bending.line", what=what, bends=bends, tool=tool, held=o.clamped, lies=lies)
    for b in plan.by_hand:
        tool, reason = tool_name(b.tool, speaker), f"bending.reason.{b.reason}"
        yield "  " + speaker.say("bending.hand_line", n=numbers[b.bend], tool=tool, reason=reason)
