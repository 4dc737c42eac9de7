"""Rows of the packet's tables: cut list, takeoff, and what every number on a sealing map means."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from lapwright.detail.model import Detail, OpeningDetail
from lapwright.packet.drawings import Drawing, new_panels, own, runs_of
from lapwright.packet.say import METRIC, Voice, breakable
from lapwright.packet.worked import WorkedJob
from lapwright.shop.cutlist import CutRow, cut_list
from lapwright.shop.model import TakeoffLine
from lapwright.shop.takeoff import take_off

EVERYWHERE = ("shop.item.screws-flanges", "shop.item.clips", "shop.item.clip-screws")
"""Fixings of every panel, which no map of one opening shows."""


def cut_rows(job: WorkedJob, voice: Voice) -> list[list[str]]:
    """One row per blank: id, name, number, metal, size, bends, weight; then panels as the machine makes them."""
    rows = [_cut_row(r, voice) for r in cut_list(job.site.panel.metal, job.pieces, new_panels(job))]
    return [*rows, *_plain_rows(job, voice)]


def _plain_rows(job: WorkedJob, voice: Voice) -> Iterator[list[str]]:
    """Panels that are laid as they come, those of one size together."""
    alike: dict[tuple[str, str], list[str]] = {}
    for p in new_panels(job):
        if p.blank is None:
            size = (voice.speaker.length(p.width), voice.speaker.length(p.length, feet=True))
            alike.setdefault(size, []).append(p.id)
    group = voice.say("packet.label.from_machine")
    for (width, length), ids in alike.items():
        name = voice.say("shop.panel.through")
        yield [", ".join(ids), name, str(len(ids)), group, f"{width} × {length}", "", ""]


def _cut_row(r: CutRow, voice: Voice) -> list[str]:
    size = f"{voice.speaker.length(r.width)} × {voice.speaker.length(r.height)}"
    name, metal = breakable(voice.name(r.name)), voice.metal(r.metal)
    return [r.id, name, str(r.quantity), metal, size, str(r.bends), weight(r.weight_lb, voice)]


def weight(weight_lb: float, voice: Voice) -> str:
    """A weight in the job's unit. [lb]"""
    metric = voice.speaker.unit == "mm"
    value = weight_lb * METRIC["lb"][1] if metric else weight_lb
    unit = voice.say("shop.unit.kg" if metric else "shop.unit.lb")
    return f"{value:.1f} {unit}" if value >= 1 else f"{value:.2f} {unit}"


def takeoff_rows(job: WorkedJob, voice: Voice) -> list[dict[str, Any]]:
    """One row per line to buy; `part` marks those that are added up in a later one."""
    return [_bought(line, voice) for line in job.takeoff]


def _bought(line: TakeoffLine, voice: Voice) -> dict[str, Any]:
    amount, unit = _amount(line, voice)
    part = line.item.removeprefix("shop.item.").startswith(("bead-", "tape-"))
    said = {"item": voice.say(line.item, line.values), "basis": voice.say(line.basis, line.values)}
    return {**said, "amount": amount, "unit": unit, "part": part}


def _amount(line: TakeoffLine, voice: Voice) -> tuple[str, str]:
    quantity, unit = voice.bought(line.quantity, line.unit)
    return f"{quantity:.0f}" if abs(quantity - round(quantity)) < 5e-3 else f"{quantity:.1f}", unit


def sealing_maps(job: WorkedJob, drawings: Sequence[Drawing], voice: Voice) -> list[dict[str, Any]]:
    """Each opening's maps with the meaning of their numbers: the takeoff of that opening alone."""
    out = []
    for i, d in enumerate(job.detail.openings, 1):
        maps = [m.svg for m in drawings if m.part == "sealing" and m.file.startswith(f"sealing-{i}-")]
        if maps:
            out.append({"name": breakable(d.opening.name), "maps": maps, "rows": _numbers(job, d, voice)})
    return out


def _numbers(job: WorkedJob, d: OpeningDetail, voice: Voice) -> list[list[str]]:
    """Number, what it is, how much, how it is counted; fixings of every panel last, without a number."""
    pieces, panels = own(job, d)
    lines = {t.item: t for t in take_off(job.site, job.layout, Detail((d,)), pieces, panels)}
    rows = []
    for n, run in enumerate(runs_of(job, d), 1):
        line = lines.get(f"shop.item.{run.use}")
        if line is not None:
            rows.append([str(n), *_line(line, voice)])
    rows += [["–", *_line(t, voice)] for t in job.takeoff if t.item in EVERYWHERE]
    return rows


def _line(line: TakeoffLine, voice: Voice) -> list[str]:
    amount, unit = _amount(line, voice)
    return [voice.say(line.item, line.values), f"{amount} {unit}", voice.say(line.basis, line.values)]
