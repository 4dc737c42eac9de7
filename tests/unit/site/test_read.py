"""A job file becomes a Site, or every problem at once with its line and column."""

from __future__ import annotations

import pytest

from lapwright.errors import JobProblems
from lapwright.site.model import Defaults, Deviation, Opening, Panel, Roof, Weather
from lapwright.site.read import read_job
from lapwright.words import Speaker

# 24' 0 = 288; 16' 6 = 198; 7' 8 = 92; 5' 9 = 69
JOB = """\
[job]
name = "Kiln shed"
units = "in"
[roof]
pitch = "7:12"
eave = "24' 0"
slope = "16' 6"
[panel]
coverage = 18
rib_height = "1 3/4"
[[opening]]
name = "flue stack"
kind = "masonry-chimney"
left = "7' 8"
up = "5' 9"
width = 26
length = 34
height = 60
"""
OPENING = Opening("flue stack", "masonry-chimney", 92.0, 69.0, 26.0, 34.0, 60.0, "plumb")


def problems(text: str | bytes) -> list[str]:
    with pytest.raises(JobProblems) as caught:
        read_job(text, "J.toml")
    return list(caught.value.lines(Speaker(caught.value.unit)))


def with_line(line: str, after: str) -> str:
    """The job with one more line after the line `after`."""
    assert f"{after}\n" in JOB
    return JOB.replace(f"{after}\n", f"{after}\n{line}\n")


def instead(old: str, new: str) -> str:
    assert old in JOB
    return JOB.replace(old, new)


def test_a_job_reads_into_inches_with_every_default_filled_in() -> None:
    site = read_job(JOB, "J.toml")
    assert (site.name, site.units) == ("Kiln shed", "in")
    assert Roof(7.0, 288.0, 198.0) == site.roof
    assert Panel(18.0, 1.75) == site.panel
    assert Weather() == site.weather
    assert site.openings == (OPENING,)
    assert site.deviations == ()


def test_bytes_with_a_mark_and_dos_line_ends_read_the_same() -> None:
    assert read_job(JOB, "a") == read_job(b"\xef\xbb\xbf" + JOB.replace("\n", "\r\n").encode(), "a")


def test_a_job_in_mm_reads_bare_numbers_as_mm() -> None:
    text = instead('units = "in"', 'units = "mm"')
    for old, new in (("coverage = 18", "coverage = 457.2"), ("width = 26", "width = 635"),
                     ("length = 34", "length = 889"), ("height = 60", "height = 1524"),
                     ('"1 3/4"', '"1 3/4 in"')):  # fmt: skip
        text = text.replace(old, new)
    site = read_job(text, "J.toml")
    # 457.2 / 25.4 = 18; 635 / 25.4 = 25; 889 / 25.4 = 35; 1524 / 25.4 = 60
    assert (site.units, site.panel.coverage, site.panel.rib_height) == ("mm", 18.0, 1.75)
    assert (site.openings[0].width, site.openings[0].length, site.openings[0].height) == (25.0, 35.0, 60.0)


def test_folded_seams_are_held_by_clips_unless_told() -> None:
    assert read_job(with_line('seam = "double-fold"', "[panel]"), "J").panel.fixing == "clip"
    told = with_line('seam = "double-fold"\nfixing = "nailing-flange"', "[panel]")
    assert read_job(told, "J").panel.fixing == "nailing-flange"


@pytest.mark.parametrize(
    ("kind", "face"),
    [("masonry-chimney", "plumb"), ("framed-chimney", "plumb"), ("wall", "plumb"),
     ("curb", "square"), ("skylight", "square")],
)  # fmt: skip
def test_the_face_follows_the_kind(kind: str, face: str) -> None:
    assert face == read_job(instead("masonry-chimney", kind), "J").openings[0].face


def test_measures_come_from_the_opening_then_the_job_then_practice() -> None:
    text = JOB + 'extent = 20\n[defaults]\nextent = 16\noverrun = "7 1/2"\nsteepest = 50\n'
    assert Defaults(extent=20.0, overrun=7.5, steepest=50.0) == read_job(text, "J").openings[0].measures


def test_a_pipe_is_given_by_diameter_and_centre() -> None:
    text = JOB + '[[opening]]\nname = "vent"\nkind = "pipe"\nleft = 200\nup = 40\ndiameter = 4\nheight = 12\n'
    pipe = read_job(text, "J").openings[1]
    assert (pipe.left, pipe.up, pipe.width, pipe.length, pipe.diameter) == (200.0, 40.0, 4.0, 4.0, 4.0)


def test_deviations_name_an_opening_and_what_is_wrong() -> None:
    text = JOB + '[[deviation]]\nopening = "flue stack"\nwhat = "no-tape"\nwhere = "left"\n'
    assert (Deviation("flue stack", "no-tape", "left"),) == read_job(text, "J").deviations


def test_a_roof_without_openings_is_a_job() -> None:
    assert read_job(JOB[: JOB.index("[[opening]]")], "J").openings == ()


def test_every_problem_is_reported_at_once_in_file_order() -> None:
    text = (
        JOB.replace('"7:12"', "7").replace("coverage = 18", "coverage = 4").replace("width = 26", "widht = 26")
        + "extent = true\n"
    )
    assert problems(text) == [
        "J.toml:5:9: roof.pitch: 7: do you mean 7:12, 7 deg or 7 %?",
        "J.toml:9:12: panel.coverage: 4 is given; 8\" to 3' 0\" is allowed",
        "J.toml:11:3: opening[1].width: nothing is given; a length from 2\" to 100' 0\" is needed",
        "J.toml:16:1: opening[1].widht: no such field; did you mean width?",
        "J.toml:19:10: opening[1].extent: true is given; a length from 4\" to 5' 0\" is allowed, "
        "such as 88.5 or \"7' 4 1/2\"",
    ]


def test_ranges_print_in_the_jobs_unit() -> None:
    # 8 in = 203.2 mm, 36 in = 914.4 mm
    text = instead('units = "in"', 'units = "mm"').replace('"1 3/4"', "44")
    said = [line for line in problems(text) if "coverage" in line]
    assert said == ["J.toml:9:12: panel.coverage: 18 is given; 203.2 mm to 914.4 mm is allowed"]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (instead("[roof]", "[rooof]"), "J.toml:4:2: rooof: no such table; did you mean roof?"),
        (instead("[[opening]]", "[opening]"),
         "J.toml:11:2: opening: {...} is given; write each one under its own [[opening]]"),
        (instead("[panel]", "[[panel]]"), "J.toml:8:3: panel: [...] is given; one table [panel] is allowed"),
        ("pitch = 7\n" + JOB, "J.toml:1:1: pitch: does not belong here; it belongs in [roof]"),
        (with_line('pitch = "7:12"', "[panel]"),
         "J.toml:9:1: panel.pitch: does not belong here; it belongs in [roof]"),
        (with_line("zzz = 1", "[job]"), "J.toml:2:1: job.zzz: no such field in [job]; known are name, units"),
        (with_line("first_rib = 18", "[panel]"),
         'J.toml:9:13: panel.first_rib: 18" is given; less than the coverage of 18" is allowed'),
        (with_line('"lay" = "left to right"', "[panel]"),
         'J.toml:9:9: panel.lay: "left to right" is given; did you mean left-to-right? '
         "Allowed are left-to-right, right-to-left"),
        (with_line("outline = [[0, 0], [9, 0]]", "[roof]"), "J.toml:5:1: roof.outline: not read by this version; "
         "give the straight figures instead (eave and slope, or left, up, width and length)"),
        (JOB + "diameter = 4\n",
         "J.toml:19:1: opening[1].diameter: not for a masonry-chimney; only a pipe has it"),
        (JOB + "[site]\nrain = nan\n",
         "J.toml:20:8: site.rain: nan is given; a number from 0.1 to 40 (in/h) is allowed"),
        (JOB + "[site]\nwind_speed = -inf\n",
         "J.toml:20:14: site.wind_speed: -inf is given; a number from 50 to 300 (mph) is allowed"),
        (JOB + "[site]\nsnow = 1\n", "J.toml:20:8: site.snow: 1 is given; true or false is allowed"),
        (instead("width = 26", "width = 1979-05-27"), 'J.toml:16:9: opening[1].width: 1979-05-27 is given; '
         "a length from 2\" to 100' 0\" is allowed, such as 88.5 or \"7' 4 1/2\""),
        (instead('"flue stack"', '""'), 'J.toml:12:8: opening[1].name: "" is given; 1 to 60 characters are allowed'),
        (instead('"flue stack"', '"a\\u202eb"'), 'J.toml:12:8: opening[1].name: "a\\u202eb" is given; '
         "the character U+202E cannot be printed and is not allowed"),
        (JOB + '[[deviation]]\nopening = "flu stack"\nwhat = "pan-cut"\n',
         "J.toml:20:11: deviation[1].opening: flu stack is no opening of this job; did you mean flue stack?"),
        (instead('"masonry-chimney"', '"chimney"'), 'J.toml:13:8: opening[1].kind: "chimney" is given; '
         "allowed are masonry-chimney, framed-chimney, curb, skylight, wall, pipe"),
        (instead('"masonry-chimney"', '"masonry"'), 'J.toml:13:8: opening[1].kind: "masonry" is given; '
         "did you mean masonry-chimney? "
         "Allowed are masonry-chimney, framed-chimney, curb, skylight, wall, pipe"),
    ],
)  # fmt: skip
def test_a_problem_names_its_place_what_was_given_and_what_is_allowed(text: str, line: str) -> None:
    assert [line] == problems(text)


def test_a_missing_table_is_one_problem_not_one_per_field() -> None:
    text = JOB.replace("[roof]", "[job.roof]")
    assert [
        line for line in problems(text) if ": roof:" in line
    ] == ["J.toml:1:1: roof: the table [roof] is missing; it is needed"]


def test_a_pipe_with_a_width_is_told_about_its_diameter() -> None:
    said = problems(instead("masonry-chimney", "pipe"))
    assert "J.toml:16:1: opening[1].width: not for a pipe; give diameter, and left and up of its centre" in said
    assert "J.toml:11:3: opening[1].diameter: nothing is given; a length from 1/2\" to 5' 0\" is needed" in said


def test_an_unknown_unit_does_not_make_every_length_a_problem() -> None:
    # 457 is no coverage in inches, but nobody knows yet that these are inches
    said = problems(instead('units = "in"', 'units = "inch"').replace("coverage = 18", "coverage = 457"))
    assert said == ['J.toml:3:9: job.units: "inch" is given; did you mean in? Allowed are in, mm']


def test_inline_and_dotted_tables_have_places_too() -> None:
    text = (
        'job = {name = "x"}\nroof.pitch = "7:12"\nroof.eave = 200\nroof."slope" = 1\n'
        "panel = {coverage = 18, rib_height = 99}\n"
    )
    assert problems(text) == [
        "J.toml:4:16: roof.slope: 1 is given; 2' 0\" to 250' 0\" is allowed",
        'J.toml:5:38: panel.rib_height: 99 is given; 1/2" to 4" is allowed',
    ]


def test_columns_count_characters_not_bytes() -> None:
    # å ä ö are two bytes each: `roof = {"åäö" = 1, eave = 1` puts the value of eave at character 27
    text = '[job]\nname = "x"\n[panel]\ncoverage = 18\nrib_height = 1\n[roof]\npitch = "7:12"\nslope = 200\n'
    assert "J.toml:9:5: roof.å: no such field" in problems(text + '    "å" = 1\neave = 99\n')[0]
    said = problems('roof = {"åäö" = 1, eave = 1}\n' + text.replace("[roof]", "[site]"))
    assert any(line.startswith("J.toml:1:27: roof.eave: 1 is given;") for line in said)


def test_a_hundred_problems_are_enough() -> None:
    assert len(problems(JOB + "".join(f"k{n} = {n}\n" for n in range(500)))) == 100
