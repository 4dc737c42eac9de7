"""What stands on the pages, said in words and ready to set: no layout here, no sentence there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from lapwright import units, words
from lapwright.findings import Finding, Value
from lapwright.packet.cautions import DEFERS, Caution, cautions_for, not_checked
from lapwright.packet.drawings import Drawing
from lapwright.packet.record import FORMAT
from lapwright.packet.say import METRIC, Voice, breakable, shortened, source_line
from lapwright.packet.worked import WorkedJob
from lapwright.shop.cutlist import CutRow, cut_list
from lapwright.words import Speaker

LEVELS = ("stop", "caution", "note")


def contents(job: WorkedJob, drawings: Sequence[Drawing]) -> dict[str, Any]:
    """Everything the pages print, as plain data."""
    voice = Voice(Speaker(job.site.units))
    return {
        "w": _labels(voice.speaker.language),
        "name": breakable(job.site.name),
        "short_name": shortened(job.site.name, 34),
        "unit": job.site.units,
        "format": FORMAT,
        "stopped": job.stopped,
        "verdict": _verdict(job, voice),
        "roof": _roof_lines(job, voice),
        "figures": _figures(job, voice),
        "findings": [_finding(f, voice) for level in LEVELS for f in job.findings if f.level == level],
        "cautions": _said(cautions_for(job), voice),
        "defers": [voice.say(key) for key in DEFERS],
        "not_checked": _said(not_checked(job), voice),
        "drawings": [{"title": d.title, "part": d.part, "svg": d.svg} for d in drawings],
        "cut_list": [_cut_row(r, voice) for r in cut_list(job.site.panel.metal, job.pieces, job.panels)],
        "takeoff": _takeoff(job, voice),
        "steps": _steps(job, voice),
    }


def _labels(language: str) -> dict[str, str]:
    start = "packet.label."
    return {k[len(start) :]: v for k, v in words.phrases(language).items() if k.startswith(start)}


def _verdict(job: WorkedJob, voice: Voice) -> str:
    count = {level: sum(f.level == level for f in job.findings) for level in LEVELS}
    if count["stop"] == 1:
        return voice.say("packet.verdict.one")
    if count["stop"]:
        return voice.say("packet.verdict.many", {"count": count["stop"]})
    return voice.say("packet.verdict.counts", {"cautions": count["caution"], "notes": count["note"]})


def _roof_lines(job: WorkedJob, voice: Voice) -> list[str]:
    roof, panel = job.site.roof, job.site.panel
    line: dict[str, Value] = {"pitch": units.show_pitch(roof.rise), "eave": roof.eave, "slope": roof.slope}
    skin: dict[str, Value] = {
        "metal": f"metals.{panel.metal}", "seam": f"packet.seam.{panel.seam}",
        "coverage": panel.coverage, "lay": f"packet.lay.{panel.lay}",
    }  # fmt: skip
    return [
        voice.say(f"packet.roof.work_{roof.work}"),
        voice.say("packet.roof.line", line),
        voice.say("packet.roof.panel", skin),
    ]


def _figures(job: WorkedJob, voice: Voice) -> list[list[str]]:
    """The big numbers of the first page, each with its label."""
    worked = [p for p in job.panels if p.blank is not None]
    blanks = sum(p.quantity for p in job.pieces) + len(worked)
    weight = sum(p.quantity * p.weight_lb for p in job.pieces)
    rows = [
        (str(len(job.site.openings)), "openings"),
        (str(blanks), "blanks_to_cut"),
        (str(len(job.panels)), "panels"),
        (_weight(weight, voice), "sheet_weight"),
    ]
    return [[figure, voice.say(f"packet.label.{label}")] for figure, label in rows]


def _weight(weight_lb: float, voice: Voice) -> str:
    metric = voice.speaker.unit == "mm"
    value = weight_lb * METRIC["lb"][1] if metric else weight_lb
    unit = voice.say("shop.unit.kg" if metric else "shop.unit.lb")
    return f"{value:.1f} {unit}" if value >= 1 else f"{value:.2f} {unit}"


def _finding(f: Finding, voice: Voice) -> dict[str, Any]:
    yours, limit = voice.measures(f)
    return {
        "level": f.level,
        "where": breakable(f.where),
        "says": breakable(voice.finding(f)),
        "cure": voice.cure(f),
        "yours": "" if f.measured is None else yours,
        "limit": "" if f.limit is None else limit,
        "rule": f.rule,
        "source": source_line(f),
    }


def _cut_row(r: CutRow, voice: Voice) -> list[str]:
    size = f"{voice.speaker.length(r.width)} × {voice.speaker.length(r.height)}"
    name = voice.name(r.name)
    weight = _weight(r.weight_lb, voice)
    return [r.id, breakable(name), str(r.quantity), voice.metal(r.metal), size, str(r.bends), weight]


def _takeoff(job: WorkedJob, voice: Voice) -> list[dict[str, Any]]:
    rows = []
    for line in job.takeoff:
        quantity, unit = voice.bought(line.quantity, line.unit)
        whole = f"{quantity:.0f}" if abs(quantity - round(quantity)) < 5e-3 else f"{quantity:.1f}"
        part = line.item.removeprefix("shop.item.").startswith(("bead-", "tape-"))
        said = {"item": voice.say(line.item, line.values), "basis": voice.say(line.basis, line.values)}
        rows.append({**said, "amount": whole, "unit": unit, "part": part})
    return rows


def _steps(job: WorkedJob, voice: Voice) -> list[dict[str, Any]]:
    rows = []
    for s in job.steps:
        marks = [
            {
                "distance": voice.speaker.length(m.distance, feet=True),
                "what": breakable(voice.say(m.what, {**s.values, **m.values})),
                "start": breakable(voice.say(m.start, {**s.values, **m.values})),
            }
            for m in s.marks
        ]
        rows.append(
            {
                "n": str(s.n),
                "title": breakable(voice.say(s.title, s.values)),
                "does": [breakable(voice.say(key, s.values)) for key in s.does],
                "marks": marks,
                "pieces": list(s.pieces),
                "caution": "" if s.caution is None else voice.say(s.caution, s.values),
            }
        )
    return rows


def _said(cautions: tuple[Caution, ...], voice: Voice) -> list[str]:
    return [breakable(voice.say(c.key, c.values)) for c in cautions]
