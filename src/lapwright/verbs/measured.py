"""Measure, as a face shows it: the form of a job file in any state, and its drawings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from lapwright.draw.display import Display
from lapwright.draw.measured import draw_close_up, draw_plane
from lapwright.draw.measured_side import draw_panels, draw_side
from lapwright.draw.so_far import Hole, SoFar
from lapwright.draw.svg import to_svg
from lapwright.job import Job
from lapwright.site.wrong import Path
from lapwright.verbs.edit import field_at
from lapwright.verbs.form import form_of
from lapwright.verbs.form_model import Form, FormField
from lapwright.words import Speaker

VIEWS = ("roof", "panel", "opening", "side")


@dataclass(frozen=True, slots=True)
class Answer:
    """What changes on the page when one value changes.

    fields: those that read otherwise than before. drawings: SVG by view. See `Form` for the rest.
    """

    form: Form
    fields: tuple[FormField, ...]
    drawings: dict[str, str]


def answer(before: str, after: str, opening: int) -> Answer:
    """The page's answer to a change of the job file from `before` to `after`, at one opening (from 0)."""
    form = form_of(after)
    old = {field.path: field for field in form_of(before).fields()}
    changed = tuple(field for field in form.fields() if old.get(field.path) != field)
    return Answer(form, changed, drawings(after, opening))


@lru_cache(maxsize=64)
def drawings(text: str, opening: int) -> dict[str, str]:
    """The roof, its panels, and one opening (from 0) from above and from the side, as SVG by view."""
    form = form_of(text)
    known, speaker = so_far(form), Speaker(form.unit)
    job = Job(form.site) if form.site else None
    layout = job.layout if job else None
    details = job.detail.openings if job else ()
    at = min(max(opening, 0), max(len(known.holes) - 1, 0))
    out: dict[str, Display] = {
        "roof": draw_plane(known, at, speaker, layout, details),
        "panel": draw_panels(known, speaker, layout),
        "side": draw_side(known, at, speaker),
    }
    if known.holes:
        out["opening"] = draw_close_up(known, at, speaker, layout, details)
    return {view: to_svg(out[view]) for view in VIEWS if view in out}


def view_of(path: Path) -> str:
    """The drawing that shows a field best."""
    table, name = path[0], path[-1]
    if table == "panel":
        return "panel"
    if table == "opening" and field_at(path).table == "defaults":
        return "opening"
    if name in ("pitch", "height", "face"):
        return "side"
    return "opening" if table == "opening" and name in ("name", "kind", "width", "length", "diameter") else "roof"


def so_far(form: Form) -> SoFar:
    """What a form knows of the roof."""
    values: dict[str, dict[str, Any]] = {}
    for group in form.groups:
        given = {str(field.path[-1]): field.value for field in group.fields if field.value is not None}
        values["-".join(map(str, group.path))] = given
    roof, panel = values.get("roof", {}), values.get("panel", {})
    rows = [group for group in form.groups if group.path[0] == "opening"]
    names = {"name", "kind", "face", "left", "up", "width", "length", "height", "diameter"}
    holes = tuple(Hole(**{k: v for k, v in values[row.id].items() if k in names}) for row in rows)
    edges = {k: roof[k] for k in ("eave", "slope", "left_edge", "right_edge", "upper_edge") if k in roof}
    skin = {k: panel[k] for k in ("coverage", "rib_height", "first_rib", "seam", "lay") if k in panel}
    above = values.get("site", {}).get("roof_above", 0.0)
    return SoFar(rise=roof.get("pitch"), **edges, **skin, roof_above=above, holes=holes)
