"""SVG: well formed, true size, escaped, the same bytes."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
import typst

from lapwright.draw.card import draw_card
from lapwright.draw.display import Circle, Display, Line, Pen, Polyline, Text
from lapwright.draw.svg import number, to_svg
from lapwright.metal.model import Piece
from lapwright.words import Speaker

SVG = "{http://www.w3.org/2000/svg}"


def sheet(*marks: Line | Polyline | Circle | Text) -> Display:
    return Display(144, 72, marks, (Pen("cut", 1.5), Pen("bend", 0.8, (6, 2.5))), "a & b")


def test_numbers_are_short_and_never_minus_nought() -> None:
    assert [number(v) for v in (1.0, 0.125, -0.001, 12.3456, -3.10)] == ["1", "0.12", "0", "12.35", "-3.1"]


def test_y_runs_down_the_page_and_a_sheet_prints_at_its_own_size() -> None:
    # 144 x 72 pt = 2 x 1 in; y = 10 from below is 62 from above
    root = ElementTree.fromstring(to_svg(sheet(Line((0, 10), (5, 10), "cut"))))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("2in", "1in", "0 0 144 72")
    line = root.find(f"{SVG}g/{SVG}line")
    assert line is not None and (line.get("y1"), line.get("x2")) == ("62", "5")


def test_pens_carry_weight_and_dashes() -> None:
    root = ElementTree.fromstring(to_svg(sheet(Line((0, 0), (5, 0), "bend"))))
    group = root.find(f"{SVG}g")
    assert group is not None
    assert (group.get("class"), group.get("stroke-width"), group.get("stroke-dasharray")) == (
        "bend",
        "0.8",
        "6 2.5",
    )


def test_markup_and_control_letters_in_a_text_stay_text() -> None:
    root = ElementTree.fromstring(to_svg(sheet(Text((5, 5), "<b>&\"'\x00\x1b"))))
    text = root.find(f"{SVG}g/{SVG}text")
    assert text is not None and text.text == "<b>&\"'\ufffd\ufffd"
    assert len(text) == 0


def test_text_under_eight_points_on_paper_is_refused() -> None:
    drawing = sheet(Text((5, 5), "x", size=8.0))
    assert 'width="2in"' in to_svg(drawing, width_in=2.0)
    # 1.9 in wide is 0.95 of the sheet: 7.60 pt
    with pytest.raises(ValueError, match=r"7\.60 pt"):
        to_svg(drawing, width_in=1.9)


def test_a_blank_drawing_uses_no_colour_but_black_and_white(pan: Piece, inches: Speaker) -> None:
    colours = {
        value
        for element in ElementTree.fromstring(to_svg(draw_card(pan, inches)[0].display)).iter()
        for name, value in element.attrib.items()
        if name in ("fill", "stroke")
    }
    assert colours <= {"#000", "#fff", "none", "url(#hatch)", "url(#dots)"}


def test_the_same_blank_gives_the_same_svg(pan: Piece, speaker: Speaker) -> None:
    assert to_svg(draw_card(pan, speaker)[0].display) == to_svg(draw_card(pan, speaker)[0].display)


def test_the_typesetter_draws_it_without_a_warning_and_with_letters(
    pan: Piece, inches: Speaker, tmp_path: Path
) -> None:
    (tmp_path / "a.svg").write_text(to_svg(draw_card(pan, inches)[0].display), encoding="utf-8")
    (tmp_path / "a.typ").write_text('#set page(width: 7.2in, height: 9in, margin: 0pt)\n#image("a.svg")')
    fonts = typst.Fonts(include_system_fonts=False)
    compiler = typst.Compiler(str(tmp_path / "a.typ"), root=str(tmp_path), font_paths=fonts)
    pdf, warnings = compiler.compile_with_warnings(format="pdf")
    assert warnings == []
    import pypdfium2

    text = pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range()
    assert "UP 120.3°" in text
