"""leaks: where water would get in, what holds it out, and what each seam is there for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from lapwright.checks.leaks import leaks as found_by
from lapwright.detail.model import OpeningDetail
from lapwright.errors import LapwrightError
from lapwright.job import Job, run
from lapwright.leaks.audit import Audit, bodies_of
from lapwright.leaks.better import bench_of, improvements
from lapwright.leaks.margins import margin, wind_rows
from lapwright.leaks.search import Way
from lapwright.leaks.telling import place, rests, safe, seam
from lapwright.leaks.without import Difference, alone, can_leave_out, leave_out
from lapwright.packet.say import Voice
from lapwright.rules import breaks, rule
from lapwright.site.read import read_job
from lapwright.site.wrong import clean, nearest
from lapwright.store.inbox import read_job_file
from lapwright.store.outbox import write_packet
from lapwright.words import Speaker

HOW = ("standing", "running")
WICKING = {"fine": 1.2, "wide": 0.6}
"""How high water climbs in a gap of 0.5 and of 1 mm. From memory. [in]"""


class UnknownSeam(LapwrightError):
    """Nothing of that name (`given`) can be left out of this job; `near` is like it, three lists say what can."""


@dataclass(frozen=True, slots=True)
class LeakReport:
    """What is said, line by line, the same as plain values (inches), and drawings by file name.

    stopped: does a leak finding forbid cutting, or could an opening not be audited?
    """

    lines: tuple[str, ...]
    record: dict[str, Any]
    stopped: bool
    drawings: Mapping[str, bytes] = field(default_factory=dict)


def leaks(job_text: str | bytes, filename: str, without: str | None = None, drawn: bool = False) -> LeakReport:
    """Audit every opening of a job.

    Args:
        job_text: The job file (TOML).
        filename: What to call it in a problem.
        without: a kind of sealing, a lap or a kind of piece: what is it here for?
        drawn: Make the drawings too.

    Raises:
        JobProblems: the job cannot be read or makes no sense.
        UnknownSeam: `without` names nothing that can be left out here.
    """
    return leaks_of(run(read_job(job_text, filename)), without, drawn)


def leaks_of(job: Job, without: str | None = None, drawn: bool = False) -> LeakReport:
    """The same for a job that is worked out.

    Raises:
        UnknownSeam: see `leaks`.
    """
    teller = _Teller(job)
    planned = [(d, a) for d, a in _audited(job)]
    unplanned = [d.opening.name for d in job.detail.openings if not d.planned]
    if without is None:
        lines = [line for d, a in planned for line in (*teller.opening(d, a), "")]
        lines += [teller.say("leaks.report.unplanned", name=name) for name in unplanned]
        lines += [teller.say("leaks.report.rated", **WICKING)] if planned else []
        record = {"job": job.site.name, "openings": [teller.record(d, a) for d, a in planned]}
        record["not_worked_out"] = unplanned
    else:
        without = _known(job, [d for d, _ in planned], without)
        bodies = bodies_of(job.pieces, job.panels)
        asked = [(d, leave_out(job.site, job.layout, job.detail, d, bodies, without)) for d, _ in planned]
        lines = [line for d, x in asked for line in (*teller.why(d, x), "")][:-1]
        record = {"job": job.site.name, "without": without, "openings": [teller.why_record(d, x) for d, x in asked]}
    stopped = bool(unplanned) or any(f.stops for f in found_by(job.site, job.audits))
    return LeakReport(tuple(lines), record, stopped, _drawings(job) if drawn else {})


def leaks_file(path: Path, without: str | None = None, drawn: bool = False) -> LeakReport:
    """The same from the job file on the disk.

    Raises:
        JobProblems, UnknownSeam: see `leaks`.
    """
    return leaks(read_job_file(path, str(path)), str(path), without, drawn)


def hand_over(report: LeakReport, folder: Path) -> None:
    """Put the drawings on the disk, whole or not at all.

    Raises:
        NotOurs: the folder holds something that is no packet's.
        OSError: the disk refused.
    """
    if report.drawings:
        write_packet(folder, report.drawings)


def _audited(job: Job) -> Iterator[tuple[OpeningDetail, Audit]]:
    by_name = {a.opening: a for a in job.audits}
    for d in job.detail.openings:
        if d.planned and d.opening.name in by_name:
            yield d, by_name[d.opening.name]


def _known(job: Job, details: list[OpeningDetail], without: str) -> str:
    """The name as the program knows it: "Back pan / side wall" is back-pan/side-wall.

    Raises:
        UnknownSeam: nothing of that name can be left out here.
    """
    if not details:
        raise UnknownSeam("leaks.problem.unplanned")
    groups = _leavable(job, details)
    known = [name for names in groups for name in names]
    typed = "/".join("-".join(half.replace("_", " ").split()) for half in without.lower().split("/"))
    if typed in known:
        return typed
    sealing, laps, pieces = (", ".join(names) for names in groups)
    near = nearest(typed, known)
    key = "leaks.problem.without_near" if near else "leaks.problem.without"
    raise UnknownSeam(key, given=clean(without), near=near or "", sealing=sealing, laps=laps, pieces=pieces)


def _leavable(job: Job, details: list[OpeningDetail]) -> list[list[str]]:
    return [sorted({n for d in details for n in can_leave_out(job.site, job.detail, d)[k]}) for k in range(3)]


def leavable(job: Job) -> tuple[tuple[str, ...], ...]:
    """What `without` may name in this job: kinds of sealing, laps, kinds of piece."""
    return tuple(map(tuple, _leavable(job, [d for d, _ in _audited(job)])))


def opening_told(job: Job, name: str) -> tuple[tuple[str, ...], float | None] | None:
    """What the audit says of one opening, and the head that its weakest way in asks [in]; None if not audited."""
    for d, a in _audited(job):
        if d.opening.name == name:
            return tuple(_Teller(job).opening(d, a)), None if a.weakest is None else safe(a.weakest.head)
    return None


def _drawings(job: Job) -> dict[str, bytes]:
    from lapwright.draw.leaks import draw_leaks
    from lapwright.draw.svg import to_svg

    speaker = Speaker(job.site.units)
    return {
        f"drawings/leaks-{k + 1}.svg": to_svg(
            draw_leaks(job.site, job.layout, job.detail, job.pieces, job.panels, job.audits, k, speaker)
        ).encode("utf-8")
        for k, d in enumerate(job.detail.openings)
        if d.planned
    }


class _Teller:
    """Says one job's audits."""

    def __init__(self, job: Job) -> None:
        self.job, self.site = job, job.site
        self.speaker = Speaker(job.site.units)
        self.say = self.speaker.say
        self.voice = Voice(self.speaker)

    def opening(self, d: OpeningDetail, a: Audit) -> Iterator[str]:
        """Every line about one opening."""
        yield self.say("leaks.report.title", name=d.opening.name, method=f"leaks.method.{d.method}")
        built = [v.what for v in self.site.deviations if v.opening == d.opening.name]
        if built:
            yield "  " + self.say("leaks.report.as_built", what=", ".join(built))
        if a.level is not None and d.water is not None:
            yield "  " + self.say("leaks.report.stands", depth=d.water.depth)
        for how in HOW:
            if how == "running" or a.level is not None:
                yield from self._way(d, a, how)
        for which in ("against", "opened"):
            for c in getattr(a, which):
                told = {"seam": seam(c, self.speaker), "place": place(c, d.opening, self.speaker)}
                yield "  " + self.say(f"leaks.report.{which}", **told)
        standing, running = (None if h is None else safe(h) for h in alone(a))
        if running is not None:
            key = "alone_one" if standing is None else "alone"
            yield "  " + self.say(f"leaks.report.{key}", standing=standing, running=running)
        yield from self._wind(a)

    def _way(self, d: OpeningDetail, a: Audit, how: str) -> Iterator[str]:
        way, water = getattr(a, how), f"leaks.water.{how}"
        if way is None:
            yield "  " + self.say("leaks.report.none", water=water)
            return
        left = margin(self.site, way, how)
        key = "way" if safe(way.head) > 0 else "open"
        yield "  " + self.say(f"leaks.report.{key}", water=water, head=safe(way.head), margin=safe(left))
        limit = rule("leak.margin").limit or 0.0
        if not breaks(rule("leak.way-in"), left) and breaks(rule("leak.margin"), left):
            yield "    " + self.say("leaks.report.uncertain", limit=limit)
        for n, (c, head) in enumerate(zip(way.crossings, way.heads, strict=True), 1):
            told = {"n": n, "seam": seam(c, self.speaker), "place": place(c, d.opening, self.speaker)}
            yield "    " + self.say("leaks.report.seam", **told)
            held = {"head": safe(head), "rests": rests(c, self.speaker)}
            yield "       " + self.say(f"leaks.report.{'held' if safe(head) > 0 else 'free'}", **held)
        same = [w for which, w in a.places() if which == how][1:]
        if same:
            told_at = "; ".join(place(w.decided, d.opening, self.speaker) for w in same)
            yield "    " + self.say("leaks.report.also", places=told_at)
        yield "    " + self._better(d, a, how, way, len(same) + 1)

    def _better(self, d: OpeningDetail, a: Audit, how: str, way: Way, count: int) -> str:
        level = a.level if how == "standing" else None
        best = next(iter(improvements(a.crossings, level, way, bench_of(self.site, d))), None)
        if best is None:
            return self.say(f"leaks.report.{'no_better' if count > 1 else 'no_better_one'}", count=count)
        what = "hole" if best.at.seam.endswith(">hole") else best.change
        change = self.say(f"leaks.change.{what}", seam=seam(best.at, self.speaker), by=best.by)
        key = "better_free" if best.head == float("inf") else "better"
        return self.say(f"leaks.report.{key}", change=change, head=safe(min(best.head, 1e3)))

    def _wind(self, a: Audit) -> Iterator[str]:
        rows = wind_rows(self.site, a)
        if rows:
            yield "  " + self.say("leaks.report.wind")
        for row in rows:
            cells = [self.say("leaks.report.wind_cell", share=s, left=safe(left)) for s, left in row.left]
            yield "    " + self.say("leaks.report.wind_row", mph=row.mph, head=row.head, cells=", ".join(cells))

    def why(self, d: OpeningDetail, x: Difference) -> Iterator[str]:
        """What one seam is here for."""
        yield self.say("leaks.why.title", name=d.opening.name, without=x.without)
        yield from ("  " + line for line in why_lines(d, x, self.speaker))
        known = {f.rule for f in found_by(self.site, (x.before,))}
        stops = [f for f in found_by(self.site, (x.after,)) if f.stops and f.rule not in known]
        if stops:
            yield "  " + self.say("leaks.why.stop", says=self.voice.finding(stops[0]))

    def record(self, d: OpeningDetail, a: Audit) -> dict[str, Any]:
        """One opening as plain values."""
        standing, running = alone(a)
        return {
            "name": d.opening.name,
            "method": d.method,
            "standing": self._way_record(d, a, "standing"),
            "running": self._way_record(d, a, "running"),
            "against_flow": [self._place_record(d, c) for c in a.against],
            "open_laps": [self._place_record(d, c) for c in a.opened],
            "metal_alone": {"standing": standing, "running": running},
            "wind": [
                {"mph": r.mph, "head": r.head, "left": [{"share": s, "left": v} for s, v in r.left]}
                for r in wind_rows(self.site, a)
            ],
        }

    def _way_record(self, d: OpeningDetail, a: Audit, how: str) -> dict[str, Any] | None:
        way = getattr(a, how)
        if way is None:
            return None
        level = a.level if how == "standing" else None
        better = improvements(a.crossings, level, way, bench_of(self.site, d))
        return {
            "head": way.head,
            "margin": margin(self.site, way, how),
            "seams": [
                self._place_record(d, c) | {"head": h, "rating": c.rating, "how": c.how or None}
                for c, h in zip(way.crossings, way.heads, strict=True)
            ],
            "as_weak": [self._place_record(d, w.decided) for which, w in a.places() if which == how][1:],
            "better": [
                {"change": b.change, "seam": b.at.seam, "head": None if b.head == float("inf") else b.head}
                for b in better
            ],
        }

    def _place_record(self, d: OpeningDetail, c: Any) -> dict[str, Any]:
        told = {"says": seam(c, self.speaker), "place": place(c, d.opening, self.speaker)}
        return {"seam": c.seam, "at": list(c.at), **told}

    def why_record(self, d: OpeningDetail, x: Difference) -> dict[str, Any]:
        """What one seam is here for, as plain values."""
        heads = {
            how: [None if w is None else w.head for w in (getattr(x.before, how), getattr(x.after, how))]
            for how in HOW
        }
        new = {c.seam for c in (*x.after.opened, *x.after.against)}
        new -= {c.seam for c in (*x.before.opened, *x.before.against)}
        return {
            "name": d.opening.name,
            "heads_with_and_without": heads,
            "new_dry_laps": sorted(new),
            "says": list(why_lines(d, x, self.speaker)),
        }


def why_lines(d: OpeningDetail, x: Difference, speaker: Speaker) -> Iterator[str]:
    """What changes when a seam is left out, in one or two sentences."""
    say = speaker.say
    if x.water:
        before, after = getattr(x.before, x.water), getattr(x.after, x.water)
        if before is not None:
            yield say("leaks.why.was", water=f"leaks.water.{x.water}", head=safe(before.head))
        c = after.decided
        told = {"seam": seam(c, speaker), "place": place(c, d.opening, speaker)}
        yield say("leaks.why.became", head=safe(after.head), **told)
        return
    if x.alone is not None:
        c, with_it, without_it = x.alone
        told = {"seam": seam(c, speaker), "place": place(c, d.opening, speaker)}
        yield say("leaks.why.alone", before=safe(with_it), after=safe(without_it), **told)
        return
    known = {c.seam for c in (*x.before.opened, *x.before.against)}
    bare = [c for c in (*x.after.against, *x.after.opened) if c.seam not in known]
    if bare:
        yield say("leaks.why.bare", seam=seam(bare[0], speaker), place=place(bare[0], d.opening, speaker))
        return
    yield say("leaks.why.same")
