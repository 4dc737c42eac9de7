"""A picture for every step: what its marks, pieces and kind ask to be shown, handed to draw/step.py."""

from __future__ import annotations

from lapwright.detail.model import Part
from lapwright.draw.display import Display
from lapwright.draw.features import Window
from lapwright.draw.step import draw_step
from lapwright.draw.step_model import StepView
from lapwright.draw.step_roof import roofed
from lapwright.metal.work import Work, at_bench
from lapwright.packet.model import Step
from lapwright.packet.say import Voice
from lapwright.packet.step_extras import Shown, extra_of
from lapwright.packet.step_marks import Pulled, marks_of
from lapwright.packet.worked import WorkedJob
from lapwright.words import Speaker


def step_pictures(job: WorkedJob) -> dict[int, Display]:
    """Every step's picture by its number, 6.9 inches wide, in the job's language and unit."""
    speaker = Speaker(job.site.units)
    views = step_views(job, speaker)
    roof = roofed(job.site, job.layout, job.detail, job.pieces, job.panels)
    return {v.n: draw_step(roof, v, speaker) for v in views}


def step_views(job: WorkedJob, speaker: Speaker) -> tuple[StepView, ...]:
    """What each picture shows, in working order."""
    voice = Voice(speaker)
    works = {k: at_bench(job.site, d) for k, d in enumerate(job.detail.openings) if d.planned}
    known = {p.id: p for p in job.detail.parts}
    standing = tuple(p.id for p in job.panels if p.role == "through") if job.site.roof.work == "existing" else ()
    out: list[StepView] = []
    before: tuple[str, ...] = standing
    for step in job.steps:
        parts = tuple(known[n] for n in step.pieces)
        _, kind, how = step.title.split(".")
        work = works.get(_opening(job, step, parts))
        shown = Shown(job, step, voice, kind, how, work, parts)
        out.append(_view(shown, tuple(n for n in before if n not in step.pieces)))
        before = (*(n for n in before if n not in step.pieces), *step.pieces)
    return tuple(out)


def _opening(job: WorkedJob, step: Step, parts: tuple[Part, ...]) -> int:
    """The opening a step is about; -1 for none."""
    for part in parts:
        return -1 if part.opening is None else part.opening
    named = [k for k, o in enumerate(job.site.openings) if o.name == step.values.get("opening")]
    return named[0] if named else -1


def _view(s: Shown, before: tuple[str, ...]) -> StepView:
    extra = extra_of(s)
    pulls = [Pulled(m, s.voice.say(m.what, {**s.step.values, **m.values})) for m in s.step.marks]
    marks = (*marks_of(s.job, s.work, s.parts, pulls), *extra.references)
    return StepView(
        n=s.step.n,
        title=f"{s.step.n} \N{MIDDLE DOT} {s.voice.say(s.step.title, s.step.values)}",
        now=s.step.pieces,
        before=before,
        opening=_opening(s.job, s.step, s.parts),
        bay=_bay(s.work) if s.work is not None and not extra.focus else None,
        focus=extra.focus,
        marks=marks,
        areas=extra.areas,
        lines=extra.lines,
        cuts=extra.cuts,
        spots=extra.spots,
        datum=_datum(s),
        relock=s.how == "relock",
    )


def _datum(s: Shown) -> str:
    """The edge that the figures under the roof run from, spoken."""
    starts = [m.start for m in s.step.marks if m.start in ("steps.from.left_edge", "steps.from.right_edge")]
    return s.voice.say(starts[0]) if starts else ""


def _bay(work: Work) -> Window:
    bay, o = work.detail.bay, work.opening
    return (bay.left, o.up, bay.right, o.back)
