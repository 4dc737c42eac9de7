"""The chimney worked by hand in docs/worked-case.md: its arithmetic holds, and the program agrees to 1/1000."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from chimney import chimney, worked
from lapwright.detail.measures import end_angles, side_room
from lapwright.geom.space import dot
from lapwright.metal.bend import allowance, deduction, k_factor, setback
from lapwright.metal.cleat import lift, mitres
from lapwright.metal.counterflashing import span
from lapwright.metal.develop import develop
from lapwright.metal.model import Body, Face, Piece, RoofPanel
from lapwright.metal.panel import edge_at, edge_line, edge_over, vertex_angles
from lapwright.metal.work import at_bench

PAGE = Path(__file__).parents[2] / "docs" / "worked-case.md"
FACES = ("plumb", "square")
TO_A_THOUSANDTH = 0.001

CALCULATOR: dict[str, object] = {
    "sin": lambda a: math.sin(math.radians(a)),
    "cos": lambda a: math.cos(math.radians(a)),
    "tan": lambda a: math.tan(math.radians(a)),
    "atan": lambda a: math.degrees(math.atan(a)),
    "log10": math.log10,
    "pi": math.pi,
    "min": min,
    "max": max,
}


def rows() -> list[tuple[str, str, str]]:
    """Key, plumb cell, square cell of every row of the page's tables."""
    out = []
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        cells = [c.strip() for c in line.strip("|").split("|")]
        if line.startswith("|") and len(cells) == 4 and cells[0] not in ("key", "---"):
            out.append((cells[0], cells[2], cells[3]))
    return out


ROWS = rows()


def number(cell: str) -> float:
    """What a cell comes to: `8 / cos(30.2564) = 9.2616` -> 9.2616."""
    return float(cell.rpartition("=")[2])


def page_values(face: str) -> dict[str, float]:
    return {key: number(plumb if face == "plumb" else square) for key, plumb, square in ROWS}


# --- the page itself ------------------------------------------------------------------------------


def test_the_page_has_a_row_for_everything_once() -> None:
    keys = [key for key, _, _ in ROWS]
    assert sorted(set(keys)) == sorted(keys)
    assert len(keys) > 120


@pytest.mark.parametrize(("key", "cell"), [(k, c) for k, plumb, square in ROWS for c in (plumb, square)])
def test_every_row_comes_to_the_number_beside_it(key: str, cell: str) -> None:
    # The numbers as printed, nothing else: what a reader with a calculator does.
    sum_, _, result = cell.rpartition("=")
    if sum_:
        assert re.fullmatch(r"[\d.\s+\-x/(),a-z]+", sum_), key
        assert float(result) == pytest.approx(eval(sum_.replace(" x ", " * "), CALCULATOR), abs=TO_A_THOUSANDTH)


# --- the program ----------------------------------------------------------------------------------


@pytest.fixture(scope="module", params=FACES)
def case(request: pytest.FixtureRequest) -> tuple[dict[str, float], dict[str, float]]:
    """The page's numbers and the program's, for one lie of the faces."""
    return page_values(request.param), program(request.param)


def test_the_program_answers_for_every_row_of_the_page(case: tuple[dict[str, float], dict[str, float]]) -> None:
    page, ours = case
    assert sorted(page) == sorted(ours)


@pytest.mark.parametrize("key", [key for key, _, _ in ROWS])
def test_the_program_agrees_to_a_thousandth(key: str, case: tuple[dict[str, float], dict[str, float]]) -> None:
    page, ours = case
    assert page[key] == pytest.approx(ours[key], abs=TO_A_THOUSANDTH)


def program(face: str) -> dict[str, float]:
    """Every key of the page, read off the worked job."""
    see = Seen(face)
    out: dict[str, float] = {}
    for part in (
        bends,
        layout,
        pan,
        pan_blank,
        side_wall,
        apron,
        cleat,
        upper,
        beside,
        strips,
        patches,
        counter,
        small,
    ):
        out |= part(see)
    return out


class Seen:
    """The worked job and short ways to look at it."""

    def __init__(self, face: str) -> None:
        self.job, self.metal = worked(chimney(face))
        self.detail = self.job.detail.openings[0]
        self.opening = self.detail.opening
        self.work = at_bench(self.job.site, self.detail)

    def piece(self, id_: str) -> Piece:
        found = self.metal[id_]
        assert isinstance(found, Piece)
        return found

    def panel(self, id_: str) -> RoofPanel:
        found = self.metal[id_]
        assert isinstance(found, RoofPanel)
        return found

    def body(self, id_: str) -> Body:
        body = self.metal[id_].body
        assert body is not None
        return body

    def size(self, id_: str) -> tuple[float, float]:
        blank = self.metal[id_].blank
        assert blank is not None
        return blank.width, blank.height

    def turn(self, id_: str, bend: str) -> float:
        return next(b.angle_deg for b in self.metal[id_].bends if b.id == bend)


def xs(face: Face) -> list[float]:
    return [p[0] for p in face.corners]


def ys(face: Face) -> list[float]:
    return [p[1] for p in face.corners]


def zs(face: Face) -> list[float]:
    return [p[2] for p in face.corners]


def up_the_wall(see: Seen, face: Face) -> float:
    """Length of a face measured along the wall."""
    heights = [dot(p, see.work.walls.up) for p in face.corners]
    return max(heights) - min(heights)


def bends(see: Seen) -> dict[str, float]:
    t, r = see.work.thickness, see.work.radius
    back, front = see.turn("1-back-pan", "base/tongue"), see.turn("1-apron", "flange/upstand")
    opened = see.turn("1-back-pan", "base/turn-up left")
    kick = see.turn("1-hook-strip-apron", "base/hook")
    k = k_factor(r, t)
    out = {
        "theta": math.degrees(see.job.site.roof.theta),
        "lean": math.degrees(see.work.walls.lean),
        "sine": see.work.walls.up[1],
        "cosine": see.work.walls.up[2],
        "tangent": see.work.walls.up[1] / see.work.walls.up[2],
        "back.y": see.opening.back,
        "t": t,
        "r": r,
        "K": k,
        "neutral": r + k * t,
        "allow.90": allowance(90, r, t),
        "setback.up.90": setback(90, r, t, "up"),
        "setback.down.90": setback(90, r, t, "down"),
        "deduct.up.90": deduction(90, r, t, "up"),
        "deduct.down.90": deduction(90, r, t, "down"),
        "kick.deduct": deduction(kick, r, t),
        "hem.closed": 0.5 - deduction(180, 0.0, t),
        "hem.open.K": k_factor(t, t),
        "hem.open.allow": allowance(180, t, t),
        "hem.stop": 0.5 - deduction(180, t, t),
        "hem.hook": 1.0 - deduction(180, t, t),
    }
    for name, turn in (("back", back), ("front", front), ("turnup", opened)):
        out[f"{name}.turn"] = turn
        out[f"{name}.setback"] = setback(turn, r, t, "up")
        out[f"{name}.allow"] = allowance(turn, r, t)
        out[f"{name}.deduct"] = deduction(turn, r, t)
    return out


def layout(see: Seen) -> dict[str, float]:
    bay, o = see.detail.bay, see.opening
    left, right = side_room(o, bay, see.detail.measures)
    assert left == right
    return {
        "ribs": len(see.job.layout.ribs),
        "strips": len(see.job.layout.strips),
        "bay.left": bay.left,
        "bay.right": bay.right,
        "interrupted.1": bay.interrupted[0],
        "interrupted.2": bay.interrupted[1],
        "clear.left": o.left - bay.left,
        "clear.right": bay.right - o.right,
        "room": left,
    }


def pan(see: Seen) -> dict[str, float]:
    body = see.body("1-back-pan")
    base, tongue, turned = body.face("base"), body.face("tongue"), body.face("turn-up left")
    foot = min(p[1] for p in tongue.corners if abs(p[2]) < 1e-9)
    edge, away = min(xs(base)), min(xs(turned))
    return {
        "pan.left": edge,
        "pan.right": max(xs(base)),
        "pan.width": max(xs(base)) - edge,
        "pan.downslope": min(ys(base)),
        "pan.upslope": max(ys(base)),
        "pan.turnup": math.hypot(max(zs(turned)), edge - away),
        "pan.foot.y": foot,
        "tongue": up_the_wall(see, tongue),
        "tongue.head.y": max(ys(tongue)),
        "pan.corner.x": min(xs(tongue)),
    }


def pan_blank(see: Seen) -> dict[str, float]:
    piece = see.piece("1-back-pan")
    ring, blank = from_least(piece.blank.outline), piece.blank
    bend = {b.id: b for b in piece.bends}
    # From the tongue's left end on: (tab.left, 0) (tab.right, 0) (tab.right, corner) (leg.right, corner) ...
    assert len(ring) == 20
    left, right = sorted(blank.holes, key=lambda h: h[0][0])
    cut = next(c for c in blank.cuts if abs(c[0][0] - c[1][0]) < 1e-9)
    return {
        "pan.fold.u": min(p[0] for p in develop(see.body(piece.id)).regions[0].mould),
        "pan.v0": 96.0 - ring[14][1],
        "pan.blank.width": blank.width,
        "pan.blank.height": blank.height,
        "pan.leg.v": ring[14][1],
        "pan.leghem.v": ring[17][1],
        "pan.upslope.v": ring[8][1],
        "pan.hem.left.u": ring[16][0],
        "pan.hem.right.u": ring[5][0],
        "pan.near.v": max(p[1] for p in cut),
        "pan.far.v": min(p[1] for p in cut),
        "pan.tongue.bend.v": bend["base/tongue"].start[1],
        "pan.cut.left.u": middle(left),
        "pan.cut.right.u": middle(right),
        "pan.leg.left.u": ring[18][0],
        "pan.leg.right.u": ring[3][0],
        "pan.leg.corner.v": ring[3][1],
        "pan.tab": ring[1][0] - middle(right),
        "pan.tab.left.u": ring[0][0],
        "pan.tab.right.u": ring[1][0],
        "pan.tab.corner.v": ring[2][1],
        "pan.tab.bend.u": bend["tongue/tab left"].start[0],
        "pan.turnup.bend.u": bend["base/turn-up left"].start[0],
    }


def from_least(ring: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
    """The ring begun at its lowest, leftmost corner."""
    k = min(range(len(ring)), key=lambda i: (round(ring[i][1], 6), ring[i][0]))
    return [*ring[k:], *ring[:k]]


def middle(hole: tuple[tuple[float, float], ...]) -> float:
    us = [p[0] for p in hole]
    return (min(us) + max(us)) / 2


def side_wall(see: Seen) -> dict[str, float]:
    body, piece = see.body("1-side-wall-left"), see.piece("1-side-wall-left")
    base, up, tab = body.face("base"), body.face("upstand"), body.face("tab")
    foot_y = crossing_y(see, body)
    head = max(p[1] for p in up.corners if abs(p[2] - 8) < 1e-9)
    width, height = see.size(piece.id)
    tail = sorted({round(z, 6) for z in zs(up)} - {0.0, 8.0})
    edge = [p for p in piece.blank.outline if p[1] < 7]
    return {
        "side.foot.x": max(xs(up)),
        "side.outer.x": min(xs(base)),
        "side.start": min(ys(base)),
        "side.end": max(ys(base)),
        "side.foot.y": foot_y,
        "side.head.y": head,
        "side.tab": max(xs(tab)) - 91.9745 - deduction(90, see.work.radius, see.work.thickness, "down"),
        "side.cut.y": min(p[1] for p in base.corners if p[1] > 100),
        "side.tail": tail[-1],
        "side.tab.turn": see.turn(piece.id, "upstand/tab"),
        "side.tab.head": 65 + max(p[0] for p in edge),
        "side.blank.width": width,
        "side.blank.height": height,
        "side.bend.v": height - next(b.start[1] for b in piece.bends if b.id == "base/upstand"),
    }


def crossing_y(see: Seen, body: Body) -> float:
    """Where the tab's plane meets the roof: its corners all lie on the back face moved out by t."""
    (y,) = {round(p[1] - p[2] * see.work.walls.up[1] / see.work.walls.up[2], 9) for p in body.face("tab").corners}
    return y


def apron(see: Seen) -> dict[str, float]:
    body, piece = see.body("1-apron"), see.piece("1-apron")
    flange, up = body.face("flange"), body.face("upstand")
    tab, end = body.face("tab left"), body.face("closed end left")
    width, height = see.size(piece.id)
    deduct = deduction(90, see.work.radius, see.work.thickness, "down")
    start, out = sorted((p for p in tab.corners if p[2] < 5), key=lambda p: dot(p, see.work.walls.out_back))[1:]
    return {
        "apron.z": max(zs(flange)),
        "apron.foot.y": max(ys(flange)),
        "apron.low.y": min(ys(flange)),
        "apron.flange": max(ys(flange)) - min(ys(flange)),
        "apron.upstand": up_the_wall(see, up),
        "apron.end": max(zs(end)) - min(zs(end)) - deduct,
        "apron.tab": dot(out, see.work.walls.out_back) - dot(min(up.corners), see.work.walls.out_back) - deduct,
        "apron.tab.foot": foot_slope(see, tab, start, out),
        "apron.cut.left.x": min(p[0] for p in up.corners if abs(p[2] - 1.75) < 1e-9),
        "apron.blank.width": width,
        "apron.blank.height": height,
    }


def foot_slope(see: Seen, tab: Face, start: tuple[float, float, float], out: tuple[float, float, float]) -> float:
    """How steeply the foot of the apron's tab climbs, seen square to the wall's edge."""
    run = dot(out, see.work.walls.out_back) - dot(start, see.work.walls.out_back)
    return math.degrees(math.atan2(dot(out, see.work.walls.up) - dot(start, see.work.walls.up), run))


def cleat(see: Seen) -> dict[str, float]:
    line = see.detail.cleat_line
    folds = [see.body(f"1-offset-cleat-{k}").face("web").corners for k in (1, 2, 3)]
    ends = [sorted({(p[0], p[1]) for p in f}) for f in folds]
    sizes = [see.size(f"1-offset-cleat-{k}") for k in (1, 2, 3)]
    (mitre,) = {round(math.degrees(a), 9) for a in mitres(line)}
    (angle,) = {round(math.degrees(a), 9) for a in end_angles(line)}
    (girth,) = {round(h, 9) for _, h in sizes}
    return {
        "cleat.across": line[1][1],
        "cleat.foot": line[0][1],
        "cleat.angle": angle,
        "cleat.mitre": mitre,
        "cleat.start.x": ends[0][0][0],
        "cleat.end.x": ends[2][-1][0],
        "cleat.1.length": math.dist(ends[0][0], ends[0][-1]),
        "cleat.2.length": math.dist(ends[1][0], ends[1][-1]),
        "cleat.3.length": math.dist(ends[2][0], ends[2][-1]),
        "cleat.girth": girth,
        "cleat.1.blank": sizes[0][0],
        "cleat.2.blank": sizes[1][0],
        "cleat.3.blank": sizes[2][0],
        "lift": lift(see.work),
    }


def upper(see: Seen) -> dict[str, float]:
    line = edge_line(see.work)
    side, middle_ = see.panel("panel-6-upper"), see.panel("panel-7-upper")
    assert side.blank is not None
    (slit,) = side.blank.cuts
    least = min(p[1] for p in side.outline)
    outer, corner = max(slit, key=lambda p: -p[1]), sorted(side.blank.outline[:5], key=lambda p: p[0])[-1]
    notch = see.detail.notches
    assert notch[0].to_y == notch[1].to_y
    joints = {j.child: j for j in see.body("panel-6-upper").joints}
    lean_rib, lean_turn = hem_leans(see, joints["hem 1"].child)
    return {
        "upper.past": see.detail.measures.lip + see.detail.measures.slack,
        "upper.edge.bay": edge_at(line, 78.0),
        "upper.edge.across": edge_at(line, 105.0),
        "upper.turn.left.x": line[1][0],
        "upper.turn.right.x": line[2][0],
        "upper.vertex": vertex_angles(see.work)[0],
        "upper.lean.vertex": lean_turn,
        "upper.lean.rib": lean_rib,
        "upper.slide": see.detail.measures.upper_hem / math.cos(end_angles(see.detail.cleat_line)[0]),
        "notch.from": notch[0].from_y,
        "notch.to": notch[0].to_y,
        "notch.length": notch[0].from_y - notch[0].to_y,
        "upper.side.length": side.length,
        "upper.middle.length": middle_.length,
        "upper.face.y": edge_over(line, 78.4375, 96.0)[0][1],
        "upper.hem.corner.x": 78 + corner[0],
        "upper.hem.corner.y": least + corner[1],
        "upper.slit.x": 78 + outer[0],
        "upper.slit.y": least + outer[1],
        "upper.slit.length": math.dist(*slit),
        "upper.side.blank.height": see.size(side.id)[1],
        "upper.middle.blank.height": see.size(middle_.id)[1],
        "upper.blank.width": see.size(side.id)[0],
    }


def hem_leans(see: Seen, hem: str) -> tuple[float, float]:
    """How the first hem's ends lean once folded under: off square to its edge, at the rib and at the turn."""
    flap = see.body("panel-6-upper").face(hem).corners
    last, first, deep_first, deep_last = ((p[0], p[1]) for p in flap)
    run = (last[0] - first[0], last[1] - first[1])
    out = []
    for shallow, deep in ((first, deep_first), (last, deep_last)):
        d = (deep[0] - shallow[0], deep[1] - shallow[1])
        cos = (d[0] * run[1] - d[1] * run[0]) / (math.hypot(*d) * math.hypot(*run))
        out.append(math.degrees(math.acos(abs(cos))))
    return out[0], out[1]


def beside(see: Seen) -> dict[str, float]:
    side, lower = see.panel("panel-6-side"), see.panel("panel-7-lower")
    dam = see.body(lower.id).face("turned-up end")
    turned = see.body(side.id).face("turn-up at the left side")
    return {
        "side.panel.length": side.length,
        "lower.panel.length": lower.length,
        "side.panel.blank.height": see.size(side.id)[1],
        "dam": up_the_wall(see, dam),
        "lower.panel.blank.height": see.size(lower.id)[1],
        "side.panel.cut": turned.corners[0][0] - min(p[0] for p in side.outline),
    }


def strips(see: Seen) -> dict[str, float]:
    (length, girth), (side, same) = see.size("1-hook-strip-apron"), see.size("1-hook-strip-left")
    assert girth == pytest.approx(same, abs=1e-9)
    return {"hook.girth": girth, "hook.apron.length": length, "hook.side.length": side}


def patches(see: Seen) -> dict[str, float]:
    up = see.work.walls.up
    back, front = see.size("1-corner-patch-back-left"), see.size("1-corner-patch-front-left")
    # The side wall's foot runs away from the corner: downslope at the back, upslope at the downslope face.
    return {
        "patch.sum.back": 360 + math.degrees(math.acos(-up[1])),
        "patch.sum.front": 360 + math.degrees(math.acos(up[1])),
        "patch.back.width": back[0],
        "patch.back.height": back[1],
        "patch.front.width": front[0],
        "patch.front.height": front[1],
    }


def counter(see: Seen) -> dict[str, float]:
    ids: Callable[[str], str] = lambda w: f"1-counterflashing-{w}"  # noqa: E731
    t = see.piece(ids("back")).thickness
    face = see.body(ids("back")).face("face")
    side = see.body(ids("left")).face("face")
    low = [p[1] for p in side.corners if abs(p[2] - 4) < 1e-9]
    (w, h), (sw, sh) = see.size(ids("back")), see.size(ids("left"))
    assert (w, h) == pytest.approx(see.size(ids("front")), abs=1e-9)
    k = k_factor(2 * t, t)
    return {
        "counter.t": t,
        "counter.neutral": 2 * t + k * t,
        "counter.allow.90": allowance(90, 2 * t, t),
        "counter.deduct": deduction(90, 2 * t, t, "down"),
        "counter.hem": 0.5 - deduction(180, 0.0, t),
        "counter.off": see.opening.left - side.corners[0][0],
        "counter.low": span(see.work).low,
        "counter.high": span(see.work).high,
        "counter.face": up_the_wall(see, face),
        "counter.end.width": max(xs(face)) - min(xs(face)),
        "counter.end.blank.width": w,
        "counter.end.blank.height": h,
        "counter.side.length": max(low) - min(low),
        "counter.side.blank.width": sw,
        "counter.side.blank.height": sh,
    }


def small(see: Seen) -> dict[str, float]:
    """Membrane, closures, backing plates and the panels at the roof's edges."""
    ends = {w: see.size(f"1-membrane-{w}") for w in ("front", "back", "left", "right")}
    assert ends["left"] == pytest.approx(ends["right"], abs=1e-9)
    runs = [see.size(f"1-closure-apron-{k}") for k in (1, 2, 3)]
    plug, plate = see.size("1-closure-rib"), see.size("1-backing-plate")
    edges = [see.size(p) for p in ("panel-1", "panel-17")]
    assert plate[0] == pytest.approx(plate[1], abs=1e-9)
    return {
        "membrane.setback.back": setback(see.turn("1-membrane-back", "deck/turned up"), 0.0, 0.04, "up"),
        "membrane.setback.front": setback(see.turn("1-membrane-front", "deck/turned up"), 0.0, 0.04, "up"),
        "membrane.end.width": ends["front"][0],
        "membrane.front.height": ends["front"][1],
        "membrane.back.height": ends["back"][1],
        "membrane.side.width": ends["left"][0],
        "membrane.side.height": ends["left"][1],
        "closure.1": runs[0][0],
        "closure.2": runs[1][0],
        "closure.3": runs[2][0],
        "closure.girth": runs[0][1],
        "plug.width": plug[0],
        "plug.height": plug[1],
        "plate": plate[0],
        "edge.left.width": edges[0][0],
        "edge.right.width": edges[1][0],
        "edge.length": edges[0][1],
    }
