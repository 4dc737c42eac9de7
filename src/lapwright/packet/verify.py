"""Everything the plan rests on, to be measured once more on the roof before metal is cut.

Each row: what, what the job says, the edge the tape hooks on; the page leaves a box for what was found.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from lapwright import units
from lapwright.detail.model import OpeningDetail
from lapwright.packet.say import Voice, breakable
from lapwright.packet.worked import WorkedJob
from lapwright.site.model import Opening

STRAY_IN, STRAY_MM = 0.125, 3 / 25.4
"""A reading this far off is no longer the plan's. House rule. [in]"""

LEVEL_IN, LEVEL_MM = 12.0, 300 / 25.4
"""A level is held out this far to read a pitch. [in]"""


@dataclass(frozen=True, slots=True)
class Reading:
    """One row: what is measured (a key of words/), what was given, where the tape hooks on (a key)."""

    what: str
    given: str
    hook: str


@dataclass(frozen=True, slots=True)
class Readings:
    """A block of rows under its own heading."""

    title: str
    rows: tuple[Reading, ...]


def readings(job: WorkedJob, voice: Voice) -> tuple[Readings, ...]:
    """Roof, panels, then each opening."""
    say = Readings
    out = [say(voice.say("packet.verify.roof"), tuple(_roof(job, voice)))]
    out.append(say(voice.say("packet.verify.panels"), tuple(_panels(job, voice))))
    for d, o in zip(job.detail.openings, job.site.openings, strict=True):
        title = voice.say("packet.verify.opening", {"name": breakable(d.opening.name)})
        rows = _pipe(o, voice) if o.kind == "pipe" else _opening(job, d, voice)
        out.append(say(title, tuple(rows)))
    return tuple(out)


def stray(voice: Voice) -> float:
    """How far a reading may be off. [in]"""
    return STRAY_IN if voice.speaker.unit == "in" else STRAY_MM


def _row(voice: Voice, name: str, given: str, hook: str) -> Reading:
    said = voice.say(f"packet.verify.hook.{hook}", {"reach": LEVEL_IN if voice.speaker.unit == "in" else LEVEL_MM})
    return Reading(voice.say(f"packet.verify.what.{name}"), given, said)


def _long(voice: Voice, length: float) -> str:
    return voice.speaker.length(length, feet=True)


def _roof(job: WorkedJob, voice: Voice) -> Iterator[Reading]:
    roof = job.site.roof
    yield _row(voice, "eave", _long(voice, roof.eave), "left_edge")
    yield _row(voice, "slope", _long(voice, roof.slope), "eave")
    yield _row(voice, "square", _long(voice, math.hypot(roof.eave, roof.slope)), "roof_corner")
    degrees = f"{math.degrees(roof.theta):.1f}\N{DEGREE SIGN}"
    yield _row(voice, "pitch", f"{units.show_pitch(roof.rise)} · {degrees}", "level")
    for side in ("left", "right"):
        edge = roof.left_edge if side == "left" else roof.right_edge
        yield _row(voice, f"{side}_edge", voice.say(f"packet.verify.{edge}"), "look")
    yield _row(voice, "upper_edge", voice.say(f"packet.verify.{roof.upper_edge}"), "look")


def _panels(job: WorkedJob, voice: Voice) -> Iterator[Reading]:
    panel, layout = job.site.panel, job.layout
    yield _row(voice, "coverage", _long(voice, panel.coverage), "rib")
    yield _row(voice, "rib_height", _long(voice, panel.rib_height), "flat")
    faces = {d.measures.rib_face for d in job.detail.openings if d.measures.rib_face is not None}
    for face in sorted(faces):
        yield _row(voice, "rib_face", _long(voice, face), "rib")
    yield _row(voice, "chosen_rib" if layout.chosen else "first_rib", _long(voice, layout.first_rib), "left_edge")
    yield _row(voice, "metal", voice.metal(panel.metal), "label")
    yield _row(voice, "seam", voice.say(f"packet.seam.{panel.seam}"), "look")


def _opening(job: WorkedJob, d: OpeningDetail, voice: Voice) -> Iterator[Reading]:
    o, bay = d.opening, d.bay
    for corner in ("downslope", "upslope"):
        yield _row(voice, f"left_{corner}", _long(voice, o.left), "left_edge")
    for side in ("left", "right"):
        yield _row(voice, f"up_{side}", _long(voice, o.up), "eave")
    for face in ("downslope", "upslope"):
        yield _row(voice, f"width_{face}", _long(voice, o.width), "corner")
    for side in ("left", "right"):
        yield _row(voice, f"length_{side}", _long(voice, o.length), "down_corner")
    for way in ("rising", "falling"):
        yield _row(voice, f"diagonal_{way}", _long(voice, math.hypot(o.width, o.length)), "corner")
    yield _row(voice, "height", _long(voice, o.height), "flat")
    yield _row(voice, "face", voice.say(f"packet.verify.face_{o.face}"), f"face_{o.face}")
    for side, room, is_rib in (
        ("left", o.left - bay.left, bay.left_is_rib),
        ("right", bay.right - o.right, bay.right_is_rib),
    ):
        yield _row(voice, f"room_{side}", _long(voice, room), f"bay_rib_{side}" if is_rib else f"{side}_edge")
    yield _row(voice, "above", _long(voice, job.site.roof.slope - o.back), "back_face")


def _pipe(o: Opening, voice: Voice) -> Iterator[Reading]:
    yield _row(voice, "pipe_left", _long(voice, o.left), "left_edge")
    yield _row(voice, "pipe_up", _long(voice, o.up), "eave")
    yield _row(voice, "diameter", _long(voice, o.diameter or o.width), "rim")
    yield _row(voice, "height", _long(voice, o.height), "flat")
