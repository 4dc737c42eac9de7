"""The picture of one step: the roof so far light, what goes on now heavy, and every mark as a tape pull.

number and title                                    upslope ^
plan of the part that matters    | a small section, or a part
to scale, marks as tape pulls    | drawn larger; list of marks
legend
"""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.detail.model import Notch
from lapwright.draw.callout import Label, write_along
from lapwright.draw.crowd import Crowd
from lapwright.draw.display import Display, Text
from lapwright.draw.features import Window, clip
from lapwright.draw.heading import fold
from lapwright.draw.plan import Plan, Rect, run
from lapwright.draw.sheet import Sheet
from lapwright.draw.step_cut import draw_cut
from lapwright.draw.step_marks import (
    Lettered,
    draw_leads,
    draw_mark_lines,
    lettered,
    margins_for,
    write_mark_figures,
)
from lapwright.draw.step_model import WIDTH, CutView, SpotView, StepView
from lapwright.draw.step_names import name_area, name_edges, name_opening, name_parts
from lapwright.draw.step_pens import STEP_PENS
from lapwright.draw.step_roof import Roofed, draw_edges, fill, outline, paint, paint_openings, shown_box
from lapwright.draw.step_runs import Laid, laid_with
from lapwright.draw.step_window import draw_breaks, height_of, inside_roof, lay, window_of
from lapwright.draw.step_words import (
    BODY,
    COLUMN,
    HEAD,
    LIST_ROW,
    ROW,
    fixing_at,
    legend_rows,
    list_rows,
    write_head,
    write_legend,
    write_list,
)
from lapwright.geom.space import Flat
from lapwright.metal.model import RoofPanel
from lapwright.words import Speaker

HIGHEST = 212.0
"""Two steps a page, with what is written over each. [pt]"""
LEAST_CROSSES = 4.5
"""Fixings nearer each other than this on the sheet are not drawn one by one. [pt]"""
CUT_HIGH, CUT_LEAST = 112.0, 78.0
"""Room of one small section or enlarged part. [pt]"""
SCREWS = {"rivets": "rivet", "wedges": "wedge", "clips": "clip"}
LARGER = 20.0
"""An enlarged part is drawn at no more than this. [pt/in]"""


def draw_step(roof: Roofed, view: StepView, speaker: Speaker) -> Display:
    """Draw one step of the order of work.

    Args:
        roof: The job as decided, with all its metal (see step_roof.roofed).
        view: What this step shows.
        speaker: Language and unit of the job.

    Returns:
        A sheet 6.9 in wide and at most HIGHEST points high.
    """
    laid = _laid(roof, view)
    marks = lettered(view.marks, speaker)
    rows = list_rows(marks, view.areas, view.notes)
    insets = len(view.cuts) + len(view.spots)
    # The plan is laid once to learn its height, then on a sheet no higher than it needs.
    tall = Sheet(WIDTH, HIGHEST)
    legend = legend_rows(_legend(roof, view, laid, marks), view.datum, speaker)
    foot = ROW * len(legend) + 5.0
    plans = _plans(roof, view, marks, tall.height, foot, bool(rows or insets))
    need = max(height_of(p) + sum(_margins(view, marks, p.window)[1::2]) for p in plans)
    column = LIST_ROW * len(rows) + CUT_LEAST * insets + 4.0
    height = min(HIGHEST, HEAD + foot + max(need, column, 70.0) + 4.0)
    sheet = Sheet(WIDTH, height)
    write_head(sheet, view.title, speaker)
    write_legend(sheet, legend)
    plans = _plans(roof, view, marks, height, foot, bool(rows or insets))
    if rows or insets:
        _column(sheet, roof, view, marks, rows, foot)
    for k, plan in enumerate(plans):
        part = _part_of(sheet, plan.room)
        _draw_plan(part, plan, roof, view, laid, marks if k == 0 else (), speaker)
        sheet.marks += part.marks
    return sheet.finish(STEP_PENS, view.title)


def _laid(roof: Roofed, view: StepView) -> list[Laid]:
    """Sealant, tape and fixings of this step; none where panels are only locked again."""
    if view.relock:
        return []
    return [r for n in view.now for r in laid_with(roof.site, roof.detail, roof.parts[n], roof.made[n])]


def _part_of(sheet: Sheet, room: Rect) -> Sheet:
    """A part of a sheet whose labels keep to it. [pt]"""
    part = Sheet(sheet.width, sheet.height)
    part.crowd = Crowd((room[0], room[1]), (room[2], room[3]))
    return part


# --- layout of the sheet ------------------------------------------------------------------------


def _plans(
    roof: Roofed, view: StepView, marks: Sequence[Lettered], height: float, foot: float, beside: bool
) -> list[Plan]:
    """One plan, or several side by side."""
    right = WIDTH - 2.0 - (COLUMN + 8.0 if beside else 0.0)
    windows = [inside_roof(roof.site, w) for w in view.focus] or [_near(roof, view)]
    wide = (right - 2.0) / len(windows)
    out = []
    for k, window in enumerate(windows):
        room: Rect = (2.0 + k * wide, foot, 2.0 + (k + 1) * wide - (6.0 if len(windows) > 1 else 0.0), height - HEAD)
        out.append(lay(window, _stops(roof, view, window), room, _margins(view, marks, window)))
    return out


def _margins(view: StepView, marks: Sequence[Lettered], window: Window) -> Rect:
    left, lower, right = margins_for(marks)
    return (left + 2.0, max(lower, 7.0), right + 2.0, 7.0)


def _near(roof: Roofed, view: StepView) -> Window:
    points = [p for name in view.now for ring in roof.rings(name) for p in ring]
    points += [p for a in view.areas for p in a.ring]
    points += [p for one in view.lines for p in one.points]
    for m in view.marks:
        if m.axis in ("x", "y"):
            points += [(q, m.across) if m.axis == "x" else (m.across, q) for q in (m.from_at, m.at)]
    return window_of(roof.site, view.bay, points)


def _stops(roof: Roofed, view: StepView, window: Window) -> list[float]:
    """Heights that must be seen: ends of what goes on, marks, openings' faces."""
    out = [y for name in view.now for ring in roof.rings(name) for _, y in ring]
    out += [y for m in view.marks if m.axis == "y" for y in (m.from_at, m.at)]
    out += [m.across for m in view.marks if m.axis == "x"]
    for d in roof.detail.openings:
        out += [d.opening.up, d.opening.back]
        out += [d.opening.up - d.measures.apron_flange, d.pan.upslope] if d.pan is not None else []
    out += [y for one in view.lines for _, y in one.points] + [y for a in view.areas for _, y in a.ring]
    return out


def _legend(roof: Roofed, view: StepView, laid: Sequence[Laid], marks: Sequence[Lettered]) -> list[str]:
    out = ["now"] if view.now or any(a.style == "now" for a in view.areas) else []
    out += ["on"] if view.before else []
    out += [s for s in ("off", "zone") if any(a.style == s for a in view.areas)]
    out += ["lock"] if any(one.style == "lock" for one in view.lines) else []
    out += ["chalk"] if any(one.style == "chalk" for one in view.lines) else []
    out += ["hidden"] if any(one.style == "hidden" for one in view.lines) else []
    out += [k for k in ("sealant", "solder", "tape") if any(r.kind == k for r in laid)]
    uses = [SCREWS.get(r.use, "screw") for r in laid if r.kind == "screw"]
    out += list(dict.fromkeys(uses))
    notched = any(n.cut != "flange-off" and n.cut != "leg-back" for p in view.now for n in _notches(roof, p))
    out += ["notch"] if notched else []
    return [*out, "pull"] if marks else out


def _notches(roof: Roofed, name: str) -> tuple[Notch, ...]:
    made = roof.made[name]
    return made.notches if isinstance(made, RoofPanel) else ()


def _column(
    sheet: Sheet,
    roof: Roofed,
    view: StepView,
    marks: Sequence[Lettered],
    rows: Sequence[tuple[str, str]],
    foot: float,
) -> None:
    """Small sections and enlarged parts from the upper end down, the list of marks under them."""
    x, upper = WIDTH - 2.0 - COLUMN, sheet.height - HEAD
    insets: list[CutView | SpotView] = [*view.cuts, *view.spots]
    listed = LIST_ROW * len(rows) + 3.0
    if insets:
        each = min(CUT_HIGH, (upper - foot - listed) / len(insets))
        for inset in insets:
            room = (x, upper - each, WIDTH - 2.0, upper)
            part = _part_of(sheet, room)
            if isinstance(inset, CutView):
                draw_cut(part, roof, inset, view.opening, view.now, view.before, marks, room)
            else:
                _draw_spot(part, roof, view, inset.window, inset.title, room)
            sheet.marks += part.marks
            upper -= each
    sheet.line((x - 5.0, foot + 2.0), (x - 5.0, sheet.height - HEAD), "frame")
    write_list(sheet, rows, x, upper)


def _draw_spot(sheet: Sheet, roof: Roofed, view: StepView, window: Window, title: str, room: Rect) -> None:
    rows = fold(title, BODY, room[2] - room[0])
    for i, row in enumerate(rows):
        sheet.text(Text((room[0], room[3] - 5.0 - 10.0 * i), row, "text", BODY))
    inner = (room[0], room[1] + 3.0, room[2], room[3] - 10.0 * len(rows) - 2.0)
    plan = lay(window, (), inner, (2.0, 2.0, 2.0, 2.0), LARGER)
    _paint_all(sheet, plan, roof, view, _laid(roof, view))
    _frame(sheet, plan)


# --- the plan -----------------------------------------------------------------------------------


def _draw_plan(
    sheet: Sheet,
    plan: Plan,
    roof: Roofed,
    view: StepView,
    laid: Sequence[Laid],
    marks: Sequence[Lettered],
    speaker: Speaker,
) -> None:
    _paint_all(sheet, plan, roof, view, laid)
    draw_leads(sheet, plan, marks)
    draw_breaks(sheet, plan)
    _frame(sheet, plan)
    pulls = draw_mark_lines(sheet, plan, marks)
    for area in view.areas:
        name_area(sheet, plan, area)
    name_parts(sheet, plan, roof, view.now)
    write_mark_figures(sheet, pulls)
    for one in view.lines:
        if one.text and len(one.points) > 1:
            part = clip(one.points[0], one.points[-1], plan.window)
            if part is not None:
                write_along(sheet, plan.at(part[0]), plan.at(part[1]), Label("", one.text), "line")
    for d in roof.detail.openings:
        box = shown_box(d.opening, plan.window)
        if box is not None:
            name_opening(sheet, plan, box, d.opening.name)
    name_edges(sheet, plan, roof.site, speaker)


def _paint_all(sheet: Sheet, plan: Plan, roof: Roofed, view: StepView, laid: Sequence[Laid]) -> None:
    draw_edges(sheet, plan, roof.site)
    paint_openings(sheet, plan, roof.detail)
    # Membrane lies under panels that stood before it.
    for name in sorted(view.before, key=lambda n: roof.parts[n].kind != "membrane"):
        paint(sheet, plan, roof, name, now=False)
    for area in view.areas:
        if area.style == "now":
            fill(sheet, plan, area.ring, "hatch")
        outline(sheet, plan, area.ring, area.style, 1.0)
    for name in view.now:
        paint(sheet, plan, roof, name, now=True)
    for one in view.lines:
        run(sheet, plan, one.points, one.style, price=1.5)
    paint_openings(sheet, plan, roof.detail, hidden=True)
    for laid_run in laid:
        _draw_laid(sheet, plan, laid_run)
    draw_edges(sheet, plan, roof.site)


def _draw_laid(sheet: Sheet, plan: Plan, laid: Laid) -> None:
    if laid.kind != "screw":
        run(sheet, plan, laid.points, laid.kind, price=1.2)
        return
    x0, y0, x1, y1 = plan.window
    last: Flat | None = None
    for p in laid.points:
        at = plan.at(p)
        near = last is not None and abs(at[0] - last[0]) + abs(at[1] - last[1]) < LEAST_CROSSES
        if x0 <= p[0] <= x1 and y0 <= p[1] <= y1 and not near:
            sheet.marks += fixing_at(at, SCREWS.get(laid.use, "screw"), 2.0 if plan.scale > 2.0 else 1.3)
            sheet.crowd.busy((at[0] - 2, at[1] - 2), (at[0] + 2, at[1] + 2), 0.6)
            last = at


def _frame(sheet: Sheet, plan: Plan) -> None:
    x0, y0, x1, y1 = plan.frame
    sheet.ring([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], "frame", price=0.8)
