"""Panels that are cut on the roof: side, lower and upper panels, as formed flats between rib centres.

The formed legs stand outside these flats. A strip is counted from rib centre to rib centre; hems and
turn-ups keep clear of a rib's face.

    upper panel over a turning cleat line:          side panel, cut round the opening:
      |            |                                  |      |  overrun, flat
      |      ______|  hem, slit on the bisector       |    | |  turn-up to the back face
      |  ___/         of the reflex vertex            |    |____|  turned-up end (dam)
      |_/                                             |__________|  eave hem
"""

from __future__ import annotations

import itertools
import math

from lapwright.detail.measures import rib_face
from lapwright.geom.flat import crossing
from lapwright.geom.space import Flat, Point, meet
from lapwright.layout.model import Strip
from lapwright.metal.model import Body
from lapwright.metal.pipe_hole import cut_out
from lapwright.metal.sheet import Sheet, Trim
from lapwright.metal.walls import Walls, across, level
from lapwright.metal.work import Work
from lapwright.site.model import Defaults, Site
from lapwright.tables import metals

PAINT: Point = (0.0, 0.0, 1.0)

EDGE_CLEAR = 0.25
"""A hem ends this far inside a turned-up edge. House rule. [in]"""

LEAST_RIPPED = 0.5
"""A strip ripped narrower than this has no flat left beside its turn-up, and is left flat. House rule. [in]"""

LEAST_HEM = 0.25
"""A hem narrower or shorter than this is not folded. House rule. [in]"""


def panel_sheet(work: Work) -> Sheet:
    """A fresh sheet of the panel's own metal."""
    return _sheet(work.site, work.measures.bend_radius)


def _sheet(site: Site, radius: float) -> Sheet:
    row = metals()[site.panel.metal]
    return Sheet(row.key, row.coated, radius * row.coated)


def inside(work: Work, strip: Strip) -> tuple[float, float]:
    """The strip between its ribs' faces, less the gap: where a hem may run. x, x [in]

    At a roof edge it keeps clear of the turned-up edge instead.
    """
    clear = (work.measures.rib_face or 0.0) + work.measures.gap
    return (
        strip.left + (clear if strip.left_is_rib else EDGE_CLEAR),
        strip.right - (clear if strip.right_is_rib else EDGE_CLEAR),
    )


def hook_gap(site: Site) -> float:
    """Clear inside a hem that hooks a cleat: two sheets. House rule. [in]"""
    return 2 * metals()[site.panel.metal].coated


def edge_panel(site: Site, strip: Strip) -> Body:
    """A through panel at a roof edge: ripped to its strip, its cut edge turned up, hemmed at the eave.

    Source: turn-up and hem are house rules.
    """
    m = Defaults()
    sheet = _sheet(site, m.bend_radius)
    face = rib_face(site) + m.gap
    a = strip.left + (face if strip.left_is_rib else EDGE_CLEAR)
    b = strip.right - (face if strip.right_is_rib else EDGE_CLEAR)
    low: list[Flat] = [(strip.left, 0.0), (a, 0.0), (b, 0.0), (strip.right, 0.0)] if b > a else []
    low = low or [(strip.left, 0.0), (strip.right, 0.0)]
    slope = site.roof.slope
    sheet.root("flat", [(x, y, 0.0) for x, y in (*low, (strip.right, slope), (strip.left, slope))], painted=PAINT)
    _edge_turn_ups(sheet, strip, {"left": (0.0, slope), "right": (0.0, slope)}, m.turn_up)
    if b > a:
        sheet.hem("flat", "eave hem", ((a, 0.0, 0.0), (b, 0.0, 0.0)), m.eave_hem, "down", gap=hook_gap(site))
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def _edge_turn_ups(sheet: Sheet, strip: Strip, runs: dict[str, tuple[float, float]], rise: float) -> None:
    """Turn the ripped edge up along a roof edge, y to y. [in]"""
    if strip.width < LEAST_RIPPED:
        return
    for hand, x, is_rib in (("left", strip.left, strip.left_is_rib), ("right", strip.right, strip.right_is_rib)):
        if not is_rib:
            low, high = runs[hand]
            ring = [(x, low, 0.0), (x, high, 0.0), (x, high, rise), (x, low, rise)]
            sheet.attach("flat", f"turned-up {hand} edge", ring)


# --- upper panels -------------------------------------------------------------------------------


def edge_line(work: Work) -> list[Flat]:
    """The upper panels' finished edge: the cleat line moved `lip + slack` toward the opening, x upward."""
    line, past = work.detail.cleat_line, work.measures.lip + work.measures.slack
    runs = [_unit(a, b) for a, b in itertools.pairwise(line)]
    moved = [(p[0] + past * d[1], p[1] - past * d[0]) for p, d in zip(line, runs, strict=False)]
    out = [_at_x(moved[0], runs[0], line[0][0])]
    for k in range(1, len(runs)):
        corner = crossing(moved[k - 1], runs[k - 1], moved[k], runs[k])
        out.append(corner if corner is not None else moved[k])
    out.append(_at_x(moved[-1], runs[-1], line[-1][0]))
    return out


def edge_at(line: list[Flat], x: float) -> float:
    """y of the finished edge at x. [in]"""
    for a, b in itertools.pairwise(line):
        if a[0] - 1e-9 <= x <= b[0] + 1e-9:
            return a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
    raise ValueError(f"x {x} lies off the cleat line")


def edge_over(line: list[Flat], left: float, right: float) -> list[Flat]:
    """The finished edge over one strip, left to right. [in]"""
    turns = [p for p in line if left + 1e-6 < p[0] < right - 1e-6]
    return [(left, edge_at(line, left)), *turns, (right, edge_at(line, right))]


def upper_panel(work: Work, strip: Strip) -> Body:
    """The panel above the opening: hemmed along the cleat line, hem slit at every turn.

    Source: hem, slack and clearances are house rules; ends by intersecting lines.
    """
    sheet = panel_sheet(work)
    line = edge_line(work)
    a, b = inside(work, strip)
    edge = edge_over(line, strip.left, strip.right)
    ends = [(a, edge_at(line, a)), (b, edge_at(line, b))] if b > a else []
    low = _distinct(sorted([*edge, *ends]))
    slope = work.site.roof.slope
    ring = [*low, (strip.right, slope), (strip.left, slope)]
    sheet.root("flat", [(x, y, 0.0) for x, y in ring], painted=PAINT)
    run = [p for p in low if a - 1e-9 <= p[0] <= b + 1e-9]
    for k, (p, q) in enumerate(itertools.pairwise(run)):
        before = run[k - 1] if k else None
        after = run[k + 2] if k + 2 < len(run) else None
        _edge_hem(work, sheet, f"hem {k + 1}", (p, q), _lean(before, p, q), _lean(p, q, after))
    ends_at = {"left": (low[0][1], slope), "right": (low[-1][1], slope)}
    _edge_turn_ups(sheet, strip, ends_at, work.measures.turn_up)
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def _edge_hem(work: Work, sheet: Sheet, name: str, run: tuple[Flat, Flat], start: float, end: float) -> None:
    """One straight run's hem; on a run too short for its leaning ends the hem is narrowed, or left off."""
    (x0, y0), (x1, y1) = run
    spread = math.tan(start) + math.tan(end)
    depth = work.measures.upper_hem
    if spread * depth > math.dist(*run) - LEAST_HEM:
        depth = (math.dist(*run) - LEAST_HEM) / spread if spread > 0 else 0.0
    if depth < LEAST_HEM:
        return
    edge = ((x0, y0, 0.0), (x1, y1, 0.0))
    sheet.hem("flat", name, edge, depth, "down", gap=hook_gap(work.site), start=Trim(start), end=Trim(end))


def vertex_angles(work: Work) -> list[float]:
    """Angle of panel metal at each turn of the finished edge, seen in the panel. [deg]"""
    line = edge_line(work)
    out = []
    for p, q, r in zip(line, line[1:], line[2:], strict=False):
        d, e = _unit(p, q), _unit(q, r)
        # Metal lies to the left of the run: a turn to the right opens the angle past 180.
        out.append(180.0 - math.degrees(math.atan2(d[0] * e[1] - d[1] * e[0], d[0] * e[0] + d[1] * e[1])))
    return out


def _lean(a: Flat | None, b: Flat, c: Flat | None) -> float:
    """How a flap's end leans at b. Between two runs: half the turn. At a rib: along the rib."""
    if a is not None and c is not None:
        d, e = _unit(a, b), _unit(b, c)
        return abs(math.atan2(d[0] * e[1] - d[1] * e[0], d[0] * e[0] + d[1] * e[1])) / 2
    d = _unit(b, c) if c is not None else _unit(a or b, b)
    return abs(math.atan2(d[1], d[0]))


# --- side and lower panels ----------------------------------------------------------------------


def beside_panel(work: Work, strip: Strip) -> Body:
    """A side or lower panel: from the eave up, cut round the opening, edges turned up against it.

    A strip that the opening covers from rib to rib ends at the downslope face (a lower panel); any other
    runs on past the back face by `overrun`, flat there.

    Source: turn-up and overrun are house rules; corners by intersecting planes.
    """
    m, o, walls = work.measures, work.opening, work.walls
    sheet = panel_sheet(work)
    end = o.back + m.overrun
    left, right = max(strip.left, o.left), min(strip.right, o.right)
    covered_left = strip.left >= o.left and left < right
    covered_right = strip.right <= o.right and left < right
    a, b = inside(work, strip)
    low: list[Flat] = [(strip.left, 0.0), (a, 0.0), (b, 0.0), (strip.right, 0.0)]
    hole: list[Flat] = []
    if work.detail.pipe is not None:
        # A pipe's plate lies flat on the panel: cut round the hole, nothing turned up.
        left = right = strip.left
        covered_left = covered_right = False
        high, hole = cut_out(work, strip, end)
    elif left >= right:
        high = [(strip.right, end), (strip.left, end)]
    else:
        dam = (max(left, a), min(right, b))
        if dam[1] - dam[0] < 2 * m.turn_up:
            dam = (left, left)
        high = _cut_round(work, strip, left, right, end, dam)
    sheet.root("flat", [(x, y, 0.0) for x, y in _distinct([*low, *high])], painted=PAINT)
    if left < right:
        if dam[1] > dam[0]:
            _dam(sheet, walls, o.up, dam, m.turn_up, (o.left, o.right))
        for hand, x, runs in (
            ("left", o.left, strip.left < o.left),
            ("right", o.right, strip.right > o.right),
        ):
            if runs:
                _side_turn_up(sheet, hand, x, o.up, o.back, m.turn_up)
    past = {"left": o.up if covered_left else end, "right": o.up if covered_right else end}
    _edge_turn_ups(sheet, strip, {h: (0.0, y) for h, y in past.items()}, m.turn_up)
    if b > a:
        edge = ((a, 0.0, 0.0), (b, 0.0, 0.0))
        sheet.hem("flat", "eave hem", edge, m.eave_hem, "down", gap=hook_gap(work.site))
    if hole:
        sheet.cutouts.append(("flat", tuple((x, y, 0.0) for x, y in hole)))
    return sheet.body(u_axis=(1.0, 0.0, 0.0))


def _cut_round(
    work: Work, strip: Strip, left: float, right: float, end: float, dam: tuple[float, float]
) -> list[Flat]:
    """The upper rim of a strip cut round the opening, right to left."""
    o = work.opening
    out: list[Flat] = []
    if strip.right > o.right:
        out += [(strip.right, end), (o.right, end), (o.right, o.back), (o.right, o.up)]
    else:
        out += [(strip.right, o.up), (dam[1], o.up)]
    if strip.left < o.left:
        out += [(o.left, o.up), (o.left, o.back), (o.left, end), (strip.left, end)]
    else:
        out += [(dam[0], o.up), (strip.left, o.up)]
    return out


def _dam(
    sheet: Sheet,
    walls: Walls,
    y: float,
    dam: tuple[float, float],
    rise: float,
    opening: tuple[float, float],
) -> None:
    """The end turned up under the downslope face; mitred 45 degrees where a side turn-up meets it."""
    front = walls.front()
    feet = [(x, y, 0.0) for x in dam]
    # At an outside corner of the opening both turn-ups want the same metal: each gives up its half.
    slant = rise / math.cos(walls.lean)
    inset = [slant if abs(x - corner) < 1e-6 else 0.0 for x, corner in zip(dam, opening, strict=True)]
    heads = [
        meet(front, level(rise), across(dam[0] + inset[0])),
        meet(front, level(rise), across(dam[1] - inset[1])),
    ]
    sheet.attach("flat", "turned-up end", [feet[0], feet[1], heads[1], heads[0]])


def _side_turn_up(sheet: Sheet, hand: str, x: float, up: float, back: float, rise: float) -> None:
    """Against a side wall: mitred at the downslope corner, ended square at the back face."""
    ring: list[Point] = [(x, up, 0.0), (x, back, 0.0), (x, back, rise), (x, up + rise, rise)]
    sheet.attach("flat", f"turn-up at the {hand} side", ring)


def _distinct(points: list[Flat]) -> list[Flat]:
    return [p for i, p in enumerate(points) if math.dist(p, points[i - 1]) > 1e-9]


def _unit(a: Flat, b: Flat) -> Flat:
    d = math.dist(a, b)
    return ((b[0] - a[0]) / d, (b[1] - a[1]) / d)


def _at_x(p: Flat, d: Flat, x: float) -> Flat:
    return (x, p[1] + d[1] * (x - p[0]) / d[0])
