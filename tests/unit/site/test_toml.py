"""Text that is no TOML gets one plain sentence, and every unquoted length its own."""

from __future__ import annotations

import pytest

from lapwright.errors import JobProblems
from lapwright.site.toml import MOST_BYTES, read_toml
from lapwright.words import Speaker


def problems(text: str | bytes) -> list[str]:
    with pytest.raises(JobProblems) as caught:
        read_toml(text, "J.toml")
    return list(caught.value.lines(Speaker()))


def test_every_length_without_quotes_is_shown_with_them() -> None:
    text = "[roof]\neave = 24' 0\nslope = 16' 6\"  # up\nwidth = 1 3/4\npitch = 7:12\nup = 1612 mm\nleft = 12\n"
    assert problems(text) == [
        "J.toml:2:8: eave: 24' 0 is given without quotes; write \"24' 0\"",
        "J.toml:3:9: slope: 16' 6 is given without quotes; write \"16' 6\"",
        'J.toml:4:9: width: 1 3/4 is given without quotes; write "1 3/4"',
        'J.toml:5:9: pitch: 7:12 is given without quotes; write "7:12"',
        'J.toml:6:6: up: 1612 mm is given without quotes; write "1612 mm"',
    ]


def test_an_inch_mark_that_ends_the_text_early_is_explained() -> None:
    assert problems('eave = "24\' 6""\n') == [
        "J.toml:1:8: eave: an inch mark inside the quotes ends the text early; write \"24' 6\""
    ]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("[roof]\na = 1\na = 2\n", "3:1: job file: given twice, or used as a table and as a value; once is allowed"),
        ("[a]\n[a]\n", "2:1: job file: given twice, or used as a table and as a value; once is allowed"),
        ("a = [1, 2\n", "2:1: job file: a quote or a bracket is opened and not closed; close it on this line"),
        ('a = "x\n', "1:7: job file: a character that may not stand here; write plain text, and text in quotes"),
        ("hello\n", "1:6: job file: no = after the field's name; write name = value"),
        ("a = yes\n",
         '1:5: job file: this is no number and no text in quotes; write a number, "text", true or false'),
        ("= 3\n", "1:1: job file: this line is neither name = value nor [table]"),
        ("a = 1 }\n",
         '1:7: job file: this is no number and no text in quotes; write a number, "text", true or false'),
        ('a = "\\q"\n', '1:8: job file: a backslash that means nothing here; '
         'write \\" for an inch mark and \\\\ for a backslash'),
        (b"a = 1\nb = \"\xff\"\n", "2:6: job file: this byte is not UTF-8 text; save the file as UTF-8"),
        ("a.b.c.d.e.f.g.h.i.j = 1\n", "1:18: job file: more than 8 dots in one key; a job file needs none"),
        ("a = " + "[" * 9, "1:13: job file: brackets inside brackets deeper than 8; a job file needs two"),
        # four quotes close a text that ends in a quote, and the brackets after it are brackets: the first
        # stands at 5, the text ends at 13, so the ninth, eight times `, [` on, stands at 13 + 24 = 37
        ('a = ["""x""""' + ", [" * 9, "1:37: job file: brackets inside brackets deeper than 8; a job file needs two"),
        ("a = " + "9" * 5000, "1:5: job file: a number of more than 40 digits; no length is that long"),
    ],
)  # fmt: skip
def test_what_is_no_job_file_is_placed_and_named(text: str | bytes, line: str) -> None:
    assert [f"J.toml:{line}"] == problems(text)


def test_a_file_too_big_is_not_read() -> None:
    assert problems("#" * 65537) == ["J.toml:1:1: job file: the file has 65537 bytes; at most 65536 are read"]
    # 30,000 characters of 3 bytes each are 90,000 bytes
    assert problems("#" + "€" * 30_000) == ["J.toml:1:1: job file: the file has 90001 bytes; at most 65536 are read"]
    assert read_toml("#" * MOST_BYTES, "J.toml")[1] == {}


@pytest.mark.parametrize(
    "text",
    ["# a.b.c.d.e.f.g.h.i.j.k [[[[[[[[[[[[\n", 'a = "1.2.3.4.5.6.7.8.9.10.11 [[[[[[[[[["\n', "a = '[[[[[[[[[['\n",
     'a = """\n[[[[[[[[[[\n1.2.3.4.5.6.7.8.9.10\n"""\n', "a = '''[[[[[[[[[['''\n", 'a = """x""""\nb = "[[[[[[[[[["\n',
     'a = "\\"[[[[[[[[[["\n', 'a = "' + "9" * 60 + '"\n'],
)  # fmt: skip
def test_text_and_comments_may_hold_anything(text: str) -> None:
    read_toml(text, "J.toml")
