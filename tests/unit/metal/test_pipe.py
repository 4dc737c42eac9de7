"""Round pipes: hole, sleeve, collar, plates and hood. Numbers worked by hand from the circle and the slope."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lapwright.detail.pipe import hole_of
from lapwright.job import Job
from lapwright.metal.develop import develop, fold
from lapwright.metal.model import Curve, Piece
from lapwright.metal.sleeve import element, ordinates
from lapwright.site.model import Defaults, Opening, Panel, Roof, Site

SIX = math.atan2(6, 12)


def site(rise: float = 6.0, diameter: float = 4.0, left: float = 73.0, **more: object) -> Site:
    """A pipe in the bay between the ribs at 63 and 81, unless it is moved."""
    measures = Defaults(**more.pop("measures", {}))  # type: ignore[arg-type]
    kept = {"kind": "pipe", "height": 60.0, "face": "plumb", **more}
    pipe = Opening(
        name="vent", left=left, up=66.0, width=diameter, length=diameter, diameter=diameter, measures=measures, **kept
    )  # type: ignore[arg-type]
    return Site("Shed", "in", Roof(rise, 144.0, 132.0), Panel(18.0, 1.75, first_rib=9.0), openings=(pipe,))


def made(of: Site) -> dict[str, Piece]:
    return {p.id: p for p in Job(of).pieces}


def fold_curve(piece: Piece) -> Curve:
    return next(c for c in piece.blank.curves if c.role == "fold")


def test_the_hole_is_the_pipe_across_and_the_pipe_over_the_cosine_along() -> None:
    # 4 at 6:12: cos = 12 / sqrt(180) = 0.894427; 4 / 0.894427 = 4.4721.
    assert hole_of(4.0, SIX) == pytest.approx((4.0, 4.4721), abs=1e-4)


def test_ordinates_of_a_2_in_cylinder_at_6_in_12() -> None:
    # y = 2 (1 - cos phi) / 2 = 1 - cos phi, every 30 degrees: 0, 1 - 0.8660, 0.5, 1, 1.5, 1.8660, 2.
    got = [y for _, y in ordinates(2.0, SIX, 12)[:7]]
    assert got == pytest.approx([0.0, 0.1340, 0.5, 1.0, 1.5, 1.8660, 2.0], abs=1e-4)


def test_a_cones_elements_meet_the_plane() -> None:
    # Apex 10 up, half angle 15, slope tan 1/2. At azimuth 0 the element's end is s sin 15 off the axis and
    # 10 - s cos 15 up; it lies on the plane where 10 - s cos 15 = (s sin 15) / 2: s = 10 / (0.965926 + 0.129410).
    assert element(10.0, math.radians(15), SIX, 0.0) == pytest.approx(10 / 1.095335, abs=1e-5)
    assert element(10.0, math.radians(15), SIX, math.pi) == pytest.approx(10 / 0.836516, abs=1e-5)


def test_a_sleeves_blank_is_its_girth_and_its_lap_wide() -> None:
    # Middle surface 2 + 1/8 + 0.0255 / 2 = 2.13775; girth 13.4319, lap 3/4.
    blank = made(site())["1-sleeve"].blank
    assert blank.width == pytest.approx(2 * math.pi * 2.13775 + 0.75, abs=1e-6)
    # Longest element: 8 / cos + 2.125 tan = 10.0068 along the axis, and 2.13775 tan = 1.0689 more; tabs 3/4.
    assert blank.height == pytest.approx(8 / math.cos(SIX) + 2.125 / 2 + 2.13775 / 2 + 0.75, abs=1e-6)


def rolled_back(piece: Piece, of: Site) -> list[tuple[float, float, float]]:
    """The fold line of a cylinder's blank rolled round its pipe, in the roof's frame."""
    pipe = Job(of).detail.openings[0].pipe
    assert pipe is not None
    blank, curve = piece.blank, fold_curve(piece)
    radius = (blank.width - Defaults().sleeve_lap) / (2 * math.pi)
    out = []
    for u, v in curve.points:
        turn = math.pi + u / radius
        along = pipe.height - (blank.height - v)
        level, axis = (math.cos(pipe.lean), -math.sin(pipe.lean)), (math.sin(pipe.lean), math.cos(pipe.lean))
        off = radius * math.cos(turn)
        out.append((radius * math.sin(turn), off * level[0] + along * axis[0], off * level[1] + along * axis[1]))
    return out


@settings(max_examples=10, deadline=None)
@given(rise=st.floats(0.25, 16), diameter=st.floats(1, 10))
def test_rolling_a_sleeve_lands_its_foot_on_the_plate(rise: float, diameter: float) -> None:
    roof = site(rise, diameter, left=72.0)
    pieces = made(roof)
    if "1-sleeve" not in pieces:
        return
    assert max(abs(z) for _, _, z in rolled_back(pieces["1-sleeve"], roof)) < 0.001


def test_a_pipe_square_to_the_roof_has_a_rectangle_for_a_sleeve() -> None:
    sleeve = made(site(face="square"))["1-sleeve"]
    assert {round(v, 9) for _, v in fold_curve(sleeve).points} == {0.75}
    # Its hole is round.
    assert made(site(face="square"))["1-base-plate"].blank.holes[0]
    job = Job(site(face="square"))
    pipe = job.detail.openings[0].pipe
    assert pipe is not None and pipe.across == pipe.along == 4.0


def test_the_plates_hole_is_a_true_ellipse_in_the_blank() -> None:
    (hole,) = made(site())["1-base-plate"].blank.holes
    us, vs = [p[0] for p in hole], [p[1] for p in hole]
    assert (max(us) - min(us), max(vs) - min(vs)) == pytest.approx((4.0, 4.4721), abs=1e-4)
    # Chord error: the ellipse of a quarter of the way round, and every chord's middle within 0.001 of it.
    x, y = (max(us) + min(us)) / 2, (max(vs) + min(vs)) / 2
    for (a, b), (c, d) in zip(hole, (*hole[1:], hole[0]), strict=True):
        u, v = ((a + c) / 2 - x) / 2.0, ((b + d) / 2 - y) / 2.23607
        assert 1 - math.hypot(u, v) < 0.001 / 2


def test_a_plate_fills_its_pan() -> None:
    # Ribs at 63 and 81, faces 5/16, gaps 1/8: 17 1/8. The hole, 6 below it and 12 (6:12) above.
    plate = made(site())["1-base-plate"]
    flat = list(plate.body.faces[0].corners) if plate.body else []
    assert max(p[0] for p in flat) - min(p[0] for p in flat) == pytest.approx(17.125)
    assert max(p[1] for p in flat) - min(p[1] for p in flat) == pytest.approx(6 + 4.472136 + 12, abs=1e-6)


@pytest.mark.parametrize("left", [73.0, 80.0, 82.5])
def test_folding_plates_and_hoods_gives_them_back(left: float) -> None:
    for piece in made(site(left=left)).values():
        if piece.kind in ("base-plate", "rib-hood", "hook-strip") and piece.body is not None:
            for face, corners in fold(develop(piece.body)).items():
                for got, asked in zip(corners, piece.body.face(face).corners, strict=True):
                    assert math.dist(got, asked) < 0.001


def test_a_rib_3_off_the_rim_runs_past_and_a_nearer_one_is_cut() -> None:
    # The rib at 81: a rim at 78 leaves just 3.
    clear, near = Job(site(left=76.0)).detail.openings[0], Job(site(left=76.0625)).detail.openings[0]
    assert (clear.method, clear.bay.interrupted) == ("sleeve", ())
    assert (near.method, near.bay.interrupted) == ("split-plate", (81.0,))
    assert "1-rib-hood" in made(site(left=76.0625)) and "1-rib-hood" not in made(site(left=76.0))


def test_halves_of_a_split_plate_lap_4_in_at_the_pipes_middle() -> None:
    pieces = made(site(left=80.0))
    low, high = (pieces[f"1-base-plate-{w}"].body for w in ("downslope", "upslope"))
    assert low is not None and high is not None
    top, foot = max(p[1] for p in low.faces[0].corners), min(p[1] for p in high.faces[0].corners)
    assert (top, foot) == pytest.approx((68.0, 64.0))


def test_a_pipe_mirrored_gives_mirrored_metal() -> None:
    # 144 wide: a pipe at 71 with ribs from 9 is the mirror of one at 73 (ribs at 63 and 81 about 72).
    one, other = made(site(left=73.0)), made(site(left=71.0))
    for name in ("1-base-plate", "1-sleeve", "1-storm-collar"):
        assert one[name].blank.area == pytest.approx(other[name].blank.area)
    wide = one["1-base-plate"].blank.width
    xs = [sorted(round(u, 6) for u, _ in p["1-base-plate"].blank.holes[0]) for p in (one, other)]
    assert xs[0][0] == pytest.approx(wide - xs[1][-1], abs=1e-5)


def test_a_storm_collar_is_a_sector_of_its_cone() -> None:
    # Half angle 60: inner edge (2 + 0.01275) / sin 60 = 2.32412 from the apex, 2 wide.
    collar = made(site())["1-storm-collar"]
    apex_to_outer = 2.01275 / math.sin(math.radians(60)) + 2.0
    turn = 2 * math.pi * math.sin(math.radians(60))
    lap = 0.75 / (apex_to_outer - 2.0)
    area = (turn + lap) / 2 * (apex_to_outer**2 - (apex_to_outer - 2.0) ** 2)
    assert collar.blank.area == pytest.approx(area, rel=1e-3)


@settings(max_examples=6, deadline=None)
@given(
    rise=st.floats(0.5, 18),
    diameter=st.floats(1, 24),
    left=st.floats(14, 130),
    hot=st.booleans(),
    cone=st.booleans(),
    folded=st.booleans(),
)
def test_random_pipes_plan_or_say_why(
    rise: float, diameter: float, left: float, hot: bool, cone: bool, folded: bool
) -> None:
    roof = site(rise, diameter, left, hot=hot, measures={"sleeve": "cone" if cone else "cylinder"})
    if folded:
        roof = replace(roof, panel=replace(roof.panel, seam="double-fold", fixing="clip"))
    job = Job(roof)
    assert job.steps and job.takeoff is not None
    d = job.detail.openings[0]
    stops = [f.rule for f in job.findings if f.stops]
    assert d.planned or d.why in stops
    assert not d.planned or not [s for s in stops if s.startswith("leak.")], stops


def test_the_cutting_file_has_the_sleeves_foot_as_a_spline_through_its_exact_points() -> None:
    import io

    import ezdxf

    from lapwright.draw.dxf import blank_to_dxf

    sleeve = made(site())["1-sleeve"]
    drawing = ezdxf.read(io.StringIO(blank_to_dxf("1-sleeve", sleeve.blank, (), "in").decode()))
    (spline,) = (e for e in drawing.modelspace() if e.dxftype() == "SPLINE" and e.dxf.layer == "MARK")
    radius = (sleeve.blank.width - 0.75) / (2 * math.pi)
    # v = tab + r (1 - cos) tan, the seam's element the longest: 0.75 at u = 0.
    for p in spline.construction_tool().approximate(500):
        assert p.y == pytest.approx(0.75 + radius * (1 - math.cos(p.x / radius)) / 2, abs=1e-5)
    assert not drawing.audit().errors
