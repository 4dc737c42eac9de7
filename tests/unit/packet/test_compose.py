"""The pages: read back from the PDF, the same on both papers, the same bytes twice."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

import pypdfium2
import pytest

from hand_made import STOP, HandMade, hand_made, without_openings
from lapwright.packet import compose as page_setter
from lapwright.packet.compose import BadPage, Paper, compose
from lapwright.packet.contents import contents
from lapwright.packet.drawings import Drawing, draw_all
from lapwright.packet.record import to_record
from lapwright.units import show_length

BLANK_SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="1in" viewBox="0 0 72 72"/>'


def texts(pdf: bytes) -> list[str]:
    """What each page says, spaces made even; U+FFFE is a hyphen at the end of a printed line."""
    pages = pypdfium2.PdfDocument(pdf)
    said = [page.get_textpage().get_text_range() for page in pages]
    return [re.sub(r"\s+", " ", text.replace("\ufffe", "-").replace("\u200b", "")) for text in said]


def sizes(pdf: bytes) -> set[tuple[float, float]]:
    return {(round(w, 1), round(h, 1)) for w, h in (p.get_size() for p in pypdfium2.PdfDocument(pdf))}


def quick(job: HandMade, paper: Paper | None = None) -> bytes:
    """The packet with an empty drawing in place of the real ones."""
    empty: Sequence[Drawing] = (Drawing("roof", "layout", "Roof layout", BLANK_SVG, 72.0, 72.0),)
    return compose(job, paper, empty)


@pytest.fixture(scope="module")
def drawn() -> tuple[Drawing, ...]:
    # without pictures of the steps: the hand-made job's parts stand in no order of work
    return draw_all(replace(hand_made(), steps=()))


def test_blank_sizes_on_the_pages_equal_plan_json(drawn: tuple[Drawing, ...]) -> None:
    job = hand_made()
    said = texts(compose(job, drawings=drawn))
    sheets = " ".join(said)
    cut_list = next(text for text in said if text.startswith("Cut list"))
    rec = to_record(job)
    for piece in rec["pieces"]:
        width, height = (show_length(piece["blank"][k], "in") for k in ("width", "height"))
        assert f"{width} × {height}" in cut_list
        assert f"blank {width} x {height}" in sheets


def test_running_dimensions_and_bends_can_be_read_back_from_the_blanks_page(
    drawn: tuple[Drawing, ...],
) -> None:
    said = texts(compose(hand_made(), drawings=drawn))
    page = next(text for text in said if "P1 · Back pan" in text)
    # the pan: 37-1/2 by 27-1/4, tongue bend at 8 from 10 to 27-1/2, hem line at 26-3/4
    for figure in ('37-1/2"', '27-1/4"', '8"', '10"', '27-1/2"', '26-3/4"', "UP 120.3°", "DOWN 180.0°"):
        assert figure in page


def test_every_page_says_the_job_its_number_and_the_plans_format(drawn: tuple[Drawing, ...]) -> None:
    said = texts(compose(hand_made(), drawings=drawn))
    for n, text in enumerate(said, 1):
        assert f"Page {n} of {len(said)}" in text
        assert "Kiln shed" in text and "lapwright-plan/1" in text and "inches" in text


@pytest.mark.parametrize("stopped", [True, False])
def test_a_stopped_job_is_stamped_on_every_page_and_another_on_none(stopped: bool) -> None:
    # once in the bar over the page, once across it over everything
    said = texts(quick(hand_made(findings=(STOP,) if stopped else ())))
    assert [stopped] * len(said) == [text.replace(" ", "").count("DONOTCUT") >= 2 for text in said]


def test_a_finding_is_printed_with_rule_limit_and_yours() -> None:
    cover, findings, *_ = texts(quick(hand_made(findings=(STOP,))))
    assert "test.rule · house rule · house rule" in findings
    for page in (cover, findings):
        assert 'yours 2-1/2"' in page and 'limit 3"' in page
    assert "complies" not in " ".join(texts(quick(hand_made())))


def test_steps_are_numbered_with_their_marks_and_cautions() -> None:
    order = next(text for text in texts(quick(hand_made())) if text.startswith("Order of work"))
    # 42-7/16 in = 3 ft 6-7/16 in
    assert "from the left rake 3' 6-7/16\" → left edge of the pan" in order
    assert "No screw in the wet part of the pan." in order


@pytest.mark.parametrize(
    ("units", "paper", "size"),
    [
        ("in", None, (612.0, 792.0)), ("mm", None, (595.3, 841.9)),
        ("mm", "us-letter", (612.0, 792.0)), ("in", "a4", (595.3, 841.9)),
    ],
)  # fmt: skip
def test_paper_is_letter_for_inches_and_a4_for_mm_unless_asked(
    units: str, paper: Paper | None, size: tuple[float, float]
) -> None:
    assert sizes(quick(hand_made(units), paper)) == {size}


def test_pages_say_the_same_on_both_papers(drawn: tuple[Drawing, ...]) -> None:
    job = hand_made(findings=(STOP,))
    assert texts(compose(job, "us-letter", drawn)) == texts(compose(job, "a4", drawn))


def test_nothing_is_printed_outside_the_margins_of_either_paper(drawn: tuple[Drawing, ...]) -> None:
    for paper in ("us-letter", "a4"):
        for page in pypdfium2.PdfDocument(compose(hand_made(findings=(STOP,)), paper, drawn)):  # type: ignore[arg-type]
            width, height = page.get_size()
            words = page.get_textpage()
            for n in range(words.count_rects()):
                left, low, right, high = words.get_rect(n)
                # a quarter inch that no printer reaches
                assert left >= 18 and low >= 18 and right <= width - 18 and high <= height - 18


def test_the_same_job_gives_the_same_bytes(drawn: tuple[Drawing, ...]) -> None:
    job = hand_made(findings=(STOP,))
    assert compose(job, drawings=drawn) == compose(job, drawings=drawn)


@pytest.mark.parametrize(
    "name",
    [
        '#panic("x") $x$ *b* _i_ @ref <label> \\ // /* `',
        "<script>alert(1)</script>",
        '"; drop table',
        "${7*7} {{7*7}}",
        '#import "x.typ": y',
        "[x](y) = head",
        "\u202egnp.exe",
        "Ωμέγα крыша 屋根 🏠",
        "tab\tand\nline",
        "nul\0bell\x07",
    ],
)
def test_a_job_name_is_text_and_never_markup(name: str) -> None:
    first = texts(quick(hand_made(name=name)))[0]
    if name.isascii() and name.isprintable():
        assert re.sub(r"\s+", " ", name) in first
    assert "Page 1 of" in first


def test_a_very_long_name_stays_on_the_page() -> None:
    pdf = quick(hand_made(name="x" * 400))
    page = pypdfium2.PdfDocument(pdf)[0]
    words = page.get_textpage()
    assert max(words.get_rect(n)[2] for n in range(words.count_rects())) <= 612 - 18


def test_a_roof_without_openings_still_has_its_pages() -> None:
    said = texts(quick(without_openings(hand_made())))
    assert any(text.startswith("Cut list") and "None." in text for text in said)


def test_a_warning_of_the_typesetter_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    data = contents(hand_made(), ())
    page_setter.set_pages(data, "a4")
    bad = {**data, "plates": [{"part": "layout", "rows": [[{"title": "x", "svg": "no svg"}]], "legend": ""}]}
    with pytest.raises(BadPage):
        page_setter.set_pages(bad, "a4")


def test_no_face_of_the_machine_is_used() -> None:
    # Tifinagh letters: common in the faces of a desktop, in none of ours
    pdf = quick(hand_made(name="\u2d30\u2d31\u2d32 shed"))
    fonts = set(re.findall(rb"/BaseFont\s*/[A-Z]{6}\+([A-Za-z-]+)", pdf))
    assert fonts <= {b"Barlow-Regular", b"Barlow-SemiBold", b"DejaVuSansMono", b"DejaVuSansMono-Bold"}
