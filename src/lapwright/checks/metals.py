"""The metals: thick enough, and not eating one another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from lapwright.checks.case import Case, held
from lapwright.detail.model import OpeningDetail
from lapwright.findings import Finding
from lapwright.rules import finding, rule
from lapwright.sources import sources
from lapwright.tables import Contact, draining, metals, touching


def thickness(case: Case) -> Iterator[Finding]:
    """Is every metal of an opening thick enough for flashing, its coating counted?"""
    for d in case.detail.openings:
        for key in sorted({p.metal for p in case.opening_pieces(d)}):
            yield from held("flashing.thickness", d.opening.name, metals()[key].coated, metal=f"metals.{key}")


def contacts(case: Case) -> Iterator[Finding]:
    """Do metals lie on each other, or in mortar, that corrode there?"""
    for d in case.detail.openings:
        flashing, counter = _metals_of(case, d)
        panel = case.site.panel.metal
        pairs = {*((f, panel) for f in flashing), *((c, f) for c in counter for f in flashing)}
        for one, other in sorted(pairs):
            row = touching(metals()[one].family, metals()[other].family)
            yield from _said("metals.contact", d, row, one, f"metals.{other}")
        if d.opening.kind == "masonry-chimney":
            for key in sorted(counter):
                row = touching(metals()[key].family, "masonry")
                yield from _said("metals.contact", d, row, key, "metals.family.masonry")


def runoff(case: Case) -> Iterator[Finding]:
    """Does water run from one metal onto another that it eats? Panels drain onto the pan, the pan onto panels."""
    for d in case.detail.openings:
        flashing, counter = _metals_of(case, d)
        panel = case.site.panel.metal
        pairs = {(f, panel) for f in flashing} | {(panel, f) for f in flashing}
        pairs |= {(c, below) for c in counter for below in (*flashing, panel)}
        for above, below in sorted(pairs):
            row = draining(metals()[above].family, metals()[below].family)
            yield from _said("metals.runoff", d, row, above, f"metals.{below}")


def _metals_of(case: Case, d: OpeningDetail) -> tuple[set[str], set[str]]:
    """Metals of the opening's flashing and of its counterflashing."""
    pieces = case.opening_pieces(d)
    counter = {p.metal for p in pieces if p.kind == "counterflashing"}
    return {p.metal for p in pieces if p.kind != "counterflashing"}, counter


def _said(which: str, d: OpeningDetail, row: Contact | None, metal: str, other: str) -> Iterator[Finding]:
    if row is not None:
        edition = sources()[row.source].edition
        cited = replace(rule(which), source=row.source, section=row.section, edition=edition, seen=row.seen)
        yield finding(cited, d.opening.name, level=row.level, metal=f"metals.{metal}", other=other)
