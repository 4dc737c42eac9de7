"""Whole roofs as they were last looked at: a plan in words and numbers, and three drawings.

A case is an example roof, or a folder of tests/golden with a job.toml of its own. What differs is looked at
before it is written again with --golden-update.
"""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from lapwright.job import Job, run
from lapwright.packet.drawings import draw_all
from lapwright.packet.record import to_json
from lapwright.site.read import read_job

ROOT = Path(__file__).parents[1]
GOLDEN = Path(__file__).parent / "golden"
EXAMPLES = {p.parent.name for p in (ROOT / "examples").glob("*/job.toml")}
CASES = sorted(EXAMPLES | {p.parent.name for p in GOLDEN.glob("*/job.toml")})
DRAWN = {"roof": "roof", "opening": "opening-1", "back-pan": "blank-1-back-pan"}
"""Golden drawing -> its name in a packet's drawings folder."""
PICTURED = ("kiln-shed", "chapel-cottage", "forge-lean-to", "orchard-studio")
"""Cases whose drawings stand here too: plumb and square, both hands, inches and mm, a bay at the rake."""


def job_of(case: str) -> Path:
    own = GOLDEN / case / "job.toml"
    return own if own.exists() else ROOT / "examples" / case / "job.toml"


@cache
def job(case: str) -> Job:
    return run(read_job(job_of(case).read_text(encoding="utf-8"), f"{case}/job.toml"))


def record(case: str) -> dict[str, Any]:
    read: dict[str, Any] = json.loads(to_json(job(case)))
    return read


@cache
def drawings(case: str) -> dict[str, str]:
    return {d.file: d.whole or d.svg for d in draw_all(job(case))}


def number(value: float) -> str:
    """Three decimals, no trailing zero, no negative nought."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def points(ring: list[list[float]]) -> str:
    return " ".join(f"({number(x)}, {number(y)})" for x, y in ring)


def summary(told: dict[str, Any]) -> str:
    """A plan in few lines: what was decided and how large everything is, in inches and degrees."""
    return "\n".join(_lines(told)) + "\n"


def _lines(told: dict[str, Any]) -> Iterator[str]:
    roof = told["roof"]
    yield f"{told['job']['name']} ({told['job']['units']})"
    yield "roof " + " ".join(f"{k} {number(v)}" for k, v in roof.items() if isinstance(v, int | float))
    yield "ribs " + " ".join(number(x) for x in told["ribs"])
    for o in told["openings"]:
        yield from ("", *_opening(o))
    yield from ("", *(_findings(told["findings"]) or ["no finding"]))
    yield ""
    for p in told["pieces"]:
        yield _made(p["id"], p["quantity"], p["metal"], p["blank"], p["bends"])
    yield ""
    for p in told["panels"]:
        yield _made(p["id"], 1, "", p.get("blank"), p.get("bends") or [], f"long {number(p['length'])}")
    yield ""
    for s in told["steps"]:
        yield f"{s['n']:2} {s['title']}: {' '.join(number(m['distance']) for m in s['marks'])}".rstrip(": ")


def _opening(o: dict[str, Any]) -> Iterator[str]:
    yield f"{o['name']}: {o['kind']}, {o['method']}"
    yield f"  corners {points(o['corners'])}"
    yield f"  bay {number(o['bay'][0])} to {number(o['bay'][1])}"
    if o.get("pan"):
        yield "  pan " + " ".join(f"{k} {number(v)}" for k, v in o["pan"].items())
    if o.get("cricket"):
        sizes = {k: v for k, v in o["cricket"].items() if isinstance(v, int | float)}
        yield "  cricket " + " ".join(f"{k} {number(v)}" for k, v in sizes.items())
    if o.get("cleat_line"):
        yield f"  cleat line {points(o['cleat_line'])}"
    for n in o.get("notches") or []:
        yield f"  notch at {number(n['rib'])}: {number(n['from'])} down to {number(n['to'])}, {n['cut']}"


def _findings(rows: list[dict[str, Any]]) -> list[str]:
    out = []
    for f in rows:
        sizes = [number(f[k]) if f[k] is not None else "-" for k in ("measured", "limit")]
        out.append(f"{f['level']} {f['rule']} [{f['where']}] {' against '.join(sizes)} {f['unit'] or ''}".rstrip())
    return out


def _made(id_: str, quantity: int, metal: str, blank: Any, bends: list[Any], more: str = "") -> str:
    row = [f"{quantity} x {id_}", metal, more]
    if blank:
        row.append(f"{number(blank['width'])} x {number(blank['height'])}, {number(blank['area'])} in2")
        row.append(" ".join(f"{b['way']} {number(b['angle_deg'])}" for b in bends))
    return "; ".join(part for part in row if part)


def held(got: str, path: Path, update: bool) -> None:
    """Compare with the golden file, or write it."""
    if update:
        path.parent.mkdir(exist_ok=True)
        path.write_text(got, encoding="utf-8", newline="\n")
        return
    assert path.exists(), f"there is no {path.relative_to(ROOT)} yet: --golden-update writes it"
    kept = path.read_text(encoding="utf-8")
    if got != kept:
        name = str(path.relative_to(ROOT))
        rows = list(difflib.unified_diff(kept.splitlines(), got.splitlines(), name, "now", lineterm="", n=1))
        pytest.fail("\n".join([*rows[:60], "If this is meant: --golden-update, then look at it."]))


@pytest.mark.parametrize("case", CASES)
def test_a_roof_is_planned_as_it_was_last_looked_at(case: str, golden_update: bool) -> None:
    held(summary(record(case)), GOLDEN / case / "plan.txt", golden_update)


@pytest.mark.parametrize("drawing", DRAWN)
@pytest.mark.parametrize("case", PICTURED)
def test_a_drawing_is_as_it_was_last_looked_at(case: str, drawing: str, golden_update: bool) -> None:
    held(drawings(case)[DRAWN[drawing]], GOLDEN / case / f"{drawing}.svg", golden_update)


def test_every_folder_here_has_a_job() -> None:
    assert {p.name for p in GOLDEN.iterdir() if p.is_dir()} == set(CASES)
    assert set(PICTURED) <= set(CASES)


def test_a_summary_tells_a_sixty_fourth_apart() -> None:
    roof = record("kiln-shed")
    before = summary(roof)
    roof["pieces"][0]["blank"]["width"] += 1 / 64
    assert summary(roof) != before
