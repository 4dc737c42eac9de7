"""A mirrored roof gives mirrored metal: same blanks seen from the other side, same panels from the other rake."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LinearRing, Polygon, hausdorff_distance
from strategies import mirrored, sites

from chimney import changed, chimney
from lapwright.detail.choose import choose
from lapwright.detail.model import Detail
from lapwright.layout.lay_out import lay_out
from lapwright.layout.model import Layout
from lapwright.metal.make import make
from lapwright.metal.model import Blank, Piece, RoofPanel
from lapwright.site.model import Site

EXACT = 1e-6

jobs = st.builds(changed, sites(), method=st.sampled_from(["auto", "auto", "cricket"]))

Ring = tuple[tuple[float, float], ...]


def worked_out(site: Site) -> tuple[Layout, Detail, dict[str, Piece | RoofPanel]]:
    layout = lay_out(site)
    detail = choose(site, layout)
    pieces, panels = make(site, layout, detail)
    return layout, detail, {p.id: p for p in (*pieces, *panels)}


def twin(id_: str, layout: Layout, detail: Detail) -> str:
    """The id that a piece or panel has in the mirror: left is right, and counting starts at the other end."""
    counted = re.fullmatch(r"panel-(\d+)(.*)", id_)
    if counted:
        return f"panel-{len(layout.strips) + 1 - int(counted[1])}{counted[2]}"
    counted = re.fullmatch(r"(\d+-(?:offset-cleat|closure-apron)-)(\d+)", id_)
    if counted:
        same = [p.id for p in detail.parts if p.id.startswith(counted[1])]
        return f"{counted[1]}{len(same) + 1 - int(counted[2])}"
    swapped = {"left": "right", "right": "left"}
    return re.sub("left|right", lambda m: swapped[m[0]], id_)


def far_apart(a: Ring, b: Ring) -> float:
    """Greatest distance between two outlines; a repeated corner more or less does not count."""
    return float(hausdorff_distance(LinearRing(a), LinearRing(b)))


def across(blank: Blank, ring: Ring) -> Ring:
    return tuple((blank.width - u, v) for u, v in ring)


def along(blank: Blank, ring: Ring) -> Ring:
    return tuple((u, blank.height - v) for u, v in ring)


@settings(max_examples=600)
@given(jobs)
def test_a_mirrored_job_gives_mirrored_blanks(site: Site) -> None:
    layout, detail, here = worked_out(site)
    _, _, there = worked_out(mirrored(site))
    assert sorted(there) == sorted(twin(i, layout, detail) for i in here)
    for id_, made in here.items():
        other = there[twin(id_, layout, detail)]
        assert (made.blank is None) == (other.blank is None)
        if made.blank is None or other.blank is None or "cricket" in id_:
            continue  # the right half of a cricket folds over the left one, in the mirror too
        assert made.blank.area == pytest.approx(other.blank.area, abs=EXACT)
        # Mirrored across, or along where the blank's long way runs with the slope; never turned over.
        flips = [
            f for f in (across, along) if far_apart(f(made.blank, made.blank.outline), other.blank.outline) < EXACT
        ]
        assert flips, id_
        assert len(made.blank.cuts) == len(other.blank.cuts)
        for flip in flips:
            if all(
                any(far_apart(flip(made.blank, h), g) < 0.01 for g in other.blank.holes) for h in made.blank.holes
            ):
                break
        else:
            pytest.fail(f"{id_}: its holes are not mirrored with it")
        assert sorted((b.kind, b.way, round(b.angle_deg, 6)) for b in made.bends) == sorted(
            (b.kind, b.way, round(b.angle_deg, 6)) for b in other.bends
        )


@settings(max_examples=600)
@given(jobs)
def test_a_mirrored_job_gives_mirrored_panels(site: Site) -> None:
    layout, detail, here = worked_out(site)
    eave = site.roof.eave
    other_layout, _, there = worked_out(mirrored(site))
    assert other_layout.ribs == pytest.approx(tuple(eave - x for x in reversed(layout.ribs)), abs=EXACT)
    for id_, made in here.items():
        if not isinstance(made, RoofPanel):
            continue
        other = there[twin(id_, layout, detail)]
        assert isinstance(other, RoofPanel)
        assert (other.role, other.length) == (made.role, pytest.approx(made.length, abs=EXACT))
        seen = Polygon([(eave - x, y) for x, y in made.outline])
        assert seen.symmetric_difference(Polygon(other.outline)).area < EXACT * 1000
        cuts = sorted((n.cut, round(eave - n.rib, 6), round(n.from_y, 6), round(n.to_y, 6)) for n in made.notches)
        assert cuts == sorted((n.cut, round(n.rib, 6), round(n.from_y, 6), round(n.to_y, 6)) for n in other.notches)


def test_looking_twice_into_the_mirror_gives_the_job_back() -> None:
    site = chimney()
    assert mirrored(mirrored(site)) == site
    assert worked_out(mirrored(mirrored(site)))[2] == worked_out(site)[2]


def test_the_worked_chimney_is_laid_from_the_other_hand_in_the_mirror() -> None:
    # Left rib 78 is 288 - 78 = 210 in the mirror; its notch was the lap-lock of a panel laid from the left.
    _, detail, _ = worked_out(mirrored(chimney()))
    assert [(n.rib, n.cut) for n in detail.openings[0].notches] == [(156.0, "outer-leg"), (210.0, "lap-lock")]
