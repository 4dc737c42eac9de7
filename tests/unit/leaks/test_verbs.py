"""`lapwright leaks` and `lapwright water`: what they print, their JSON, their exit codes and their drawings."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from lapwright.draw.display import SMALLEST_TEXT, Text
from lapwright.draw.leaks import draw_leaks
from lapwright.job import Job, run
from lapwright.site.model import Deviation
from lapwright.site.read import read_job
from lapwright.words import Speaker
from leaking import EXAMPLES, examples

Run = Callable[..., Any]
KILN = EXAMPLES / "kiln-shed" / "job.toml"
MALT = EXAMPLES / "malt-house" / "job.toml"


@pytest.fixture
def spoilt(tmp_path: Path) -> Path:
    """The kiln shed with its corners left open."""
    path = tmp_path / "spoilt.toml"
    feared = '\n[[deviation]]\nopening = "flue stack"\nwhat = "open-corner"\n'
    path.write_text(KILN.read_text(encoding="utf-8") + feared, encoding="utf-8")
    return path


def test_sound_work_leaves_with_0_and_says_what_its_ratings_rest_on(lapwright: Run) -> None:
    ran = lapwright("leaks", KILN)
    said = " ".join(ran.out.split())
    assert (ran.code, ran.err) == (0, "")
    for part in ("standing water:", "running water:", "rests on", "(assumed)", "metal alone", "raises it", "60 mph"):
        assert part in said
    assert "Only an upturn's own height has public tests" in said


def test_spoilt_work_leaves_with_3_and_names_the_place(spoilt: Path, lapwright: Run) -> None:
    ran = lapwright("leaks", spoilt)
    said = " ".join(ran.out.split())
    assert ran.code == 3
    assert "open-corner" in said
    assert "standing water: a way in is open as it is" in said
    assert "raises it most: a corner patch there" in said
    assert re.search(r"back face", said)
    # What is open is not uncertain.
    assert "uncertain" not in said


def test_a_job_that_cannot_be_read_leaves_with_2(tmp_path: Path, lapwright: Run) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text('[job]\nname = "x"\nunits = "ells"\n', encoding="utf-8")
    for verb in ("leaks", "water"):
        ran = lapwright(verb, bad)
        assert (ran.code, ran.out) == (2, "")
        assert "bad.toml:3" in ran.err
        assert "Traceback" not in ran.err


def test_json_is_json_alone_and_agrees_with_the_plan(lapwright: Run, tmp_path: Path) -> None:
    record = json.loads(lapwright("leaks", KILN, "--json").out)
    (told,) = record["openings"]
    lapwright("plan", KILN, "--out", tmp_path / "packet")
    plan = json.loads((tmp_path / "packet" / "plan.json").read_text(encoding="utf-8"))
    for how in ("standing", "running"):
        assert told[how]["head"] == pytest.approx(plan["openings"][0]["leaks"][how]["head"], abs=1e-5)
        assert max(s["head"] for s in told[how]["seams"]) == told[how]["head"]
    assert told["against_flow"] == told["open_laps"] == []


def test_behind_a_cricket_only_running_water_is_told(lapwright: Run) -> None:
    (told,) = json.loads(lapwright("leaks", MALT, "--json").out)["openings"]
    assert told["standing"] is None
    assert "standing water" not in lapwright("leaks", MALT).out


def test_without_says_what_a_seam_is_there_for(lapwright: Run) -> None:
    ran = lapwright("leaks", KILN, "--without", "back-pan/side-wall")
    said = " ".join(ran.out.split())
    assert ran.code == 0
    assert "with it, standing water needs" in said
    assert 'without it, 1/2": in under the back pan, over the side-wall flashing' in said


def test_without_something_that_is_not_there_names_what_is(lapwright: Run) -> None:
    ran = lapwright("leaks", KILN, "--without", "duct tape")
    assert (ran.code, ran.out) == (2, "")
    assert "duct tape" in ran.err
    assert "back-pan/side-wall" in ran.err


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("beed", "bead"), ("backpan/sidewall", "back-pan/side-wall"), ("corner-patches", "corner-patch")],
)
def test_a_slip_of_the_pen_is_answered_with_what_was_meant(typed: str, meant: str, lapwright: Run) -> None:
    ran = lapwright("leaks", KILN, "--without", typed)
    assert (ran.code, ran.out) == (2, "")
    assert f"did you mean {meant}?" in ran.err


@pytest.mark.parametrize(
    ("typed", "name"),
    [("Tape", "tape"), ("Back Pan / side wall", "back-pan/side-wall"), ("corner_patch", "corner-patch")],
)
def test_a_name_may_be_typed_as_it_is_spoken(typed: str, name: str, lapwright: Run) -> None:
    assert json.loads(lapwright("leaks", KILN, "--without", typed, "--json").out)["without"] == name


def test_an_opening_that_is_not_worked_out_is_said_and_leaves_as_plan_does(lapwright: Run) -> None:
    low = EXAMPLES / "must-stop-low-curb" / "job.toml"
    ran = lapwright("leaks", low)
    assert (ran.code, ran.err) == (3, "")
    assert "not worked out" in ran.out
    record = json.loads(lapwright("leaks", low, "--json").out)
    assert (record["openings"], len(record["not_worked_out"])) == ([], 1)
    asked = lapwright("leaks", low, "--without", "bead")
    assert (asked.code, asked.out) == (2, "")
    assert "lapwright plan" in asked.err


def test_a_job_in_millimetres_names_its_changes_in_millimetres(lapwright: Run) -> None:
    said = " ".join(lapwright("leaks", EXAMPLES / "orchard-studio" / "job.toml").out.split())
    assert "25.4 mm longer each way" in said
    assert not re.search(r"\d in\b", said)


@pytest.mark.parametrize("without", ["bead", "side-wall/apron", "counterflashing"])
def test_without_as_json(without: str, lapwright: Run) -> None:
    record = json.loads(lapwright("leaks", KILN, "--without", without, "--json").out)
    assert record["without"] == without
    heads = record["openings"][0]["heads_with_and_without"]
    assert any(after < before for before, after in heads.values())


def test_a_dry_lap_is_told_without_its_sealing(lapwright: Run) -> None:
    record = json.loads(lapwright("leaks", KILN, "--without", "tape", "--json").out)
    assert any("side-wall" in seam for seam in record["openings"][0]["new_dry_laps"])


def test_out_writes_a_drawing_for_every_opening_and_refuses_a_strange_folder(tmp_path: Path, lapwright: Run) -> None:
    assert lapwright("leaks", KILN, "--out", tmp_path / "out").code == 0
    assert [p.name for p in (tmp_path / "out" / "drawings").iterdir()] == ["leaks-1.svg"]
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter.txt").write_text("dear", encoding="utf-8")
    assert lapwright("leaks", KILN, "--out", tmp_path / "mine").code == 2
    assert (tmp_path / "mine" / "letter.txt").exists()


def test_water_prints_depth_limits_and_the_rain_table(lapwright: Run) -> None:
    ran = lapwright("water", KILN)
    said = " ".join(ran.out.split())
    assert (ran.code, ran.err) == (0, "")
    for part in ("gal/min", "deep", "run-up", "trusted to", "side channel", "Houston TX", "uncertain", "house rule"):
        assert part in said


def test_water_behind_an_opening_that_is_not_worked_out_is_said_to_be_so(lapwright: Run) -> None:
    ran = lapwright("water", EXAMPLES / "must-stop-low-curb" / "job.toml")
    assert (ran.code, ran.err) == (0, "")
    assert "not worked out" in ran.out


def test_water_as_json(lapwright: Run) -> None:
    record = json.loads(lapwright("water", KILN, "--json").out)
    (told,) = record["openings"]
    assert told["design"] == pytest.approx(1.10 * told["depth"] + told["run_up"])
    houston = [r for r in record["rain_table"] if r["place"].startswith("Houston") and r["years"] == 100]
    assert [(r["minutes"], round(r["rate"], 1)) for r in houston] == [(5, 16.4)]
    (dry,) = json.loads(lapwright("water", MALT, "--json").out)["openings"]
    assert dry["depth"] == 0


# ---- the drawing ----------------------------------------------------------------------------------


def boxes_overlap(a: Text, b: Text) -> bool:
    ax, ay = zip(*a.box(), strict=True)
    bx, by = zip(*b.box(), strict=True)
    apart = max(ax) <= min(bx) or max(bx) <= min(ax) or max(ay) <= min(by) or max(by) <= min(ay)
    return not apart


def jobs() -> list[tuple[str, Job]]:
    found = []
    for name in dict.fromkeys(c.name.split(":")[0] for c in examples()):
        text = (EXAMPLES / name / "job.toml").read_text(encoding="utf-8")
        found.append((name, run(read_job(text, name))))
    return found


@pytest.mark.parametrize(("name", "job"), jobs(), ids=lambda v: v if isinstance(v, str) else "")
def test_the_drawing_numbers_every_way_and_no_text_lies_on_another(name: str, job: Job) -> None:
    for k, d in enumerate(job.detail.openings):
        if not d.planned:
            continue
        sheet = draw_leaks(
            job.site, job.layout, job.detail, job.pieces, job.panels, job.audits, k, Speaker(job.site.units)
        )
        texts = sheet.texts()
        assert min(t.size for t in texts) >= SMALLEST_TEXT
        assert [(a.text, b.text) for i, a in enumerate(texts) for b in texts[:i] if boxes_overlap(a, b)] == []
        numbered = {t.text for t in texts if t.bold and t.text.isdigit()}
        assert numbered == {str(n) for n in range(1, len(numbered) + 1)}
        rows = {t.text.split(".")[0] for t in texts if re.match(r"\d\. ", t.text)}
        assert rows == numbered
        low, high = (min, max)
        x0, y0, x1, y1 = sheet.extents()
        assert low(x0, y0) >= -1.0
        assert high(x1 - sheet.width, y1 - sheet.height) <= 1.0


def test_a_spoilt_corner_is_marked_where_it_is() -> None:
    site = read_job(KILN.read_text(encoding="utf-8"), "kiln")
    deviation = Deviation("flue stack", "open-corner", "left")
    job = run(type(site)(**{**{f: getattr(site, f) for f in site.__dataclass_fields__}, "deviations": (deviation,)}))
    sheet = draw_leaks(job.site, job.layout, job.detail, job.pieces, job.panels, job.audits, 0, Speaker("in"))
    first = next(t.text for t in sheet.texts() if t.text.startswith("1. "))
    assert first.startswith('1. standing water, 0"')
    (row,) = job.audits
    assert row.standing is not None
    assert abs(row.standing.decided.at[0] - site.openings[0].left) < 2.0
