"""The cutting plan in the packet: plan.json, the list of cuts, a drawing and a cutting file for every sheet."""

from __future__ import annotations

import io
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from ezdxf.filemanagement import read

from lapwright.job import Job
from lapwright.packet.cutting import cut_lists, cutting_record
from lapwright.packet.files import sheet_files
from lapwright.shop.cutting import bought
from lapwright.site.read import read_job
from lapwright.words import Speaker

EXAMPLES = Path(__file__).parents[3] / "examples"
ROOFS = ("kiln-shed", "cider-barn", "orchard-studio", "chapel-cottage", "must-stop")


@cache
def job(name: str) -> Job:
    path = EXAMPLES / name / "job.toml"
    return Job(read_job(path.read_bytes(), path.name))


@pytest.mark.parametrize("name", ROOFS)
def test_plan_json_places_every_blank_once_and_inside_its_sheet(name: str) -> None:
    sheets = cutting_record(job(name).cutting.sheets)
    placed = Counter(p["id"] for s in sheets for p in s["placed"])
    assert placed == Counter({p.id: p.quantity for p in job(name).pieces if p.is_metal})
    for s in sheets:
        for p in s["placed"]:
            assert min(p["x"], p["y"]) > -1e-6
            assert p["x"] + p["width"] < s["width"] + 1e-6
            assert p["y"] + p["length"] < s["length"] + 1e-6


@pytest.mark.parametrize("name", ROOFS)
def test_offcuts_of_plan_json_touch_no_blank(name: str) -> None:
    for s in cutting_record(job(name).cutting.sheets):
        for o in s["offcuts"]:
            for p in s["placed"]:
                wide = min(o["x"] + o["width"], p["x"] + p["width"]) - max(o["x"], p["x"])
                high = min(o["y"] + o["length"], p["y"] + p["length"]) - max(o["y"], p["y"])
                assert wide < 1e-6 or high < 1e-6


@pytest.mark.parametrize("name", ROOFS)
def test_what_is_bought_is_what_the_sheets_take(name: str) -> None:
    sheets = cutting_record(job(name).cutting.sheets)
    rows = bought(job(name).cutting)
    assert sum(r.quantity for r in rows) == len(sheets)
    assert sum(r.length * r.width for r in rows) == pytest.approx(sum(s["length"] * s["width"] for s in sheets))


def test_a_turned_blank_says_by_how_much() -> None:
    # what lies as it is drawn takes its own width; what is turned a quarter takes its height
    blanks = {p.id: p.blank for p in job("kiln-shed").pieces}
    placed = [p for s in cutting_record(job("kiln-shed").cutting.sheets) for p in s["placed"]]
    assert {p["turned_deg"] for p in placed} >= {0.0, 90.0}
    for p in placed:
        own = blanks[p["id"]]
        assert p["width"] == pytest.approx(own.width if p["turned_deg"] % 180 == 0 else own.height)


def test_cuts_are_listed_in_order_for_every_sheet() -> None:
    lists = cut_lists(job("orchard-studio").cutting.sheets, Speaker("mm"))
    for n, (listed, sheet) in enumerate(zip(lists, job("orchard-studio").cutting.sheets, strict=True), 1):
        assert listed["title"].startswith(f"Cutting plan {n}: 24 ga steel")
        assert sheet.plan is not None
        assert [row[0] for row in listed["rows"]] == [str(i + 1) for i in range(len(sheet.plan.cuts))]
        assert all(row[2].endswith(" mm") for row in listed["rows"])


def test_every_sheet_has_its_drawing_and_its_cutting_file() -> None:
    files = sheet_files(job("cider-barn"), job("cider-barn").cutting)
    count = len(job("cider-barn").cutting.sheets)
    names = [f"{kind}-{n}.{end}" for kind, end in (("drawings/sheet", "svg"), ("cut/sheet", "dxf"))
             for n in range(1, count + 1)]  # fmt: skip
    assert sorted(files) == sorted(names)


def test_the_cleat_line_is_scribed_where_the_pan_lies_on_its_sheet() -> None:
    files = sheet_files(job("kiln-shed"), job("kiln-shed").cutting)
    document = read(io.StringIO(files["cut/sheet-1.dxf"].decode("ascii")))
    scribed = document.modelspace().query("LINE[layer=='MARK']")
    pan = next(x for x in job("kiln-shed").cutting.sheets[0].lying if x.id == "1-back-pan")
    (x0, y0), (x1, y1) = pan.corners()
    assert len(scribed) > 0
    for line in scribed:
        for end in (line.dxf.start, line.dxf.end):
            assert x0 - 1e-6 < end.x < x1 + 1e-6 and y0 - 1e-6 < end.y < y1 + 1e-6
