"""The carpenter's table for a cricket: what to cut, how long, at which angles."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.detail.framing import Framing, framing_of
from lapwright.detail.model import Cricket, OpeningDetail
from lapwright.packet.worked import WorkedJob
from lapwright.words import Speaker

Row = tuple[str, str, str]
"""What, how long, at which angles."""


def framing_rows(job: WorkedJob, opening: int | None = None) -> list[Row]:
    """The rows of every cricket, or of one opening's, in the order they are built.

    Args:
        job: A worked job; openings with no cricket have no row.
        opening: Index of one opening; left out, all of them.
    """
    speaker = Speaker(job.site.units)
    out: list[Row] = []
    for k, d in enumerate(job.detail.openings):
        if d.method == "cricket" and d.cricket is not None and opening in (None, k):
            out += _rows(d, d.cricket, speaker)
    return out


def _rows(d: OpeningDetail, c: Cricket, speaker: Speaker) -> Iterator[Row]:
    f, say = framing_of(c, d.opening.kind, d.measures.framing_clear), speaker.say
    if f.clearance is None:
        yield say("framing.clearance"), say("framing.clearance-unknown"), say("framing.clearance-ask")
    elif f.clearance > 0:
        yield say("framing.clearance"), speaker.length(f.clearance), say("framing.clearance-kept")
    way = "level" if abs(f.ridge_plumb_deg) < 0.05 else "falls"
    yield (
        say("framing.ridge"), speaker.length(f.ridge),
        say(f"framing.ridge-{way}", slope=f.ridge_plumb_deg, end=f.ridge_end_deg),
    )  # fmt: skip
    yield (
        say("framing.valley"), speaker.length(f.valley),
        say("framing.valley-cut", plumb=f.valley_plumb_deg, level=90.0 - f.valley_plumb_deg,
            side=f.valley_side_deg, cheek=f.cheek_deg, backing=f.backing_deg),
    )  # fmt: skip
    yield from _jacks(f, speaker)
    wall, ridge, valley = f.sheathing
    corner, foot, head = f.sheathing_deg
    yield (
        say("framing.sheathing"), say("framing.sheathing-length", wall=wall, ridge=ridge, valley=valley),
        say("framing.sheathing-cut", corner=corner, foot=foot, head=head, backing=f.backing_deg),
    )  # fmt: skip


def _jacks(f: Framing, speaker: Speaker) -> Iterator[Row]:
    say = speaker.say
    if not f.jacks:
        yield say("framing.no-jack"), say("framing.no-jack-length"), say("framing.no-jack-cut")
    cut = say(
        "framing.jack-cut", plumb=f.jack_plumb_deg, level=90.0 - f.jack_plumb_deg, tilt=f.foot_tilt_deg,
        cheek=f.cheek_deg, side=f.jack_side_deg,
    )  # fmt: skip
    for k, j in enumerate(f.jacks):
        yield say("framing.jack", at=j.at), speaker.length(j.length), cut if k == 0 else ""
