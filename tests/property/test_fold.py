"""The strongest sentence: folding a developed blank gives back the piece whose corners the planes gave.

Random jobs: width, pitch, place, lay, face, seam, kind of opening, flat pan or cricket. Corners come from planes,
the blank from lengths and angles, the folding from the blank's numbers alone.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, unary_union
from strategies import sites

from chimney import changed
from lapwright.detail.choose import choose
from lapwright.geom.flat import signed_area, tidy
from lapwright.geom.space import Point
from lapwright.layout.lay_out import lay_out
from lapwright.metal.develop import Developed, Region, develop, fold
from lapwright.metal.make import make
from lapwright.metal.model import Body, Piece, RoofPanel
from lapwright.site.model import Site

WITHIN = 1e-6
"""A thousand times closer than the 0.001 asked. [in]"""


jobs = st.builds(changed, sites(), method=st.sampled_from(["auto", "auto", "cricket"]))


def metal_of(site: Site) -> list[Piece | RoofPanel]:
    layout = lay_out(site)
    pieces, panels = make(site, layout, choose(site, layout))
    return [*pieces, *panels]


def bodies(site: Site) -> Iterator[tuple[str, Body, Developed]]:
    for made in metal_of(site):
        if made.body is not None:
            yield made.id, made.body, develop(made.body)


@settings(max_examples=2000)
@given(jobs)
def test_folding_a_developed_blank_returns_the_piece(site: Site) -> None:
    for name, body, flat in bodies(site):
        folded = fold(flat)
        assert set(folded) == {f.name for f in body.faces}
        for face in body.faces:
            for corner, landed in zip(face.corners, folded[face.name], strict=True):
                assert math.dist(corner, landed) < WITHIN, (name, face.name)


@settings(max_examples=500)
@given(jobs)
def test_every_blank_is_one_simple_sheet_with_its_holes_and_cuts_inside(site: Site) -> None:
    for made in metal_of(site):
        if made.blank is None:
            continue
        sheet = Polygon(made.blank.outline)
        assert sheet.is_valid, made.id
        assert made.blank.area > 0
        assert min(itertools.chain.from_iterable(made.blank.outline)) == 0.0
        assert sheet.bounds[2:] == (made.blank.width, made.blank.height)
        for hole in made.blank.holes:
            assert sheet.contains(Polygon(hole)) or Polygon(hole).difference(sheet).area < 0.01, made.id
        for cut in made.blank.cuts:
            assert sheet.buffer(WITHIN).contains(LineString(cut)), made.id
        if isinstance(made, Piece):
            assert made.weight_lb > 0


@settings(max_examples=500)
@given(jobs)
def test_a_blank_is_its_flats_and_its_bends_and_nothing_else(site: Site) -> None:
    for name, _, flat in bodies(site):
        whole = Polygon(flat.blank.outline)
        parts = [*(r.ring for r in flat.regions), *strips(flat)]
        assert abs(sum(signed_area(p) for p in parts) - whole.area) < 1e-6, name
        # Laid side by side they fill the sheet: no metal is wanted twice.
        covered = unary_union([Polygon(tidy(p)).buffer(0) for p in parts])
        assert abs(covered.area - whole.area) < 1e-5, name


def strips(flat: Developed) -> Iterator[tuple[tuple[float, float], ...]]:
    """The bends' own metal: between a parent's tangent line and its child's."""
    by_name = {r.face: r for r in flat.regions}
    for i, zone in enumerate(flat.zones):
        a, b = edge(by_name[zone.parent], i)
        c, d = edge(by_name[zone.child], i)
        yield a, d, c, b


def edge(region: Region, joint: int) -> tuple[tuple[float, float], tuple[float, float]]:
    k = region.joints.index(joint)
    return region.ring[k], region.ring[(k + 1) % len(region.ring)]


@settings(max_examples=400)
@given(jobs)
def test_every_face_keeps_its_lengths_in_the_flat(site: Site) -> None:
    # A face is moved, never stretched: each distance between two corners is the same flat and folded.
    for name, body, flat in bodies(site):
        for region in flat.regions:
            solid = body.face(region.face).corners
            for i, j in itertools.combinations(range(len(solid)), 2):
                moved = math.dist(region.mould[i], region.mould[j])
                assert abs(moved - math.dist(solid[i], solid[j])) < WITHIN, (name, region.face)


@settings(max_examples=400)
@given(jobs)
def test_every_upstand_lies_on_its_wall(site: Site) -> None:
    # Plain arithmetic beside the program's planes: a back face leaning by theta holds (y - back) cos - z sin = off.
    (opening,) = site.openings
    lean = math.atan2(site.roof.rise, 12) if opening.face == "plumb" else 0.0
    cos, sin = math.cos(lean), math.sin(lean)

    def back(p: Point) -> float:
        return (p[1] - opening.back) * cos - p[2] * sin

    def front(p: Point) -> float:
        return (opening.up - p[1]) * cos + p[2] * sin

    side = {"left": lambda p: opening.left - p[0], "right": lambda p: p[0] - opening.right}
    found = {name: (body, body.thickness) for name, body, _ in bodies(site)}
    if "1-apron" not in found:
        return
    t = found["1-apron"][1]
    on = [("1-apron", "upstand", front, 0.0)]
    if "1-back-pan" in found:
        on += [("1-back-pan", "tongue", back, 2 * t)]
        on += [("1-back-pan", f"tab {h}", side[h], 2 * t) for h in ("left", "right")]
    for hand in ("left", "right"):
        on.append((f"1-side-wall-{hand}", "upstand", side[hand], t))
        on.append((f"1-side-wall-{hand}", "tab", back, t))
        on.append(("1-apron", f"tab {hand}", side[hand], 0.0))
        for end, plane in (("back", back), ("front", front)):
            on.append((f"1-corner-patch-{end}-{hand}", "end wall", plane, 3 * t))
            on.append((f"1-corner-patch-{end}-{hand}", "side wall", side[hand], 3 * t))
        if f"1-counterflashing-{hand}" in found:
            on.append((f"1-counterflashing-{hand}", "face", side[hand], 4 * t))
            on.append(("1-counterflashing-back", "face", back, 4 * t))
            on.append(("1-counterflashing-front", "face", front, 4 * t))
    for piece, face, plane, off in on:
        for corner in found[piece][0].face(face).corners:
            assert abs(plane(corner) - off) < WITHIN, (piece, face)


@settings(max_examples=400)
@given(jobs)
def test_no_upstand_stands_higher_than_asked_or_than_its_wall(site: Site) -> None:
    (opening,) = site.openings
    limit = min(opening.measures.upstand, opening.height)
    for name, body, _ in bodies(site):
        if "side-wall" in name or name == "1-apron":
            assert abs(max(p[2] for p in body.face("upstand").corners) - limit) < WITHIN, name
        if name == "1-back-pan":
            assert abs(max(p[2] for p in body.face("tongue").corners) - limit) < WITHIN
