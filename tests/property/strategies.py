"""Legal sites for property tests: one opening well inside a roof, everything else free.

"Well inside" means at least 60 above the back face, 24 below the downslope face and 40 from each rake,
so that every piece of the standard detail has its room. Lengths fall on sixteenths, as a tape reads.
"""

from __future__ import annotations

import dataclasses
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from lapwright.site.fields import fields_of
from lapwright.site.model import Opening, Panel, Roof, Site

SIXTEENTH = 16
KINDS = ("masonry-chimney", "framed-chimney", "curb", "skylight")
ABOVE, BELOW, BESIDE = 60.0, 24.0, 40.0


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """A length on a sixteenth, both ends allowed. [in]"""
    return st.integers(round(low * SIXTEENTH), round(high * SIXTEENTH)).map(lambda n: n / SIXTEENTH)


@st.composite
def panels(draw: st.DrawFn) -> Panel:
    """Any seam, hand and coverage; ribs start anywhere within one coverage."""
    seam = draw(st.sampled_from(["snap", "single-fold", "double-fold"]))
    coverage = draw(lengths(12, 24))
    return Panel(
        coverage=coverage,
        rib_height=draw(st.sampled_from([1.0, 1.5, 1.75, 2.0])),
        seam=seam,  # type: ignore[arg-type]
        fixing="nailing-flange" if seam == "snap" else "clip",
        first_rib=draw(lengths(0, coverage - 1 / SIXTEENTH)),
        lay=draw(st.sampled_from(["left-to-right", "right-to-left"])),
    )


@st.composite
def openings(draw: st.DrawFn) -> Opening:
    """A rectangle of any kind, 8 to 30 wide and 8 to 60 long, at least 8 high."""
    kind = draw(st.sampled_from(KINDS))
    return Opening(
        name="the opening",
        kind=kind,  # type: ignore[arg-type]
        left=BESIDE + draw(lengths(0, 80)),
        up=BELOW + draw(lengths(0, 80)),
        width=draw(lengths(8, 30)),
        length=draw(lengths(8, 60)),
        height=draw(lengths(8, 72)),
        face=draw(st.sampled_from(["plumb", "square"])),
    )


@st.composite
def sites(draw: st.DrawFn, /, **panel: Any) -> Site:
    """A legal site with one opening well inside it; keywords fix fields of the panel."""
    opening = draw(openings())
    roof = Roof(
        rise=draw(st.one_of(st.integers(1, 18).map(float), st.floats(1, 18, allow_subnormal=False))),
        eave=opening.right + BESIDE + draw(lengths(0, 80)),
        slope=opening.back + ABOVE + draw(lengths(0, 80)),
        work=draw(st.sampled_from(["new", "existing"])),
    )
    laid = replace(draw(panels()), **panel)
    return Site("a roof", draw(st.sampled_from(["in", "mm"])), roof, laid, openings=(opening,))


def mirrored(site: Site) -> Site:
    """The same job seen in a mirror that stands on the eave: left and right change places.

    A rib that would fall on the left edge becomes one a whole coverage in, as the first rib must lie
    within [0, coverage); the ribs strictly inside the roof are the mirror image in both cases.
    """
    eave, panel = site.roof.eave, site.panel
    first = None if panel.first_rib is None else (eave - panel.first_rib) % panel.coverage
    lay = "left-to-right" if panel.lay == "right-to-left" else "right-to-left"
    return replace(
        site,
        roof=replace(site.roof, left_edge=site.roof.right_edge, right_edge=site.roof.left_edge),
        panel=replace(panel, first_rib=first, lay=lay),  # type: ignore[arg-type]
        openings=tuple(replace(o, left=eave - (o.left if o.kind == "pipe" else o.right)) for o in site.openings),
    )


def job_text(site: Site) -> str:
    """The job file of a site, every length written in inches with its unit; measures are left out."""
    roof, panel = site.roof, site.panel
    tables = [
        ("[job]", {"name": site.name, "units": site.units}),
        ("[roof]", {"pitch": f"{roof.rise!r}:12", **_texts(roof, skip=("rise",))}),
        ("[panel]", _texts(panel)),
        *(("[[opening]]", _texts(opening, skip=("measures", *_not_of(opening.kind)))) for opening in site.openings),
    ]
    return "\n".join("\n".join([head, *(f'{k} = "{v}"' for k, v in rows.items())]) for head, rows in tables)


def _not_of(kind: str) -> tuple[str, ...]:
    """Fields that an opening of this kind may not have."""
    return tuple(name for name, row in fields_of("opening").items() if row.kinds and kind not in row.kinds)


def _texts(row: Any, skip: tuple[str, ...] = ()) -> dict[str, str]:
    values = {field.name: getattr(row, field.name) for field in dataclasses.fields(row) if field.name not in skip}
    return {k: f"{v!r} in" if isinstance(v, float) else v for k, v in values.items() if v is not None}
