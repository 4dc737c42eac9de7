"""The roof plan and the plan of one opening."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import Polygon

from lapwright.draw.display import Display, Polyline
from lapwright.draw.marks import standing
from lapwright.draw.opening import seen
from lapwright.draw.roof import draw_opening, draw_roof
from lapwright.layout.model import Layout, Strip
from lapwright.layout.start import Cost, Start
from lapwright.metal.model import Face
from lapwright.site.model import Panel, Roof
from lapwright.words import Speaker


def assert_legible(display: Display) -> None:
    boxes = [(t.text, Polygon(t.box())) for t in display.texts()]
    for i, (name, box) in enumerate(boxes):
        for other, there in boxes[:i]:
            assert box.intersection(there).area < 0.01, f"{name!r} lies on {other!r}"
    x0, y0, x1, y1 = display.extents()
    assert x0 >= 0 and y0 >= 0 and x1 <= display.width and y1 <= display.height


def written(display: Display) -> set[str]:
    return {t.text for t in display.texts()}


def roof_of(r, speaker: Speaker) -> Display:  # type: ignore[no-untyped-def]
    return draw_roof(r.site, r.layout, [r.detail], r.panels, speaker)


def opening_of(r, speaker: Speaker) -> Display:  # type: ignore[no-untyped-def]
    return draw_opening(r.site, r.layout, r.detail, r.pieces, r.panels, speaker)


def test_roof_plan_is_legible(roofed, speaker: Speaker) -> None:  # type: ignore[no-untyped-def]
    assert_legible(roof_of(roofed, speaker))


def test_roof_plan_gives_every_rib_from_the_left_edge(roofed, inches: Speaker) -> None:  # type: ignore[no-untyped-def]
    # 6, 24, 42 ... 276 and both edges
    wanted = {f'{6 + 18 * i}"' for i in range(16)} | {'0"', '288"'}
    upright = {t.text for t in roof_of(roofed, inches).texts() if t.angle == 90.0 and t.anchor == "end"}
    assert upright == wanted


def test_roof_plan_gives_opening_pan_cleat_and_notches_from_the_eave(roofed, inches: Speaker) -> None:  # type: ignore[no-untyped-def]
    assert {'69"', '103"', '96"', '115"', '99"', '112"', '109"', '97-1/4"', '198"'} <= written(
        roof_of(roofed, inches)
    )
    assert {'92"', '118"', "flue stack", "EAVE", "RIDGE", "RAKE", "P6", "P17"} <= written(
        roof_of(roofed, inches)
    )


def test_every_strip_is_numbered(roofed, inches: Speaker) -> None:  # type: ignore[no-untyped-def]
    bold = {t.text for t in roof_of(roofed, inches).texts() if t.bold}
    assert {str(n) for n in range(1, 18)} <= bold


def test_a_rib_under_an_opening_stands_below_it_and_again_above_the_cleat(roofed) -> None:  # type: ignore[no-untyped-def]
    # the rib at 96 is met by the level cleat, y 112; at 78 + 7 = 85 by the slanted one, halfway 99 to 112
    assert standing(96.0, 198.0, [roofed.detail]) == [(0.0, 69), (112.0, 198.0)]
    assert standing(132.0, 198.0, [roofed.detail]) == [(0.0, 198.0)]


def test_a_very_wide_roof_thins_its_figures_but_stays_legible(roofed, inches: Speaker) -> None:  # type: ignore[no-untyped-def]
    ribs = tuple(6.0 + 12 * i for i in range(100))
    strips = tuple(Strip(i, a, a + 12, True, True) for i, a in enumerate(ribs))
    site = replace(roofed.site, roof=Roof(7, 1200, 198), panel=Panel(12, 1.75))
    display = draw_roof(site, Layout(ribs, strips, (), 6.0, Start(6.0, Cost(0, 0, 0, 0.0), None)), [], (), inches)
    assert_legible(display)
    assert '0"' in written(display)


def test_opening_plan_is_legible(roofed, speaker: Speaker) -> None:  # type: ignore[no-untyped-def]
    assert_legible(opening_of(roofed, speaker))


def test_cleat_corners_are_given_from_the_rib_and_from_the_back_face(roofed, inches: Speaker) -> None:  # type: ignore[no-untyped-def]
    got = written(opening_of(roofed, inches))
    # across: 92 - 78 = 14, 118 - 78 = 40, 132 - 78 = 54; up: 112 - 103 = 9, 103 - 99 = 4; pan 115 - 103, 103 - 96
    assert {
        '14"',
        '40"',
        '54"',
        '9" up',
        '4" down',
        '12" up',
        '7" down',
        "back face",
        "1",
        "2",
        "3",
        "4",
    } <= got
    row = 'Cleat corner 2: 14" along, 9" upslope of the back face, 112" from the eave'
    assert row in got


def test_notches_are_named_on_the_bay_ribs(roofed, inches: Speaker) -> None:  # type: ignore[no-untyped-def]
    got = written(opening_of(roofed, inches))
    # 109 - 103 = 6 up; 103 - 97 1/4 = 5 3/4 down
    text = " ".join(t.text for t in opening_of(roofed, inches).texts())
    assert 'Rib at 0": outer leg and any nailing flange off from 109" down to 97-1/4" from the eave' in text
    assert 'Rib at 54": lock and outer wall off from 109" down to 97-1/4" from the eave' in text
    assert {"outer leg", "lap lock", '6" up', '5-3/4" down'} <= got


def test_an_opening_that_is_not_detailed_is_drawn_and_says_so(roofed, inches: Speaker) -> None:  # type: ignore[no-untyped-def]
    bare = replace(roofed.detail, method="none", cleat_line=(), pan=None, notches=())
    display = draw_opening(roofed.site, roofed.layout, bare, (), (), inches)
    assert_legible(display)
    assert any("NOT DETAILED" in t for t in written(display))


def test_a_standing_face_is_seen_as_a_line_and_a_flat_one_as_its_ring() -> None:
    standing_face = Face("u", ((92, 65, 0), (92, 65, 8), (92, 103, 8), (92, 103, 0)))
    assert seen(standing_face) == ((92, 65), (92, 103))
    flat = Face("b", ((88, 65, 0), (92, 65, 0), (92, 109, 0), (88, 109, 0)))
    assert seen(flat) == ((88, 65), (92, 65), (92, 109), (88, 109))


@pytest.mark.parametrize("name", ["<script>alert(1)</script>", "a" * 300, ""])
def test_any_name_of_an_opening_is_drawn(roofed, inches: Speaker, name: str) -> None:  # type: ignore[no-untyped-def]
    stack = replace(roofed.detail.opening, name=name)
    r = replace(roofed.detail, opening=stack)
    for display in (
        draw_roof(roofed.site, roofed.layout, [r], roofed.panels, inches),
        draw_opening(roofed.site, roofed.layout, r, roofed.pieces, roofed.panels, inches),
    ):
        assert_legible(display)
        hatched = [m for m in display.on("wall") if isinstance(m, Polyline)]
        assert hatched and hatched[0].fill == "hatch"
