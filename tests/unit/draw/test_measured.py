"""A roof drawn while it is measured: every measure on its own layer, whatever is known so far."""

from __future__ import annotations

import math
import re
from dataclasses import fields, replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapwright.draw.display import Display, Line, Polyline, Text
from lapwright.draw.measured import draw_close_up, draw_plane
from lapwright.draw.measured_side import draw_panels, draw_side
from lapwright.draw.so_far import HIGH, WIDE, Hole, SoFar
from lapwright.draw.svg import to_svg
from lapwright.verbs.edit import copy_row, set_value
from lapwright.verbs.form import form_of
from lapwright.verbs.measured import answer, drawings, so_far, view_of
from lapwright.words import Speaker

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*/job.toml"))
KILN = (Path(__file__).parents[3] / "examples" / "kiln-shed" / "job.toml").read_text(encoding="utf-8")
SHED = SoFar(
    rise=8.0, eave=240.0, slope=180.0, coverage=16.0, rib_height=1.75, first_rib=8.0,
    holes=(Hole("stack", "masonry-chimney", "", 100.0, 60.0, 24.0, 30.0, 50.0),),
)  # fmt: skip


def figure(display: Display, id: str) -> str:
    """What is written on the layer of a field."""
    (text,) = [mark.text for mark in display.on(f"m-{id}") if isinstance(mark, Text)]
    return text


def reach(display: Display, id: str) -> float:
    """How long a field's dimension is drawn, arrow tip to arrow tip. [pt]"""
    lines = [mark for mark in display.on(f"m-{id}") if isinstance(mark, Line)]
    points = [p for line in lines for p in (line.a, line.b)]
    return max(math.dist(p, q) for p in points for q in points)


def all_of(known: SoFar, at: int = 0) -> list[Display]:
    views = [draw_plane(known, at, Speaker()), draw_panels(known, Speaker()), draw_side(known, at, Speaker())]
    return views + ([draw_close_up(known, at, Speaker())] if known.holes else [])


def test_each_measure_is_written_on_the_layer_of_its_field() -> None:
    plane, panels, side, close = all_of(SHED)
    assert figure(plane, "roof-eave") == "20' 0\""
    assert figure(plane, "roof-slope") == "15' 0\""
    assert figure(plane, "opening-0-left") == "8' 4\""
    assert figure(plane, "opening-0-up") == "5' 0\""
    assert figure(close, "opening-0-width") == '24"'
    assert figure(close, "opening-0-length") == '30"'
    assert figure(side, "opening-0-height") == "4' 2\""
    assert figure(side, "roof-pitch") == "8:12"
    assert figure(panels, "panel-coverage") == '16"'
    assert figure(panels, "panel-first_rib") == '8"'
    assert figure(panels, "panel-rib_height") == '1-3/4"'


def test_dimensions_are_drawn_to_scale() -> None:
    plane, _, side, close = all_of(SHED)
    # 240 of eave, 180 of slope, 100 to the left side, 60 up
    assert reach(plane, "roof-slope") / reach(plane, "roof-eave") == pytest.approx(180 / 240)
    assert reach(plane, "opening-0-left") / reach(plane, "roof-eave") == pytest.approx(100 / 240)
    assert reach(plane, "opening-0-up") / reach(plane, "roof-eave") == pytest.approx(60 / 240)
    assert reach(close, "opening-0-length") / reach(close, "opening-0-width") == pytest.approx(30 / 24)
    (wall,) = [m for m in side.marks if isinstance(m, Polyline) and m.layer.endswith("m-opening-0-face")]
    assert reach(side, "opening-0-height") / math.dist(wall.points[0], wall.points[3]) == pytest.approx(50 / 30)


def test_a_plumb_face_stands_plumb_and_a_square_one_square() -> None:
    def height(known: SoFar) -> Line:
        (line, *_) = [m for m in draw_side(known, 0, Speaker()).on("m-opening-0-height") if isinstance(m, Line)]
        return line

    plumb, curb = height(SHED), height(replace(SHED, holes=(replace(SHED.holes[0], kind="curb"),)))
    assert plumb.a[0] == pytest.approx(plumb.b[0])
    # square to 8:12: it leans back by atan(8/12)
    lean = math.atan2(curb.a[0] - curb.b[0], curb.b[1] - curb.a[1])
    assert lean == pytest.approx(math.atan2(8, 12))


def test_what_nobody_has_measured_has_a_question_mark() -> None:
    plane, panels, side, close = all_of(SoFar(holes=(Hole(),)))
    asked = [(plane, "roof-eave"), (plane, "roof-slope"), (plane, "opening-0-left"), (plane, "opening-0-up"),
             (panels, "panel-coverage"), (panels, "panel-first_rib"), (panels, "panel-rib_height"),
             (side, "roof-pitch"), (side, "opening-0-height"), (close, "opening-0-width"),
             (close, "opening-0-length")]  # fmt: skip
    assert {figure(display, id) for display, id in asked} == {"?"}
    # a roof nobody has measured is dashed
    assert [m for m in plane.marks if m.layer.startswith("unsure") and isinstance(m, Line)]


def test_only_the_opening_at_hand_is_dimensioned_and_each_can_be_told_apart() -> None:
    two = replace(SHED, holes=(*SHED.holes, replace(SHED.holes[0], name="other", left=20.0)))
    plane = draw_plane(two, 1, Speaker())
    assert figure(plane, "opening-1-left") == '20"'
    assert not plane.on("m-opening-0-left")
    rings = [m.layer for m in plane.marks if isinstance(m, Polyline) and "go-opening" in m.layer]
    assert rings == ["other go-opening-0", "hole go-opening-1"]


PIECE = st.one_of(st.none(), st.floats(0, 6000, allow_nan=False).map(lambda x: round(x, 4)))
SIDE = st.one_of(st.none(), st.floats(2, 1200).map(lambda x: round(x, 4)))
HOLES = st.builds(
    Hole, name=st.text(max_size=30), kind=st.sampled_from(["", "masonry-chimney", "curb", "pipe", "wall"]),
    face=st.sampled_from(["", "plumb", "square"]), left=PIECE, up=PIECE, width=SIDE, length=SIDE, height=SIDE,
    diameter=SIDE,
)  # fmt: skip
KNOWN = st.builds(
    SoFar, rise=st.one_of(st.none(), st.floats(0.25, 24)), eave=st.one_of(st.none(), st.floats(24, 6000)),
    slope=st.one_of(st.none(), st.floats(24, 3000)), coverage=st.one_of(st.none(), st.floats(8, 36)),
    rib_height=st.one_of(st.none(), st.floats(0.5, 4)), first_rib=st.one_of(st.none(), st.floats(0, 36)),
    left_edge=st.sampled_from(["rake", "wall"]), upper_edge=st.sampled_from(["ridge", "wall"]),
    roof_above=st.sampled_from([0.0, 120.0]), holes=st.lists(HOLES, max_size=3).map(tuple),
)  # fmt: skip


@given(KNOWN, st.sampled_from(["in", "mm"]))
def test_anything_known_can_be_drawn(known: SoFar, unit: str) -> None:
    for at in range(max(1, len(known.holes))):
        for display in all_of(known, at):
            ElementTree.fromstring(to_svg(display))
            points = [p for m in display.marks if isinstance(m, Line) for p in (m.a, m.b)]
            assert all(math.isfinite(x) and math.isfinite(y) for x, y in points)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_no_figure_of_an_example_lies_on_another_or_off_the_sheet(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    known = so_far(form_of(text))
    for display in all_of(known):
        boxes = []
        for mark in display.texts():
            xs, ys = zip(*mark.box(), strict=True)
            box = (min(xs), min(ys), max(xs), max(ys))
            assert box[0] >= -1 and box[1] >= -1 and box[2] <= WIDE + 1 and box[3] <= HIGH + 1, mark
            for other, name in boxes:
                apart = box[0] >= other[2] or other[0] >= box[2] or box[1] >= other[3] or other[1] >= box[3]
                assert apart or mark.angle not in (0.0, 90.0), (mark.text, name)
            boxes.append((box, mark.text))


def test_a_change_answers_with_what_reads_otherwise_and_a_new_drawing() -> None:
    after = set_value(KILN, ("roof", "eave"), "22' 4")
    found = answer(KILN, after, 0)
    assert [field.id for field in found.fields] == ["roof-eave"]
    assert "22&#x27; 4&quot;" in found.drawings["roof"]
    assert found.drawings["side"] == drawings(KILN, 0)["side"]
    # the unit changes what every length says
    everything = answer(KILN, set_value(KILN, ("job", "units"), "mm"), 0)
    assert len(everything.fields) > 60


def test_a_whole_job_shows_its_pan_and_a_half_typed_one_still_its_roof() -> None:
    whole, half = drawings(KILN, 0), drawings(set_value(KILN, ("opening", 0, "width"), "23 1/"), 0)
    assert 'class="cleat"' in whole["roof"] and 'class="cleat"' not in half["roof"]
    assert "22&#x27; 3&quot;" in half["roof"]


def test_an_opening_that_is_not_there_is_not_asked_for() -> None:
    assert drawings(KILN, 7) == drawings(KILN, 0)
    assert "opening" not in drawings('[job]\nname = "x"\n', 0)
    assert drawings(copy_row(KILN, "opening", 0), 1) != drawings(copy_row(KILN, "opening", 0), 0)


def test_every_field_that_is_measured_is_lit_in_the_drawing_it_calls_up() -> None:
    shown = drawings(KILN, 0)
    for field in form_of(KILN).fields():
        if field.kind in ("length", "pitch") and field.typed:
            assert re.search(rf'class="[^"]*\bm-{field.id}\b', shown[view_of(field.path)]), field.id


def test_what_is_drawn_is_what_the_form_knows() -> None:
    known = so_far(form_of(KILN))
    # 8' 6 1/2 = 102.5, 6' 5 = 77
    assert (known.holes[0].left, known.holes[0].up, known.rise, known.first_rib) == (102.5, 77.0, 8.0, 7.0)
    assert {field.name for field in fields(Hole)} >= {"left", "up", "width", "length", "height", "diameter"}
