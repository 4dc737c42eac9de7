"""Pages of whole jobs: nothing overlaps, is cut off or too small; bars are true; pages and blanks say the same."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from lapwright.draw.card import draw_card
from lapwright.draw.display import Line, Mark, Polyline
from lapwright.draw.features import clip, edges, read_hole
from lapwright.draw.view import bend_text
from lapwright.job import Job, run
from lapwright.packet.compose import Paper, compose
from lapwright.packet.drawings import Drawing, cut_items, draw_all, new_panels
from lapwright.packet.identity import code_text, job_hash
from lapwright.packet.record import to_record
from lapwright.packet.scene import nodes_of
from lapwright.site.read import read_job
from lapwright.units import show_length
from lapwright.words import Speaker
from pdf_reading import letters, overlaps, pages, widths

EXAMPLES = Path(__file__).parents[3] / "examples"
CASES = sorted(p.parent.name for p in EXAMPLES.glob("*/job.toml"))
READ = [("kiln-shed", "us-letter"), ("kiln-shed", "a4"), ("orchard-studio", "a4"), ("must-stop", "us-letter")]
"""Inches and mm, both papers, stamped and not; every example is looked at by bench/look.py."""
REACH = 18.0
"""A quarter inch along the edge of a sheet that no printer reaches. [pt]"""


@cache
def job(case: str) -> Job:
    path = EXAMPLES / case / "job.toml"
    return run(read_job(path.read_text(encoding="utf-8"), path.name))


@cache
def drawn(case: str) -> tuple[Drawing, ...]:
    return draw_all(job(case), tuple(nodes_of(job(case))))


@cache
def pdf(case: str, paper: Paper) -> bytes:
    return compose(job(case), paper, drawn(case))


def cut_list(case: str) -> str:
    """The pages of the cut list: its heading stands on each."""
    return " ".join(t for t in said(case) if "blank, width × height" in t)


def said(case: str) -> list[str]:
    """What each page says on Letter, spaces made even."""
    texts = (p.get_textpage().get_text_range() for p in pages(pdf(case, "us-letter")))
    return [re.sub(r"\s+", " ", t.replace("\ufffe", "-").replace("\u200b", "")) for t in texts]


@pytest.mark.parametrize(("case", "paper"), READ)
def test_no_letter_is_printed_over_another(case: str, paper: Paper) -> None:
    found = {n: overlaps(page)[:3] for n, page in enumerate(pages(pdf(case, paper)), 1)}
    assert {n: pairs for n, pairs in found.items() if pairs} == {}


@pytest.mark.parametrize(("case", "paper"), READ)
def test_no_letter_is_cut_off_or_smaller_than_eight_points(case: str, paper: Paper) -> None:
    for n, page in enumerate(pages(pdf(case, paper)), 1):
        width, height = page.get_size()
        for letter in letters(page):
            x0, y0, x1, y1 = letter.box
            assert letter.size >= 7.99, f"page {n}: {letter}"
            assert min(x0, y0, width - x1, height - y1) >= REACH - 1.0, f"page {n}: {letter}"


@pytest.mark.parametrize(("case", "paper"), READ)
def test_both_check_bars_are_true_on_every_page(case: str, paper: Paper) -> None:
    # 4 in = 288 pt, 100 mm = 283.46 pt; a path's extent counts its pen of 0.9 at either end
    bars = {round(288 + 1.8, 2), round(100 / 25.4 * 72 + 1.8, 2)}
    assert [set()] * len(pages(pdf(case, paper))) == [bars - widths(page) for page in pages(pdf(case, paper))]


def test_the_stamp_lies_over_the_drawings() -> None:
    # what is printed last lies uppermost: on a page of blanks the stamp's letters come after the drawing's
    texts = [p.get_textpage().get_text_range() for p in pages(pdf("must-stop", "us-letter"))]
    closed = [re.sub(r"\s", "", t) for t in texts if "PAINTED SIDE UP" in t]
    assert len(closed) > 5
    assert all(t.rindex("DONOTCUT") > t.rindex("PAINTEDSIDEUP") for t in closed)


@pytest.mark.parametrize("case", ["kiln-shed", "orchard-studio"])
def test_every_page_carries_the_job_its_hash_and_its_number(case: str) -> None:
    told = said(case)
    for n, text in enumerate(told, 1):
        assert f"{n} of {len(told)}" in text
        assert job_hash(job(case).site) in text and job(case).site.name in text


@pytest.mark.parametrize("case", CASES)
def test_sizes_read_back_from_the_cut_list_equal_plan_json(case: str) -> None:
    unit = job(case).site.units
    told = cut_list(case)
    rec = to_record(job(case))
    made = {p.id for p in new_panels(job(case))}
    worked = [p for p in rec["panels"] if p["blank"] is not None and p["id"] in made]
    for row in (*rec["pieces"], *worked):
        width, height = (show_length(row["blank"][k], unit) for k in ("width", "height"))
        assert f"{width} × {height}" in told, row["id"]


@pytest.mark.parametrize("case", CASES)
def test_every_piece_in_the_steps_is_in_the_cut_list_and_the_reverse(case: str) -> None:
    # on an existing roof the through panel that is locked again is not made: it lies there
    made = {p.id for p in (*job(case).pieces, *new_panels(job(case)))}
    there = {p.id for p in job(case).panels} - made
    used = {name for step in job(case).steps for name in step.pieces}
    listed = set(re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)+", cut_list(case)))
    assert made == used - there
    assert made <= listed
    assert listed & there == set()


@pytest.mark.parametrize("case", CASES)
def test_every_cut_in_the_drawings_is_in_the_blank_and_the_reverse(case: str) -> None:
    speaker = Speaker(job(case).site.units)
    for item in cut_items(job(case)):
        assert item.blank is not None
        # a hole that is no circle is cut along its edge, as the outline is
        rings = [ring for ring in item.blank.holes if read_hole(ring).diameter is None]
        along = [pair for ring in rings for pair in pairwise((*ring, ring[0]))]
        for layer, cuts in (("slit", item.blank.cuts), ("cut", [*edges(item.blank), *along])):
            shown: set[Ends] = set()
            wanted: set[Ends] = set()
            for card in draw_card(item, speaker):
                shown |= {ends for mark in card.display.on(layer) for ends in lines(mark)}
                wanted |= {
                    rounded(view.at(part[0]), view.at(part[1]))
                    for view in card.views
                    for cut in cuts
                    if (part := clip(*cut, view.window)) is not None
                }
            assert wanted == shown, f"{item.id}: {layer}"


Ends = tuple[tuple[float, float], tuple[float, float]]


def lines(mark: Mark) -> list[Ends]:
    """A mark's straight lines on the sheet."""
    if isinstance(mark, Line):
        return [rounded(mark.a, mark.b)]
    assert isinstance(mark, Polyline)
    closing = [(mark.points[-1], mark.points[0])] if mark.closed else []
    return [rounded(a, b) for a, b in (*pairwise(mark.points), *closing)]


def rounded(a: tuple[float, float], b: tuple[float, float]) -> Ends:
    """Two ends in one order, to a thousandth of a point."""
    p, q = sorted(((round(a[0], 3), round(a[1], 3)), (round(b[0], 3), round(b[1], 3))))
    return p, q


@pytest.mark.parametrize("case", CASES)
def test_every_bend_is_named_on_its_blank_with_its_order_way_and_angle(case: str) -> None:
    speaker = Speaker(job(case).site.units)
    for item in cut_items(job(case)):
        labels = {t.text for t in draw_card(item, speaker)[0].display.texts()}
        for bend in item.bends:
            assert {str(bend.order), bend_text(bend, speaker)} <= labels, f"{item.id}: bend {bend.order}"


def test_the_code_says_format_hash_and_name() -> None:
    site = job("kiln-shed").site
    assert code_text(site) == f"lapwright-plan/1\n{job_hash(site)}\nKiln shed"
