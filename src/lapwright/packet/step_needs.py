"""What a step needs and what is checked before the next: keys of words/, chosen by how the step is done."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from lapwright.findings import Value
from lapwright.packet.model import Step
from lapwright.shop import rates
from lapwright.site.model import Site
from lapwright.words import phrases

ROOT = "stepdraw.step_needs"
SPACINGS: dict[str, Value] = {
    "panel_fixing": rates.PANEL_FIXING,
    "strip_screw": rates.STRIP_SCREW,
    "cleat_screw": rates.CLEAT_SCREW,
    "wall_screw": rates.WALL_SCREW,
    "wedge": rates.WEDGE,
    "rivet": rates.RIVET,
    "lap_pass": rates.LAP_PASS,
}
"""Values that the phrases name: the takeoff's own. [in]"""
CHECKS = ("check", "check2", "check3")


def equipped(site: Site, step: Step) -> Step:
    """The step with its tools, sealant, fasteners and checks, and the spacings that their phrases name. [in]

    A phrase may be particular to how the step is done: `tools_solder` beats `tools` where patches are soldered.
    """
    _, kind, how = step.title.split(".")
    ways = list(_ways(site, step, how))
    return replace(
        step,
        values={**SPACINGS, **step.values},
        tools=_pick(kind, "tools", ways),
        sealant=_pick(kind, "sealant", ways),
        fasteners=_pick(kind, "fasteners", ways),
        checks=tuple(key for c in CHECKS for key in _pick(kind, c, ways)),
    )


def _ways(site: Site, step: Step, how: str) -> Iterator[str]:
    """How the step is done, the most particular first."""
    seam = "folded" if site.panel.folded else "snap"
    yield f"{how}-{seam}"
    yield how
    yield from (key.rsplit(".", 1)[1] for key in step.does)
    yield site.panel.fixing
    yield seam


def _pick(kind: str, part: str, ways: list[str]) -> tuple[str, ...]:
    known = phrases()
    for way in ways:
        if f"{ROOT}.{kind}.{part}_{way}" in known:
            return (f"{ROOT}.{kind}.{part}_{way}",)
    # A step of another way has its own lines or none.
    return (f"{ROOT}.{kind}.{part}",) if f"{ROOT}.{kind}.{part}" in known else ()
