"""The chimney of docs/worked-case.md as a Site, and a plain shed roof to vary: inputs only, no expected number."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from lapwright.job import Job, run
from lapwright.metal.model import Piece, RoofPanel
from lapwright.site.model import Defaults, Opening, Panel, Roof, Site, Weather

CHIMNEY = Opening("chimney", "masonry-chimney", 92.0, 69.0, 26.0, 34.0, 60.0, "plumb", "flat-pan")


def chimney(face: str = "plumb") -> Site:
    """26 x 34 in a 7:12 roof, 24 ft eave, 16 1/2 ft slope, 18 panels from 6, snap seam, laid left to right."""
    opening = replace(CHIMNEY, face=face)
    return Site("worked case", "in", Roof(7.0, 288.0, 198.0), Panel(18.0, 1.75, first_rib=6.0), openings=(opening,))  # type: ignore[arg-type]


def changed(site: Site, **new: Any) -> Site:
    """The same site with fields changed by name, wherever they stand: rise, coverage, width, lay, snow ..."""
    opening = site.openings[0]
    homes: dict[str, Any] = {
        "roof": site.roof,
        "panel": site.panel,
        "weather": site.weather,
        "measures": opening.measures,
        "opening": opening,
    }
    kinds = {"roof": Roof, "panel": Panel, "weather": Weather, "measures": Defaults, "opening": Opening}
    for name, value in new.items():
        (home,) = [h for h, kind in kinds.items() if name in kind.__dataclass_fields__ and name != "measures"]
        homes[home] = replace(homes[home], **{name: value})
    return replace(
        site,
        roof=homes["roof"],
        panel=homes["panel"],
        weather=homes["weather"],
        openings=(replace(homes["opening"], measures=homes["measures"]),),
    )


def metal(job: Job) -> dict[str, Piece | RoofPanel]:
    """Every piece and panel by its id."""
    return {p.id: p for p in (*job.pieces, *job.panels)}


def worked(site: Site) -> tuple[Job, dict[str, Piece | RoofPanel]]:
    """The job and its metal."""
    job = run(site)
    return job, metal(job)
