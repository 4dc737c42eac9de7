"""The look: every theme reads at 7:1, fields are 48 px high, nothing on a page asks for what the policy forbids."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

WEB = Path(__file__).parents[3] / "src" / "lapwright" / "web"
CSS = (WEB / "static" / "look.css").read_text(encoding="utf-8")
TEXT_ON = [
    ("ink", "paper"), ("ink", "raised"), ("soft", "paper"), ("soft", "raised"), ("accent", "paper"),
    ("accent", "raised"), ("on-accent", "accent"), ("ink", "lit"), ("stop", "paper"), ("stop", "raised"),
    ("caution", "paper"), ("caution", "raised"), ("good", "paper"), ("sheet-ink", "sheet"),
]  # fmt: skip


def themes() -> dict[str, dict[str, str]]:
    """Every block of tokens in the sheet; what it leaves out it has from the first."""
    found: dict[str, dict[str, str]] = {}
    for n, (name, block) in enumerate(re.findall(r"(:root[^{]*)\{([^}]*--paper[^}]*)\}", CSS)):
        tokens = dict(re.findall(r"--([\w-]+):\s*(#[0-9a-f]{6})", block))
        found[f"{n} {name.strip()}"] = {**next(iter(found.values()), {}), **tokens}
    return found


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, "contrast ratio" and "relative luminance" (W3C Recommendation, 5 October 2023)."""

    def luminance(colour: str) -> float:
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        r, g, b = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
        return 0.2126 * r + 0.7152 * g + 0.0722 * b

    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_is_twenty_one_to_one() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


def test_there_are_the_light_the_dark_and_the_high_contrast_look_each_by_device_and_by_switch() -> None:
    assert len(themes()) == 5


@pytest.mark.parametrize("theme", themes())
def test_text_reads_at_seven_to_one_in_every_theme(theme: str) -> None:
    tokens = themes()[theme]
    low = {pair: round(r, 2) for pair in TEXT_ON if (r := contrast(tokens[pair[0]], tokens[pair[1]])) < 7.0}
    assert low == {}


@pytest.mark.parametrize("theme", themes())
def test_edges_of_fields_and_the_focus_ring_read_at_three_to_one(theme: str) -> None:
    tokens = themes()[theme]
    for edge in ("rule", "focus"):
        assert contrast(tokens[edge], tokens["paper"]) >= 3.0


def test_a_theme_by_the_device_and_the_same_by_the_switch_are_one() -> None:
    _, dark, dark_by_switch, contrast_by_device, contrast_by_switch = themes().values()
    assert dark == dark_by_switch
    assert contrast_by_device == contrast_by_switch


def test_fields_and_buttons_are_48_px_high_and_text_is_16() -> None:
    assert "--field: 3rem" in CSS and "font: 100%/1.5" in CSS
    fields = re.search(r"button, \.button, input, select, textarea \{([^}]*)\}", CSS)
    assert fields and "font-size: 1rem" in fields[1] and "min-height: var(--field)" in fields[1]
    sizes = [float(size) for size in re.findall(r"font-size:\s*([\d.]+)rem", CSS)]
    assert sizes and min(sizes) >= 1.0


@pytest.mark.parametrize("template", sorted(p.name for p in (WEB / "templates").rglob("*.html")))
def test_no_template_asks_for_what_the_policy_forbids(template: str) -> None:
    text = next((WEB / "templates").rglob(template)).read_text(encoding="utf-8")
    assert not re.search(r"\sstyle=|\son[a-z]+=|javascript:|<style|https?://(?!www\.w3\.org)", text)
    # a block of data is not run
    assert not re.search(r'<script(?![^>]*\ssrc=|\stype="application/json")', text)


def test_what_is_vendored_has_its_version_in_its_name_and_its_licence_beside_it() -> None:
    vendor = WEB / "static" / "vendor"
    assert (vendor / "htmx-2.0.4.min.js").stat().st_size > 40_000
    assert "Zero-Clause BSD" in (vendor / "htmx-LICENSE.txt").read_text(encoding="utf-8")
    assert 'version:"2.0.4"' in (vendor / "htmx-2.0.4.min.js").read_text(encoding="utf-8")
