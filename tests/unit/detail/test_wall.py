"""Framed walls that stand on the plane on all four sides: what they get, and what they are not taken for."""

from __future__ import annotations

from pathlib import Path

import pytest

from chimney import changed, chimney, worked
from lapwright.detail.framing import clearance_of
from lapwright.job import Job, run
from lapwright.metal.counterflashing import span
from lapwright.metal.work import at_bench
from lapwright.packet.cautions import cautions_for
from lapwright.site.read import read_job

STAIR_HEAD = Path(__file__).parents[3] / "examples" / "stair-head" / "job.toml"


def stair_head() -> Job:
    return run(read_job(STAIR_HEAD.read_text(encoding="utf-8"), "job.toml"))


@pytest.mark.parametrize("method", ["flat-pan", "cricket"])
def test_a_wall_is_flashed_as_a_framed_chimney_is_piece_by_piece(method: str) -> None:
    kinds = ("wall", "framed-chimney")
    wall, framed = (worked(changed(chimney(), kind=k, method=method, slope=260.0))[1] for k in kinds)
    assert {k: p.blank for k, p in wall.items()} == {k: p.blank for k, p in framed.items()}


def test_its_counterflashing_goes_behind_the_water_resistive_layer() -> None:
    job = stair_head()
    # Upstand 8, hem 4 below its edge; 1 of wall shown above it and 2 behind the layer: 4 to 11.
    got = span(at_bench(job.site, job.detail.openings[0]))
    assert (got.low, got.high) == (4.0, 11.0)
    faces = [p.body.faces for p in job.pieces if p.kind == "counterflashing" and p.body is not None]
    assert len(faces) == 4
    assert all(f.name != "leg" for fs in faces for f in fs), "no leg in a reglet or under a frame"
    (step,) = [s for s in job.steps if s.title == "steps.counterflashing.title"]
    assert step.does == ("steps.counterflashing.framed",)


def test_half_of_its_upslope_face_adds_to_the_rain_behind_it() -> None:
    water = stair_head().detail.openings[0].water
    assert water is not None
    # Level run above the wall: (240 - 118) cos 30.256 = 122 x 12 / sqrt(193) = 105.381, half of 60 of wall: 30.
    # 8 in/h on 44 x 135.381 = 47654 cu in an hour; a gallon is 231 cu in: 3.438 a minute.
    assert water.supply_gpm == pytest.approx(3.438, abs=0.001)


def test_its_cricket_is_half_its_width_times_the_slope_high() -> None:
    cricket = stair_head().detail.openings[0].cricket
    assert cricket is not None
    # 44/2 x 7/12 = 12.833 plumb; ridge 12.833 / (7/12) = 22 level.
    assert cricket.height == pytest.approx(12.8333, abs=1e-4)
    assert cricket.ridge_plan == pytest.approx(22.0, abs=1e-9)


def test_nothing_is_said_of_flues_reglets_or_clearances() -> None:
    job = stair_head()
    assert clearance_of("wall") == 0.0
    keys = {c.key for c in cautions_for(job)}
    assert not keys & {"packet.caution.hot_flue", "packet.caution.silica", "packet.caution.stone"}
    assert [f.rule for f in job.findings if f.level != "note"] == ["wall.own-roof"]


def test_a_wall_too_low_for_upstand_and_lap_is_said() -> None:
    # Square to the roof 8 of upstand, 1 shown, 2 behind the layer: 11, so a square wall 10 15/16 high falls short.
    def asked(height: float) -> list[str]:
        return [f.rule for f in run(changed(chimney("square"), kind="wall", height=height)).findings]

    assert "upstand.wall" in asked(10.9375)
    assert "upstand.wall" not in asked(11.0625)


def test_a_wall_that_runs_into_the_upper_edge_stops_the_job() -> None:
    # 69 + 34 = 103: no roof is left behind it for a pan and the panels above.
    job = run(changed(chimney(), kind="wall", slope=103.0))
    assert [f.rule for f in job.findings if f.stops] == ["room.upslope"]
    assert not job.pieces


@pytest.mark.parametrize(("kind", "burns"), [("wall", False), ("curb", False), ("masonry-chimney", True)])
def test_only_a_chimneys_cricket_is_a_fire_question(kind: str, burns: bool) -> None:
    job = run(changed(chimney(), kind=kind, method="cricket", slope=260.0))
    (step,) = [s for s in job.steps if "steps.cricket.framing" in s.title]
    assert (step.caution is not None) == burns
