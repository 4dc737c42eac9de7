"""Write again what the pages take from the program: `.venv/bin/python docs/make_pages.py`.

A page holds blocks between `<!-- made: NAME -->` and `<!-- end -->`. What stands between is made here
from the program's own rows (fields, rules, metals), so it cannot drift; a test compares.
"""

from __future__ import annotations

import re
import string
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import takewhile
from pathlib import Path
from typing import Any

from lapwright import rules, sources, tables
from lapwright.errors import JobProblems
from lapwright.job import run
from lapwright.leaks.audit import audit_one, bodies_of
from lapwright.leaks.seals import standard_seals
from lapwright.leaks.telling import safe
from lapwright.leaks.without import can_leave_out, leave_out, parts_of
from lapwright.metal.work import at_bench
from lapwright.site.fields import LISTS, NEEDED, RECTANGLES, TABLES, Field, fields_of
from lapwright.site.read import read_job
from lapwright.verbs.leaks import why_lines
from lapwright.words import Speaker, phrases

DOCS = Path(__file__).parent
ROOT = DOCS.parent
BLOCK = re.compile(r"(<!-- made: ([\w .-]+?) -->\n).*?(<!-- end -->)", re.DOTALL)
INCHES, METRIC = Speaker("in"), Speaker("mm")

WORKED_OUT = {
    "panel.fixing": "nailing-flange with snap seams, clip with folded ones",
    "panel.first_rib": "chosen: fewest ribs near a corner, no slivers, fewest ribs cut",
    "opening.face": "plumb for chimneys and walls, square for curbs and skylights",
    "opening.tapes": "none",
    "roof.outline": "none",
    "roof.edges": "none",
    "deviation.where": "the whole opening",
    "defaults.rib_face": "5/16 for snap seams, 1/4 for folded ones",
    "defaults.extent": "12 from 6:12 up, 18 below, 24 below 3:12 or in snow country",
    "defaults.cross_slope": "the roof's own pitch",
    "defaults.framing_clear": "2 from masonry, none from a curb or skylight; a framed chimney must give it",
    "defaults.rib_turn_up": "1/4 less than the rib's height",
    "defaults.flashing_metal": "the panel's metal",
    "defaults.counter_metal": "stainless-24 in a reglet, else the flashing metal",
}
"""Defaults that a job works out, in words. Measures are inches."""


def table(head: list[str], rows: list[list[str]]) -> str:
    """A Markdown table."""
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join(f"| {' | '.join(cell.replace('|', '/') for cell in row)} |" for row in lines)


# ---- the job file -------------------------------------------------------------------------------


def fields(name: str) -> str:
    """Every field of one table of the job file: what it is, what may stand there, what stands if nothing does."""
    rows = [row for row in fields_of(name).values() if row.table == name]
    body = [[f"`{r.name}`", _meaning(r), _allowed(r), _default(r)] for r in rows]
    often = f"One `[[{name}]]` each, {LISTS[name]} at most.\n\n" if name in LISTS else ""
    return often + table(["field", "what it is", "may be", "left out"], body)


def _meaning(row: Field) -> str:
    label, about = (INCHES.say(f"{row.words}.{part}") for part in ("label", "help"))
    return f"{label}: {about}"


def _allowed(row: Field) -> str:
    if row.kind == "length":
        low, high = float(row.low), float(row.high)
        return f"{_size(low, INCHES)} to {_size(high, INCHES)} ({_size(low, METRIC)} to {_size(high, METRIC)})"
    if row.kind == "lengths":
        low, high = float(row.low), float(row.high)
        return f"a list of lengths, each {_size(low, INCHES)} to {_size(high, INCHES)}"
    if row.kind == "count":
        return f"{row.low:g} to {row.high:g}"
    if row.kind == "number":
        return f"{row.low:g} to {row.high:g} {UNITS.get(row.unit, row.unit)}"
    if row.kind == "pitch":
        return f'`"7:12"`, `"30 deg"`, `"58 %"`; {row.low:g}:12 to {row.high:g}:12'
    if row.kind == "text":
        return f"{row.low:g} to {row.high:g} characters"
    if row.kind == "bool":
        return "`true`, `false`"
    if row.kind == "metal":
        return "a metal of the table below"
    if row.kind == "later":
        return "not read by this version"
    return ", ".join(f"`{word}`" for word in row.choices)


UNITS = {
    "in/h": "inches an hour",
    "mph": "miles an hour",
    "deg": "degrees",
    "rise/12": "in 12",
    "x t": "times the sheet's thickness",
    "1/h": "an hour",
    "money": "of your money",
    "%": "%",
}


NEEDED_BY = {RECTANGLES: "needed; a pipe has none", ("pipe",): "a pipe needs it, nothing else has it"}


def _size(value: float, speaker: Speaker) -> str:
    exact = Fraction(value)
    if speaker.unit == "in" and 16 < exact.denominator <= 64:  # finer than the sixteenths of a packet
        return f'{exact}"'
    return speaker.length(value, feet=value >= 24)


def _default(row: Field) -> str:
    if row.default is NEEDED:
        return NEEDED_BY.get(row.kinds, "needed")
    if row.default is None or row.default == "":
        return WORKED_OUT.get(f"{row.table}.{row.name}", "worked out from the job")
    if isinstance(row.default, bool):
        return f"`{str(row.default).lower()}`"
    if row.kind == "length":
        return f"{_size(row.default, INCHES)} ({_size(row.default, METRIC)})"
    if row.kind == "number":
        return f"{row.default:g}"
    return f"`{row.default}`"


def metals() -> str:
    """Every metal a job may name."""
    rows = [
        [f"`{m.key}`", INCHES.say(f"metals.{m.key}"), f"{m.coated:.4f} in ({m.coated * 25.4:.2f} mm)",
         f"{m.weight_psf:.3f} lb/sq ft", "soldered" if m.join == "solder" else "riveted and sealed",
         f"{sources.document(m.source)} ({_seen(m.seen)})"]
        for m in tables.metals().values()
    ]  # fmt: skip
    return table(["metal", "is", "thick, coating and all", "weighs", "its corners are", "source"], rows)


# ---- the findings -------------------------------------------------------------------------------


def findings() -> str:
    """Every rule: how its finding reads, what it asks and why, what mends it, and who says so."""
    return "\n\n".join(_finding(row) for row in rules.rules().values())


BY_SET = ("cricket.required", "cricket.low-pitch", "cricket.let-off", "method.forbidden")
"""Rules whose limit and source the job's rule set gives."""


def _finding(row: rules.Rule) -> str:
    say = INCHES.say
    lines = [
        f"### {row.id}",
        f"**{say(f'rules.level.{row.level}')}.** {say(f'rules.{row.id}.name')}.",
        f"- reads: “{Gaps(row).say(f'findings.{row.id}.says')}”",
        f"- asks: {say(f'rules.{row.id}.asks', limit=row.limit)} {say(f'rules.{row.id}.why')}",
        f"- limit: {_limit(row)}",
        f"- what mends it: {Gaps(row).say(f'findings.{row.id}.cure')}",
        f"- source: {'the rule set of the job, below' if row.id in BY_SET else rules.cite(row, INCHES)}",
    ]
    return lines[0] + "\n\n" + lines[1] + "\n\n" + "\n".join(lines[2:])


SENSES = {
    "min": "at least {limit}", "max": "at most {limit}", "over": "bites past {limit}",
    "from": "bites at {limit} and past it", "below": "bites short of {limit}",
}  # fmt: skip


def _limit(row: rules.Rule) -> str:
    if row.sense == "none":
        return "none; the case itself is the finding"
    if row.limit is None:
        return "that of the rule set" if row.id in BY_SET else "what this job gives"
    return SENSES[row.sense].format(limit=_measure(row.limit, row.unit))


def _measure(value: float, unit: str) -> str:
    if unit == "in":
        return f"{value:g} in ({value * 25.4:.4g} mm)"
    said = {"rise/12": f"{value:g}:12", "deg": f"{value:g}°", "t": f"{value:g} thicknesses"}
    return said.get(unit, f"{value:g} {unit}")


def _seen(seen: str) -> str:
    return INCHES.say(f"rules.seen.{seen.replace(' ', '-')}")


class Gaps(Speaker):
    """Says a finding before there is a roof: its own limit, three dots for what the roof gives."""

    def __init__(self, row: rules.Rule) -> None:
        super().__init__("in")
        self.row = row

    def say(self, key: str, /, **values: Any) -> str:
        """The phrase under `key` with its gaps open."""
        names = {name for _, name, _, _ in string.Formatter().parse(phrases()[key]) if name}
        known = {"limit": self.row.limit, "past": "findings.cricket.past.over"}
        return self.vformat(phrases()[key], (), {n: values.get(n, known.get(n)) for n in names})

    def format_field(self, value: Any, format_spec: str) -> str:
        return "…" if value is None else super().format_field(value, format_spec)


def rule_sets() -> str:
    """When each rule set asks for a cricket."""
    rows = []
    for book in tables.rule_sets().values():
        past = "more than" if book.sense == "over" else "from"
        asks = [f"{past} {book.width:g} {book.unit} wide"]
        if book.below_deg is not None:
            asks.append(f"any width below {book.below_deg:g}°")
        who = ", ".join(book.kinds) if book.kinds else "every opening"
        off = [f"{kind}s" for kind in book.exempt]
        if book.omit_share and book.omit_least:
            share, least = f"1/{round(1 / book.omit_share)}", f"{book.omit_least:g} {book.unit}"
            off.append(f"flashing that goes {share} of the width and {least} up the wall, and up the roof as high")
        parts = [sources.document(book.source), book.section, book.edition]
        cited = book.source if book.source == sources.HOUSE else ", ".join(p for p in parts if p != "-")
        seen = "" if book.source == sources.HOUSE else f" ({_seen(book.seen)})"
        rows.append([f"`{book.key}`", "; ".join(asks), who, "; ".join(off) or "none", cited + seen])
    return table(["rule set", "asks a cricket", "of", "lets off", "source"], rows)


def contacts(kind: str) -> str:
    """Metals that may not touch, or not drain onto one another."""
    name = {"touch": ("one", "other"), "drain": ("water from", "onto")}[kind]
    rows = []
    for row in tables.rows("contacts")[kind]:
        a, b = (INCHES.say(f"metals.family.{row[end]}") for end in "ab")
        cited = f"{sources.document(row['source'])}, {row['section']} ({_seen(row['seen'])})"
        rows.append([a, b, INCHES.say(f"rules.level.{row['level']}"), cited])
    return table([*name, "level", "source"], rows)


# ---- the leak audit -----------------------------------------------------------------------------

STANDARD = "kiln-shed"
"""The example whose flat pan is the standard detail of the pages."""


def why(which: int) -> str:
    """What every sealing (0), lap (1) or piece (2) of the standard detail is there for, by leaving it out."""
    job = run(read_job((ROOT / "examples" / STANDARD / "job.toml").read_text(encoding="utf-8"), STANDARD))
    d, bodies = job.detail.openings[0], bodies_of(job.pieces, job.panels)
    rows = []
    for name in can_leave_out(job.site, job.detail, d)[which]:
        difference = leave_out(job.site, job.layout, job.detail, d, bodies, name)
        rows.append([f"`{name}`", "; ".join(why_lines(d, difference, INCHES))])
    return table(["left out", "what happens"], rows)


def ratings() -> str:
    """Head that each kind of sealing is trusted to hold."""
    rows = [
        [f"`{how}`", _measure(float(holds), "in")] for how, holds in tables.rows("ratings").items() if how != "less"
    ]
    return table(["sealing", "holds"], rows)


PANS = ("kiln-shed", "forge-lean-to", "boat-store", "chapel-cottage", "orchard-studio")
"""Examples with a flat pan behind sound work."""


def patches() -> str:
    """What opens first to standing water behind each flat pan, by what a corner patch is trusted with."""
    trusted = (1.0, 2.0, 3.0, 4.0)
    rows = []
    for name in PANS:
        job = run(read_job((ROOT / "examples" / name / "job.toml").read_text(encoding="utf-8"), name))
        d, bodies = job.detail.openings[0], bodies_of(job.pieces, job.panels)
        whole = standard_seals(tables.metals()[at_bench(job.site, d).metal].join)
        cells = []
        for holds in trusted:
            seals = replace(whole, ratings=dict(whole.ratings) | {"patch": holds, "solder": holds})
            way = audit_one(job.site, job.layout, d, parts_of(job.detail, d), bodies, seals=seals).standing
            assert way is not None
            cells.append(f"{INCHES.length(safe(way.head))}, {way.decided.how or 'climb'}")
        rows.append([f"`{name}`", *cells])
    return table(["patch trusted with", *(f"{holds:g} in" for holds in trusted)], rows)


# ---- words and examples ---------------------------------------------------------------------------


def cautions() -> str:
    """Every caution a packet may carry."""
    said = [text for key, text in phrases().items() if key.startswith("packet.caution.")]
    return "\n".join(f"- {DROPPED.sub('', text).strip()}" for text in said)


DROPPED = re.compile(r" \([^()]*\{[^()]*\)| [A-Z][^.{]*: \{\w+\}\.")
"""What a packet fills in with its own figures: "(3 here: ...)", "Openings on this roof: 2."."""


def example(name: str) -> str:
    """An example's job file as it is, or only what no job can do without."""
    if name == "needed":
        return f"```toml\n{needed()}```"
    text = (ROOT / "examples" / name / "job.toml").read_text(encoding="utf-8")
    return f"```toml\n{text}```"


def needed() -> str:
    """The kiln shed's job without any field that may be left out."""
    text = (ROOT / "examples" / "kiln-shed" / "job.toml").read_text(encoding="utf-8")
    name, out = "", []
    for line in text.splitlines():
        if line.startswith("["):
            name = line.strip("[]")
            out += [line] if any(r.default is NEEDED for r in fields_of(name).values()) else []
        elif "=" in line and fields_of(name)[line.split("=")[0].strip()].default is NEEDED:
            out.append(line)
    return "\n".join(out).replace("\n[", "\n\n[") + "\n"


def examples() -> str:
    """Every example roof and what its own comment says of it."""
    rows = []
    for job in sorted((ROOT / "examples").glob("*/job.toml")):
        lines = takewhile(lambda line: line.startswith("#"), job.read_text(encoding="utf-8").splitlines())
        said = " ".join(line.lstrip("# ") for line in lines)
        rows.append([f"`examples/{job.parent.name}/`", re.sub("^An invented scenario( that must stop)?: ", "", said)])
    return table(["folder", "roof"], rows)


BAD_JOB = """\
[job]
name = "Potting shed"
units = "inch"

[roof]
pitch = 7
eave = "24 6"
slope = "15' 0"
"""


def problems() -> str:
    """What the reader of job files says to a careless one."""
    try:
        read_job(BAD_JOB, "my-roof.toml")
    except JobProblems as wrong:
        return "```\n" + "\n".join(wrong.lines(INCHES)) + "\n```"
    raise AssertionError("this job was meant to be wrong")


# ---- pages --------------------------------------------------------------------------------------

MADE: dict[str, Callable[[], str]] = {
    **{f"fields {name}": (lambda name=name: fields(name)) for name in TABLES},
    "metals": metals,
    "cautions": cautions,
    "problems": problems,
    "examples": examples,
    "example needed": lambda: example("needed"),
    "example kiln-shed": lambda: example("kiln-shed"),
    "findings": findings,
    "rule sets": rule_sets,
    "why sealing": lambda: why(0),
    "why laps": lambda: why(1),
    "why pieces": lambda: why(2),
    "ratings": ratings,
    "patches": patches,
    "contacts touch": lambda: contacts("touch"),
    "contacts drain": lambda: contacts("drain"),
}


def pages() -> Iterator[Path]:
    """The pages that hold made blocks."""
    every = (ROOT / "README.md", ROOT / "examples" / "README.md", *sorted(DOCS.glob("*.md")))
    yield from (p for p in every if BLOCK.search(p.read_text(encoding="utf-8")))


def remade(text: str) -> str:
    """A page with every made block made again.

    Raises:
        KeyError: a block has a name that nothing here makes.
    """
    return BLOCK.sub(lambda m: f"{m[1]}\n{MADE[m[2]]()}\n\n{m[3]}", text)


def blocks(text: str) -> list[str]:
    """Names of a page's made blocks."""
    return [m[2] for m in BLOCK.finditer(text)]


def main() -> None:
    for page in pages():
        page.write_text(remade(page.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
