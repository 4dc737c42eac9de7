"""The roof as it lies, square from above, for a screen: every piece a shape of its own that can be touched.

Coordinates are inches on the roof, y turned round so that upslope is up. Later work lies over earlier work.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any

from lapwright.draw.glb import Node
from lapwright.draw.mesh import Mesh
from lapwright.geom.space import Flat

AIR = 14.0
"""Room round the roof. [in]"""

LETTERS = 34.0
"""The roof's longer side over the height of its letters."""

THIN = 1e-3
"""A triangle seen with less than half of this shows nothing. [in2]"""


@dataclass(frozen=True, slots=True)
class Named:
    """Words on the roof, at the middle of a place. [in]"""

    text: str
    at: Flat


def seen_svg(nodes: Iterable[Node], size: Flat, names: Sequence[Named], title: str) -> str:
    """The picture.

    Args:
        nodes: What lies on the roof in working order; a name's ` (2)` and ` rib` belong to the piece before it.
        size: Along the eave, up the slope. [in]
        names: What is written on it.
        title: What it shows, spoken.
    """
    wide, high = size
    letter = max(size) / LETTERS
    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{-AIR:g} {-AIR:g} {wide + 2 * AIR:g} {high + 2 * AIR:g}" '
        'fill="none" stroke="#1b1d1c" stroke-linejoin="round" font-family="sans-serif" role="img">',
        f"<title>{escape(title)}</title>",
        f'<path d="M0 0H{wide:g}V{high:g}H0Z" fill="#e9ebe8" stroke-width="2" vector-effect="non-scaling-stroke"/>',
    ]
    rows += [row for n in nodes for row in _shape(n, high)]
    rows.append(
        f'<g stroke="none" fill="#1b1d1c" text-anchor="middle" font-family="sans-serif" font-size="{letter:g}">'
    )
    rows += [
        f'<text x="{n.at[0]:.2f}" y="{high - n.at[1] + letter * 0.35:.2f}">{escape(n.text)}</text>' for n in names
    ]
    return "\n".join([*rows, "</g>", "</svg>"]) + "\n"


def _shape(n: Node, high: float) -> list[str]:
    path = _path(n.mesh, high)
    if not path:
        return []
    fill = "#{:02x}{:02x}{:02x}".format(*(c + (255 - c) * 2 // 5 for c in n.colour[:3]))
    line = f'fill="{fill}" stroke-width="0.8" vector-effect="non-scaling-stroke"'
    return [f'<path data-piece="{escape(owner(n.name))}" d="{path}" {line}/>']


def owner(name: str) -> str:
    """The piece a node shows: `1-backing-plate (2)` and `panel-2 rib` are a plate and a panel."""
    return name.removesuffix(" rib").split(" (")[0]


def _path(mesh: Mesh, high: float) -> str:
    """The outline of a mesh as seen from above, as path data."""
    import numpy
    import shapely

    corners = numpy.asarray(mesh.vertices)[:, :2][numpy.asarray(mesh.triangles)]
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    turned = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    # what faces up hides what faces down
    facing = corners[turned > THIN]
    if not len(facing):
        return ""
    whole: Any = shapely.union_all(shapely.polygons(numpy.round(facing, 3)))
    polygons = [g for g in getattr(whole, "geoms", [whole]) if g.geom_type == "Polygon"]
    rings = (ring for p in polygons for ring in (p.exterior, *p.interiors))
    return "".join("M" + "L".join(f"{x:.2f} {high - y:.2f}" for x, y in list(r.coords)[:-1]) + "Z" for r in rings)
