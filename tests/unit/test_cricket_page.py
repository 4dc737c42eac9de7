"""The cricket worked by hand in docs/cricket.md: its arithmetic holds, and the program agrees to 1/1000."""

from __future__ import annotations

import math
import re
from functools import cache
from pathlib import Path

import pytest

from crickets import bench, ends, mould, triangle
from lapwright.detail.cricket import flange_edge, wall_slant
from lapwright.detail.framing import SHORTEST_JACK, Framing, framing_of
from lapwright.detail.model import Cricket
from lapwright.geom.space import Flat
from lapwright.job import run as plan
from lapwright.metal.bend import deduction, setback
from lapwright.metal.cricket import half_cricket, one_piece_angles
from lapwright.metal.develop import Developed, develop
from lapwright.metal.model import Body
from lapwright.metal.work import Work
from lapwright.site.read import read_job

ROOT = Path(__file__).parents[2]
PAGE, JOB = ROOT / "docs" / "cricket.md", ROOT / "examples" / "malt-house" / "job.toml"
TO_A_THOUSANDTH = 0.001

CALCULATOR: dict[str, object] = {
    "sin": lambda a: math.sin(math.radians(a)),
    "cos": lambda a: math.cos(math.radians(a)),
    "tan": lambda a: math.tan(math.radians(a)),
    "atan": lambda a: math.degrees(math.atan(a)),
    "acos": lambda a: math.degrees(math.acos(a)),
    "sqrt": math.sqrt,
    "pi": math.pi,
    "min": min,
    "max": max,
}


def rows() -> list[tuple[str, str]]:
    """Key and sum of every row of the page's tables of three columns."""
    out = []
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        cells = [c.strip() for c in line.strip("|").split("|")]
        if line.startswith("|") and len(cells) == 3 and cells[0] not in ("key", "---"):
            out.append((cells[0], cells[2]))
    return out


ROWS = rows()


# --- the page itself ------------------------------------------------------------------------------


def test_the_page_has_a_row_for_everything_once() -> None:
    keys = [key for key, _ in ROWS]
    assert sorted(set(keys)) == sorted(keys)
    assert len(keys) > 70


@pytest.mark.parametrize(("key", "cell"), ROWS, ids=lambda v: v.split(" ")[0])
def test_every_row_comes_to_the_number_beside_it(key: str, cell: str) -> None:
    sum_, _, result = cell.rpartition("=")
    if sum_:
        assert re.fullmatch(r"[\d.\s+\-x/(),a-z]+", sum_), key
        assert float(result) == pytest.approx(eval(sum_.replace(" x ", " * "), CALCULATOR), abs=TO_A_THOUSANDTH)


# --- the program ----------------------------------------------------------------------------------


@cache
def seen() -> dict[str, float]:
    """Every key of the page, read off the example's plan."""
    site = read_job(JOB.read_text(encoding="utf-8"), "malt-house")
    work = bench(site)
    c = work.detail.cricket
    assert c is not None and plan(site).detail.openings[0].why == "detail.why.rule"
    body = half_cricket(work, "left")
    flat = develop(body)
    f = framing_of(c, work.opening.kind, work.measures.framing_clear)
    return shape(c, work) | above(c, work) | framing(f, c) | bends(body, work) | blank(c, work, body, flat)


def test_the_program_answers_for_every_row_of_the_page() -> None:
    assert sorted(key for key, _ in ROWS) == sorted(seen())


@pytest.mark.parametrize("key", [key for key, _ in ROWS])
def test_the_program_agrees_to_a_thousandth(key: str) -> None:
    page = {k: float(cell.rpartition("=")[2]) for k, cell in ROWS}
    assert page[key] == pytest.approx(seen()[key], abs=TO_A_THOUSANDTH)


def shape(c: Cricket, work: Work) -> dict[str, float]:
    return {
        "m": work.site.roof.rise / 12,
        "k": c.cross_slope,
        "theta": math.degrees(work.site.roof.theta),
        "height": c.height,
        "ridge.plan": c.ridge_plan,
        "ridge.roof": c.ridge_on_roof,
        "valley": c.valley,
        "valley.slope": c.valley_slope_deg,
        "valley.bend": c.valley_bend_deg,
        "ridge.bend": c.ridge_bend_deg,
        "wall.edge": c.wall_edge,
        "wall.slant": wall_slant(c),
        "wall.rise": c.wall_rise,
        "area": c.plane_area,
        "phi": math.degrees(c.valley_angle),
        "alpha": framing_of(c, "curb").sheathing_deg[0],
        "around": one_piece_angles(c),
    }


def above(c: Cricket, work: Work) -> dict[str, float]:
    """Where the metal above ends: three points on the cleat line, for both its runs are straight."""
    bay, line, o = work.detail.bay, work.detail.cleat_line, work.opening
    rib, apex, other = line
    edge = flange_edge(o, work.pan, work.measures, c, rib[1])
    share = (o.left - rib[0]) / (apex[0] - rib[0])
    assert other[1] == pytest.approx(rib[1])
    return {
        "bay.left": bay.left,
        "bay.right": bay.right,
        "cleat.corner": rib[1] + share * (apex[1] - rib[1]),
        "cleat.apex": apex[1],
        "cleat.rib": rib[1],
        "cleat.length": math.dist(rib, apex),
        "flange.corner": edge[1][1],
        "flange.apex": edge[2][1],
        "pan.left": work.pan.left,
        "flange.rib": edge[0][1],
    }


def framing(f: Framing, c: Cricket) -> dict[str, float]:
    """The carpenter's numbers; the second jack is too short to be made, so it is had from a wider row of them."""
    (only,) = f.jacks
    wide = framing_of(bench_like(c), "curb").jacks
    less = wide[0].length - wide[1].length
    assert only.length - less < SHORTEST_JACK
    return {
        "ridge": f.ridge,
        "jack.plumb": f.jack_plumb_deg,
        "valley.plumb": f.valley_plumb_deg,
        "cheek": f.cheek_deg,
        "foot.tilt": f.foot_tilt_deg,
        "jack.side": f.jack_side_deg,
        "valley.side": f.valley_side_deg,
        "backing": f.backing_deg,
        "jack.1.at": only.at,
        "jack.1": only.length,
        "jack.less": less,
        "jack.2": only.length - less,
        "sheet.wall": f.sheathing[0],
        "sheet.ridge": f.sheathing[1],
        "sheet.valley": f.sheathing[2],
        "sheet.foot": f.sheathing_deg[1],
        "sheet.head": f.sheathing_deg[2],
    }


def bench_like(c: Cricket) -> Cricket:
    """A cricket of the same slopes, three times as wide."""
    from lapwright.proof.compute import cricket

    return cricket(6 * (c.ridge_foot[0] - c.corner[0]), 12 * c.cross_slope)


def bends(body: Body, work: Work) -> dict[str, float]:
    turn = {j.child: j.angle_deg for j in body.joints}
    r, t = work.radius, work.thickness
    return {
        "wall.turn": turn["upstand"],
        "leg.turn": turn["ridge leg"],
        "valley.back": setback(turn["plane"], r, t, "up"),
        "valley.saves": deduction(turn["plane"], r, t),
        "wall.back": setback(turn["upstand"], r, t, "up"),
        "wall.saves": deduction(turn["upstand"], r, t),
        "leg.back": setback(turn["ridge leg"], r, t, "up"),
        "tab.saves": deduction(turn["tab"], r, t, "down"),
        "turnup.saves": deduction(turn["turn-up"], r, t),
    }


def blank(c: Cricket, work: Work, body: Body, flat: Developed) -> dict[str, float]:
    """Points of the left half in the flat. The flange lies in the blank as on the roof, only moved."""
    flange = next(r for r in flat.regions if r.face == "flange")
    corners = body.face("flange").corners
    (x, y, _), (u, v) = corners[0], flange.mould[0]
    u0, v0 = x - u, y - v
    lap = max(p[0] for p in flange.mould)
    at = triangle(body, flat)
    dx, dy = (at["foot"][0] - at["corner"][0], at["foot"][1] - at["corner"][1])
    wall = math.degrees(math.atan2(dy, dx))

    def run(edge: str) -> tuple[Flat, Flat]:
        one, other = (mould(body, flat, "plane", p) for p in ends(body, edge))
        return one, other

    def short(edge: str, corner: str) -> float:
        return min(math.dist(p, at[corner]) for p in run(edge))

    up = work.walls.up
    return {
        "u0": u0,
        "corner.u": c.corner[0] - u0,
        "wall.flat": wall,
        "level.flat": wall + wall_slant(c),
        "tongue": work.pan.upstand / math.cos(work.walls.lean),
        "corner.v": c.corner[1] - v0,
        "v0": v0,
        "head.u": c.ridge_head[0] - u0,
        "head.v": c.ridge_head[1] - v0,
        "apex.v": max(p[1] for p in flange.mould),
        "rib.u": min(p[0] for p in flange.mould),
        "rib.v": max(p[1] for p in flange.mould if p[0] < u + 1e-6),
        "over.u": lap,
        "over.v": max(p[1] for p in flange.mould if p[0] > lap - 1e-6),
        "leg.v": min(p[1] for p in flange.mould),
        "plane.corner.u": at["corner"][0],
        "plane.corner.v": at["corner"][1],
        "foot.flat.u": at["foot"][0],
        "foot.flat.v": at["foot"][1],
        "head.flat.u": at["head"][0],
        "head.flat.v": at["head"][1],
        "short.corner": short("valley", "corner"),
        "short.foot": short("wall", "foot"),
        "short.head": short("valley", "head"),
        "leg.head": short("ridge", "head"),
        "valley.line": math.dist(*run("valley")),
        "wall.line": math.dist(*run("wall")),
        "ridge.line": math.dist(*run("ridge")),
        "crest": max((p[1] - work.opening.back) * up[1] + p[2] * up[2] for p in body.face("upstand").corners),
    }
