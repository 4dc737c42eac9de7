"""The starter job and the examples are jobs as they stand, and every line of the starter can be used."""

from __future__ import annotations

import dataclasses
import re
from pathlib import Path
from typing import Literal

import pytest

from lapwright.layout.lay_out import lay_out
from lapwright.site.fields import FIELDS
from lapwright.site.model import Defaults, Panel, Site, Weather
from lapwright.site.read import read_job
from lapwright.verbs.new import starter_job

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*/job.toml"))
UNITS: tuple[Literal["in", "mm"], ...] = ("in", "mm")


@pytest.mark.parametrize("unit", UNITS)
def test_the_starter_is_a_job_as_it_stands_and_says_it_is_invented(unit: Literal["in", "mm"]) -> None:
    text = starter_job(unit)
    assert unit == read_job(text, "job.toml").units
    assert "invented" in text.splitlines()[0]


@pytest.mark.parametrize("unit", UNITS)
def test_using_the_shown_defaults_changes_nothing(unit: Literal["in", "mm"]) -> None:
    text = starter_job(unit)
    shown = re.sub(r"(?m)^# (\w+ = \S|\[\[)", r"\1", text)
    assert shown.count("\n# ") < text.count("\n# ") - 40
    plain, used = read_job(text, "a"), read_job(shown, "b")
    assert plain.roof == used.roof
    for one, other in zip(measures(plain), measures(used), strict=True):
        # a default in mm is shown to 0.001 mm
        assert one == (pytest.approx(other, abs=0.0005 / 25.4 + 1e-9) if isinstance(other, float) else other)


def measures(site: Site) -> list[object]:
    rows: list[Weather | Panel | Defaults] = [site.weather, site.panel, *(o.measures for o in site.openings)]
    return [getattr(row, field.name) for row in rows for field in dataclasses.fields(row)]


def test_the_starter_shows_every_field_of_a_rectangle() -> None:
    text = starter_job()
    skipped = {row.name for row in FIELDS if row.kind == "later" or row.table == "deviation"}
    for row in FIELDS:
        if row.name not in skipped and (not row.kinds or "curb" in row.kinds):
            assert re.search(rf"(?m)^(# )?{row.name} =", text), row.name


def case_name(case: Path | str) -> str:
    return case.parent.name if isinstance(case, Path) else f"starter {case}"


@pytest.mark.parametrize("site", [*EXAMPLES, *UNITS], ids=case_name)
def test_openings_of_examples_stand_clear_of_ribs_and_edges(site: Path | Literal["in", "mm"]) -> None:
    text = site.read_text(encoding="utf-8") if isinstance(site, Path) else starter_job(site)
    read = read_job(text, "job.toml")
    layout = lay_out(read)
    for opening, bay in zip(read.openings, layout.bays, strict=True):
        if opening.kind == "pipe":
            continue  # left and up give its centre; what is clear of a rib, and what is not, is a finding
        assert opening.left - bay.left >= 5 and bay.right - opening.right >= 5
        corners = (opening.left, opening.right)
        assert all(abs(rib - corner) >= 3 for rib in layout.ribs for corner in corners)
        assert opening.up >= 36 and read.roof.slope - opening.back >= 60
    strips = [strip.width for strip in layout.strips]
    assert min(strips) >= read.panel.coverage / 3


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_an_example_says_it_is_invented(path: Path) -> None:
    assert "invented scenario" in path.read_text(encoding="utf-8").splitlines()[0]
