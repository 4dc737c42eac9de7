"""plan.json: the whole job as one record that other programs read. Lengths in inches, always.

format  job  roof  ribs  strips  openings  pieces  panels  findings  cutting  takeoff  steps
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from lapwright import sources
from lapwright.detail.framing import framing_of
from lapwright.detail.model import Cricket, Notch, OpeningDetail, Pipe
from lapwright.findings import Finding
from lapwright.geom.space import Flat
from lapwright.leaks.audit import Audit
from lapwright.leaks.search import Way
from lapwright.metal.model import Bend, Blank, Piece, RoofPanel
from lapwright.packet.cautions import Caution, cautions_for, not_checked
from lapwright.packet.cutting import cutting_record
from lapwright.packet.identity import FORMAT, job_hash
from lapwright.packet.model import Step
from lapwright.packet.quote import quote_record
from lapwright.packet.say import Voice, seen
from lapwright.packet.worked import WorkedJob
from lapwright.shop.bending.model import BendPlan, Blocked
from lapwright.shop.model import TakeoffLine
from lapwright.site.model import Opening, Roof
from lapwright.words import Speaker

PLACES = 6
"""Decimals kept, so that the same job gives the same bytes on every machine."""


def to_record(job: WorkedJob) -> dict[str, Any]:
    """The job as plain lists, numbers and text.

    Sentences are said in the job's unit; every number is in inches, degrees, pounds, square inches,
    or in the unit that stands beside it.
    """
    voice = Voice(Speaker(job.site.units))
    rounded: dict[str, Any] = _tidy(
        {
            "format": FORMAT,
            "job": {"name": job.site.name, "units": job.site.units, "hash": job_hash(job.site)},
            "roof": _roof(job.site.roof),
            "ribs": list(job.layout.ribs),
            "strips": [{"index": s.index, "left": s.left, "right": s.right} for s in job.layout.strips],
            "openings": [_opening(d, o, job.site.roof, voice, job.audits)
                for d, o in zip(job.detail.openings, job.site.openings, strict=True)
            ],
            "pieces": [_piece(p, voice) | bending(p, job.orders) for p in job.pieces],
            "panels": [_panel(p) | bending(p, job.orders) for p in job.panels],
            "findings": [_finding(f, voice) for f in job.findings],
            "cutting": cutting_record(job.cutting.sheets),
            "takeoff": [_bought(line, voice) for line in job.takeoff],
            "price": quote_record(job),
            "steps": [_step(s, voice) for s in job.steps],
            "cautions": _said(cautions_for(job), voice),
            "not_checked": _said(not_checked(job), voice),
        }
    )
    return rounded


def to_json(job: WorkedJob) -> bytes:
    """plan.json itself: two spaces, UTF-8, keys in the order of the record, a line end at the end.

    Raises:
        ValueError: a number is not finite (our bug).
    """
    text = json.dumps(to_record(job), ensure_ascii=False, indent=2, allow_nan=False)
    return (text + "\n").encode("utf-8", errors="replace")


def corners(opening: Opening, theta: float) -> tuple[Flat, Flat, Flat, Flat]:
    """Left-downslope, right-downslope, right-upslope, left-upslope corner on the roof. [in], [rad]

    A pipe takes the rectangle round its hole: diameter across, diameter / cos(theta) along the slope.
    """
    left, right, up, back = opening.left, opening.right, opening.up, opening.back
    if opening.kind == "pipe" and opening.diameter is not None:
        rim = opening.rim(theta)
        left, right, up, back = rim.left, rim.right, rim.up, rim.back
    return ((left, up), (right, up), (right, back), (left, back))


def _roof(roof: Roof) -> dict[str, Any]:
    pitch = math.degrees(roof.theta)
    return {"rise": roof.rise, "pitch_deg": pitch, "eave": roof.eave, "slope": roof.slope}


def _opening(d: OpeningDetail, taped: Opening, roof: Roof, voice: Voice, audits: Sequence[Audit]) -> dict[str, Any]:
    row: dict[str, Any] = {
        "name": d.opening.name,
        "kind": d.opening.kind,
        "face": d.opening.face,
        "corners": corners(taped, roof.theta),
        "bay": [d.bay.left, d.bay.right],
        "method": d.method,
        "cleat_line": d.cleat_line,
        "notches": [_notch(n) for n in d.notches],
    }
    if d.cricket is not None:
        row["cricket"] = _cricket(d.cricket, d.opening.kind, d.measures.framing_clear)
    if d.pipe is not None and d.planned:
        row["pipe"] = _pipe(d.pipe)
    if d.pan is not None and d.cricket is None and d.planned:
        pan = d.pan
        row["pan"] = {
            "left": pan.left, "right": pan.right, "downslope": pan.downslope, "upslope": pan.upslope,
            "width": pan.width, "upstand": pan.upstand,
        }  # fmt: skip
    for a in audits:
        if a.opening == d.opening.name:
            row["leaks"] = {
                "standing": _way(a.standing), "running": _way(a.running),
                "open_laps": [{"seam": c.seam, "at": c.at} for c in a.opened],
            }  # fmt: skip
    if d.water is not None:
        w = d.water
        row["water"] = {
            "supply_gpm": w.supply_gpm, "depth": w.depth, "run_up": w.run_up, "design": w.design, "limit": w.limit,
            "reach": w.reach, "side_depth": w.side_depth,
        }  # fmt: skip
    if d.why and voice.speaker.knows(d.why):
        row["why"] = voice.say(d.why, {"opening": d.opening.name})
    return row


def _cricket(c: Cricket, kind: str, clear: float | None) -> dict[str, Any]:
    """True shape and the carpenter's framing. Lengths in inches, areas in square inches."""
    f = framing_of(c, kind, clear)
    return {
        "height": c.height, "ridge_plan": c.ridge_plan, "ridge_on_roof": c.ridge_on_roof, "valley": c.valley,
        "valley_slope_deg": c.valley_slope_deg, "valley_bend_deg": c.valley_bend_deg,
        "ridge_bend_deg": c.ridge_bend_deg, "wall_edge": c.wall_edge, "plane_area": c.plane_area,
        "wall_rise": c.wall_rise,
        "framing": {
            "ridge": f.ridge, "ridge_plumb_deg": f.ridge_plumb_deg, "ridge_end_deg": f.ridge_end_deg,
            "valley": f.valley, "valley_plumb_deg": f.valley_plumb_deg, "valley_side_deg": f.valley_side_deg,
            "jack_plumb_deg": f.jack_plumb_deg, "jack_side_deg": f.jack_side_deg, "cheek_deg": f.cheek_deg,
            "foot_tilt_deg": f.foot_tilt_deg, "backing_deg": f.backing_deg,
            "jacks": [{"at": j.at, "length": j.length, "quantity": 2} for j in f.jacks],
            "sheathing": f.sheathing, "sheathing_deg": f.sheathing_deg, "clearance": f.clearance,
        },
    }  # fmt: skip


def _pipe(p: Pipe) -> dict[str, Any]:
    """The pipe, its hole and its sleeve. Lengths in inches."""
    return {
        "centre": p.centre, "diameter": p.diameter, "hole": [p.across, p.along], "gap": p.gap, "hot": p.hot,
        "sleeve_height": p.height, "half_angle_deg": math.degrees(p.half_angle), "lean_deg": math.degrees(p.lean),
        "rib": p.rib,
    }  # fmt: skip


def _way(way: Way | None) -> dict[str, Any] | None:
    """The weakest way in: the head it takes over the water there, and its crossings in order. [in]"""
    if way is None:
        return None
    path = [{"seam": c.seam, "at": c.at, "rating": c.rating} for c in way.crossings]
    return {"head": way.head, "path": path}


def _notch(n: Notch) -> dict[str, Any]:
    return {"rib": n.rib, "from": n.from_y, "to": n.to_y, "cut": n.cut}


def _piece(p: Piece, voice: Voice) -> dict[str, Any]:
    return {
        "id": p.id,
        "kind": p.kind,
        "name": voice.name(p.name),
        "opening": p.opening,
        "quantity": p.quantity,
        "metal": p.metal,
        "thickness": p.thickness,
        "hand": p.hand,
        "blank": _blank(p.blank),
        "bends": [_bend(b) for b in p.bends],
        "weight_lb": p.weight_lb,
    }


def _blank(b: Blank) -> dict[str, Any]:
    return {
        "outline": b.outline, "cuts": b.cuts, "holes": b.holes,
        "area": b.area, "width": b.width, "height": b.height,
    }  # fmt: skip


def _bend(b: Bend) -> dict[str, Any]:
    return {
        "id": b.id, "from": b.start, "to": b.end, "angle_deg": b.angle_deg, "radius": b.radius,
        "way": b.way, "order": b.order, "kind": b.kind,
    }  # fmt: skip


def bending(item: Piece | RoofPanel, orders: Mapping[str, BendPlan]) -> dict[str, Any]:
    """How it is folded: every operation in order; bends that no tool makes, and those made by hand, and why."""
    plan = orders.get(item.id)
    if plan is None:
        return {"bending": None}
    ways = {b.id: b.way for b in item.bends}
    operations = [
        {
            "n": n, "bends": list(o.bends), "does": o.kind, "tool": o.tool, "held": o.clamped,
            "face": "up" if o.face_up == "painted" else "down", "turned": o.turn, "flipped": o.flip,
            "way": ways[o.bend], "angle_deg": o.angle_deg,
        }
        for n, o in enumerate(plan.operations, start=1)
    ]  # fmt: skip
    return {
        "bending": {
            "feasible": plan.feasible, "cost": plan.cost, "operations": operations,
            "blocked": [_kept_off(b) for b in plan.blocked], "by_hand": [_kept_off(b) for b in plan.by_hand],
        }
    }  # fmt: skip


def _kept_off(b: Blocked) -> dict[str, Any]:
    return {"bend": b.bend, "tool": b.tool, "reason": b.reason, "cures": list(b.cures)}


def _panel(p: RoofPanel) -> dict[str, Any]:
    return {
        "id": p.id,
        "role": p.role,
        "strip": p.strip,
        "opening": p.opening,
        "outline": p.outline,
        "length": p.length,
        "width": p.width,
        "blank": None if p.blank is None else _blank(p.blank),
        "bends": [_bend(b) for b in p.bends],
        "hems": list(p.hems),
        "notches": [_notch(n) for n in p.notches],
    }


def _finding(f: Finding, voice: Voice) -> dict[str, Any]:
    known = sources.sources().get(f.source)
    return {
        "rule": f.rule,
        "level": f.level,
        "where": f.where,
        "says": voice.finding(f),
        "cure": voice.cure(f),
        "measured": f.measured,
        "limit": f.limit,
        "unit": f.unit,
        "source": f.source,
        "document": f.source if known is None else known.document,
        "edition": f.edition,
        "seen": seen(f),
    }


def _bought(line: TakeoffLine, voice: Voice) -> dict[str, Any]:
    return {
        "item": voice.say(line.item, line.values),
        "quantity": line.quantity,
        "unit": line.unit,
        "basis": voice.say(line.basis, line.values),
    }


def _step(s: Step, voice: Voice) -> dict[str, Any]:
    marks = [
        {
            "what": voice.say(m.what, {**s.values, **m.values}),
            "from": voice.say(m.start, {**s.values, **m.values}),
            "distance": m.distance,
        }
        for m in s.marks
    ]
    return {
        "n": s.n,
        "title": voice.say(s.title, s.values),
        "does": " ".join(voice.say(key, s.values) for key in s.does),
        "marks": marks,
        "pieces": list(s.pieces),
        "caution": None if s.caution is None else voice.say(s.caution, s.values),
        "tools": [voice.say(key, s.values) for key in s.tools],
        "sealant": [voice.say(key, s.values) for key in s.sealant],
        "fasteners": [voice.say(key, s.values) for key in s.fasteners],
        "checks": [voice.say(key, s.values) for key in s.checks],
    }


def _said(cautions: Iterable[Caution], voice: Voice) -> list[str]:
    return [voice.say(c.key, c.values) for c in cautions]


def _tidy(value: Any) -> Any:
    """Tuples to lists, floats to PLACES decimals without a negative nought."""
    if isinstance(value, float):
        return round(value, PLACES) + 0.0
    if isinstance(value, dict):
        return {k: _tidy(v) for k, v in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [_tidy(v) for v in value]
    return value
