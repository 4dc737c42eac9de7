"""templates.pdf as it is printed: bars and cuts measured in the picture, nothing over anything, the words true."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from strategies import sites

from hand_made import hand_made
from lapwright.draw.template import PAGE
from lapwright.job import Job
from lapwright.metal.model import Blank, Piece
from lapwright.packet.compose import Paper
from lapwright.packet.files import packet_files
from lapwright.packet.identity import job_hash
from lapwright.packet.templates import templates, templates_pdf
from lapwright.site.model import Site
from lapwright.site.read import read_job
from pdf_reading import letters, overlaps, pages, widths

EXAMPLES = Path(__file__).parents[3] / "examples"
READ: list[tuple[str, Paper]] = [("kiln-shed", "us-letter"), ("orchard-studio", "a4"), ("malt-house", "us-letter")]
"""Inches, mm, a cricket."""
PEN = 1.0 / 72
"""A cut's pen, half of which lies past each end. [in]"""
DPI = 600
CLOSE = 0.2 / 25.4
"""What a length may be out on the paper. [in]"""


@cache
def job(case: str) -> Job:
    path = EXAMPLES / case / "job.toml"
    return Job(read_job(path.read_text(encoding="utf-8"), path.name))


@cache
def pdf(case: str, paper: Paper) -> bytes:
    return templates_pdf(job(case), templates(job(case)), paper)


def notched(paper: Paper, units: str = "in") -> Any:
    """The sheet of one template: a piece 6 x 5 whose right edge is cut 3 long and whose upper edge 4 1/2."""
    outline = ((0, 0), (6, 0), (6, 3), (5.5, 3), (5.5, 5), (1, 5), (1, 4), (0, 4))
    piece = Piece("N1", "x", "Notched", "flue stack", 1, "steel-24", 0.0255, Blank(outline, (), (), 1, 6, 5), (), 1)
    made = replace(hand_made(units), pieces=(piece,), panels=(), steps=())
    return pages(templates_pdf(made, templates(made), paper))[-1]


def longest(rows: Sequence[bytes]) -> list[int]:
    """The longest dark run in each row. [pixels]"""
    runs = (((dark, sum(1 for _ in run)) for dark, run in itertools.groupby(r, lambda v: v < 128)) for r in rows)
    return [max((n for dark, n in row if dark), default=0) for row in runs]


def rows_of(picture: Any) -> list[bytes]:
    data, wide = picture.tobytes(), picture.width
    return [data[i : i + wide] for i in range(0, len(data), wide)]


@pytest.mark.parametrize("paper", ["us-letter", "a4"])
def test_bars_and_cuts_measured_in_the_picture_are_true(paper: Paper) -> None:
    page = notched(paper)
    picture = page.render(scale=DPI / 72).to_pil().convert("L")
    wide, high = picture.size
    foot = int(high * 0.85)
    parts = ((0, 0, wide, foot), (0, foot, wide, high), (0, 0, wide // 16, high))
    field, bars, margin = map(picture.crop, parts)
    across = [n / DPI for n in longest(rows_of(field))]
    up = [n / DPI for n in longest(rows_of(field.rotate(90, expand=True)))]
    # the upper edge is the only level line so long that no dashed line lies on, the right edge the only upright one
    assert any(abs(n - PEN - 4.5) < CLOSE for n in across)
    assert any(abs(n - PEN - 3.0) < CLOSE for n in up)
    ruled = [n / DPI for n in longest(rows_of(bars))]
    # a bar reaches over the half of its end ticks: 0.8 pt in all
    assert any(abs(n - 0.8 / 72 - 4.0) < CLOSE for n in ruled)
    assert any(abs(n - 0.8 / 72 - 100 / 25.4) < CLOSE for n in ruled)
    upright = [n / DPI for n in longest(rows_of(margin.rotate(90, expand=True)))]
    assert any(abs(n - 0.8 / 72 - 100 / 25.4) < CLOSE for n in upright)


@pytest.mark.parametrize(("case", "paper"), READ)
def test_all_three_bars_stand_on_every_sheet(case: str, paper: Paper) -> None:
    for page in pages(pdf(case, paper)):
        assert {round(288 + 1.8, 2), round(100 / 25.4 * 72 + 1.8, 2)} <= widths(page)
        picture = page.render(scale=100 / 72).to_pil().convert("L")
        margin = picture.crop((0, 0, picture.width // 16, picture.height)).rotate(90, expand=True)
        assert max(longest(rows_of(margin))) == pytest.approx(100 / 25.4 * 100, abs=4)


@pytest.mark.parametrize(("case", "paper"), READ)
def test_no_letter_is_printed_over_another_or_out_of_reach(case: str, paper: Paper) -> None:
    for n, page in enumerate(pages(pdf(case, paper)), 1):
        assert overlaps(page)[:3] == [], f"page {n}"
        width, height = page.get_size()
        for letter in letters(page):
            x0, y0, x1, y1 = letter.box
            assert letter.size >= 7.99, f"page {n}: {letter}"
            assert min(x0, y0, width - x1, height - y1) >= 17.0, f"page {n}: {letter}"


@cache
def told(case: str, paper: Paper) -> tuple[str, ...]:
    texts = (p.get_textpage().get_text_range() for p in pages(pdf(case, paper)))
    return tuple(re.sub(r"\s+", " ", t.replace("￾", "-").replace("\u200b", "")) for t in texts)


@pytest.mark.parametrize(("case", "paper"), READ)
def test_the_first_page_says_how_and_lists_every_template_with_its_page(case: str, paper: Paper) -> None:
    first, *rest = told(case, paper)
    assert "Print at 100 %" in first and "Painted side up" in first
    listed = [t for t in (first, *rest) if "what it is for" in t]
    sheets = [t for t in rest if "what it is for" not in t]
    for made in templates(job(case)):
        row = re.search(rf"\b{made.name} {made.count} (.*?)(?= T\d+ \d|  Job|$)", " ".join(listed))
        assert row is not None, made.name
        there = [n for n, t in enumerate(sheets, len(listed) + 1) if f"{made.name}: {made.count} of these" in t]
        assert len(there) == 1
        assert all(use.split(":")[0] in " ".join(listed) for use in made.uses)


@pytest.mark.parametrize(("case", "paper"), READ)
def test_ids_are_those_of_the_cut_list_and_every_page_is_the_jobs(case: str, paper: Paper) -> None:
    known = {p.id for p in (*job(case).pieces, *job(case).panels)}
    for made in templates(job(case)):
        for use in made.uses:
            ids = re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)+", use.split(":")[0])
            assert ids and set(ids) <= known
    assert all(job_hash(job(case).site) in t for t in told(case, paper))


@settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))
@given(sites())
def test_every_sheet_of_any_job_fits_its_page(site: Site) -> None:
    for made in templates(Job(site)):
        assert made.uses and made.count >= len(made.uses)
        for tile in made.tiles:
            assert tile.width <= PAGE[0] + 1e-6 and tile.height <= PAGE[1] + 1e-6, made.name
            assert all(t.size >= 8.0 for t in tile.texts())


def test_both_papers_carry_the_same_sheets() -> None:
    letter, a4 = pdf("kiln-shed", "us-letter"), pdf("kiln-shed", "a4")
    assert len(pages(letter)) == len(pages(a4))
    assert [round(x) for x in pages(a4)[0].get_size()] == [595, 842]


def test_a_stopped_job_is_stamped_on_every_sheet() -> None:
    pages_told = told("must-stop", "us-letter")
    assert len(pages_told) > 3 and all("DO NOT CUT" in t for t in pages_told)


def test_the_same_job_gives_the_same_bytes() -> None:
    made = job("orchard-studio")
    assert templates_pdf(made, templates(made), "a4") == pdf("orchard-studio", "a4")


def test_a_job_of_plain_rectangles_has_no_templates() -> None:
    assert templates(replace(hand_made(), pieces=hand_made().pieces[1:], panels=(), steps=())) == ()


def test_a_second_paper_is_a_second_file() -> None:
    names = set(packet_files(job("orchard-studio"), "both"))
    assert {"templates.pdf", "templates-letter.pdf"} <= names
