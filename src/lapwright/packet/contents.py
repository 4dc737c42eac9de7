"""What stands on the pages, said in words and ready to set: no layout here, no sentence there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from lapwright import units
from lapwright.findings import Finding, Value
from lapwright.packet.cautions import DEFERS, Caution, cautions_for, not_checked
from lapwright.packet.cutting import cut_lists
from lapwright.packet.drawings import Drawing, new_panels
from lapwright.packet.framing import framing_rows
from lapwright.packet.listed import cut_rows, sealing_maps, takeoff_rows, weight
from lapwright.packet.model import Step
from lapwright.packet.picture import SUMMED_UP
from lapwright.packet.plates import plates
from lapwright.packet.proving import proving
from lapwright.packet.say import Voice, breakable, seen, shortened, source_line
from lapwright.packet.title_block import title_block
from lapwright.packet.verify import readings, stray
from lapwright.packet.worked import WorkedJob
from lapwright.words import Speaker

LEVELS = ("stop", "caution", "note")


def contents(job: WorkedJob, drawings: Sequence[Drawing]) -> dict[str, Any]:
    """Everything the pages print, as plain data."""
    voice = Voice(Speaker(job.site.units))
    found = [f for level in LEVELS for f in job.findings if f.level == level]
    return {
        **title_block(job, voice.speaker.language),
        "verdict": _verdict(job, voice),
        "roof": _roof_lines(job, voice),
        "figures": _figures(job, voice),
        "finished": next((d.svg for d in drawings if d.part == "finished"), ""),
        "summary": [_summed_up(f, voice) for f in found[:SUMMED_UP]],
        "more_findings": len(found) - len(found[:SUMMED_UP]),
        "findings": [said_finding(f, voice) for f in found],
        "cautions": _said(cautions_for(job), voice),
        "defers": [voice.say(key) for key in DEFERS],
        "not_checked": _said(not_checked(job), voice),
        "verify": _verify(job, voice),
        "plates": plates(drawings, voice),
        "cuts": cut_lists(job.cutting.sheets, voice.speaker),
        "cut_list": cut_rows(job, voice),
        "sealing": sealing_maps(job, drawings, voice),
        "takeoff": takeoff_rows(job, voice),
        "steps": said_steps(job, drawings, voice),
        "proving": proving(job, voice),
    }


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
    opened = [_opening_line(job, i, voice) for i in range(len(job.detail.openings))]
    return [
        voice.say(f"packet.roof.work_{roof.work}"),
        voice.say("packet.roof.line", line),
        voice.say("packet.roof.panel", skin),
        *opened[:SUMMED_UP],
    ]


def _opening_line(job: WorkedJob, i: int, voice: Voice) -> str:
    d = job.detail.openings[i]
    o = d.opening
    values: dict[str, Value] = {
        "name": o.name, "kind": f"draw.kind_{o.kind.replace('-', '_')}",
        "width": o.width, "length": o.length, "method": f"draw.method_{d.method.replace('-', '_')}",
    }  # fmt: skip
    return breakable(voice.say("packet.roof.opening", values))


def _figures(job: WorkedJob, voice: Voice) -> list[list[str]]:
    """The big numbers of the first page, each with its label."""
    worked = [p for p in new_panels(job) if p.blank is not None]
    blanks = sum(p.quantity for p in job.pieces) + len(worked)
    load = sum(p.quantity * p.weight_lb for p in job.pieces if p.is_metal)
    rows = [
        (str(len(job.site.openings)), "openings"),
        (str(blanks), "blanks_to_cut"),
        (str(len(new_panels(job))), "panels"),
        (weight(load, voice), "sheet_weight"),
    ]
    return [[figure, voice.say(f"packet.label.{label}")] for figure, label in rows]


def _summed_up(f: Finding, voice: Voice) -> dict[str, str]:
    yours, limit = voice.measures(f)
    return {
        "level": f.level,
        "where": breakable(shortened(f.where, 60)),
        "rule": f.rule,
        "yours": "" if f.measured is None else yours,
        "limit": "" if f.limit is None else limit,
    }


def said_finding(f: Finding, voice: Voice) -> dict[str, Any]:
    """A finding with its rule, source, limit, value and cure, in words."""
    yours, limit = voice.measures(f)
    how = seen(f)
    return {
        "level": f.level,
        "where": breakable(f.where),
        "says": breakable(voice.finding(f)),
        "cure": voice.cure(f),
        "yours": "" if f.measured is None else yours,
        "limit": "" if f.limit is None else limit,
        "rule": f.rule,
        "source": source_line(f),
        "seen": voice.say(f"packet.seen.{(how or 'house rule').replace(' ', '-')}"),
    }


def _verify(job: WorkedJob, voice: Voice) -> dict[str, Any]:
    blocks = [
        {"title": b.title, "rows": [[r.what, r.given, r.hook] for r in b.rows]} for b in readings(job, voice)
    ]
    return {"lead": voice.say("packet.verify.lead", {"stray": stray(voice)}), "blocks": blocks}


def said_steps(job: WorkedJob, drawings: Sequence[Drawing], voice: Voice) -> list[dict[str, Any]]:
    """The order of work in words, with those of its pictures that are among `drawings`."""
    pictures = {d.file: d.svg for d in drawings if d.part == "step"}
    rows = []
    for s in job.steps:
        marks = [
            [
                voice.speaker.length(m.distance, feet=True),
                breakable(voice.say(m.start, {**s.values, **m.values})),
                breakable(voice.say(m.what, {**s.values, **m.values})),
            ]
            for m in s.marks
        ]
        rows.append(
            {
                "n": str(s.n),
                "title": breakable(voice.say(s.title, s.values)),
                "does": [breakable(voice.say(key, s.values)) for key in s.does],
                "marks": _by_edge(marks),
                "pieces": list(s.pieces),
                "caution": "" if s.caution is None else voice.say(s.caution, s.values),
                "tools": [voice.say(key, s.values) for key in s.tools],
                "sealant": [voice.say(key, s.values) for key in s.sealant],
                "fasteners": [voice.say(key, s.values) for key in s.fasteners],
                "checks": [breakable(voice.say(key, s.values)) for key in s.checks],
                "table": _framing(job, s),
                "picture": pictures.get(f"step-{s.n:02d}", ""),
            }
        )
    return rows


def _framing(job: WorkedJob, step: Step) -> dict[str, Any]:
    """The carpenter's table under the step that frames a cricket; no rows elsewhere."""
    if step.title != "steps.cricket.framing":
        return {"rows": [], "note": ""}
    speaker = Speaker(job.site.units)
    names = [d.opening.name for d in job.detail.openings]
    rows = framing_rows(job, names.index(str(step.values["opening"])))
    return {"rows": [list(row) for row in rows], "note": speaker.say("framing.note")}


def _by_edge(marks: list[list[str]]) -> list[dict[str, Any]]:
    """Marks that hook on one edge together, in the order in which the edges first come up."""
    out: dict[str, list[list[str]]] = {}
    for distance, start, what in marks:
        out.setdefault(start, []).append([distance, what])
    return [{"start": start, "rows": rows} for start, rows in out.items()]


def _said(cautions: tuple[Caution, ...], voice: Voice) -> list[str]:
    return [breakable(voice.say(c.key, c.values)) for c in cautions]
