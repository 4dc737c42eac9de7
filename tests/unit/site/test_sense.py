"""Geometry that cannot be built is reported at the field that makes it so; 1/16 inside, it is not."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from lapwright.errors import JobProblems
from lapwright.site.model import Opening
from lapwright.site.read import read_job
from lapwright.site.sense import footprint
from lapwright.words import Speaker


def job(panel: str = "", *openings: str) -> str:
    """A roof 240 along the eave and 180 up the slope."""
    text = '[job]\nname = "x"\n[roof]\npitch = "12:12"\neave = 240\nslope = 180\n'
    text += f"[panel]\ncoverage = 18\nrib_height = 1.5\n{panel}"
    return text + "".join(f"[[opening]]\nheight = 20\n{row}\n" for row in openings)


def box(name: str, left: float, up: float, width: float = 20, length: float = 30) -> str:
    return f'name = "{name}"\nkind = "curb"\nleft = {left}\nup = {up}\nwidth = {width}\nlength = {length}'


def pipe(name: str, left: float, up: float, diameter: float = 4) -> str:
    return f'name = "{name}"\nkind = "pipe"\nleft = {left}\nup = {up}\ndiameter = {diameter}'


def problems(text: str) -> list[str]:
    with pytest.raises(JobProblems) as caught:
        read_job(text, "J.toml")
    return [line.split(": ", 1)[1] for line in caught.value.lines(Speaker())]


# A 12:12 roof stands at 45 degrees: a pipe of 4 is cut 4 x sqrt 2 = 5.657 long, 2.828 each way from its centre.
@pytest.mark.parametrize(
    ("wrong", "says", "right"),
    [
        (job("", box("a", 220.0625, 60)), "opening[1].width: the opening's right side is at 20' 0-1/16\", 1/16\" "
         "past the eave's end; at most 20' 0\" is allowed", job("", box("a", 220, 60))),
        (job("", box("a", 240.0625, 60)), "opening[1].left: the opening's right side is at 21' 8-1/16\", 20-1/16\" "
         "past the eave's end; at most 20' 0\" is allowed", job("", box("a", 220, 60))),
        (job("", box("a", 60, 150.0625)), "opening[1].length: the opening's back is at 15' 0-1/16\", 1/16\" past "
         "the upper edge; at most 15' 0\" is allowed", job("", box("a", 60, 150))),
        (job("", box("a", 60, 190)), "opening[1].up: the opening's back is at 18' 4\", 40\" past "
         "the upper edge; at most 15' 0\" is allowed", job("", box("a", 60, 150))),
        (job("", pipe("a", 1.9375, 60)), "opening[1].left: the opening runs 1/16\" past the left edge of the roof; "
         "0 or more is allowed", job("", pipe("a", 2, 60))),
        (job("", pipe("a", 60, 2.75)), "opening[1].up: the opening runs 1/16\" below the eave; "
         "0 or more is allowed", job("", pipe("a", 60, 2.875))),
        (job("", pipe("a", 238.0625, 60)), "opening[1].left: the opening's right side is at 20' 0-1/16\", 1/16\" "
         "past the eave's end; at most 20' 0\" is allowed", job("", pipe("a", 238, 60))),
        (job("", box("a", 60, 60), box("b", 79.9375, 80)), "opening[2].left: overlaps a by 1/16\" across and 10\" "
         "up the slope; openings may not overlap", job("", box("a", 60, 60), box("b", 80, 80))),
        (job("", box("a", 60, 60), box("b", 60, 89.9375)), "opening[2].left: overlaps a by 20\" across and 1/16\" "
         "up the slope; openings may not overlap", job("", box("a", 60, 60), box("b", 60, 90))),
        (job("", box("Flue", 60, 60), box("fl\u00fcck", 90, 60), box(" flue ", 120, 60)),
         "opening[3].name: the name flue is taken by opening 1; each opening needs its own",
         job("", box("Flue", 60, 60), box("flue 2", 90, 60))),
        (job("first_rib = 18\n"), 'panel.first_rib: 18" is given; less than the coverage of 18" is allowed',
         job("first_rib = 17.9375\n")),
        (job("", box("a", 60, 60) + "\nrib_turn_up = 1.5625"), 'opening[1].rib_turn_up: 1-9/16" is given; '
         'no more than the rib height of 1-1/2" is allowed', job("", box("a", 60, 60) + "\nrib_turn_up = 1.5")),
        (job().replace("eave = 240", "eave = 24").replace("coverage = 18", "coverage = 24.0625"),
         "panel.coverage: 24-1/16\" is given; no more than the eave of 2' 0\" is allowed",
         job().replace("eave = 240", "eave = 24").replace("coverage = 18", "coverage = 24")),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_and_a_sixteenth_inside_is_not(wrong: str, says: str, right: str) -> None:
    assert [says] == problems(wrong)
    read_job(right, "J.toml")


def test_a_sound_opening_is_still_asked_when_another_cannot_be_read() -> None:
    said = problems(job("", box("a", 60, 60).replace("width = 20", "width = true"), box("b", 230, 60)))
    assert [line.split(":")[0] for line in said] == ["opening[1].width", "opening[2].width"]


def test_a_pipe_takes_an_ellipse_on_the_roof() -> None:
    hole = Opening("p", "pipe", 50.0, 40.0, 4.0, 4.0, 12.0, "plumb", diameter=4.0)
    assert (48.0, 52.0, 40 - 2 * math.sqrt(2), 40 + 2 * math.sqrt(2)) == pytest.approx(
        footprint(hole, math.pi / 4), abs=1e-12
    )


@pytest.mark.parametrize("what", ["reversed-lap", "open-corner"])
def test_a_pipe_has_no_corner_to_leave_open_and_no_side_wall_to_lap(what: str) -> None:
    text = (Path(__file__).parents[3] / "examples" / "pipe-in-a-pan" / "job.toml").read_text(encoding="utf-8")
    name = read_job(text, "job.toml").openings[0].name
    wrong = f'{text}\n[[deviation]]\nopening = "{name}"\nwhat = "{what}"\n'
    with pytest.raises(JobProblems) as problems:
        read_job(wrong, "job.toml")
    (line,) = problems.value.lines(Speaker())
    # the last line of the file, at its value: what = "
    assert line.startswith(f"job.toml:{wrong.count(chr(10))}:8: ")
    assert "no-sealant, no-tape, short-hem, pan-cut, screw-in-water" in line
