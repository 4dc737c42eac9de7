"""The summary shows every finding, the worst first, as text and never as terminal commands."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest

from lapwright.cli.summary import show
from lapwright.site.model import Panel, Roof, Site
from lapwright.verbs.plan import Planned, Said

STOP = Said(
    "cricket.required", "stop", "flue stack", "A cricket is asked for.", '31"', '30"', "Some Code, 2021"
)
NOTE = Said(
    "lift", "note", "flue stack", "The panels ride up [bold]a little[/bold].", '5/16"', '3/16"', "house rule"
)


def planned(name: str = "Shed", stopped: bool = True, *findings: Said) -> Planned:
    site = Site(name, "in", Roof(7.0, 288.0, 198.0), Panel(18.0, 1.75))
    job: Any = SimpleNamespace(
        site=site, layout=SimpleNamespace(ribs=(6.0, 24.0)), panels=(), pieces=(1, 2, 3)
    )
    job.stopped = stopped
    return Planned(cast("Any", job), {}, findings)


def shown(it: Planned, capsys: pytest.CaptureFixture[str], width: str = "100") -> str:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", width)
        show(it, Path("shed-packet"))
    return capsys.readouterr().out


def test_the_roof_is_said_in_feet_and_inches(capsys: pytest.CaptureFixture[str]) -> None:
    # 288 in = 24 ft, 198 in = 16 ft 6 in, two ribs, three pieces.
    text = shown(planned(), capsys)
    assert "24' 0\"" in text
    assert "16' 6\"" in text
    assert "7:12" in text
    assert "ribs: 2" in text
    assert "bend: 3" in text


def test_a_finding_shows_level_place_sentence_rule_yours_limit_and_source(
    capsys: pytest.CaptureFixture[str],
) -> None:
    text = shown(planned("Shed", True, STOP), capsys, "200")
    row = next(line for line in text.splitlines() if line.strip().startswith("STOP "))
    for part in (
        "flue stack",
        "A cricket is asked for.",
        "cricket.required",
        '31"',
        '30"',
        "Some Code, 2021",
    ):
        assert part in row


def test_what_a_user_typed_is_text_and_not_markup_or_terminal_commands(
    capsys: pytest.CaptureFixture[str],
) -> None:
    text = shown(planned("\x1b[31mred\x07 [red]x[/red]", False, NOTE), capsys, "200")
    assert "\x1b" not in text
    assert "\x07" not in text
    assert "[red]x[/red]" in text
    assert "[bold]a little[/bold]" in text


@pytest.mark.parametrize("width", ["40", "80", "300"])
def test_the_packets_folder_is_one_line_at_any_width(capsys: pytest.CaptureFixture[str], width: str) -> None:
    last = shown(planned("Shed", True, STOP, NOTE), capsys, width).splitlines()[-1]
    assert last == "The packet is in shed-packet, stamped DO NOT CUT"
