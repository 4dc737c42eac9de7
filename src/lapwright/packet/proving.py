"""The water test and the record: zones low to high, photographs, what was built against what was planned."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from lapwright.detail.model import OpeningDetail
from lapwright.packet.say import Voice, breakable
from lapwright.packet.worked import WorkedJob

MINUTES = 10
"""Water on each zone before the next one, if nothing shows inside. House rule. [min]"""

ZONES = ("apron", "sides", "front_corners", "back_corners", "pan", "cleats", "panels")
"""From low to high, so that a leak is found below where the water already is."""

PHOTOS = (
    "open", "membrane", "side_panels", "apron", "side_walls", "sealant", "pan", "patches", "cleats", "hems", "done",
)  # fmt: skip
"""What must be on record before the next piece hides it."""

PIPE_ZONES = ("plate_low", "plate_sides", "sleeve", "plate_high", "cleats", "panels")
PIPE_PHOTOS = ("open", "membrane", "hole", "plate", "sleeve", "cleats", "hems", "done")
"""The same for pipes."""

SIGNED = ("installer", "inside", "owner")


def proving(job: WorkedJob, voice: Voice) -> dict[str, Any]:
    """What the record page prints, said and ready to set; no zones where nothing was detailed."""
    planned = [d for d in job.detail.openings if d.planned]
    piped = [d for d in planned if d.pipe is not None]
    zones = (*(ZONES if len(piped) < len(planned) else ()), *(PIPE_ZONES if piped else ()))
    photos = (*(PHOTOS if len(piped) < len(planned) or not piped else ()), *(PIPE_PHOTOS if piped else ()))
    return {
        "lead": voice.say("packet.proving.lead", {"minutes": MINUTES}),
        "minutes": str(MINUTES),
        "openings": [breakable(d.opening.name) for d in planned],
        "zones": [voice.say(f"packet.proving.zone.{z}") for z in dict.fromkeys(zones)],
        "photos": [voice.say(f"packet.proving.photo.{p}") for p in dict.fromkeys(photos)],
        "built": [row for d in planned for row in _built(d, voice, len(planned) > 1)],
        "signed": [voice.say(f"packet.proving.signed.{s}") for s in SIGNED],
    }


def _built(d: OpeningDetail, voice: Voice, named: bool) -> Iterator[list[str]]:
    """Sizes that decide whether it holds water out: what, planned; the page leaves a box for as built. [in]"""
    for key, length in _sizes(d):
        what = voice.say(f"packet.proving.built.{key}")
        where = f"{breakable(d.opening.name)}: {what}" if named else what
        yield [where, voice.speaker.length(length, feet=True)]


def _sizes(d: OpeningDetail) -> Iterator[tuple[str, float]]:
    m, o = d.measures, d.opening
    if d.pipe is not None and d.pan is not None:
        yield "plate_width", d.pan.width
        yield "plate_down", o.up - d.pan.downslope
        yield "plate_up", d.pan.upslope - o.back
        yield "hole_across", d.pipe.across
        yield "hole_along", d.pipe.along
        yield "sleeve_up", m.upstand
        yield "pipe_cleat", d.cleat_line[0][1] - o.back
        return
    if d.pan is not None:
        yield "pan_width", d.pan.width
        yield "pan_up", d.pan.upslope - o.back
        yield "pan_down", o.back - d.pan.downslope
        yield "upstand", d.pan.upstand
    yield "side_upstand", min(m.upstand, o.height)
    yield "side_lap", m.side_lap
    line = d.cleat_line
    if len(line) >= 4:
        middle = line[1:-1]
        yield "cleat_across", max(y for _, y in middle) - o.back
        for hand, (_, y) in (("left", line[0]), ("right", line[-1])):
            yield f"cleat_{hand}_{'up' if y >= o.back else 'down'}", abs(y - o.back)
    yield "cover", m.cover
