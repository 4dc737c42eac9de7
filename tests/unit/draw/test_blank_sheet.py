"""The card of a blank: complete, legible, true."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import Polygon

from lapwright.draw.card import draw_card, legend_of
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


def card(item: Item, speaker: Speaker) -> Display:
    """The blank's own card; close-ups that found no room on it have others."""
    return draw_card(item, speaker)[0].display


def written(display: Display) -> set[str]:
    return {t.text for t in display.texts()}


def figures(display: Display, angle: float) -> list[str]:
    return [t.text for t in display.texts() if t.anchor == "end" and t.angle == angle]


def said(bend: Bend) -> str:
    way = {"up": "UP", "down": "DOWN"}[bend.way]
    hem = {"bend": "", "closed-hem": " closed hem", "open-hem": " open hem"}[bend.kind]
    return f"{way} {bend.angle_deg:.1f}°{hem}"


def test_no_text_lies_on_another_or_off_the_sheet(item: Item, speaker: Speaker) -> None:
    for one in draw_card(item, speaker):
        assert_legible(one.display)
        assert_legible(legend_of(one.layers, one.display.width, speaker))


def test_every_corner_of_the_outline_has_its_figures(item: Item, speaker: Speaker) -> None:
    display = card(item, speaker)
    assert item.blank is not None
    across, up = set(figures(display, 90.0)), set(figures(display, 0.0))
    points = [*item.blank.outline, *(p for cut in item.blank.cuts for p in cut)]
    assert {speaker.length(u) for u, _ in points} <= across
    assert {speaker.length(v) for _, v in points} <= up


def test_every_bend_square_to_an_edge_has_its_figure(item: Item, speaker: Speaker) -> None:
    display = card(item, speaker)
    across, up = set(figures(display, 90.0)), set(figures(display, 0.0))
    for bend in item.bends:
        if bend.start[1] == bend.end[1]:
            assert speaker.length(bend.start[1]) in up
        if bend.start[0] == bend.end[0]:
            assert speaker.length(bend.start[0]) in across


def test_figures_of_an_ell_read_as_on_the_sketch(ell: Piece, inches: Speaker) -> None:
    display = card(ell, inches)
    assert sorted(figures(display, 90.0)) == sorted(['0"', '1/2"', '59-1/2"', '60"'])
    assert sorted(figures(display, 0.0)) == sorted(['0"', '1/2"', '4-1/2"', '12-1/2"'])


def test_every_bend_is_labelled_with_way_angle_hem_and_order(item: Item, inches: Speaker) -> None:
    display = card(item, inches)
    for bend in item.bends:
        labels = [t for t in display.texts() if t.text == said(bend)]
        assert labels, f"no label {said(bend)}"
        balloons = [t for t in display.texts() if t.text == str(bend.order) and t.bold and t.anchor == "middle"]
        # its own balloon, and one on every close-up that shows it
        assert len(balloons) >= 1


def test_balloons_hold_their_numbers(pan: Piece, inches: Speaker) -> None:
    display = card(pan, inches)
    balls = [m for m in display.on("balloon") if isinstance(m, Circle)]
    assert len(balls) >= len(pan.bends)
    at = {(round(b.centre[0], 3), round(b.centre[1], 3)) for b in balls}
    numbers = {
        (round(t.at[0], 3), round(t.at[1], 3)) for t in display.texts() if t.bold and t.anchor == "middle"
    }
    assert at == numbers


def test_bends_up_and_down_are_drawn_with_different_lines(pan: Piece, inches: Speaker) -> None:
    display = card(pan, inches)
    pens = {p.layer: p for p in display.pens}
    assert len({(pens[n].weight, pens[n].dash) for n in ("cut", "slit", "bend-up", "bend-down")}) == 4
    # 4 up and 4 down, and parts of them again on the close-ups
    assert len(display.on("bend-up")) >= 4 and len(display.on("bend-down")) >= 4


def test_heading_says_id_name_hand_quantity_metal_and_size(ell: Piece, slit: Piece, inches: Speaker) -> None:
    left = " ".join(t.text for t in card(ell, inches).texts())
    assert "SW-L · Side-wall flashing" in left
    assert "LEFT HAND" in left and "RIGHT HAND" not in left
    assert "painted side up" in left and 'blank 60" x 12-1/2"' in left
    assert "24 ga steel" in left and "0.0255 in thick" in left
    assert "Make 2" in " ".join(written(card(slit, inches)))


def test_a_mirrored_piece_says_the_other_hand(ell: Piece, inches: Speaker) -> None:
    right = " ".join(written(card(replace(ell, hand="right"), inches)))
    assert "RIGHT HAND" in right and "LEFT HAND" not in right


def test_slits_and_stop_holes_are_drawn_and_named(slit: Piece, inches: Speaker) -> None:
    display = card(slit, inches)
    assert len(display.on("slit")) >= 4
    assert '2 holes dia. 1/8"' in written(display)


def test_a_long_narrow_blank_is_broken_out_and_says_so(inches: Speaker, upper: RoofPanel, patch: Piece) -> None:
    broken = card(upper, inches)
    assert any("broken out" in t for t in written(broken))
    assert len(broken.on("break")) >= 2
    whole = card(patch, inches)
    assert not whole.on("break") and not any("broken out" in t for t in written(whole))


def test_the_datum_edges_are_marked_and_the_legend_explains_them(item: Item, inches: Speaker) -> None:
    one = draw_card(item, inches)[0]
    # two heavy lines and four triangles
    assert len(one.display.on("datum")) == 2 + 4
    assert "measure from" in written(legend_of(one.layers, 522.0, inches))


def test_a_pan_gets_close_ups_of_its_corners_with_figures_from_the_same_datum(pan: Piece, inches: Speaker) -> None:
    told = written(card(pan, inches))
    assert {"A", "A mirrored", "C", "C mirrored"} <= told
    assert {'14-3/8"', '14-1/2"', '15"', "UP 120.3°"} <= told


def test_a_plain_patch_needs_no_close_up(patch: Piece, inches: Speaker) -> None:
    (one,) = draw_card(patch, inches)
    assert len(one.views) == 1 and "window" not in one.layers


def test_a_small_plain_blank_takes_half_the_width_of_a_page(patch: Piece, inches: Speaker) -> None:
    assert card(patch, inches).width < 523.4 / 2


def test_a_panel_without_a_blank_is_refused(upper: RoofPanel, inches: Speaker) -> None:
    with pytest.raises(ValueError, match="P6-U has no blank"):
        card(replace(upper, blank=None), inches)


def test_a_name_longer_than_the_sheet_is_folded(ell: Piece, inches: Speaker) -> None:
    display = card(replace(ell, name="x" * 200 + " " + "word " * 40), inches)
    assert_legible(display)
    assert sum("x" in t and set(t) == {"x"} for t in written(display)) >= 1
