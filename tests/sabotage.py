"""Fresh sabotage: bodies spoilt in their geometry, as hands and snips spoil them. No deviation, no name of a rule."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

from lapwright.geom.space import Point
from lapwright.metal.model import Body
from leaking import Case

Bodies = Mapping[str, Body]
Move = Callable[[Point], Point]


def moved(body: Body, move: Move) -> Body:
    """Every corner moved."""
    faces = tuple(replace(f, corners=tuple(move(p) for p in f.corners)) for f in body.faces)
    joints = tuple(
        replace(
            j,
            edge=(move(j.edge[0]), move(j.edge[1])),
            child_edge=(move(j.child_edge[0]), move(j.child_edge[1])),
        )
        for j in body.joints
    )
    return replace(body, faces=faces, joints=joints)


def slid(body: Body, dx: float = 0.0, dy: float = 0.0, dz: float = 0.0) -> Body:
    return moved(body, lambda p: (p[0] + dx, p[1] + dy, p[2] + dz))


def cut_off(body: Body, name: str) -> Body:
    """Faces whose names start so are gone, and their bends with them."""
    return replace(
        body,
        faces=tuple(f for f in body.faces if not f.name.startswith(name)),
        joints=tuple(j for j in body.joints if not j.child.startswith(name)),
    )


def some(bodies: Bodies, which: Callable[[str], bool], change: Callable[[Body], Body]) -> dict[str, Body]:
    return {k: change(b) if which(k) else b for k, b in bodies.items()}


def without(bodies: Bodies, which: Callable[[str], bool]) -> dict[str, Body]:
    return {k: b for k, b in bodies.items() if not which(k)}


def is_pan(k: str) -> bool:
    return "back-pan" in k or "-cricket-" in k


def is_upper(k: str) -> bool:
    return k.endswith("-upper")


def is_side(k: str) -> bool:
    return k.endswith("-side")


def lean(case: Case) -> float:
    """How far up the slope a wall leans for each inch of height off the roof."""
    return math.tan(case.site.roof.theta) if case.d.opening.face == "plumb" else 0.0


def lowered(body: Body, top: float, tan: float) -> Body:
    """An upstand cut down to a height off the deck, its new edge on the wall."""
    return moved(body, lambda p: (p[0], p[1] - max(p[2] - top, 0.0) * tan, min(p[2], top)))


def pan_slid_8_down(case: Case) -> Bodies:
    return some(case.bodies, is_pan, lambda b: slid(b, dy=-8.0))


def side_wall_stops_3_short_of_the_back_face(case: Case) -> Bodies:
    end, tan = case.d.opening.back - 3.0, lean(case)
    return some(
        case.bodies,
        lambda k: "side-wall" in k,
        lambda b: moved(b, lambda p: (p[0], min(p[1], end + p[2] * tan), p[2])),
    )


def upper_panels_4_short(case: Case) -> Bodies:
    ridge = case.site.roof.slope - 2.0
    return some(case.bodies, is_upper, lambda b: moved(b, lambda p: (p[0], p[1] + 4.0 * (p[1] < ridge), p[2])))


def one_cleat_missing(case: Case) -> Bodies:
    return without(case.bodies, lambda k: k.endswith("offset-cleat-2"))


def cleats_screwed_an_inch_and_a_half_too_high(case: Case) -> Bodies:
    return some(case.bodies, lambda k: "offset-cleat" in k, lambda b: slid(b, dy=1.5))


def one_back_patch_missing(case: Case) -> Bodies:
    return without(case.bodies, lambda k: k.endswith("corner-patch-back-right"))


def tongue_folded_up_one_inch_only(case: Case) -> Bodies:
    c, tan = case.d.cricket, lean(case)
    if c is None:
        return some(case.bodies, is_pan, lambda b: lowered(b, 1.0, tan))

    # Behind a cricket the tongue follows its planes: one inch above the plane at every x.
    o, half = case.d.opening, case.d.opening.width / 2

    def top(p: Point) -> float:
        return 1.0 + c.wall_rise * max(0.0, 1.0 - abs(p[0] - o.left - half) / half)

    def cut(p: Point) -> Point:
        on_wall = abs(p[1] - o.back - p[2] * tan) < 0.75
        drop = max(p[2] - top(p), 0.0) if on_wall else 0.0
        return (p[0], p[1] - drop * tan, p[2] - drop)

    return some(case.bodies, is_pan, lambda b: moved(b, cut))


def side_panels_turn_up_cut_off(case: Case) -> Bodies:
    return some(case.bodies, is_side, lambda b: cut_off(b, "turn"))


def pan_an_inch_too_narrow(case: Case) -> Bodies:
    beyond = case.d.opening.right + 2.0
    return some(case.bodies, is_pan, lambda b: moved(b, lambda p: (p[0] - 1.0 * (p[0] > beyond), p[1], p[2])))


def side_panels_overrun_cut_to_one_inch(case: Case) -> Bodies:
    end = case.d.opening.back + 1.0
    return some(case.bodies, is_side, lambda b: moved(b, lambda p: (p[0], min(p[1], end), p[2])))


def counterflashing_set_above_the_upstands(case: Case) -> Bodies:
    tan = lean(case)
    return some(case.bodies, lambda k: "counterflashing" in k, lambda b: slid(b, dy=6.0 * tan, dz=6.0))


def hem_slit_3_into_the_flat(case: Case) -> Bodies:
    """At the first corner where two hems of an upper panel meet."""

    def slit(body: Body) -> Body:
        flat, hems = body.faces[0], [set(j.edge) for j in body.joints if j.kind != "bend"]
        ring = list(flat.corners)
        at = next((i for i, p in enumerate(ring) if sum(p in h for h in hems) > 1), None)
        if at is None:
            return body
        x, y, z = ring[at]
        ring[at : at + 1] = [(x - 0.05, y, z), (x, y + 3.0, z), (x + 0.05, y, z)]
        return replace(body, faces=(replace(flat, corners=tuple(ring)), *body.faces[1:]))

    return some(case.bodies, is_upper, slit)


def hole_drilled_where_water_runs(case: Case) -> Bodies:
    o = case.d.opening

    def drilled(body: Body) -> Body:
        base = body.faces[0]
        return replace(body, holes=(*body.holes, (base.name, (o.left - 2.5, o.back + 1.0, base.corners[0][2]), 0.25)))

    return some(case.bodies, lambda k: "back-pan" in k or "cricket-left" in k, drilled)


def corner_tabs_cut_off(case: Case) -> Bodies:
    return some(case.bodies, lambda k: is_pan(k) or "side-wall" in k, lambda b: cut_off(b, "tab"))


def apron_bedded_half_an_inch_high(case: Case) -> Bodies:
    return some(case.bodies, lambda k: k.endswith("-apron") and "hook" not in k, lambda b: slid(b, dz=0.5))


def apron_upstand_one_inch(case: Case) -> Bodies:
    tan = lean(case)

    def cut(body: Body) -> Body:
        base = max(p[2] for p in body.face("flange").corners)
        return lowered(body, base + 1.0, tan)

    return some(case.bodies, lambda k: k.endswith("-apron") and "hook" not in k, cut)


def side_wall_an_inch_off_the_wall(case: Case) -> Bodies:
    return some(case.bodies, lambda k: k.endswith("side-wall-left"), lambda b: slid(b, dx=-1.0))


SABOTAGES: tuple[Callable[[Case], Bodies], ...] = (
    pan_slid_8_down,
    side_wall_stops_3_short_of_the_back_face,
    upper_panels_4_short,
    one_cleat_missing,
    cleats_screwed_an_inch_and_a_half_too_high,
    one_back_patch_missing,
    tongue_folded_up_one_inch_only,
    pan_an_inch_too_narrow,
    counterflashing_set_above_the_upstands,
    hem_slit_3_into_the_flat,
    hole_drilled_where_water_runs,
    corner_tabs_cut_off,
    apron_bedded_half_an_inch_high,
    apron_upstand_one_inch,
    side_wall_an_inch_off_the_wall,
)
"""Each leaves the work with a finding or a lower margin on every example roof."""

BEHIND: tuple[Callable[[Case], Bodies], ...] = (
    side_panels_turn_up_cut_off,
    side_panels_overrun_cut_to_one_inch,
)
"""What these spoil stands behind another line (the taped side-wall flashing, the sealed pan): on some roofs it shows
only once that line is dead."""
