"""Any legal site, written as a job file, reads back as itself; and a mirror turned twice shows the roof again."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import job_text, mirrored, sites

from lapwright.errors import JobProblems
from lapwright.layout.lay_out import lay_out
from lapwright.site.model import Site
from lapwright.site.read import read_job


@settings(max_examples=300)
@given(sites())
def test_a_legal_site_reads_back_from_its_job_file_as_itself(site: Site) -> None:
    assert site == read_job(job_text(site), "job.toml")


@given(sites())
def test_a_mirrored_site_is_legal_and_its_ribs_are_the_mirror_image(site: Site) -> None:
    other = mirrored(site)
    assert other == read_job(job_text(other), "job.toml")
    eave = site.roof.eave
    assert [eave - x for x in reversed(lay_out(site).ribs)] == pytest.approx(lay_out(other).ribs)
    assert site.openings == mirrored(other).openings


@given(sites(), st.sampled_from(["left", "up"]), st.integers(1, 10_000))
def test_an_opening_moved_off_the_roof_is_a_problem(site: Site, way: str, sixteenths: int) -> None:
    opening, over = site.openings[0], sixteenths / 16
    if way == "left":
        moved = replace(opening, left=site.roof.eave - opening.width + over)
    else:
        moved = replace(opening, up=site.roof.slope - opening.length + over)
    with pytest.raises(JobProblems) as caught:
        read_job(job_text(replace(site, openings=(moved,))), "job.toml")
    assert {"site.off_right" if way == "left" else "site.off_upslope"} == {p.key for p in caught.value.problems}
