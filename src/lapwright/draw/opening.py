"""One opening from above: flashings, pan, cleat line with its corners dimensioned, and notches."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from lapwright.detail.model import Notch, OpeningDetail
from lapwright.draw.callout import Label, write_along, write_at, write_beside
from lapwright.draw.display import Display
from lapwright.draw.features import Window, clip
from lapwright.draw.heading import Words
from lapwright.draw.marks import corners, draw_marks, draw_ribs, name_opening
from lapwright.draw.pens import PENS
from lapwright.draw.plan import Plan, Rect, figures, lay_sheet, room_for, run, write_figures
from lapwright.draw.sheet import Sheet
from lapwright.geom.space import Flat, Point
from lapwright.layout.model import Layout
from lapwright.metal.model import Face, Piece, RoofPanel
from lapwright.site.model import Site
from lapwright.words import Speaker

BESIDE = 9.0
"""Roof shown beside the bay. [in]"""
BEYOND = 10.0
"""Roof shown upslope and downslope of the flashings. [in]"""
FLAT = 0.02
"""A face that shows less area than this is seen edge on. [in2]"""
SHOWN = {
    "apron": "apron",
    "side-wall": "side-wall",
    "corner-patch": "patch",
    "back-pan": "pan",
    "cricket": "pan",
    "base-plate": "pan",
    "rib-hood": "patch",
    "sleeve": "patch",
}
"""Kinds of piece that are drawn, and their layer."""


def draw_opening(
    site: Site,
    layout: Layout,
    detail: OpeningDetail,
    pieces: Sequence[Piece],
    panels: Sequence[RoofPanel],
    speaker: Speaker,
) -> Display:
    """Draw one opening and its bay, with every mark from the bay's left rib and from the back face.

    Args:
        site, layout: The roof.
        detail: The opening as decided.
        pieces: Pieces with bodies; those of this opening are drawn.
        panels: As they lie; the lower edges of this opening's upper panels are drawn.
        speaker: Language and unit of the job.
    """
    own = [p for p in pieces if p.opening == detail.opening.name and p.kind in SHOWN and p.body is not None]
    title = speaker.say("draw.opening_title", name=detail.opening.name)
    layers = tuple(_layers(own, detail, panels))
    words = Words(title, tuple(_facts(detail, speaker)), layers, tuple(_notes(detail, speaker)))
    window = _window(site, detail)
    sheet, plan = lay_sheet(words, window, _margins(window, detail, speaker), speaker)
    for panel in panels:
        _draw_panel(sheet, plan, panel, detail)
    draw_ribs(sheet, plan, site, layout, [detail])
    for piece in own:
        _draw_piece(sheet, plan, piece)
    draw_marks(sheet, plan, detail)
    _write_figures(sheet, plan, detail, speaker)
    _label(sheet, plan, detail, speaker)
    return sheet.finish(PENS, title)


def _facts(detail: OpeningDetail, speaker: Speaker) -> list[str]:
    o = detail.opening
    kind = speaker.say(f"draw.kind_{o.kind.replace('-', '_')}")
    size = speaker.say("draw.opening_size", kind=kind, width=o.width, length=o.length, height=o.height)
    method = speaker.say(f"draw.method_{detail.method.replace('-', '_')}")
    return [speaker.say("draw.and").join([size, speaker.say(f"draw.face_{o.face}"), method])]


def _layers(own: Sequence[Piece], detail: OpeningDetail, panels: Sequence[RoofPanel]) -> list[str]:
    out = ["wall", "bay-rib", "panel"]
    shown = {SHOWN[p.kind] for p in own} | ({"pan"} if detail.pan else set())
    out += [layer for layer in ("apron", "side-wall", "pan", "patch") if layer in shown]
    out += ["cleat"] if detail.cleat_line else []
    out += ["upper-panel"] if any(_is_upper(p, detail) for p in panels) else []
    return [*out, "notch"] if detail.notches else out


def _notes(detail: OpeningDetail, speaker: Speaker) -> list[str]:
    """How to read the figures, and where each corner of the cleat line lies."""
    key = "rib" if detail.bay.left_is_rib else "edge"
    out = [speaker.say(f"draw.opening_datum_{key}")]
    for notch in detail.notches:
        key = f"draw.notch_row_{notch.cut.replace('-', '_')}"
        if speaker.knows(key):
            upper, lower = max(notch.from_y, notch.to_y), min(notch.from_y, notch.to_y)
            out.append(speaker.say(key, across=notch.rib - detail.bay.left, upper=upper, lower=lower))
    for n, (x, y) in enumerate(detail.cleat_line, start=1):
        side = "upslope" if y >= detail.opening.back else "downslope"
        gap = abs(y - detail.opening.back)
        out.append(speaker.say(f"draw.cleat_point_{side}", n=n, across=x - detail.bay.left, gap=gap, eave=y))
    return out


def _window(site: Site, detail: OpeningDetail) -> Window:
    o, bay = detail.opening, detail.bay
    points = [*corners(o), *detail.cleat_line]
    if detail.pan is not None:
        points += [(o.left, detail.pan.downslope), (o.left, detail.pan.upslope)]
    low = min(p[1] for p in points) - BEYOND
    high = max(p[1] for p in points) + BEYOND
    x0, x1 = max(bay.left - BESIDE, 0.0), min(bay.right + BESIDE, site.roof.eave)
    return (x0, max(low, 0.0), x1, min(high, site.roof.slope))


def _margins(window: Window, detail: OpeningDetail, speaker: Speaker) -> Rect:
    """Room for the figures on the left, below and on the right, and a little above. [pt]"""
    show, up = _from_back(speaker), _up(detail)
    left = room_for(show(y - detail.opening.back) for _, y in up)
    below = room_for(speaker.length(x - detail.bay.left) for x, _ in _across(window, detail))
    return (left, below, room_for(speaker.length(y) for _, y in up), 12.0)


def _across(window: Window, detail: OpeningDetail) -> list[Flat]:
    """Points whose x is dimensioned. [in]"""
    bay, pan = detail.bay, detail.pan
    out = [*corners(detail.opening)[:2], *detail.cleat_line]
    out += [(x, window[1]) for x in (*bay.interrupted, bay.left, bay.right)]
    return out + ([(x, pan.downslope) for x in (pan.left, pan.right)] if pan else [])


def _up(detail: OpeningDetail) -> list[Flat]:
    """Points whose y is dimensioned. [in]"""
    pan = detail.pan
    out = [*corners(detail.opening), *detail.cleat_line]
    out += [(n.rib, y) for n in detail.notches for y in (n.from_y, n.to_y)]
    return out + ([(pan.left, y) for y in (pan.downslope, pan.upslope)] if pan else [])


def _from_back(speaker: Speaker) -> Callable[[float], str]:
    """Prints a distance from the back face with its way."""

    def show(distance: float) -> str:
        if abs(distance) < 1 / 64:
            return speaker.say("draw.at_back")
        return speaker.say("draw.upslope" if distance > 0 else "draw.downslope", distance=abs(distance))

    return show


def _is_upper(panel: RoofPanel, detail: OpeningDetail) -> bool:
    return panel.role == "upper" and panel.opening == detail.opening.name


def _draw_panel(sheet: Sheet, plan: Plan, panel: RoofPanel, detail: OpeningDetail) -> None:
    layer = "upper-panel" if _is_upper(panel, detail) else "panel"
    run(sheet, plan, panel.outline, layer, closed=True, price=0.5)


def _draw_piece(sheet: Sheet, plan: Plan, piece: Piece) -> None:
    """Every face of a piece as seen from above; a face seen edge on is one line."""
    assert piece.body is not None
    for face in piece.body.faces:
        ring = seen(face)
        if len(ring) > 1:
            run(sheet, plan, ring, SHOWN[piece.kind], closed=len(ring) > 2, price=0.7)


def seen(face: Face) -> tuple[Flat, ...]:
    """A face as seen square to the roof: its ring, or the two ends of it when it stands edge on. [in]"""
    flat = [_drop(p) for p in face.corners]
    doubled = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(flat, [*flat[1:], flat[0]], strict=True))
    if abs(doubled) / 2 > FLAT:
        return tuple(flat)
    low, high = min(flat), max(flat)
    return (low, high) if low != high else (low,)


def _drop(p: Point) -> Flat:
    return (p[0], p[1])


def _write_figures(sheet: Sheet, plan: Plan, detail: OpeningDetail, speaker: Speaker) -> None:
    """x from the bay's left below; y from the back face on the left, from the eave on the right."""
    back, up = detail.opening.back, _up(detail)
    across = [(p[0], p) for p in _across(plan.window, detail)]
    write_figures(sheet, plan, "lower", figures(plan, "x", across, speaker.length, detail.bay.left))
    left = [(p[1], p) for p in up]
    write_figures(sheet, plan, "left", figures(plan, "y", left, _from_back(speaker), back))
    right = [(p[1], (max(q[0] for q in up), p[1])) for p in up]
    write_figures(sheet, plan, "right", figures(plan, "y", right, speaker.length, 0.0))


def _label(sheet: Sheet, plan: Plan, detail: OpeningDetail, speaker: Speaker) -> None:
    name_opening(sheet, plan, detail.opening)
    for notch in detail.notches:
        _label_notch(sheet, plan, notch, speaker)
    for n, point in enumerate(detail.cleat_line, start=1):
        write_at(sheet, plan.at(point), Label(str(n), ""))
    if len(detail.cleat_line) > 1:
        middle = (len(detail.cleat_line) - 1) // 2
        a, b = (plan.at(p) for p in detail.cleat_line[middle : middle + 2])
        write_along(sheet, a, b, Label("", speaker.say("draw.cleat_line")), "")


def _label_notch(sheet: Sheet, plan: Plan, notch: Notch, speaker: Speaker) -> None:
    part = clip((notch.rib, notch.from_y), (notch.rib, notch.to_y), plan.window)
    key = f"draw.notch_{notch.cut.replace('-', '_')}"
    if part is not None and speaker.knows(key):
        write_beside(sheet, plan.at(part[0]), plan.at(part[1]), Label("", speaker.say(key)))
