"""A cricket at the bench and its half in the flat, for every test that measures one: inputs, no expected number."""

from __future__ import annotations

import math
from typing import Any

from shapely import Polygon

from chimney import changed, chimney
from lapwright.detail.choose import choose
from lapwright.geom.flat import crossing, heading
from lapwright.geom.space import Flat, Point
from lapwright.layout.lay_out import lay_out
from lapwright.metal.develop import Developed
from lapwright.metal.model import Body, Joint
from lapwright.metal.work import Work, at_bench
from lapwright.site.model import Site

EDGES = {"valley": ("flange", "plane"), "wall": ("plane", "upstand"), "ridge": ("plane", "ridge leg")}
"""A half's three edges, each with the faces it joins, parent first."""


def malt_house(**new: Any) -> Site:
    """The malt house's chimney: 42 wide at 6:12, ribs at 10 1/2 + 18 k, a cricket; changed by name."""
    given = {
        "method": "cricket", "rise": 6.0, "slope": 300.0, "eave": 324.0, "first_rib": 10.5,
        "left": 142.5, "up": 62.0, "width": 42.0, "length": 30.0, "height": 72.0,
    }  # fmt: skip
    return changed(chimney(), **{**given, **new})


def bench(site: Site) -> Work:
    """The site's only opening at the bench."""
    return at_bench(site, choose(site, lay_out(site)).openings[0])


def joint(body: Body, edge: str) -> Joint:
    parent, child = EDGES[edge]
    return next(j for j in body.joints if (j.parent, j.child) == (parent, child))


def mould(body: Body, flat: Developed, face: str, p: Point) -> Flat:
    """Where a mould-line corner of a face lies in the flat."""
    region = next(r for r in flat.regions if r.face == face)
    return region.mould[body.face(face).corners.index(p)]


def triangle(body: Body, flat: Developed) -> dict[str, Flat]:
    """The plane's corners in the flat, where its three edges cross when they are drawn on."""
    runs = {}
    for name in EDGES:
        a, b = (mould(body, flat, "plane", p) for p in ends(body, name))
        runs[name] = (a, heading(a, b))
    pairs = {"corner": ("valley", "wall"), "foot": ("wall", "ridge"), "head": ("valley", "ridge")}
    out = {}
    for name, (one, other) in pairs.items():
        met = crossing(*runs[one], *runs[other])
        assert met is not None
        out[name] = met
    return out


def ends(body: Body, edge: str) -> tuple[Point, Point]:
    """The edge's ends as the plane has them."""
    j = joint(body, edge)
    return j.child_edge if j.child == "plane" else j.edge


def ring(points: tuple[Flat, ...]) -> Polygon:
    """A flat or a bend as a polygon; corners that fall together count once."""
    return Polygon([p for i, p in enumerate(points) if math.dist(p, points[i - 1]) > 1e-9])


def parts(flat: Developed) -> list[Polygon]:
    """Every flat and every bend of a blank."""
    return [ring(r.ring) for r in flat.regions] + [ring((*z.near, *z.far[::-1])) for z in flat.zones]
