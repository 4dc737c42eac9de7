"""see: what a face tells of a worked-out job: findings, water, the order of work, what to buy."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from lapwright.job import Job
from lapwright.packet.contents import said_finding, said_steps
from lapwright.packet.drawings import file_name
from lapwright.packet.listed import cut_rows, takeoff_rows
from lapwright.site.fields import FIELDS
from lapwright.verbs.leaks import UnknownSeam, leaks_of, leavable, opening_told
from lapwright.verbs.see import voice_of
from lapwright.verbs.water import opening_lines
from lapwright.words import Speaker

MENDS: Mapping[str, tuple[str, str]] = {
    "slope.standing-seam": ("roof", "pitch"), "cricket.required": ("opening", "method"),
    "cricket.let-off": ("opening", "method"), "cricket.low-pitch": ("site", "rule_set"),
    "cricket.wall": ("opening", "height"), "cricket.small": ("opening", "method"),
    "method.forbidden": ("opening", "method"), "water.depth": ("opening", "method"),
    "pan.snow": ("opening", "method"), "upstand.wall": ("opening", "height"), "room.upslope": ("opening", "up"),
    "room.downslope": ("opening", "up"), "flashing.thickness": ("defaults", "flashing_metal"),
    "metals.contact": ("defaults", "flashing_metal"), "metals.runoff": ("defaults", "flashing_metal"),
}  # fmt: skip
"""The field that mends a rule's finding, where its cure names none. Table and name of the job file."""


def findings(job: Job) -> tuple[dict[str, Any], ...]:
    """What rules found, worst first, each with `mends`: the field of the form that mends it, or nothing."""
    voice = voice_of(job)
    return tuple(
        said_finding(f, voice) | {"mends": _mends(job, f.rule, f.where, voice.cure(f) or "")} for f in job.findings
    )


def _mends(job: Job, rule: str, where: str, cure: str) -> str:
    """The name a field has on the form: the first that the cure names between back quotes, else the rule's own."""
    named = re.findall(r"`(\w+)", cure)
    fields = [(f.table, f.name) for name in named for f in FIELDS if f.name == name]
    table, name = next(iter(fields), MENDS.get(rule, ("", "")))
    if table != "opening":
        return f"{table}-{name}" if table else ""
    about = [k for k, o in enumerate(job.site.openings) if where == o.name or where.startswith(f"{o.name}:")]
    return f"opening-{about[0]}-{name}" if about else ""


@dataclass(frozen=True, slots=True)
class Wet:
    """The water behind one opening and its weakest way in. figures: number and what it is. told: level, line."""

    n: int
    name: str
    figures: tuple[tuple[str, str], ...]
    water: tuple[str, ...]
    told: tuple[tuple[int, str], ...]
    drawn: bool


def water(job: Job) -> tuple[Wet, ...]:
    """Every opening in the order of the job file."""
    return tuple(_wet(job, n, d.opening.name) for n, d in enumerate(job.detail.openings, 1))


def _wet(job: Job, n: int, name: str) -> Wet:
    speaker, d = Speaker(job.site.units), job.detail.openings[n - 1]
    told = opening_told(job, name)
    rows = list(_figures(job, n, speaker)) if d.water is not None else []
    lines: tuple[tuple[int, str], ...] = ()
    if told is not None:
        lines = tuple((_deep(line), line.strip()) for line in told[0][1:])
        if told[1] is not None:
            rows.append((speaker.length(told[1]), speaker.say("page_see.water.head")))
    said = tuple(line.strip() for line in opening_lines(job.site, d, speaker)[1:]) if d.water is not None else ()
    return Wet(n, name, tuple(rows), said, lines, told is not None)


def _figures(job: Job, n: int, speaker: Speaker) -> Iterator[tuple[str, str]]:
    w = job.detail.openings[n - 1].water
    assert w is not None
    say = speaker.say
    yield speaker.length(w.design), say("page_see.water.design")
    yield speaker.length(w.limit), say("page_see.water.limit")
    yield say("page_see.water.gpm", gpm=w.supply_gpm), say("page_see.water.supply")


def _deep(line: str) -> int:
    return (len(line) - len(line.lstrip())) // 2


def what_if(job: Job, without: str) -> tuple[tuple[int, str], ...]:
    """What one seam is here for: level and line. Nothing when no such seam can be left out."""
    try:
        return tuple((_deep(line), line.strip()) for line in leaks_of(job, without).lines if line)
    except UnknownSeam:
        return ()


def choices(job: Job) -> tuple[tuple[str, ...], ...]:
    """What may be left out: kinds of sealing, laps, kinds of piece."""
    return leavable(job)


def steps(job: Job) -> tuple[dict[str, Any], ...]:
    """The order of work, each step with a `key` that stays when other steps come and go."""
    voice = voice_of(job)
    return tuple(row | {"key": key} for row, key in zip(said_steps(job, (), voice), step_keys(job), strict=True))


def step_keys(job: Job) -> tuple[str, ...]:
    """A name for every step: what is done and the piece or opening that it is done to."""
    names = [o.name for o in job.site.openings]
    out: list[str] = []
    for s in job.steps:
        about = str(s.values.get("opening", ""))
        on = s.pieces[0] if s.pieces else str(names.index(about) + 1) if about in names else "roof"
        key = file_name(f"{s.title.removeprefix('steps.')}-{on}")
        out.append(key if key not in out else f"{key}-{s.n}")
    return tuple(out)


def lists(job: Job) -> dict[str, Any]:
    """Takeoff, cut list, the sheets of the cutting plan and the quote, in words."""
    from lapwright.packet.drawings import draw_sheets
    from lapwright.packet.quote import quote_contents

    voice = voice_of(job)
    return {
        "takeoff": takeoff_rows(job, voice), "cut": cut_rows(job, voice), "quote": quote_contents(job),
        "sheets": tuple(draw_sheets(job.cutting, job.site.units)),
    }  # fmt: skip
