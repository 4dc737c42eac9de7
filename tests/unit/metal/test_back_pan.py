"""The back pan's blank redrawn by hand, for a plumb and for a square face: the chimney of docs/worked-case.md.

Metal: t 0.0255, r 0.051, neutral line at r + K t = 0.051 + 0.4002575 x 0.0255 = 0.0612066.
Bends used (deduction = 2 setback - allowance):

    turn   where             setback                          allowance                       deduction
    87.5   turn-up           0.0765 tan 43.75  = 0.073235     1.527163 x 0.0612066 = 0.093472 0.052997
    120.2564 plumb tongue    0.0765 tan 60.128 = 0.133189     2.098870 x 0.0612066 = 0.128465 0.137913
    90     square tongue     0.0765                           1.570796 x 0.0612066 = 0.096143 0.056857
    90     tab, down         0.051                            0.096143                        0.005857

    closed hem 1/2, in the flat: 0.5 - (0.051 - pi x 0.01275) = 0.489055
    open hem 1/2 over 2 t: r = t, K 0.325, allowance pi x 0.0337875 = 0.106147: 0.5 - (0.102 - 0.106147) = 0.504147

u = x - 78.4375 + 1.447003 (turn-up 1 1/2 less 0.052997). v is counted from the tongue's end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import pytest
from shapely import LinearRing, Point, Polygon

from chimney import changed, chimney, worked
from lapwright.metal.develop import develop
from lapwright.metal.model import Piece
from lapwright.site.model import Site

Flat = tuple[float, float]
CLOSE = 2e-4


@dataclass(frozen=True)
class ByHand:
    """One pan drawn by hand: left half of the outline in order, the right half mirrors it about u = 28.0095."""

    face: str
    turn: float
    left_half: tuple[Flat, ...]
    cut: tuple[Flat, Flat, Flat]
    tongue_bend: float
    width: float
    height: float


# Across, the same for both: hem's end 1.4470 + 0.25 = 1.6970; cut 92 - 78.4375 + 1.4470 = 15.0095;
# leg 15.0095 - 0.625 = 14.3845; tab's edge 15.0095 - (0.096143 + 0.5 - 0.051) = 15.0095 - 0.5451 = 14.4644.
# Width 53.125 + 2 x 1.447003 = 56.0190; the middle line lies at 28.0095.
#
# Plumb. Foot of the wall's fold 103 + 0.051 / 0.863779 = 103.0590; tongue 8 / 0.863779 = 9.2616;
# v of y: y - (103.0590 + 0.1379 - 9.2616) = y - 93.9353. Leg's end 96 -> 2.0647, less its hem 0.4891 -> 1.5756.
# Near tangent 103.0590 + 0.1332 -> 9.2569; far 9.2569 - 0.1285 = 9.1284; half-way 9.1927.
# 45 degrees down from (15.0095, 9.1284): at the leg 9.1284 - 0.625 = 8.5034, at the tab's edge 9.1284 - 0.5451,
# 8.5833.
# Upslope end 115 -> 21.0647, with its hem 21.0647 + 0.5041 = 21.5688.
PLUMB = ByHand(
    "plumb",
    120.2564,
    (
        (0.0, 21.0647),
        (0.0, 2.0647),
        (1.6970, 2.0647),
        (1.6970, 1.5756),
        (14.3845, 1.5756),
        (14.3845, 8.5034),
        (14.4644, 8.5833),
        (14.4644, 0.0),
    ),
    ((15.0095, 9.2569), (15.0095, 9.1284), (14.4644, 8.5833)),
    9.1927,
    56.0190,
    21.5688,
)
# Square. Foot 103.051, tongue 8; v of y: y - (103.051 + 0.056857 - 8) = y - 95.1079. Leg's end 96 -> 0.8921, less
# its hem 0.4031.
# Near 103.051 + 0.0765 -> 8.0196; far 8.0196 - 0.0961 = 7.9235; half-way 7.9716. Leg 7.9235 - 0.625 = 7.2985,
# tab 7.9235 - 0.5451 = 7.3784. Upslope end 19.8921, with hem 20.3963.
SQUARE = ByHand(
    "square",
    90.0,
    (
        (0.0, 19.8921),
        (0.0, 0.8921),
        (1.6970, 0.8921),
        (1.6970, 0.4031),
        (14.3845, 0.4031),
        (14.3845, 7.2985),
        (14.4644, 7.3784),
        (14.4644, 0.0),
    ),
    ((15.0095, 8.0196), (15.0095, 7.9235), (14.4644, 7.3784)),
    7.9716,
    56.0190,
    20.3963,
)
CASES = pytest.mark.parametrize("drawn", [PLUMB, SQUARE], ids=["plumb", "square"])


def pan(site: Site) -> Piece:
    found = worked(site)[1]["1-back-pan"]
    assert isinstance(found, Piece)
    return found


def across(p: Flat, width: float) -> Flat:
    return (width - p[0], p[1])


def whole(drawn: ByHand) -> list[Flat]:
    """The hand-drawn outline: left half down, right half up, and the water-stop hem between turn-ups."""
    hem = [(drawn.width - 1.6970, drawn.height), (1.6970, drawn.height)]
    ends = [(drawn.width - 1.6970, drawn.left_half[0][1]), *hem, (1.6970, drawn.left_half[0][1])]
    return [*drawn.left_half, *(across(p, drawn.width) for p in reversed(drawn.left_half)), *ends]


def same_corners(a: list[Flat], b: tuple[Flat, ...]) -> bool:
    return len(a) == len(b) and all(min(math.dist(p, q) for q in b) < CLOSE for p in a)


@CASES
def test_the_outline_is_the_one_drawn_by_hand(drawn: ByHand) -> None:
    blank = pan(chimney(drawn.face)).blank
    hand = whole(drawn)
    assert same_corners(hand, blank.outline)
    # The same corners in the same order: the two outlines enclose the same metal.
    assert Polygon(hand).symmetric_difference(Polygon(blank.outline)).area < 0.01
    assert (drawn.width, drawn.height) == pytest.approx((blank.width, blank.height), abs=CLOSE)


@CASES
def test_each_cut_runs_down_from_its_stop_hole_and_out_at_45_degrees(drawn: ByHand) -> None:
    cuts = [frozenset(c) for c in pan(chimney(drawn.face)).blank.cuts]
    assert len(cuts) == 4
    near, far, tab = drawn.cut
    for hand in (lambda p: p, lambda p: across(p, drawn.width)):
        for a, b in ((near, far), (far, tab)):
            assert any(all(min(math.dist(hand(p), q) for q in c) < CLOSE for p in (a, b)) for c in cuts)
    assert far[0] - tab[0] == pytest.approx(far[1] - tab[1], abs=CLOSE)


@CASES
def test_an_eighth_inch_hole_stops_each_cut_at_the_near_tangent_line(drawn: ByHand) -> None:
    holes = pan(chimney(drawn.face)).blank.holes
    for (u, v), hole in zip((drawn.cut[0], across(drawn.cut[0], drawn.width)), sorted(holes), strict=True):
        assert Polygon(hole).centroid.distance(Point(u, v)) < CLOSE
        assert max(p[0] for p in hole) - min(p[0] for p in hole) == pytest.approx(0.125, abs=0.001)


@CASES
def test_every_bend_has_its_place_its_angle_and_its_way(drawn: ByHand) -> None:
    bends = {b.id: b for b in pan(chimney(drawn.face)).bends}
    up, down = "up", "down"
    leg, top = drawn.left_half[1][1], drawn.left_half[0][1]
    # Turn-up: 1.4470 + 0.0732 - 0.0935 / 2 = 1.4735. Tab: 15.0095 - 0.0961 / 2 = 14.9614.
    # A closed hem's bend lies t - pi t / 4 = 0.0255 - 0.0200 = 0.0055 inside its fold's edge; the open one's
    # 0.051 - 0.106147 / 2 = -0.0021, outside it.
    wanted = {
        "base/tongue": ((15.0095, drawn.tongue_bend), (41.0095, drawn.tongue_bend), drawn.turn, up),
        "base/turn-up left": ((1.4735, leg), (1.4735, top), 87.5, up),
        "base/turn-up right": ((54.5455, leg), (54.5455, top), 87.5, up),
        "base/leg hem left": ((1.6970, leg + 0.0055), (14.3845, leg + 0.0055), 180.0, down),
        "base/leg hem right": ((41.6345, leg + 0.0055), (54.3220, leg + 0.0055), 180.0, down),
        "base/water-stop hem": ((1.6970, top + 0.0021), (54.3220, top + 0.0021), 180.0, up),
    }
    for name, (a, b, angle, way) in wanted.items():
        bend = bends[name]
        ends = sorted((bend.start, bend.end))
        assert max(math.dist(a, ends[0]), math.dist(b, ends[1])) < CLOSE, name
        assert (angle, way) == (pytest.approx(bend.angle_deg, abs=1e-4), bend.way), name
    for name, u in (("tongue/tab left", 14.9614), ("tongue/tab right", 41.0576)):
        assert (u, u) == pytest.approx((bends[name].start[0], bends[name].end[0]), abs=CLOSE)
        assert (90.0, down) == (pytest.approx(bends[name].angle_deg), bends[name].way)
    assert len(bends) == 8


@CASES
def test_hems_come_first_tabs_before_the_tongue_that_carries_them(drawn: ByHand) -> None:
    # The habit's numbers, as developed; the job's piece has those of the order that was found (test_folds).
    body = pan(chimney(drawn.face)).body
    assert body is not None
    order = {b.id: b.order for b in develop(body).bends}
    assert {1, 2, 3} == {n for name, n in order.items() if "hem" in name}
    assert max(order["tongue/tab left"], order["tongue/tab right"]) < order["base/tongue"]


def test_the_hems_are_closed_at_the_legs_and_open_at_the_water_stop() -> None:
    kinds = {b.id: (b.kind, b.radius) for b in pan(chimney()).bends}
    assert kinds["base/leg hem left"] == ("closed-hem", 0.0)
    # A gap of two sheets: inside radius t = 0.0255.
    assert kinds["base/water-stop hem"] == ("open-hem", pytest.approx(0.0255))


@CASES
def test_the_blanks_area_comes_from_its_outline_drawn_by_hand(drawn: ByHand) -> None:
    # Shoelace over the hand-drawn corners, less two 1/8 holes: 2 x pi/4 x 0.125^2 = 0.0245.
    piece = pan(chimney(drawn.face))
    area = Polygon(whole(drawn)).area - 0.0245
    assert area == pytest.approx(piece.blank.area, abs=0.02)
    # 24 ga Al-Zn coated steel weighs 1.031 lb to the square foot.
    assert area / 144 * 1.031 == pytest.approx(piece.weight_lb, abs=0.001)


@pytest.mark.parametrize("rise", [1.0, 3.0, 7.0, 12.0, 18.0])
@pytest.mark.parametrize("face", ["plumb", "square"])
def test_the_outline_never_crosses_itself(rise: float, face: str) -> None:
    blank = pan(changed(chimney(face), rise=rise)).blank
    assert LinearRing(blank.outline).is_simple


def test_only_a_curb_as_high_as_the_upstand_gets_a_return_over_its_top() -> None:
    # The return goes over the curb, away from the paint: 1 less the deduction of a bend down, 0.102 - 0.096143.
    curb = changed(chimney("square"), kind="curb", height=8.0)
    higher = changed(curb, height=9.0)
    bends = {b.id: b.way for b in pan(curb).bends}
    assert bends["tongue/return"] == "down"
    assert pan(higher).blank.height + 1 - 0.005857 == pytest.approx(pan(curb).blank.height, abs=1e-4)
    for site in (higher, changed(curb, kind="masonry-chimney"), changed(curb, kind="curb", face="plumb")):
        assert "tongue/return" not in {b.id for b in pan(site).bends}


def test_a_wall_lower_than_the_upstand_gets_a_tongue_no_higher_than_itself() -> None:
    # 5 high, square: tongue 5, so its end lies at y 103.051 + 0.0569 - 5 = 98.1079, and the legs' hems at
    # 96 - 0.489055 = 95.5109 are now the blank's lower edge: 115 + 0.504147 - 95.5109 = 19.9932.
    low = pan(changed(chimney("square"), height=5.0))
    assert low.blank.height == pytest.approx(19.9932, abs=CLOSE)
    assert tuple(p[2] for p in tongue(low) if p[2] > 1) == pytest.approx((5.0, 5.0), abs=1e-9)


def tongue(piece: Piece) -> tuple[tuple[float, float, float], ...]:
    assert piece.body is not None
    return piece.body.face("tongue").corners
