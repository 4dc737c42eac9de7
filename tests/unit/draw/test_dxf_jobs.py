"""Cutting files of whole jobs: read again by another library, sound for a machine, as long as plan.json says."""

from __future__ import annotations

import io
import json
import math
from collections import Counter
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from ezdxf.filemanagement import read
from hypothesis import HealthCheck, given, settings
from strategies import sites

from lapwright.draw.dxf import blank_to_dxf
from lapwright.job import Job
from lapwright.metal.marks import cleat_marks
from lapwright.packet.drawings import cut_items
from lapwright.packet.files import packet_files
from lapwright.packet.record import to_json
from lapwright.site.model import Site
from lapwright.site.read import read_job

Flat = tuple[float, float]
Segment = tuple[Flat, Flat]

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*/job.toml"))
LEAST = 1e-3
"""Shorter than this no machine cuts. [in]"""


def job_of(path: Path) -> Job:
    return Job(read_job(path.read_text(encoding="utf-8"), path.name))


def drawings(job: Job) -> Iterator[tuple[Any, Any]]:
    for item in cut_items(job):
        assert item.blank is not None
        data = blank_to_dxf(item.id, item.blank, item.bends, job.site.units)
        yield item, read(io.StringIO(data.decode("ascii")))


def segments(entity: Any) -> list[Segment]:
    if entity.dxftype() == "LINE":
        return [(tuple(entity.dxf.start)[:2], tuple(entity.dxf.end)[:2])]
    if entity.dxftype() != "LWPOLYLINE":
        return []
    points = [(p[0], p[1]) for p in entity.get_points()]
    return list(zip(points, [*points[1:], points[0]], strict=True))


def shared(one: Segment, other: Segment) -> float:
    """Length that two straight lines have in common."""
    (a, b), long = one, math.dist(*one)
    run = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
    away = [(p[0] - a[0], p[1] - a[1]) for p in other]
    ends = [(x * run[0] + y * run[1], x * run[1] - y * run[0]) for x, y in away]
    if max(abs(off) for _, off in ends) > LEAST / 10:
        return 0.0
    return min(long, max(s for s, _ in ends)) - max(0.0, min(s for s, _ in ends))


def cross(one: Segment, other: Segment) -> bool:
    """Does each line pass from one side of the other to the other side?"""

    def side(s: Segment, p: Flat) -> float:
        (a, b) = s
        return ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / math.dist(a, b)

    pairs = ((one, other), (other, one))
    return all(min(side(s, p) for p in t) < -1e-6 and max(side(s, p) for p in t) > 1e-6 for s, t in pairs)


def faults(job: Job) -> list[str]:
    """What a machine would stumble on."""
    k = 25.4 if job.site.units == "mm" else 1.0
    out: list[str] = []
    for item, document in drawings(job):
        audit = document.audit()
        out += [f"{item.id}: {e.message}" for e in (*audit.errors, *audit.fixes)]
        space = document.modelspace()
        if not all(e.closed for e in space.query("LWPOLYLINE")):
            out.append(f"{item.id}: an open outline")
        cuts = [s for e in space.query("*[layer=='CUT']") for s in segments(e)]
        bends = [s for e in space.query("*[layer=='BEND_UP' | layer=='BEND_DOWN']") for s in segments(e)]
        out += [f"{item.id}: {math.dist(*s)} long" for s in (*cuts, *bends) if math.dist(*s) < LEAST * k]
        out += [f"{item.id}: twice" for s, t in combinations((*cuts, *bends), 2) if shared(s, t) > LEAST * k]
        out += [f"{item.id}: cuts cross" for s, t in combinations(cuts, 2) if cross(s, t)]
        out += [f"{item.id}: a cut over a bend" for s in cuts for t in bends if cross(s, t)]
        count = Counter(e.dxftype() for e in space.query("*[layer=='CUT']"))
        blank = item.blank
        if count["LWPOLYLINE"] + count["CIRCLE"] != 1 + len(blank.holes) or count["LINE"] != len(blank.cuts):
            out.append(f"{item.id}: {count}")
    return out


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.parent.name)
def test_every_cutting_file_of_an_example_is_sound(path: Path) -> None:
    assert faults(job_of(path)) == []


@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
@given(sites())
def test_every_cutting_file_of_any_job_is_sound(site: Site) -> None:
    assert faults(Job(site)) == []


@pytest.mark.parametrize("case", ["kiln-shed", "orchard-studio", "malt-house"])
def test_outlines_and_bends_are_as_long_as_plan_json_says(case: str) -> None:
    job = job_of(next(p for p in EXAMPLES if p.parent.name == case))
    k = 25.4 if job.site.units == "mm" else 1.0
    record = json.loads(to_json(job))
    rows = {r["id"]: r for r in (*record["pieces"], *record["panels"])}
    for item, document in drawings(job):
        row, space = rows[item.id], document.modelspace()
        rings = [segments(e) for e in space.query("LWPOLYLINE[layer=='CUT']")]
        outline = row["blank"]["outline"]
        round_it = sum(math.dist(a, b) for a, b in zip(outline, [*outline[1:], outline[0]], strict=True))
        assert sum(math.dist(*s) for s in rings[0]) / k == pytest.approx(round_it, abs=1e-3)
        bends = space.query("LINE[layer=='BEND_UP' | layer=='BEND_DOWN']")
        lines = sorted(math.dist(*s) / k for e in bends for s in segments(e))
        assert lines == pytest.approx(sorted(math.dist(b["from"], b["to"]) for b in row["bends"]), abs=1e-3)
        slits = sorted(math.dist(*s) / k for e in space.query("LINE[layer=='CUT']") for s in segments(e))
        assert slits == pytest.approx(sorted(math.dist(*c) for c in row["blank"]["cuts"]), abs=1e-3)


def test_the_cleat_line_is_scribed_on_the_pan() -> None:
    # Kiln shed: opening 23 1/2 wide, so the middle run is; beside it 5 1/2 and 7 to the rib centres, less face 5/16
    # and gap 1/8, less the turn-up's setback 3 t tan(87.5 / 2) = 0.0765 x 0.9573 = 0.0732: 4.9893 and 6.4893 of base.
    # Both end runs are as steep as they may be, 60 degrees: 9 - 5.5 tan 60 = -0.5 and 9 - 7 tan 60 = -3.1, foot -4.
    path = next(p for p in EXAMPLES if p.parent.name == "kiln-shed")
    job = job_of(path)
    pan = next(p for p in job.pieces if p.kind == "back-pan")
    marks = cleat_marks(pan, job.detail.openings[0].cleat_line)
    assert [math.dist(*m) for m in marks] == pytest.approx([2 * 4.9893, 23.5, 2 * 6.4893], abs=1e-3)
    assert marks[1][0][1] == pytest.approx(marks[1][1][1])
    document = read(io.StringIO(packet_files(job_of(path))["cut/1-back-pan.dxf"].decode("ascii")))
    scribed = [math.dist(*s) for e in document.modelspace().query("LINE[layer=='MARK']") for s in segments(e)]
    assert scribed == pytest.approx([math.dist(*m) for m in marks], abs=1e-6)


def test_nothing_is_scribed_where_no_cleat_lies() -> None:
    job = job_of(next(p for p in EXAMPLES if p.parent.name == "kiln-shed"))
    line = job.detail.openings[0].cleat_line
    assert {p.kind for p in job.pieces if cleat_marks(p, line)} == {"back-pan"}
