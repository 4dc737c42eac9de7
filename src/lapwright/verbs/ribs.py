"""ribs: where the first rib goes, what every other start would cost, and why."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from lapwright.layout.start import Cost, Start, choose_start, cost_of, stretches
from lapwright.site.model import Site
from lapwright.site.read import read_job
from lapwright.store.inbox import read_job_file
from lapwright.words import Speaker

COUNTED = ("conflicts", "slivers", "interrupted")


@dataclass(frozen=True, slots=True)
class RibReport:
    """What is said, line by line; the same as plain values (inches, square inches); the cost as a drawing."""

    lines: tuple[str, ...]
    record: dict[str, Any]
    svg: str


def ribs(job_text: str | bytes, filename: str) -> RibReport:
    """Judge every start of the rib layout of a job.

    Args:
        job_text: The job file (TOML); its first_rib, where it gives one, is set beside the best.
        filename: What to call it in a problem.

    Raises:
        JobProblems: the job cannot be read or makes no sense.
    """
    site = read_job(job_text, filename)
    start, speaker = choose_start(site), Speaker(site.units)
    lines = tuple(_lines(site, start, speaker))
    return RibReport(lines, _record(site, start), _drawing(site, start, lines, speaker))


def ribs_file(path: Path) -> RibReport:
    """The same from the job file on the disk.

    Raises:
        JobProblems: it cannot be read or makes no sense.
    """
    return ribs(read_job_file(path, str(path)), str(path))


def cost_said(cost: Cost, speaker: Speaker) -> str:
    """A start's cost in words."""
    values = {key: _counted(key, getattr(cost, key), speaker) for key in COUNTED}
    return speaker.say("ribs.cost", waste=speaker.say("ribs.many.waste", area=cost.waste), **values)


def loses_by(worse: Cost, best: Cost, speaker: Speaker) -> str:
    """What a start costs more than the best: the first cost that decides."""
    for key in COUNTED:
        more = getattr(worse, key) - getattr(best, key)
        if more:
            return speaker.say(f"ribs.more.{key}", count=more)
    return speaker.say("ribs.more.waste", area=worse.waste - best.waste)


def _counted(key: str, count: int, speaker: Speaker) -> str:
    return speaker.say(f"ribs.{'none' if count == 0 else 'one' if count == 1 else 'many'}.{key}", count=count)


def _lines(site: Site, start: Start, speaker: Speaker) -> Iterator[str]:
    say, given = speaker.say, site.panel.first_rib
    yield say("ribs.facts", eave=site.roof.eave, coverage=site.panel.coverage)
    yield say("ribs.order")
    yield say("ribs.chosen", first=start.first, cost=cost_said(start.cost, speaker))
    if start.runner_up is None:
        yield say("ribs.alone")
    else:
        first, cost = start.runner_up
        yield say("ribs.runner_up", first=first, by=loses_by(cost, start.cost, speaker))
    if given is not None:
        own = cost_of(site, given)
        yield say("ribs.given", first=given, cost=cost_said(own, speaker))
        if own == start.cost:
            yield say("ribs.given_best", first=given)
        else:
            yield say("ribs.given_worse", first=given, by=loses_by(own, start.cost, speaker))
    yield say("ribs.lay")


def _record(site: Site, start: Start) -> dict[str, Any]:
    given, second = site.panel.first_rib, start.runner_up
    return {
        "job": site.name,
        "first_rib": start.first,
        "cost": asdict(start.cost),
        "runner_up": None if second is None else {"first_rib": second[0], "cost": asdict(second[1])},
        "given": None if given is None else {"first_rib": given, "cost": asdict(cost_of(site, given))},
        "stretches": [{"from": s.low, "to": s.high, "cost": asdict(s.cost)} for s in stretches(site)],
    }


def _drawing(site: Site, start: Start, lines: tuple[str, ...], speaker: Speaker) -> str:
    from lapwright.draw.ribs import draw_costs
    from lapwright.draw.svg import to_svg

    marks = {"chosen": start.first}
    if start.runner_up is not None:
        marks["runner_up"] = start.runner_up[0]
    if site.panel.first_rib is not None:
        marks["given"] = site.panel.first_rib
    title = speaker.say("ribs.title", name=site.name)
    return to_svg(draw_costs(title, lines, stretches(site), marks, speaker))
