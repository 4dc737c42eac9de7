"""The roof plan: edges, ribs by their distance from the left edge, panels, openings and their marks."""

from __future__ import annotations

from collections.abc import Sequence

from lapwright.detail.model import OpeningDetail
from lapwright.draw.callout import Label, write_along, write_at, write_inside
from lapwright.draw.display import Display
from lapwright.draw.heading import Words
from lapwright.draw.marks import corners, draw_marks, draw_ribs, name_opening
from lapwright.draw.opening import draw_opening
from lapwright.draw.pens import PENS
from lapwright.draw.plan import (
    Plan,
    Rect,
    figures,
    lay_sheet,
    line,
    room_for,
    run,
    write_figures,
    write_upright,
)
from lapwright.draw.sheet import Sheet
from lapwright.geom.space import Flat
from lapwright.layout.model import Layout
from lapwright.metal.model import RoofPanel
from lapwright.site.model import Site
from lapwright.words import Speaker

__all__ = ["draw_opening", "draw_roof"]

FEW = 8
"""No more narrow strips than this are numbered with a leader."""


def draw_roof(
    site: Site,
    layout: Layout,
    details: Sequence[OpeningDetail],
    panels: Sequence[RoofPanel],
    speaker: Speaker,
) -> Display:
    """Draw the whole roof plane with every mark that is measured from its left edge and its eave.

    Args:
        site: The roof, its panels and openings.
        layout: Ribs, strips and bays.
        details: One per opening, as decided.
        panels: As they lie.
        speaker: Language and unit of the job.
    """
    title = speaker.say("draw.roof_title", name=site.name)
    words = Words(
        title,
        tuple(_facts(site, layout, speaker)),
        tuple(_layers(layout, details)),
        (speaker.say("draw.roof_datum"),),
    )
    window = (0.0, 0.0, site.roof.eave, site.roof.slope)
    sheet, plan = lay_sheet(words, window, _margins(site, speaker), speaker)
    _draw_edges(sheet, plan, site)
    for panel in panels:
        run(sheet, plan, panel.outline, "panel", closed=True, price=0.3)
    draw_ribs(sheet, plan, site, layout, details)
    for detail in details:
        draw_marks(sheet, plan, detail)
    _write_figures(sheet, plan, site, layout, details, panels, speaker)
    for detail in details:
        name_opening(sheet, plan, detail.opening)
        ring = corners(detail.opening)
        sheet.block(plan.at(ring[0]), plan.at(ring[2]))
    _name_edges(sheet, plan, site, speaker)
    _number_strips(sheet, plan, layout)
    for panel in panels:
        _name_panel(sheet, plan, panel)
    return sheet.finish(PENS, title)


def _facts(site: Site, layout: Layout, speaker: Speaker) -> list[str]:
    roof, panel = site.roof, site.panel
    size = speaker.say("draw.roof_size", eave=roof.eave, slope=roof.slope, rise=roof.rise)
    key = "draw.first_rib_chosen" if layout.chosen else "draw.first_rib_given"
    rib = speaker.say(key, first=layout.first_rib, coverage=panel.coverage, count=len(layout.strips))
    return [size, rib, speaker.say(f"draw.lay_{panel.lay.replace('-', '_')}")]


def _layers(layout: Layout, details: Sequence[OpeningDetail]) -> list[str]:
    out = ["eave", "edge"]
    out += ["rib"] if layout.ribs else []
    out += ["bay-rib"] if layout.bays else []
    out += ["panel"]
    out += ["wall"] if details else []
    out += ["pan"] if any(d.pan for d in details) else []
    out += ["cleat"] if any(d.cleat_line for d in details) else []
    return [*out, "notch"] if any(d.notches for d in details) else out


def _margins(site: Site, speaker: Speaker) -> Rect:
    across = room_for([speaker.length(site.roof.slope - 1 / 16), speaker.length(site.roof.slope)])
    along = room_for([speaker.length(site.roof.eave - 1 / 16), speaker.length(site.roof.eave)])
    return (across, along, across, along)


def _draw_edges(sheet: Sheet, plan: Plan, site: Site) -> None:
    w, h = site.roof.eave, site.roof.slope
    for a, b in (((0.0, h), (0.0, 0.0)), ((w, 0.0), (w, h)), ((w, h), (0.0, h))):
        line(sheet, plan, a, b, "edge", 2.0, "edge")
    line(sheet, plan, (0.0, 0.0), (w, 0.0), "eave", 2.0, "edge")


def _write_figures(
    sheet: Sheet,
    plan: Plan,
    site: Site,
    layout: Layout,
    details: Sequence[OpeningDetail],
    panels: Sequence[RoofPanel],
    speaker: Speaker,
) -> None:
    """Ribs below, opening sides above, opening faces and panel ends left, cleats, pans, notches right."""
    w, h = site.roof.eave, site.roof.slope
    ribs = [(x, (x, 0.0)) for x in (0.0, *layout.ribs, w)]
    write_figures(sheet, plan, "lower", figures(plan, "x", ribs, speaker.length, 0.0))
    rings = [corners(d.opening) for d in details]
    sides = [(p[0], p) for ring in rings for p in ring[2:]]
    write_figures(sheet, plan, "upper", figures(plan, "x", sides, speaker.length, 0.0))
    ends = [(y, (0.0, y)) for y in (0.0, h)] + [(p[1], p) for ring in rings for p in (ring[0], ring[3])]
    write_figures(sheet, plan, "left", figures(plan, "y", ends, speaker.length, 0.0))
    marks = [p for d in details for p in d.cleat_line]
    marks += [(d.pan.right, y) for d in details if d.pan for y in (d.pan.downslope, d.pan.upslope)]
    marks += [(n.rib, y) for d in details for n in d.notches for y in (n.from_y, n.to_y)]
    rows = [(p[1], p) for p in marks]
    write_figures(sheet, plan, "right", figures(plan, "y", rows, speaker.length, 0.0))


def _name_edges(sheet: Sheet, plan: Plan, site: Site, speaker: Speaker) -> None:
    x0, y0, x1, y1 = plan.frame
    roof = site.roof
    for y, what in ((y0 - 14.0, "eave"), (y1 + 12.0, roof.upper_edge)):
        label = Label("", speaker.say(f"draw.edge_{what}"))
        beside = label.width / 2 + 8
        write_inside(sheet, iter([(x0 - beside, y), (x1 + beside, y)]), label)
    rows = (
        ((x0, y0), (x0, y1), roof.left_edge),
        ((x1, y0), (x1, y1), roof.right_edge),
    )
    for a, b, what in rows:
        write_along(sheet, a, b, Label("", speaker.say(f"draw.edge_{what}")), "edge")


def _number_strips(sheet: Sheet, plan: Plan, layout: Layout) -> None:
    """Each strip's number in a balloon near the eave, where the strip is wide enough for one."""
    narrow: list[tuple[Flat, Label]] = []
    for strip in layout.strips:
        x0, x1 = plan.x(strip.left), plan.x(strip.right)
        label = Label(str(strip.index + 1), "")
        x, y = (x0 + x1) / 2, plan.frame[1]
        if x1 - x0 >= label.width + 1:
            write_inside(sheet, iter([(x, y + d) for d in (14.0, 24.0, 34.0)]), label)
        else:
            narrow.append(((x, y + 8.0), label))
    for at, label in narrow[:FEW]:
        write_at(sheet, at, label)


def _name_panel(sheet: Sheet, plan: Plan, panel: RoofPanel) -> None:
    xs, ys = [p[0] for p in panel.outline], [p[1] for p in panel.outline]
    write_upright(sheet, plan, (min(xs), min(ys)), (max(xs), max(ys)), panel.id)
