"""The shop drawing of a blank: complete, legible, true."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import Polygon

from lapwright.draw.blank import draw_blank, draw_blank_close
from lapwright.draw.display import Circle, Display, Text
from lapwright.metal.model import Bend, Piece, RoofPanel
from lapwright.words import Speaker

Item = Piece | RoofPanel


def paper(text: Text) -> Polygon:
    """The ink of a text, measured anew: 0.602 em a letter, 0.60 em above and 0.40 em below its middle."""
    import math

    width = 0.602 * text.size * len(text.text)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    c, s = math.cos(math.radians(text.angle)), math.sin(math.radians(text.angle))
    box = [(start, -0.4), (start + width, -0.4), (start + width, 0.6), (start, 0.6)]
    corners = [(x, y * text.size * 0.9) for x, y in box]
    return Polygon([(text.at[0] + x * c - y * s, text.at[1] + x * s + y * c) for x, y in corners])


def assert_legible(display: Display) -> None:
    boxes = [(t.text, paper(t)) for t in display.texts()]
    for i, (name, box) in enumerate(boxes):
        for other, there in boxes[:i]:
            assert box.intersection(there).area < 0.01, f"{name!r} lies on {other!r}"
    x0, y0, x1, y1 = display.extents()
    assert x0 >= 0 and y0 >= 0 and x1 <= display.width and y1 <= display.height
    assert min(t.size for t in display.texts()) >= 8.0


def written(display: Display) -> set[str]:
    return {t.text for t in display.texts()}


def figures(display: Display, angle: float) -> list[str]:
    return [t.text for t in display.texts() if t.anchor == "end" and t.angle == angle]


def said(bend: Bend) -> str:
    way = {"up": "UP", "down": "DOWN"}[bend.way]
    hem = {"bend": "", "closed-hem": " closed hem", "open-hem": " open hem"}[bend.kind]
    return f"{way} {bend.angle_deg:.1f}°{hem}"


def test_no_text_lies_on_another_or_off_the_sheet(item: Item, speaker: Speaker) -> None:
    for display in (draw_blank(item, speaker), *draw_blank_close(item, speaker)):
        assert_legible(display)


def test_every_corner_of_the_outline_has_its_figures(item: Item, speaker: Speaker) -> None:
    display = draw_blank(item, speaker)
    assert item.blank is not None
    across, up = set(figures(display, 90.0)), set(figures(display, 0.0))
    points = [*item.blank.outline, *(p for cut in item.blank.cuts for p in cut)]
    assert {speaker.length(u) for u, _ in points} <= across
    assert {speaker.length(v) for _, v in points} <= up


def test_every_bend_square_to_an_edge_has_its_figure(item: Item, speaker: Speaker) -> None:
    display = draw_blank(item, speaker)
    across, up = set(figures(display, 90.0)), set(figures(display, 0.0))
    for bend in item.bends:
        if bend.start[1] == bend.end[1]:
            assert speaker.length(bend.start[1]) in up
        if bend.start[0] == bend.end[0]:
            assert speaker.length(bend.start[0]) in across


def test_figures_of_an_ell_read_as_on_the_sketch(ell: Piece, inches: Speaker) -> None:
    display = draw_blank(ell, inches)
    assert sorted(figures(display, 90.0)) == sorted(['0"', '1/2"', '59-1/2"', '60"'])
    assert sorted(figures(display, 0.0)) == sorted(['0"', '1/2"', '4-1/2"', '12-1/2"'])


def test_every_bend_is_labelled_with_way_angle_hem_and_order(item: Item, inches: Speaker) -> None:
    display = draw_blank(item, inches)
    for bend in item.bends:
        labels = [t for t in display.texts() if t.text == said(bend)]
        assert labels, f"no label {said(bend)}"
        numbers = [
            t for t in display.texts() if t.text == str(bend.order) and t.bold and t.anchor == "middle"
        ]
        # its own balloon, and one in the legend for order 1
        assert len(numbers) == (2 if bend.order == 1 else 1)
    wanted = sorted(said(b) for b in item.bends)
    assert sorted(t.text for t in display.texts() if t.text in set(wanted)) == wanted


def test_balloons_hold_their_numbers(pan: Piece, inches: Speaker) -> None:
    display = draw_blank(pan, inches)
    balls = [m for m in display.on("balloon") if isinstance(m, Circle)]
    assert len(balls) == len(pan.bends) + 1
    at = {(round(b.centre[0], 3), round(b.centre[1], 3)) for b in balls}
    numbers = {
        (round(t.at[0], 3), round(t.at[1], 3)) for t in display.texts() if t.bold and t.anchor == "middle"
    }
    assert at == numbers


def test_bends_up_and_down_are_drawn_with_different_lines(pan: Piece, inches: Speaker) -> None:
    display = draw_blank(pan, inches)
    pens = {p.layer: p for p in display.pens}
    assert len({(pens[n].weight, pens[n].dash) for n in ("cut", "slit", "bend-up", "bend-down")}) == 4
    # 5 up and 3 down, and one sample of each in the legend
    assert len(display.on("bend-up")) == 4 + 1 and len(display.on("bend-down")) == 4 + 1


def test_heading_says_id_name_hand_quantity_metal_and_size(ell: Piece, slit: Piece, inches: Speaker) -> None:
    left = " ".join(sorted(written(draw_blank(ell, inches))))
    assert "SW-L · Side-wall flashing" in left
    assert "LEFT HAND" in left and "RIGHT HAND" not in left
    assert "painted side up" in left and 'blank 60" x 12-1/2"' in left
    assert "24 ga steel" in left and "0.0255 in thick" in left
    assert "Make 2" in " ".join(written(draw_blank(slit, inches)))


def test_a_mirrored_piece_says_the_other_hand(ell: Piece, inches: Speaker) -> None:
    right = " ".join(written(draw_blank(replace(ell, hand="right"), inches)))
    assert "RIGHT HAND" in right and "LEFT HAND" not in right


def test_slits_and_stop_holes_are_drawn_and_named(slit: Piece, inches: Speaker) -> None:
    display = draw_blank(slit, inches)
    assert len(display.on("slit")) == 4 + 1
    assert '2 holes dia. 1/8"' in written(display)


def test_a_long_narrow_blank_is_broken_out_and_says_so(
    inches: Speaker, upper: RoofPanel, patch: Piece
) -> None:
    broken = draw_blank(upper, inches)
    assert any(t.startswith("Not to scale") for t in written(broken))
    assert len(broken.on("break")) >= 2
    whole = draw_blank(patch, inches)
    # 2 x 2 in is small enough to be drawn at twice its size
    assert not whole.on("break") and any(t.startswith("Drawn about 2.0 : 1") for t in written(whole))


def test_the_datum_edges_are_marked_and_explained(item: Item, inches: Speaker) -> None:
    display = draw_blank(item, inches)
    # two heavy lines and four triangles, one of each in the legend
    assert len(display.on("datum")) == 2 + 4 + 2
    assert "measure from here" in written(display)


def test_a_pan_gets_close_ups_of_its_corners_with_figures_from_the_same_datum(
    pan: Piece, inches: Speaker
) -> None:
    main = draw_blank(pan, inches)
    assert {"A", "A mirrored", "C", "C mirrored"} <= written(main)
    (close,) = draw_blank_close(pan, inches)
    assert {'14-3/8"', '14-1/2"', '15"', "UP 120.3°", 'hole dia. 1/8"'} <= written(close)


def test_a_plain_patch_needs_no_close_up(patch: Piece, inches: Speaker) -> None:
    assert draw_blank_close(patch, inches) == ()


def test_a_panel_without_a_blank_is_refused(upper: RoofPanel, inches: Speaker) -> None:
    with pytest.raises(ValueError, match="P6-U has no blank"):
        draw_blank(replace(upper, blank=None), inches)


def test_a_name_longer_than_the_sheet_is_folded(ell: Piece, inches: Speaker) -> None:
    display = draw_blank(replace(ell, name="x" * 200 + " " + "word " * 40), inches)
    assert_legible(display)
    assert sum("x" in t and set(t) == {"x"} for t in written(display)) >= 1
