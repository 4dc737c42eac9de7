"""Small pieces that close what the big ones leave open: closures under the apron, plugs, backing plates."""

from __future__ import annotations

import pytest

from chimney import changed, chimney, worked
from lapwright.metal.model import Body, Piece
from lapwright.site.model import Site


def body(site: Site, id_: str) -> Body:
    found = worked(site)[1][id_].body
    assert found is not None
    return found


def middle(made: Body) -> tuple[float, float]:
    (face,) = made.faces
    return sum(p[0] for p in face.corners) / 4, sum(p[1] for p in face.corners) / 4


def test_closures_fill_the_gaps_between_the_rib_faces_under_a_raised_apron() -> None:
    # Chimney 92 to 118, ribs 96 and 114; a face and half the gap, 3/8, to each side of a rib.
    spans = []
    for k in (1, 2, 3):
        web = body(chimney(), f"1-closure-apron-{k}").face("web").corners
        spans.append((min(p[0] for p in web), max(p[0] for p in web)))
        # Its head's upper side carries the flange at rib height: 1.75 less its own metal.
        assert max(p[2] for p in web) == pytest.approx(1.75 - 0.0255)
    assert spans == [(92.0, 95.625), (96.375, 113.625), (114.375, 118.0)]


def test_folded_ribs_need_no_closures() -> None:
    assert not [i for i in worked(changed(chimney(), seam="double-fold"))[1] if "closure" in i]


def test_each_interrupted_rib_gets_a_plug_above() -> None:
    plug = worked(chimney())[1]["1-closure-rib"]
    assert isinstance(plug, Piece)
    assert plug.quantity == 2


def test_a_backing_plate_lies_under_each_turn_of_the_hem() -> None:
    plate = worked(chimney())[1]["1-backing-plate"]
    assert isinstance(plate, Piece)
    assert plate.quantity == 2
    # The left one, 3 wide, about the finished edge's vertex at 92.4909, 110.75.
    assert middle(body(chimney(), "1-backing-plate")) == pytest.approx((92.4909, 110.75), abs=1e-4)


def test_a_crickets_apex_plate_is_found_though_both_slants_differ_by_a_hair() -> None:
    # In this bay two runs on the left turn by less than 0.01 degree and are merged; left and right slants, 46.07
    # degrees, then differ in the last digits, and the finished edge turns a hair beside the ridge at
    # 70.125 + 33.25 / 2 = 86.75.
    site = changed(
        chimney("square"), kind="curb", rise=3.3452306713771627, eave=149.9375, slope=256.25, coverage=14.0,
        rib_height=2.0, seam="single-fold", first_rib=1.9375, left=70.125, up=79.5625, width=33.25, length=21.6875,
        height=40.0, method="auto",
    )  # fmt: skip
    assert worked(site)[0].detail.openings[0].method == "cricket"
    x, _ = middle(body(site, "1-apex-plate"))
    assert abs(x - 86.75) < 0.001
