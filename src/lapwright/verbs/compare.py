"""compare: flat pan and cricket side by side for every opening of a job."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Literal

from lapwright.detail.model import Detail, OpeningDetail
from lapwright.draw.compare import Way, draw_ways
from lapwright.draw.svg import to_svg
from lapwright.findings import Finding
from lapwright.job import Job, run
from lapwright.packet.say import Voice
from lapwright.shop.beads import sealant_runs
from lapwright.shop.hours import labour_of
from lapwright.shop.takeoff import take_off
from lapwright.site.model import Opening, Site
from lapwright.site.read import read_job
from lapwright.store.inbox import read_job_file
from lapwright.verbs.plan import Said, said
from lapwright.words import Speaker

Method = Literal["flat-pan", "cricket"]
METHODS: tuple[Method, Method] = ("flat-pan", "cricket")
FORMAT = "lapwright-compare/1"


@dataclass(frozen=True, slots=True)
class Side:
    """One opening done one way. area: net flashing metal [in2]; weight_lb [lb]; tubes of sealant.

    planned: it is what the job as written comes to. why: what keeps it from being drawn, as a rule's name.
    pieces, cuts, bends: of flashings and of the panels worked round them. hours: house rule, for comparing.
    depth: still water at the back face, None where nothing is drawn. [in]
    """

    method: Method
    planned: bool
    drawn: bool
    why: str
    area: float
    weight_lb: float
    tubes: int
    pieces: int
    cuts: int
    bends: int
    hours: float
    depth: float | None
    findings: tuple[Said, ...]

    @property
    def stops(self) -> tuple[str, ...]:
        """Rules that would stop it, each once."""
        return tuple(dict.fromkeys(f.rule for f in self.findings if f.level == "stop"))


@dataclass(frozen=True, slots=True)
class Pair:
    """One opening both ways. file: the picture's name; svg: the picture."""

    opening: Opening
    sides: tuple[Side, Side]
    file: str
    svg: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """A whole job compared. stopped: the job as written has a STOP."""

    name: str
    units: Literal["in", "mm"]
    pairs: tuple[Pair, ...]
    stopped: bool

    def to_json(self) -> str:
        """The comparison as JSON; lengths in inches, areas in square inches, weights in pounds."""
        told = {
            "format": FORMAT,
            "job": {"name": self.name, "units": self.units, "stopped": self.stopped},
            "openings": [_told(p) for p in self.pairs],
        }
        return json.dumps(told, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def compare(job_text: str | bytes, filename: str) -> Comparison:
    """Plan every opening both ways, the others as the job has them.

    Args:
        job_text: The job file (TOML).
        filename: What to call it in a problem.

    Raises:
        JobProblems: the job cannot be read or makes no sense; all its problems at once.
    """
    site = read_job(job_text, filename)
    written = run(site)
    pairs = tuple(_pair(site, written, k) for k in range(len(site.openings)))
    return Comparison(site.name, site.units, pairs, written.stopped)


def compare_file(path: Path) -> Comparison:
    """Compare the openings of a job file on the disk.

    Raises:
        JobProblems: it cannot be read or makes no sense; all its problems at once.
    """
    return compare(read_job_file(path, str(path)), str(path))


def hand_over(comparison: Comparison, folder: Path) -> tuple[Path, ...]:
    """Put the pictures into a folder, each whole or not at all; other files there stay as they are.

    Raises:
        OSError: the disk refused.
    """
    folder.mkdir(parents=True, exist_ok=True)
    out = []
    for pair in comparison.pairs:
        place = folder / pair.file
        part = folder / f".{pair.file}.{os.getpid()}.part"
        try:
            part.write_text(pair.svg, encoding="utf-8", newline="\n")
            os.replace(part, place)
        finally:
            part.unlink(missing_ok=True)
        out.append(place)
    return tuple(out)


def _pair(site: Site, written: Job, k: int) -> Pair:
    """Opening k both ways."""
    jobs = [run(_forced(site, k, method)) for method in METHODS]
    one, other = (_side(job, k, method, written) for job, method in zip(jobs, METHODS, strict=True))
    speaker = Speaker(site.units)
    ways = [_way(job, k, side, speaker) for job, side in zip(jobs, (one, other), strict=True)]
    title = speaker.say("compare.title", opening=site.openings[k].name)
    picture = draw_ways(site, written.layout, ways, title, speaker)
    return Pair(site.openings[k], (one, other), f"compare-{k + 1}.svg", to_svg(picture))


def _forced(site: Site, k: int, method: Method) -> Site:
    openings = [replace(o, method=method) if i == k else o for i, o in enumerate(site.openings)]
    return replace(site, openings=tuple(openings))


def _side(job: Job, k: int, method: Method, written: Job) -> Side:
    d = job.detail.openings[k]
    drawn = d.method == method
    pieces = [p for p in job.pieces if p.opening == d.opening.name]
    panels = [p for p in job.panels if p.opening == d.opening.name]
    alone = Detail((d,))
    bought = take_off(job.site, job.layout, alone, pieces, [])
    labour = labour_of(pieces, panels, sum(r.length for r in sealant_runs(alone, pieces)))
    metal = [p for p in pieces if p.is_metal]
    return Side(
        method=method,
        planned=written.detail.openings[k].method == method,
        drawn=drawn,
        why="" if drawn else d.why,
        area=sum(p.quantity * p.blank.area for p in metal),
        weight_lb=sum(p.quantity * p.weight_lb for p in metal),
        tubes=int(sum(line.quantity for line in bought if line.item == "shop.item.sealant")),
        pieces=labour.pieces,
        cuts=labour.cuts,
        bends=labour.bends,
        hours=labour.hours,
        depth=d.water.depth if drawn and d.water is not None else None,
        findings=said(job, [f for f in job.findings if _about(f, d)]),
    )


def _about(f: Finding, d: OpeningDetail) -> bool:
    """Is a finding about this opening, or about a part of it?"""
    return f.where == d.opening.name or f.where.startswith(f"{d.opening.name}:")


def _way(job: Job, k: int, side: Side, speaker: Speaker) -> Way:
    d = job.detail.openings[k]
    method = f"compare.{side.method}"
    heading = speaker.say("compare.planned", method=method) if side.planned else speaker.say(method)
    rows = [*_rows(side, speaker)]
    pieces = [p for p in job.pieces if p.opening == d.opening.name] if side.drawn else []
    panels = [p for p in job.panels if p.opening == d.opening.name] if side.drawn else []
    return Way(heading, tuple(rows), d, pieces, panels)


def _rows(side: Side, speaker: Speaker) -> list[str]:
    if not side.drawn:
        why = f"rules.{side.why}.name"
        return [speaker.say("compare.none", why=speaker.say(why) if speaker.knows(why) else side.why)]
    weight = weighed(side.weight_lb, speaker)
    rows = [speaker.say("compare.metal", area=side.area, weight=weight)]
    rows.append(
        speaker.say("compare.work", cuts=side.cuts, bends=side.bends, tubes=side.tubes, hours=side.hours)
    )
    names = ", ".join(speaker.say(f"rules.{rule}.name", limit=None) for rule in side.stops)
    return [*rows, speaker.say("compare.stops", rules=names)] if names else rows


def weighed(weight_lb: float, speaker: Speaker) -> str:
    """A weight as the job prints it. [lb]"""
    value, unit = Voice(speaker).bought(weight_lb, "lb")
    return f"{value:.1f} {unit}"


def _told(pair: Pair) -> dict[str, Any]:
    return {
        "name": pair.opening.name,
        "kind": pair.opening.kind,
        "picture": pair.file,
        "ways": [_told_side(s) for s in pair.sides],
    }


def _told_side(side: Side) -> dict[str, Any]:
    """Measures are null where nothing is drawn: nought would be a lie."""
    measures: dict[str, float | None] = {
        "metal_area": side.area, "weight_lb": side.weight_lb, "sealant_tubes": side.tubes, "pieces": side.pieces,
        "cuts": side.cuts, "bends": side.bends, "hours": side.hours, "depth": side.depth,
    }  # fmt: skip
    if not side.drawn:
        measures = dict.fromkeys(measures)
    findings = [
        {"rule": f.rule, "level": f.level, "says": f.says, "yours": f.yours, "limit": f.limit, "source": f.source}
        for f in side.findings
    ]
    ways = {"method": side.method, "planned": side.planned, "drawn": side.drawn, "why": side.why or None}
    return {**ways, **measures, "findings": findings}
