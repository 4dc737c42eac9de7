"""packet.html: one file that asks for nothing, the same twice, every word of the job only text."""

from __future__ import annotations

import re
from base64 import b64encode
from dataclasses import replace
from functools import cache
from hashlib import sha256
from pathlib import Path

import pytest

from lapwright.job import Job, run
from lapwright.packet.contents import contents
from lapwright.packet.drawings import draw_all
from lapwright.packet.offline import packet_html
from lapwright.site.read import read_job

EXAMPLES = Path(__file__).parents[3] / "examples"


@cache
def job(case: str) -> Job:
    return run(read_job((EXAMPLES / case / "job.toml").read_text(encoding="utf-8"), case))


@cache
def page(case: str) -> str:
    made = job(case)
    return packet_html(contents(made, draw_all(made))).decode()


def inside(tag: str, html: str) -> str:
    (found,) = re.findall(rf"<{tag}>(.*?)</{tag}>", html, re.DOTALL)
    return str(found)


def test_the_same_job_gives_the_same_page() -> None:
    made = job("kiln-shed")
    assert packet_html(contents(made, draw_all(made))).decode() == page("kiln-shed")


def test_a_page_stays_small_enough_to_send_to_a_telephone() -> None:
    assert len(page("kiln-shed").encode()) < 3_000_000


def test_nothing_in_the_page_can_ask_for_anything() -> None:
    html = page("kiln-shed")
    assert re.findall(r"(?:https?:)?//(?!www\.w3\.org/)[\w.]+/", inside("style", html) + inside("script", html)) == []
    assert set(re.findall(r"https?://[^\s\"'<]+", html)) == {"http://www.w3.org/2000/svg"}
    led_to = set(re.findall(r'\b(?:src|href|action|data|poster|xlink:href)="([^"]*)"', html))
    assert {target for target in led_to if not target.startswith("#")} == {"data:,"}
    assert not re.search(r"@import|url\((?!#)", html)


@pytest.mark.parametrize("tag", ["style", "script"])
def test_the_policy_lets_through_this_very_text_and_no_other(tag: str) -> None:
    html = page("kiln-shed")
    (policy,) = re.findall(r'http-equiv="Content-Security-Policy" content="([^"]*)"', html)
    digest = b64encode(sha256(inside(tag, html).encode()).digest()).decode()
    assert f"{tag}-src 'sha256-{digest.replace('+', '&#43;')}'" in policy.replace("+", "&#43;").replace("&#39;", "'")
    assert policy.startswith("default-src") and "unsafe" not in policy
    assert not re.search(r"<[^>]*\s(?:style|on[a-z]+)=", html)


def test_every_part_that_is_led_to_is_there_once() -> None:
    html = page("kiln-shed")
    ids = re.findall(r'\bid="([^"]+)"', html)
    assert [one for one in ids if ids.count(one) > 1] == []
    led_to = re.findall(r'href="#([^"]+)"', html)
    assert len(led_to) > 12 and set(led_to) <= set(ids)


def test_every_step_finding_and_blank_of_the_packet_stands_on_the_page() -> None:
    html, made = page("kiln-shed"), job("kiln-shed")
    # a box to tick for every step
    assert re.findall(r'data-tick="step-(\d+)"', html) == [str(s.n) for s in made.steps]
    assert html.count('<article class="finding">') == len(made.findings)
    for piece in made.pieces:
        assert f'<th scope="row">{piece.id}</th>' in html
    assert "\u200b" not in html


def test_a_job_that_must_stop_says_so_first() -> None:
    stopped = page("must-stop")
    assert stopped.index("DO NOT CUT") < stopped.index("<nav")
    assert "DO NOT CUT" not in page("kiln-shed")


def test_a_name_is_text_and_a_word_between_back_quotes_is_set_as_typed() -> None:
    made = job("kiln-shed")
    said = contents(made, draw_all(made))
    said["name"] = '</title><script>x()</script>"'
    said["findings"][0]["says"] = "use `<b>`, not ` alone"
    html = packet_html(said).decode()
    assert "&lt;/title&gt;&lt;script&gt;x()&lt;/script&gt;" in html
    assert html.count("<script>") == 1
    # three back quotes are no pairs: nothing is set apart
    assert "use `&lt;b&gt;`, not ` alone" in html
    said["findings"][0]["says"] = "use `<b>` there"
    assert "use <code>&lt;b&gt;</code> there" in packet_html(said).decode()


def test_a_roof_without_openings_has_a_page_too() -> None:
    bare = run(replace(job("kiln-shed").site, openings=()))
    html = packet_html(contents(bare, draw_all(bare))).decode()
    assert 'href="#sealing"' not in html and 'id="order"' in html
